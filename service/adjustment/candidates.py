"""Candidates, lever by lever: each meets the target for the sore region, or says why it cannot be offered.

For one exercise demand rises with load nearly in a straight line, so the load that meets the target is solved for and
then rounded down to what the bar can hold: the smallest change that does it. A new exercise starts by the stated
rule: the published ratio with a margin, its spread where one is published, or half of what would be intended where
none is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import ceil
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription, demand, ratios
from service.adjustment.stimulus import Aim, Likeness, Stimulus, stimulus
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, RATIOS, STANCES, Ratio
from service.knowledge.loader import CHOICES
from service.mechanics.body import Body
from service.mechanics.stance import matching_load
from service.mechanics.sweep import Swept
from service.refusals import Refusal
from service.training.relations import person_curve
from service.training.volume import Reps, equal_volume_reps

CHOICE: Final = CHOICES["adjustments"]
VARIATIONS: Final = ("back_squat_high_bar", "back_squat_low_bar", "front_squat", "safety_bar_squat")
EXERCISES_TRIED: Final = ("split_squat", "rear_foot_elevated_split_squat", "belt_squat")


class Candidate(msgspec.Struct, frozen=True):
    """One adjusted prescription with what it costs and saves.

    demand: peak of a repetition by region, against the present; exposure: the sore region's demand summed over a
    session, against the present; tested: False where the load is a start to be tested; ratio: the published ratio
    used.
    """

    levers: tuple[str, ...]
    prescription: Prescription
    demand: dict[str, Interval]
    exposure: float
    stimulus: Stimulus
    likeness: Likeness
    by_exposure: bool = False
    tested: bool = True
    ratio: Ratio | None = None


class RuledOut(msgspec.Struct, frozen=True):
    """A lever that gives no option, and why."""

    lever: str
    reason: str


class Case(msgspec.Struct, frozen=True):
    """The consultation: lifter, present prescription and its demand, region, target ratio, aim, and what is allowed."""

    body: Body
    present: Prescription
    swept: Swept
    region: str
    target: float
    aim: Aim
    levers: frozenset[str]
    exercises: frozenset[str]
    most_days: int
    round_down: Callable[[float], float | None]

    @property
    def present_share(self) -> float:
        """Share of the maximum that the present load is, by the general curve [1]."""
        return person_curve(self.present.exercise, 0).share_at(self.present.reps.high + self.present.reserve)


def candidates(case: Case) -> Iterator[Candidate | RuledOut]:
    """Every candidate of every lever allowed, and the reasons where one gives none."""
    if "load" in case.levers:
        yield from _load(case)
    if "variation" in case.levers:
        for exercise in VARIATIONS:
            yield from _other(case, exercise, "variation")
    if "exercise" in case.levers:
        for exercise in EXERCISES_TRIED:
            yield from _other(case, exercise, "exercise")
    if "days" in case.levers:
        yield from _days(case)


def _candidate(
    case: Case,
    levers: tuple[str, ...],
    new: Prescription,
    likeness: Likeness,
    share: float | None,
    swept: Swept | None = None,
) -> Candidate:
    found = swept or demand(case.body, new)
    by_region = ratios(found, case.swept)
    if case.region not in by_region:
        raise Refusal.one(
            "exercise", "The region's moment is near nil there, so no ratio to the present lift can be formed."
        )
    moments = [case.swept.values.hip + case.swept.values.knee, found.values.hip + found.values.knee]
    peak = by_region[case.region].value
    return Candidate(
        levers=levers,
        prescription=new,
        demand=by_region,
        exposure=peak * new.reps_a_session / case.present.reps_a_session,
        stimulus=stimulus(new, case.present, case.aim, likeness, share, case.present_share, moments[1] / moments[0]),
        likeness=likeness,
    )


def _meets(case: Case, new: Prescription) -> bool:
    found = ratios(demand(case.body, new), case.swept).get(case.region)
    return found is not None and found.value <= case.target + 1e-9


def load_for_target(case: Case, new: Prescription) -> float | None:
    """The heaviest loadable load, not above the prescription's, at which the sore region's demand meets the target."""
    low = CHOICE["lightest_share"] * new.load
    top = _region_moment(case, new)
    bottom = _region_moment(case, msgspec.structs.replace(new, load=low))
    wanted = case.target * _region_moment(case, case.present)
    if top <= wanted:
        solved = new.load
    elif bottom > wanted or top <= bottom:
        return None
    else:
        solved = low + (new.load - low) * (wanted - bottom) / (top - bottom)
    load = case.round_down(solved)
    while load is not None and load >= low and not _meets(case, msgspec.structs.replace(new, load=load)):
        lower = case.round_down(load - 1e-3)
        load = None if lower is None or lower >= load else lower
    return load if load is not None and load >= low else None


def _region_moment(case: Case, prescription: Prescription) -> float:
    values = demand(case.body, prescription).values
    joint = {"low_back": "lumbosacral"}.get(case.region, case.region)
    found: float = getattr(values, joint)
    return found


def _reserve(case: Case, share: float, reps: int) -> float | None:
    """Expected repetitions left at a share of the maximum [1] after so many; None beyond the published range."""
    curve = person_curve(case.present.exercise, 0)
    if not curve.shares[-1] <= share <= 1:
        return None
    return curve.reps_at(share) - reps


def _load(case: Case) -> Iterator[Candidate | RuledOut]:
    present = case.present
    load = load_for_target(case, present)
    if load is None or load >= present.load:
        yield RuledOut(
            "load", "No loadable load between 40 % of the present one and it brings the region's demand to the target."
        )
        return
    share = case.present_share * load / present.load
    kept_reps = _reserve(case, share, present.reps.high)
    if kept_reps is None:
        yield RuledOut(
            "load", "The lighter load is below 60 % of the estimated maximum, where no repetitions are published."
        )
        return
    lighter = msgspec.structs.replace(present, load=load, reserve=kept_reps)
    yield _candidate(case, ("load",), lighter, "same", share)
    if "reps" not in case.levers:
        return
    volume = equal_volume_reps(present.sets, present.reps, present.load, present.sets, load)
    shift = round(kept_reps - present.reserve)
    effort = Reps(present.reps.low + shift, present.reps.high + shift)
    for reps in dict.fromkeys((volume, effort)):
        left = _reserve(case, share, reps.high)
        if reps == present.reps:
            continue
        if left is None or left < min(present.reserve, 1.0) - 0.5:
            yield RuledOut(
                "load, reps",
                f"{reps.low} to {reps.high} repetitions are not achievable at the lighter load with the effort kept.",
            )
            continue
        yield _candidate(
            case, ("load", "reps"), msgspec.structs.replace(lighter, reps=reps, reserve=max(0.0, left)), "same", share
        )


def ratio_between(present: str, new: str) -> Ratio | None:
    """The published ratio from one exercise to another, directly or through the high-bar squat."""
    direct = RATIOS.get((present, new))
    if direct:
        return direct
    base = "back_squat_high_bar"
    into, out = RATIOS.get((base, new)), RATIOS.get((base, present))
    if present == base or out is None or not out.ratio:
        return None
    if new == base:
        return Ratio(1 / out.ratio, None, out.source, out.known)
    return Ratio(into.ratio / out.ratio, None, into.source, into.known) if into else None


def _start(case: Case, exercise: str) -> tuple[float, float | None, Ratio | None] | str:
    """Start load [kg], its share of the new lift's maximum and the ratio used; or why there is none."""
    ratio = ratio_between(case.present.exercise, exercise)
    load = case.present.load
    if ratio is not None:
        factor = ratio.ratio - ratio.sd if ratio.sd else ratio.ratio * CHOICE["first_exposure_margin"]
        start = min(load, load * factor)
        return start, case.present_share * start / (load * ratio.ratio), ratio
    stance = STANCES.get(EXERCISES[exercise].stance)
    if EXERCISES[exercise].family == "split" and stance and stance.value:
        intended = matching_load(stance.value, 0.5, load, case.body.mass)
        if intended <= 0:
            return "Body mass alone already puts more on the lead leg than the present lift does."
        return intended * CHOICE["untested_share"], None, None
    return load * CHOICE["untested_share"], None, None


