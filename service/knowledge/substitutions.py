"""What may be tried instead of a lift: how strong one is in it, which way demand moves, and what to say to the lifter.

Substitutes are a coach's practice or our own order of levers, never evidence. Directions are published findings or
practice, each row saying which; they serve presses and pulls, the arms in every lift, and the lifts without a posture
model. Each comparison is stored one way only and turned round here.
"""

from __future__ import annotations

from functools import cache
from typing import Final, Literal, get_args

import msgspec

from service.knowledge.catalogue import EXERCISES, REGIONS, Ratio
from service.knowledge.loader import Known, read_csv, read_toml, table
from service.knowledge.observations import published_ratio
from service.vocabulary import Difference

SubstitutionLever = Literal["variation", "equipment", "range_of_motion", "exercise"]
CueLever = Literal["technique", "equipment", "range_of_motion"]

_BEST_KNOWN_FIRST: Final[tuple[Known, ...]] = get_args(Known)
_TURNED: Final[dict[Difference, Difference]] = {
    "lower": "higher",
    "higher": "lower",
    "no_clear_difference": "no_clear_difference",
}


class Substitute(msgspec.Struct, frozen=True):
    """An exercise of the same purpose that may be tried instead, and the lever that the change counts as."""

    exercise: str
    lever: SubstitutionLever
    source: str
    known: Known
    note: str = ""


class Comparison(msgspec.Struct, frozen=True):
    """One finding on a region's demand in one exercise against another.

    ratio: demand of the second exercise over that of the first, where a ratio of demands (not of loads) was published.
    """

    from_exercise: str
    to_exercise: str
    region: str
    direction: Difference
    ratio: float | None
    source: str
    known: Known
    note: str = ""

    def turned(self) -> Comparison:
        """The same finding told from the other exercise."""
        return Comparison(
            self.to_exercise,
            self.from_exercise,
            self.region,
            _TURNED[self.direction],
            None if self.ratio is None else 1 / self.ratio,
            self.source,
            self.known,
            self.note,
        )


class Direction(msgspec.Struct, frozen=True):
    """Which way a region's demand moves, all findings taken together.

    ratio: of demands, where one was published and nothing speaks against it; source, known, note: those of the best
    known finding; sources: of all of them; disputed: True where findings disagree, and then no difference is clear.
    """

    direction: Difference
    ratio: float | None
    source: str
    known: Known
    note: str
    disputed: bool
    sources: tuple[str, ...]


class Cue(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A change of technique, equipment or range that no posture model sees, in words that a coach can say.

    regions: which way each region's demand moves; against: sources that found the opposite.
    """

    id: str
    lever: CueLever
    exercises: tuple[str, ...]
    text: str
    regions: dict[str, Literal["lower", "higher"]]
    sources: tuple[str, ...]
    known: Known
    note: str
    against: tuple[str, ...] = ()

    @property
    def source(self) -> str:
        """The source that says most about it."""
        return self.sources[0]

    def lowers(self, region: str) -> bool:
        """Whether the change takes demand off a region."""
        return self.regions.get(region) == "lower"


def require_known(what: str, exercises: tuple[str, ...], regions: tuple[str, ...] = ()) -> None:
    """Raise ValueError where a row of data names an exercise or a region that the catalogue does not have."""
    unknown = [name for name in exercises if name not in EXERCISES]
    unknown += [name for name in regions if name not in REGIONS]
    if unknown:
        raise ValueError(f"{what} names what the catalogue does not have: {', '.join(unknown)}")


def _substitutes() -> dict[str, tuple[Substitute, ...]]:
    found: dict[str, tuple[Substitute, ...]] = {}
    for row in read_csv("substitutes.csv"):
        require_known("substitutes.csv", (row["from_exercise"], row["to_exercise"]))
        substitute = msgspec.convert({**row, "exercise": row["to_exercise"]}, Substitute)
        found[row["from_exercise"]] = (*found.get(row["from_exercise"], ()), substitute)
    return found


def _comparisons() -> tuple[Comparison, ...]:
    rows = [{**row, "ratio": row["ratio"] or None} for row in read_csv("demand_directions.csv")]
    found = tuple(msgspec.convert(row, Comparison, strict=False) for row in rows)
    for comparison in found:
        pair = (comparison.from_exercise, comparison.to_exercise)
        require_known("demand_directions.csv", pair, (comparison.region,))
    return found


def _cues() -> dict[str, Cue]:
    found = table(Cue, read_toml("cues.toml"))
    for cue in found.values():
        require_known(f"cue {cue.id}", cue.exercises, tuple(cue.regions))
    return found


SUBSTITUTES: Final = _substitutes()
COMPARISONS: Final = _comparisons()
CUES: Final = _cues()


def merged_direction(findings: list[Comparison]) -> Direction:
    """Findings on one region of one pair of exercises taken together, the best known first."""
    ordered = sorted(findings, key=lambda finding: _BEST_KNOWN_FIRST.index(finding.known))
    first = ordered[0]
    disputed = any(finding.direction != first.direction for finding in ordered)
    return Direction(
        direction="no_clear_difference" if disputed else first.direction,
        ratio=None if disputed else next((finding.ratio for finding in ordered if finding.ratio is not None), None),
        source=first.source,
        known=first.known,
        note="; ".join(dict.fromkeys(finding.note for finding in ordered)) if disputed else first.note,
        disputed=disputed,
        sources=tuple(dict.fromkeys(finding.source for finding in ordered)),
    )


@cache
def directions(from_exercise: str, to_exercise: str) -> dict[str, Direction]:
    """Which way each region's demand moves from one exercise to another, for the regions of which anything is known.

    from_exercise, to_exercise: ids of exercises. Stored findings and those turned round count alike.
    """
    pair = (from_exercise, to_exercise)
    told = [finding for finding in COMPARISONS if (finding.from_exercise, finding.to_exercise) == pair]
    turned = [finding.turned() for finding in COMPARISONS if (finding.to_exercise, finding.from_exercise) == pair]
    by_region: dict[str, list[Comparison]] = {}
    for finding in (*told, *turned):
        by_region.setdefault(finding.region, []).append(finding)
    return {region: merged_direction(findings) for region, findings in by_region.items()}


def cues_for(exercise: str, region: str) -> tuple[Cue, ...]:
    """The cues for an exercise that take demand off a region."""
    return tuple(cue for cue in CUES.values() if exercise in cue.exercises and cue.lowers(region))


@cache
def ratio_between(present: str, new: str) -> Ratio | None:
    """What a lifter manages in the new exercise as a share of the present one, joined from two ratios if need be.

    present, new: ids of exercises. A ratio joined through a lift that both were compared with has no published spread;
    where several such lifts exist, the lowest ratio is taken. None where no ratio is published either way.
    """
    published = published_ratio(present, new)
    if published or present == new:
        return published
    joined = [
        _joined(first, second, through)
        for through in EXERCISES
        if (first := published_ratio(present, through)) and (second := published_ratio(through, new))
    ]
    return min(joined, key=lambda ratio: ratio.ratio, default=None)


def _joined(first: Ratio, second: Ratio, through: str) -> Ratio:
    return Ratio(
        ratio=first.ratio * second.ratio,
        sd=None,
        source=first.source,
        known=max(first.known, second.known, key=_BEST_KNOWN_FIRST.index),
        through=through,
        second_source=second.source if second.source != first.source else "",
    )
