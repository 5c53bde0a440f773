"""Checks across the data files, made once at start: every figure names a source that the bibliography has."""

from __future__ import annotations

from collections.abc import Iterable

from service.knowledge.catalogue import EXERCISES, RATIOS, SIGNS, SOURCES, STANCES
from service.knowledge.mechanics_data import EXERCISE_RULES
from service.knowledge.published import FINDINGS
from service.training.relations import RELATIONS


def cited() -> Iterable[tuple[str, str]]:
    """Every citation of the data files: what cites, and the source's id."""
    for relation in RELATIONS.values():
        yield f"relation {relation.id}", relation.source
    for exercise in EXERCISES.values():
        if exercise.lean_source:
            yield f"exercise {exercise.id}", exercise.lean_source
    for stance in STANCES.values():
        yield f"stance {stance.id}", stance.source
    for sign in SIGNS.values():
        for source in sign.sources:
            yield f"sign {sign.id}", source
    for pair, ratio in RATIOS.items():
        yield f"ratio {' to '.join(pair)}", ratio.source
    for name, rule in EXERCISE_RULES.items():
        yield f"posture rule {name}", rule.source
    for finding in FINDINGS:
        yield f"finding on {finding.measure}", finding.source


def check_sources(citations: Iterable[tuple[str, str]]) -> None:
    """Raise ValueError naming every citation of a source that the bibliography does not have."""
    missing = [f"{what} cites {source}" for what, source in citations if source not in SOURCES]
    if missing:
        raise ValueError("Sources are missing from sources.toml: " + "; ".join(missing))
