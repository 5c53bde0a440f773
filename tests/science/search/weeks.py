"""Small weeks drawn at random, and what a search finds in them with a beam and with all partial weeks kept."""

from __future__ import annotations

import random
from typing import Any, Final

import msgspec
from msgspec.structs import replace

from service.adjustment.triage import judged
from service.adjustment.week.changed import ChangedWeek, Found
from service.adjustment.week.problem import WeekCase
from service.adjustment.week.search import search
from service.api.models.complaint import pain_of, told_of
from service.api.models.constraints import Constraints
from service.api.models.lifter import DEMO_LIFTER
from service.api.operations.week_adjustments.consultation import week_case_of
from service.vocabulary import Region
from tests.support.asking import decoded

WHOLE: Final = 10**9
"""A beam that nothing is cut from [count]."""
BEAMS: Final = (1, 4, 64)
"""Beams that are compared with it, the last the one of the service [count]."""
_LIFTS: Final[dict[str, tuple[float, float]]] = {
    "back_squat_high_bar": (40, 100),
    "front_squat": (40, 80),
    "deadlift_conventional": (60, 130),
    "romanian_deadlift": (40, 90),
    "deadlift_sumo": (60, 120),
    "good_morning": (20, 50),
    "barbell_row": (30, 60),
    "split_squat": (20, 40),
}
_REGIONS: Final[tuple[Region, ...]] = ("low_back", "hip", "knee")


class Gap(msgspec.Struct, frozen=True):
    """What a beam misses in one week.

    Attributes:
        whole: whether the beam held every partial week there was
        changes: more changes than needed, None where it finds nothing [count]
        lost: more training effect lost than needed, with as many changes [1]
    """

    whole: bool
    changes: int | None
    lost: float


def drawn(seed: int) -> WeekCase:
    """A week of two to five lifts that load legs and back, with a first step that one change does not always make."""
    chance = random.Random(seed)  # noqa: S311 - no secret
    lifts = chance.sample(sorted(_LIFTS), chance.randint(2, 5))
    week = [_session(chance, day, exercise) for day, exercise in enumerate(lifts, 1)]
    request = decoded(
        "week-adjustments",
        {
            "lifter": DEMO_LIFTER,
            "week": week,
            "complaint": {"region": chance.choice(_REGIONS), "pain_in_session": 4},
            "aim": chance.choice(["muscle_size", "strength"]),
        },
    )
    told, judgement = told_of(request.complaint), judged(pain_of(request.complaint))
    case = week_case_of(request, Constraints(), told, judgement)
    return replace(case, target=chance.choice([0.9, 0.8, 0.7]), weighting=chance.choice(["linear", "tenth_power"]))


def _session(chance: random.Random, day: int, exercise: str) -> dict[str, Any]:
    low, high = _LIFTS[exercise]
    reps = chance.randint(4, 10)
    return {
        "day": day,
        "prescription": {
            "exercise": exercise,
            "sets": chance.randint(2, 5),
            "reps": {"low": reps, "high": reps},
            "load": {"value": 2.5 * round(chance.uniform(low, high) / 2.5), "unit": "kg"},
            "reps_in_reserve": chance.randint(1, 3),
        },
    }


def gap(found: Found, exact: Found) -> Gap:
    """What a search found against what there is, by its own count of partial weeks."""
    whole = found.considered == exact.considered
    if not exact.weeks:
        return Gap(whole, 0, 0.0)
    if not found.weeks:
        return Gap(whole, None, 0.0)
    more = _changes(found) - _changes(exact)
    return Gap(whole, more, _least_lost(found.weeks) - _least_lost(exact.weeks) if more == 0 else 0.0)


def both(case: WeekCase, beam: int) -> tuple[Found, Found]:
    """What a beam finds, and what there is."""
    return search(case, beam), search(case, WHOLE)


def _changes(found: Found) -> int:
    return min(len(one.changes) for one in found.weeks)


def _least_lost(weeks: list[ChangedWeek]) -> float:
    return min(one.lost for one in weeks)
