"""What must hold in every course, each as a list of the places where it does not."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from tests.science.episodes.demand import LIFT, Scale, differences
from tests.science.episodes.episode import Episode, equipment_of
from tests.science.episodes.gym import Gym
from tests.science.episodes.prescribed import USUAL_RESERVE, Json
from tests.science.episodes.service import visit

STEP: Final = CHOICES.return_plan.step
TOLERANCE: Final = 1e-3  # of shown and rounded numbers
NO_MORE: Final = (
    0.005  # of the original's: back to a lighter load the repetitions that were done with it may make up for it
)
NO_LIGHTER_THAN_TOLERATED: Final = "adjustments /complaint/tolerated/load"


def prescriptions(course: Episode) -> list[Json]:
    """Every different prescription that an answer of the course shows, in the order in which it came."""
    first = course.visits[0].answer or {"options": []}
    shown = [option["prescription"] for option in first["options"]]
    shown += [answer["next"] for _, answer in course.reviews if answer["next"] is not None]
    return [one for number, one in enumerate(shown) if one not in shown[:number]]


def refusals(course: Episode) -> Iterator[str]:
    """Every operation that takes a prescription, asked with each that an answer showed, as it stands."""
    asked = course.case.request
    region, equipment = asked["complaint"]["region"], equipment_of(asked)
    yield from (f"{course.case.name}: {line}" for line in course.refusals)
    for prescription in prescriptions(course):
        way = {"lifter": asked["lifter"], "original": asked["prescription"], "region": region, **equipment}
        reviewed = {**way, "prescription": prescription, "sessions": [{"pain_in_session": 3}]}
        for one in (
            visit(0, "return-plan", {**way, "adjusted": prescription}),
            visit(0, "session-review", reviewed),
            visit(0, "adjustments", {**asked, "prescription": prescription}),
        ):
            for line in one.refusal:
                if not line.startswith(NO_LIGHTER_THAN_TOLERATED):
                    yield f"{course.case.name}, {prescription['exercise']}: {line}"


def too_large_steps(course: Episode) -> Iterator[str]:
    """Reviews whose next prescription asks more of the sore region than the present one and the step.

    More than the step is asked only where the answer says so and puts a test before it, and then by no more than the
    next load that there is; and nothing more at all where the decision is another one than a step on, but for a session
    of what was tolerated before, to which a step back returns with less asked of each repetition.
    """
    scale, gym = Scale(course.case), Gym(course.case.request)
    for request, answer in course.reviews:
        if answer["next"] is None:
            continue
        present, new = request["prescription"], answer["next"]
        before, after = scale.of(present), scale.of(new)
        step_on = answer["decision"] in ("progress", "back_to_original")
        tolerated = scale.of(request["previous"]).session if _returns(request, answer) else None
        for name in ("peak", "session"):
            here, there = getattr(before, name), getattr(after, name)
            if here is None or there is None or there <= here + (STEP + TOLERANCE if step_on else NO_MORE):
                continue
            if name == "session" and tolerated is not None and there <= tolerated + NO_MORE:
                continue
            rise = f"{course.case.name}: {answer['decision']} takes the {name} from {here:.3f} to {there:.3f}"
            if not step_on or answer["test_first"] is None:
                yield f"{rise} by {answer['changed']} without a test"
            elif differences(present, new) == {"load"} and gym.between(present, new):
                yield f"{rise}, though there is a load between"


def _returns(request: Json, answer: Json) -> bool:
    """Whether a review goes back to the load and the repetitions of the prescription that was tolerated."""
    previous, new = request.get("previous"), answer["next"]
    return bool(
        previous is not None
        and answer["decision"] == "step_back"
        and differences(previous, new) <= {"cues", "tempo", "technique", "range_of_motion"}
    )


def unnamed_changes(course: Episode) -> Iterator[str]:
    """Reviews that take protection away, or change anything else, without naming it in `changed`."""
    for request, answer in course.reviews:
        if answer["next"] is None:
            continue
        differing, named = differences(request["prescription"], answer["next"]), set(answer["changed"])
        lift = "lift" in differing and bool(named & LIFT)
        unnamed = differing - named - ({"lift"} if lift else set())
        if lift:  # another lift brings its own usual depth and technique
            unnamed -= {"range_of_motion", "technique"}
        if unnamed:
            yield f"{course.case.name}: {answer['decision']} changes {sorted(unnamed)} and names {sorted(named)}"
        invented = named - differing - (LIFT if lift else frozenset())
        if invented:
            yield f"{course.case.name}: names {sorted(named)}, which did not change"


def held_but_changed(course: Episode) -> Iterator[str]:
    """Reviews that say hold and change more than a load to what can be loaded."""
    for _, answer in course.reviews:
        if answer["decision"] == "hold" and set(answer["changed"]) - {"load"}:
            yield f"{course.case.name}: hold, and changes {answer['changed']}"


def impossible_prescriptions(course: Episode) -> Iterator[str]:
    """Prescriptions that cannot be loaded, or end nearer to failure than the original and the least that is allowed."""
    gym, original = Gym(course.case.request), course.case.request["prescription"]
    own = original.get("reps_in_reserve")
    least = min(CHOICES.adjustments.least_reserve, USUAL_RESERVE if own is None else own)
    for prescription in prescriptions(course):
        fault = gym.fault(prescription)
        if fault is not None:
            yield f"{course.case.name}: {EXERCISES[prescription['exercise']].name}, {fault}"
        reserve = prescription["reps_in_reserve"]
        if reserve is not None and reserve < least - TOLERANCE:
            yield f"{course.case.name}: {reserve:g} in reserve, where {least:g} are the least"
