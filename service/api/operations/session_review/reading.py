"""From the request to what is reviewed: the course of the sessions, the prescriptions and what can be loaded."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec.structs import replace

from service.adjustment import prescription as domain
from service.adjustment.return_plan.problem import ReturnCase
from service.adjustment.session_review.course import Course, Session
from service.adjustment.session_review.next_prescription import Reviewed, SetAside
from service.adjustment.session_review.step_back import asks_no_less
from service.adjustment.week.rise import WeekAround
from service.api.models.base import omitted, or_default, stated, stated_count
from service.api.models.clearance import circumstances_of
from service.api.models.equipment import bar_of
from service.api.models.gym import STEP, GymLoads, check_held, gym_of, is_on_bar
from service.api.models.lifter import body_of
from service.api.models.prescription import Prescription, lifters_prescription, prescription_of
from service.api.models.way_back import way_back
from service.api.models.week_of_lift import week_of_lift
from service.api.operations.session_review.models import SessionDone, SessionReview
from service.errors import Fault, Refusal
from service.units import SI, si


def course_of(request: SessionReview) -> Course:
    """The response so far as the rules take it."""
    return Course(
        sessions=tuple(_session(one) for one in request.sessions),
        usual_pain=stated(request.usual_pain),
        weekly_pain=tuple(or_default(request.weekly_pain, ())),
        weeks_since_start=stated(request.weeks_since_start),
        pain_at_start=stated(request.pain_at_start),
        days_per_week=stated_count(request.prescription.days_per_week),
        signs=tuple(request.signs),
        age=circumstances_of(request.circumstances).age,
        aim=request.aim,
    )


def _session(one: SessionDone) -> Session:
    return Session(
        one.pain_in_session,
        stated(one.pain_next_morning),
        stated(one.pain_at_rest),
        one.swelling,
        one.sleep_lost,
        one.new_stiffness,
        one.form_lost,
        None if omitted(one.reps_done) else tuple(int(reps) for reps in or_default(one.reps_done, ())),
        stated(one.reps_in_reserve),
        one.earlier_prescription,
    )


def reviewed_of(request: SessionReview) -> Reviewed:
    """The prescription under review, and what there is to change it with. Raises Refusal with every fault."""
    faults = list(_surplus_sets(request))
    unit = request.prescription.load.unit
    loads = GymLoads(bar_of(None, unit), STEP[unit] * SI[unit])
    try:
        loads = gym_of_review(request)
    except Refusal as refusal:
        faults.extend(refusal.faults)
    read: dict[str, domain.Prescription] = {}
    for name, prescription in {"prescription": request.prescription, "previous": request.previous}.items():
        try:
            read |= {} if prescription is None else {name: _read(request, prescription, name)}
            if prescription is not None and name == "prescription":
                _check_loadable(request, read[name], loads)
        except Refusal as refusal:
            faults.extend(refusal.faults)
    if request.original is not None and request.lifter is None:
        faults.append(
            Fault("/lifter", "The way back to an original is computed for a lifter.", "body_mass and stature")
        )
    elif request.week and request.lifter is None:
        faults.append(Fault("/lifter", "What a week asks is computed for a lifter.", "body_mass and stature"))
    if faults:
        raise Refusal(tuple(faults))
    week = _week(request)
    present, previous, way_back = read["prescription"], read.get("previous"), _way_back(request, loads, week)
    if previous is not None and asks_no_less(previous, present):
        previous = None  # software names the one that was done before, whether or not it asked less
    lost = previous is not None and not _rounds(loads, previous)
    aside: dict[SetAside, bool] = {
        "original_not_loadable": request.original is not None and way_back is None,
        "previous_not_loadable": lost,
    }
    previous = None if lost else previous
    own = [one.load for one in (present, previous) if one is not None and _is_there(loads, one)]
    return Reviewed(
        present,
        previous,
        request.region,
        replace(loads, available=tuple(own)),
        None if request.lifter is None else body_of(request.lifter),
        way_back,
        tuple(name for name, is_so in aside.items() if is_so),
        week,
    )


def _week(request: SessionReview) -> WeekAround | None:
    if request.lifter is None:
        return None
    own = [request.original, request.prescription, request.previous]
    return week_of_lift(request.week, request.lifter, request.region, own)


def gym_of_review(request: SessionReview) -> GymLoads:
    """What can be loaded, with a bar that is no heavier than what was lifted with one, where the request names no bar.

    Raises Refusal for an impossible gym.
    """
    loads = gym_of(request.gym, request.prescription.load.unit, "", bar=request.bar, increment=request.increment)
    if not loads.bar_assumed:
        return loads
    stated = (request.prescription, request.previous, request.original)
    lifted = [si(one.load) for one in stated if one is not None and one.load.value > 0 and is_on_bar(one)]
    return replace(loads, bar=loads.bar.no_heavier_than(min(lifted))) if lifted else loads


def _is_there(loads: GymLoads, prescription: domain.Prescription) -> bool:
    """Whether a gym has what a prescription is lifted with, and as heavy."""
    try:
        check_held(loads, prescription, "kg", "")
    except Refusal:
        return False
    return True


def _rounds(loads: GymLoads, prescription: domain.Prescription) -> bool:
    """Whether a gym has what a prescription is lifted with, and a load for it that is no heavier."""
    down = loads.down(prescription.exercise, prescription.load, prescription.implement)
    return loads.holds(prescription) and down is not None


def _surplus_sets(request: SessionReview) -> Iterator[Fault]:
    sets = request.prescription.sets
    for index, one in enumerate(request.sessions):
        if not one.earlier_prescription and len(or_default(one.reps_done, ())) > sets:
            yield Fault(
                f"/sessions/{index}/reps_done",
                "Repetitions are given for more sets than were prescribed.",
                f"1 to {sets:g} items",
            )


def _read(request: SessionReview, prescription: Prescription, name: str) -> domain.Prescription:
    """A prescription in SI, with the lifter's own limits where a lifter is stated."""
    if request.lifter is None:
        return prescription_of(prescription, f"/{name}")
    return lifters_prescription(prescription, request.lifter, f"/{name}", as_basis=False)


def _check_loadable(request: SessionReview, present: domain.Prescription, loads: GymLoads) -> None:
    """Check that the prescription under review can be loaded. Raises Refusal where it cannot.

    Its load can be on the bar, or is the original's: that has been lifted, whatever bar the request names.
    """
    now, original, bar = request.prescription, request.original, loads.bar
    check_held(loads, present, now.load.unit, "prescription")
    if original is not None and (original.exercise, original.load) == (now.exercise, now.load):
        return
    if (
        present.load > 0
        and is_on_bar(present)
        and None in (bar.nearest(present.load, "down"), bar.nearest(present.load, "up"))
    ):
        raise Refusal.one(
            "prescription/load", "The bar and its plates hold no such load.", bar.span, one_of=(bar.empty,)
        )


def _way_back(request: SessionReview, loads: GymLoads, week: WeekAround | None) -> ReturnCase | None:
    """The way back to an original that the gym can load."""
    original, lifter = request.original, request.lifter
    if original is None or lifter is None or not _is_there(loads, lifters_prescription(original, lifter, "/original")):
        return None
    return way_back(
        lifter,
        original,
        request.prescription,
        request.region,
        loads=loads,
        adjusted_name="prescription",
        week=week,
        keep=request.keep,
    )
