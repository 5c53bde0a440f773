"""What may be tried instead of a lift, how strong one is in it, and which way demand moves.

Substitutes are a coach's practice or our own order of levers, never evidence. Directions are published findings or
practice, each row saying which; they serve presses and pulls, the arms in every lift, and the lifts without a posture
model. Each comparison is stored one way only and turned round here.
"""

from __future__ import annotations

from functools import cache
from typing import Final, Literal, get_args

import msgspec

from service.knowledge.catalogue import EXERCISES, Ratio
from service.knowledge.loader import read_rows
from service.knowledge.observations import published_ratio
from service.knowledge.records import ExerciseId, Known, Record, RegionId, SourceId
from service.vocabulary import Difference

SubstitutionLever = Literal["variation", "equipment", "range_of_motion", "exercise"]

_BEST_KNOWN_FIRST: Final[tuple[Known, ...]] = get_args(Known)
_TURNED: Final[dict[Difference, Difference]] = {
    "lower": "higher",
    "higher": "lower",
    "no_clear_difference": "no_clear_difference",
}


class Substitute(Record, frozen=True):
    """An exercise of the same purpose that may be tried instead of another.

    Attributes:
        replaced: the exercise that it stands in for
        exercise: the exercise that may be tried
        lever: what the change counts as
        source: where it is from
        known: how far it is known
        note: what to mind in using it
    """

    replaced: ExerciseId = msgspec.field(name="from_exercise")
    exercise: ExerciseId = msgspec.field(name="to_exercise")
    lever: SubstitutionLever
    source: SourceId
    known: Known
    note: str = ""


class Comparison(Record, frozen=True):
    """One finding on a region's demand in one exercise against another.

    Attributes:
        from_exercise: the exercise that is compared with
        to_exercise: the exercise that is compared
        region: region whose demand it is
        direction: how the demand in the second exercise compares with that in the first
        source: where it is from
        known: how far it is known
        ratio: demand in the second exercise over that in the first, where such a ratio was published [1]
        note: what to mind in using it
    """

    from_exercise: ExerciseId
    to_exercise: ExerciseId
    region: RegionId
    direction: Difference
    source: SourceId
    known: Known
    ratio: float | None = None
    note: str = ""

    def turned(self) -> Comparison:
        """The same finding seen from the other exercise."""
        return msgspec.structs.replace(
            self,
            from_exercise=self.to_exercise,
            to_exercise=self.from_exercise,
            direction=_TURNED[self.direction],
            ratio=None if self.ratio is None else 1 / self.ratio,
        )


class DemandDirection(msgspec.Struct, frozen=True):
    """Which way a region's demand moves from one exercise to another, all findings taken together.

    Attributes:
        direction: no clear difference where findings disagree
        ratio: of demands, where one was published and nothing speaks against it [1]
        source: source of the best known finding
        known: how far that finding is known
        note: what to mind in using that finding, or all that is disputed
        disputed: whether findings disagree
        sources: sources of all findings
        never_higher: whether no finding says that it rises
    """

    direction: Difference
    ratio: float | None
    source: str
    known: Known
    note: str
    disputed: bool
    sources: tuple[str, ...]
    never_higher: bool = False


def _substitutes() -> dict[str, tuple[Substitute, ...]]:
    by_exercise: dict[str, tuple[Substitute, ...]] = {}
    for substitute in read_rows("substitutes.csv", Substitute):
        by_exercise[substitute.replaced] = (*by_exercise.get(substitute.replaced, ()), substitute)
    return by_exercise


SUBSTITUTES: Final = _substitutes()
COMPARISONS: Final = read_rows("demand_directions.csv", Comparison)


def merged_direction(findings: list[Comparison]) -> DemandDirection:
    """Findings on one region of one pair of exercises taken together, the best known first.

    Args:
        findings: at least one, all of the same region and pair
    """
    ordered = sorted(findings, key=lambda finding: _BEST_KNOWN_FIRST.index(finding.known))
    first = ordered[0]
    disputed = any(finding.direction != first.direction for finding in ordered)
    return DemandDirection(
        direction="no_clear_difference" if disputed else first.direction,
        ratio=None if disputed else next((finding.ratio for finding in ordered if finding.ratio is not None), None),
        source=first.source,
        known=first.known,
        note="; ".join(dict.fromkeys(finding.note for finding in ordered)) if disputed else first.note,
        disputed=disputed,
        sources=tuple(dict.fromkeys(finding.source for finding in ordered)),
        never_higher=all(finding.direction != "higher" for finding in ordered),
    )


@cache
def directions(from_exercise: str, to_exercise: str) -> dict[str, DemandDirection]:
    """Which way each region's demand moves from one exercise to another; stored findings and turned ones count alike.

    Args:
        from_exercise: id of the present exercise
        to_exercise: id of the new exercise

    Returns:
        the direction by region, for the regions of which anything is known
    """
    pair = (from_exercise, to_exercise)
    stored = [finding for finding in COMPARISONS if (finding.from_exercise, finding.to_exercise) == pair]
    turned = [finding.turned() for finding in COMPARISONS if (finding.to_exercise, finding.from_exercise) == pair]
    by_region: dict[str, list[Comparison]] = {}
    for finding in (*stored, *turned):
        by_region.setdefault(finding.region, []).append(finding)
    return {region: merged_direction(findings) for region, findings in by_region.items()}


@cache
def ratio_between(present: str, new: str) -> Ratio | None:
    """What a lifter manages in the new exercise as a share of the present one, joined from two ratios if need be.

    A ratio joined through a lift that both were compared with has no published spread; where there are several such
    lifts, the lowest ratio is taken.

    Args:
        present: id of the present exercise
        new: id of the new exercise

    Returns:
        maximum in the new exercise over that in the present one [1], None where no ratio is published either way
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
