"""Checks across the data files, made once at start: every figure names a source that the bibliography has."""

from __future__ import annotations

from collections.abc import Iterable

from service.knowledge.catalogue import EXERCISES, RATIOS, SIGNS, SOURCES, STANCES
from service.knowledge.loader import read_csv, read_toml
from service.knowledge.observations import FINDINGS
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.substitutions import COMPARISONS, CUES, SUBSTITUTES
from service.training.load_repetition import RELATIONS


def cited() -> Iterable[tuple[str, str]]:
    """Every citation of the data files: what cites, and the source's id."""
    for relation in RELATIONS.values():
        yield f"relation {relation.id}", relation.source
    for exercise in EXERCISES.values():
        for source in filter(None, (exercise.lean_source, exercise.body_share_source)):
            yield f"exercise {exercise.id}", source
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
    yield from _cited_for_substitution()
    yield from _cited_for_response()


def _cited_for_substitution() -> Iterable[tuple[str, str]]:
    for exercise, substitutes in SUBSTITUTES.items():
        for substitute in substitutes:
            yield f"substitute {exercise} to {substitute.exercise}", substitute.source
    for comparison in COMPARISONS:
        yield f"direction {comparison.from_exercise} to {comparison.to_exercise}", comparison.source
    for cue in CUES.values():
        for source in (*cue.sources, *cue.against):
            yield f"cue {cue.id}", source


def _cited_for_response() -> Iterable[tuple[str, str]]:
    for row in read_csv("rest_observations.csv"):
        yield f"rest in {row['exercise_as_published']}", row["source"]
    for name, rule in {
        **read_toml("review_rules.toml"),
        "after_weeks_off": read_toml("after_weeks_off.toml"),
    }.items():
        for source in rule["sources"]:
            yield f"rule {name}", source


def check_sources(citations: Iterable[tuple[str, str]]) -> None:
    """Raise ValueError naming every citation of a source that the bibliography does not have."""
    missing = [f"{what} cites {source}" for what, source in citations if source not in SOURCES]
    if missing:
        raise ValueError("Sources are missing from sources.toml: " + "; ".join(missing))