def _other(case: Case, exercise: str, lever: Likeness) -> Iterator[Candidate | RuledOut]:
    present = case.present
    name = EXERCISES[exercise].name
    if exercise == present.exercise or exercise not in case.exercises:
        return
    started = _start(case, exercise)
    if isinstance(started, str):
        yield RuledOut(lever, f"{name}: {started}")
        return
    start, share, ratio = started
    load = case.round_down(start)
    if load is None or load <= 0:
        yield RuledOut(lever, f"{name}: the start load of {start:.1f} kg is less than the bar.")
        return
    share = None if share is None else share * load / start
    new = msgspec.structs.replace(present, exercise=exercise, load=load)
    levers: tuple[str, ...] = (lever,)
    try:
        if not _meets(case, new):
            lighter = load_for_target(case, new) if "load" in case.levers else None
            if lighter is None:
                yield RuledOut(lever, f"{name}: at {load:.1f} kg the region's demand does not come down to the target.")
                return
            share = share * lighter / load if share is not None else None
            new, levers = msgspec.structs.replace(new, load=lighter), (lever, "load")
        left = None if share is None else _reserve(case, share, present.reps.high)
        if share is not None and left is None:
            yield RuledOut(
                lever,
                f"{name}: {new.load:.1f} kg is below 60 % of its estimated maximum, where nothing is published.",
            )
            return
        reserve = CHOICE["untested_reserve"] if left is None else max(0.0, left)
        new = msgspec.structs.replace(new, reserve=max(reserve, present.reserve))
        found = _candidate(case, levers, new, lever, share)
    except Refusal as refusal:
        yield RuledOut(lever, f"{name}: {refusal.faults[0].detail}")
        return
    yield msgspec.structs.replace(found, tested=share is not None, ratio=ratio)


def _days(case: Case) -> Iterator[Candidate | RuledOut]:
    present = case.present
    if present.days is None:
        yield RuledOut("days", "The days a week are not stated in the prescription.")
        return
    found = False
    for days in range(present.days + 1, case.most_days + 1):
        sets = ceil(present.weekly_sets / days)
        if sets * days > present.weekly_sets * 1.25 or sets >= present.sets:
            continue
        new = msgspec.structs.replace(present, sets=sets, days=days)
        if new.reps_a_session / present.reps_a_session > case.target + 1e-9:
            continue
        found = True
        plain = _candidate(case, ("days",), new, "same", case.present_share, case.swept)
        yield msgspec.structs.replace(plain, by_exposure=True)
        break
    if not found:
        yield RuledOut("days", "No number of days within the limit brings a session's share of the work to the target.")
