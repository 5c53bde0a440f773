"""session-split: a week's sets spread over days."""

from __future__ import annotations

from typing import Annotated, Final

from service.api.models.base import ResponseModel
from service.api.models.common import (
    Basis,
    MassRange,
    RatioRange,
    RepRange,
    SetCount,
    as_rep_range,
    cautions,
    positive,
    reps_range,
    whole,
)
from service.api.models.operation import Example, Operation
from service.api.models.prescription import DaysAWeek, RestOfPrescription
from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.training.volume import Reps, spread_evenly
from service.units import Mass, MassUnit, mass

USUAL_MOST_SETS: Final = CHOICES.session_split.most_sets_a_session


class SessionSplit(RestOfPrescription, kw_only=True, frozen=True):
    """A week's sets of a lift over a number of days; with repetitions and load also the dose.

    A whole prescription is taken as it is: weekly_sets are then its sets on its days_per_week, which is current_days
    too.

    Attributes:
        weekly_sets: Sets of the week. Null or left out: those of the prescription.
        days: Days over which they are spread, 1 to 7.
        current_days: Days a week now. Null or left out: days_per_week, else 1.
        sets: Sets of a session, of a whole prescription. Null or left out: weekly_sets says it.
        days_per_week: Days a week, of a whole prescription. Null or left out: 1.
        reps: Repetitions of a set. Null or left out: no dose in repetitions.
        load: Load on the implement. Null or left out: no dose in load.
    """

    weekly_sets: RepRange | None = None
    days: DaysAWeek
    current_days: Annotated[float, whole(1, 7)] | None = None
    sets: SetCount | None = None
    days_per_week: DaysAWeek | None = None
    reps: RepRange | None = None
    load: Mass | None = None


class DaySets(ResponseModel, kw_only=True, frozen=True):
    """The sets of one day.

    Attributes:
        day: Number of the training day in the week, from 1.
        sets: Its sets; low and high of all days add up to the week's low and high.
    """

    day: int
    sets: RepRange


class Dose(ResponseModel, kw_only=True, frozen=True):
    """What one session or the week comes to.

    Attributes:
        sets: Sets.
        reps: Repetitions of all sets; null where the request states none.
        volume_load: Repetitions × load; null where the request states none.
    """

    sets: RepRange
    reps: RepRange | None
    volume_load: MassRange | None


class SessionSplitAnswer(ResponseModel, kw_only=True, frozen=True):
    """The days, the fullest session and the week.

    Attributes:
        days: The training days.
        fullest_session: The session with the most sets.
        week: The whole week.
        ratio_to_current: The fullest session against the fullest one now.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    days: list[DaySets]
    fullest_session: Dose
    week: Dose
    ratio_to_current: RatioRange
    basis: Basis
    cautions: list[Message]


def session_split(request: SessionSplit) -> SessionSplitAnswer:
    """A week's sets spread over days as evenly as whole sets allow."""
    week, days = _weekly_sets(request), int(request.days)
    now = int(request.current_days or request.days_per_week or 1)
    if week.high < days:
        detail, change = f"A week of {week.high:g} is too few sets for {days} days.", into(days, high=week.high)
        raise Refusal.one("days", detail, f"1 to {week.high}", change=change)
    lows, highs = spread_evenly(week.low, days), spread_evenly(week.high, days)
    stated_reps, stated_load = request.reps, request.load
    reps = None if stated_reps is None else reps_range(stated_reps, "/reps")
    load = None if stated_load is None else _load(stated_load)
    unit: MassUnit = "kg" if stated_load is None else stated_load.unit
    present = (spread_evenly(week.low, now)[0], spread_evenly(week.high, now)[0])
    large = [message("one_session_large", sets=highs[0])] if highs[0] > USUAL_MOST_SETS else []
    shown = [
        DaySets(day=day + 1, sets=RepRange(low=low, high=high))
        for day, (low, high) in enumerate(zip(lows, highs, strict=True))
    ]
    return SessionSplitAnswer(
        days=shown,
        fullest_session=_dose(Reps(lows[0], highs[0]), reps, load, unit),
        week=_dose(week, reps, load, unit),
        ratio_to_current=RatioRange.over(lows[0] / present[0], highs[0] / present[1]),
        basis=Basis(
            method=message("method_sets_spread"),
            sources=["schoenfeld_2019", "colquhoun_2018", "common_practice"],
            assumptions=[message("assumed_days_change_no_effect")],
            evidence="computed",
        ),
        cautions=cautions(*large),
    )


def _weekly_sets(request: SessionSplit) -> Reps:
    """The sets of a week, as stated or of the prescription. Raises Refusal where neither says them."""
    if request.weekly_sets is not None:
        return reps_range(request.weekly_sets, "/weekly_sets")
    if request.sets is None:
        raise Refusal.one("weekly_sets", "Neither the sets of a week nor those of a session are stated.", "a range")
    sets = int(request.sets * (request.days_per_week or 1))
    return Reps(sets, sets)


def _load(load: Mass) -> float:
    """The load [kg], which may be none, as in lifts of the body alone."""
    return 0.0 if load.value == 0 else positive(load, "/load")


def _dose(sets: Reps, reps: Reps | None, load: float | None, unit: MassUnit) -> Dose:
    total = None if reps is None else Reps(sets.low * reps.low, sets.high * reps.high)
    lifted = None
    if total is not None and load is not None:
        lifted = MassRange(low=mass(total.low * load, unit), high=mass(total.high * load, unit))
    counted = None if total is None else as_rep_range(total)
    return Dose(sets=as_rep_range(sets), reps=counted, volume_load=lifted)


OPERATION: Final = Operation(
    name="session-split",
    tag="Volume",
    summary="Weekly sets spread over days",
    description="A week's sets over 1 to 7 days as evenly as whole sets allow, with the dose of the fullest session and of the week, and the fullest session "
    "against the present one. With repetitions and a load (kg or lb) the dose is also given as volume load.",
    request=SessionSplit,
    answer=SessionSplitAnswer,
    compute=session_split,
    examples=(
        Example(
            "three-days",
            "8 to 9 weekly sets of front squats moved from two days to three",
            {
                "weekly_sets": {"low": 8, "high": 9},
                "days": 3,
                "current_days": 2,
                "reps": {"low": 5, "high": 6},
                "load": {"value": 62.5, "unit": "kg"},
            },
        ),
    ),
)
