"""The gym: loads that can be lifted with what is there and never above its heaviest, in three operations alike."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import UNSET, to_builtins

from service.adjustment.prescription import Prescription, lifts_the_body
from service.api.models.equipment import BarSetup, PlateKind, bar_of
from service.api.models.gym import STEP, Gym, GymImplement, GymLoads, check_held, gym_of
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.training.volume import Reps
from service.units import Mass
from service.vocabulary import Implement
from tests.support.asking import ask, faults, kg, lb

BAR = BarSetup(bar=Mass(15.0, "kg"), plates=[PlateKind(plate=Mass(2.5, "kg"), pairs=2)])
BARE = GymLoads(bar_of(BAR, "kg"), 2.0, available=(31.0,))
DUMBBELLS: Final = {"implement": "dumbbells", "step": kg(2), "heaviest": kg(32)}
MACHINE: Final = {"implement": "machine", "step": kg(5), "heaviest": kg(100)}
HOTEL: Final = {"implements": [DUMBBELLS, MACHINE]}
LIFTER: Final = {"body_mass": kg(70), "stature": {"value": 168, "unit": "cm"}}


def gym(*implements: GymImplement, bar: BarSetup | None = None) -> GymLoads:
    return gym_of(Gym(bar=bar, implements=list(implements) or None), "kg", "")


def at(implement: Implement, step: float | None = None, heaviest: float | None = None) -> GymImplement:
    masses = [None if value is None else Mass(value, "kg") for value in (step, heaviest)]
    return GymImplement(implement=implement, step=masses[0], heaviest=masses[1])


@pytest.mark.parametrize(
    ("exercise", "load", "down", "above"),
    [
        ("front_squat", 19.9, 15.0, 20.0),
        ("front_squat", 20.0, 20.0, 25.0),
        ("front_squat", 14.0, None, 15.0),
        ("front_squat", 40.0, 25.0, None),
        ("leg_press", 7.0, 6.0, 8.0),
        ("leg_press", 1.0, None, 2.0),
        ("leg_press", 31.0, 31.0, 32.0),
        ("bench_press_dumbbell", 11.9, 8.0, 12.0),
        ("pull_up", -3.0, -4.0, -2.0),
        ("pull_up", 1.0, 0.0, 2.0),
        ("calf_raise_standing", 1.0, 0.0, 2.0),
        ("calf_raise_standing", -1.0, None, 0.0),  # nothing takes weight off a calf raise
    ],
)
def test_the_nearest_loads(exercise: str, load: float, down: float | None, above: float | None) -> None:
    assert (BARE.down(exercise, load), BARE.above(exercise, load)) == (down, above)


@pytest.mark.parametrize(
    ("exercise", "implement", "load", "down", "above"),
    [
        ("bench_press_dumbbell", None, 63.0, 60.0, 64.0),  # two of 30 kg, two of 32 kg
        ("bench_press_dumbbell", None, 90.0, 64.0, None),
        ("dumbbell_row", None, 90.0, 32.0, None),
        ("romanian_deadlift", "dumbbells", 41.0, 40.0, 44.0),
        ("romanian_deadlift", "one_dumbbell", 41.0, 32.0, None),
        ("leg_press", None, 63.0, 60.0, 65.0),
        ("leg_press", None, 300.0, 100.0, None),
        ("kettlebell_swing", None, 23.0, 20.0, 24.0),  # in their usual steps of 4 kg
        ("split_squat", "body_weight", 30.0, 0.0, None),
    ],
)
def test_loads_in_the_steps_of_what_is_there_and_up_to_its_heaviest(
    exercise: str, implement: Implement | None, load: float, down: float, above: float | None
) -> None:
    loads = gym(at("dumbbells", 2, 32), at("machine", 5, 100), at("kettlebell"))
    assert (loads.down(exercise, load, implement), loads.above(exercise, load, implement)) == (down, above)


@given(st.sampled_from(sorted(EXERCISES)), st.data(), st.floats(0, 300), st.floats(0.5, 10), st.floats(5, 200))
def test_what_is_offered_is_never_above_what_was_asked_for_or_the_heaviest(
    exercise: str, data: st.DataObject, load: float, step: float, heaviest: float
) -> None:
    implement = data.draw(st.sampled_from(EXERCISES[exercise].implements))
    loads = gym(*(at(each, step, heaviest) for each in EXERCISES[exercise].implements))
    offered = loads.down(exercise, load, implement)
    if offered is not None:
        assert offered <= min(load, heaviest * (2 if implement == "dumbbells" else 1)) + 1e-6
        assert loads.down(exercise, offered, implement) == pytest.approx(offered)
        assert offered >= 0 or lifts_the_body(exercise)


def test_the_usual_step_where_none_is_stated() -> None:
    loads = gym_of(None, "kg", "", bar=UNSET, increment=UNSET)
    assert loads.down("leg_press", 10 * STEP["kg"] + 0.1) == pytest.approx(10 * STEP["kg"])
    assert all(map(loads.can_lift, EXERCISES))
    assert {loads.implement_for(exercise) for exercise in EXERCISES} == {None}


def test_the_earlier_bar_and_step_say_what_a_gym_says() -> None:
    earlier = gym_of(None, "kg", "", bar=BAR, increment=Mass(2.0, "kg"))
    now = gym_of(Gym(bar=BAR), "kg", "")
    assert earlier.bar == now.bar
    assert earlier.down("bench_press_dumbbell", 11.9) == 8
    with pytest.raises(Refusal) as refused:
        gym_of(Gym(bar=BAR), "kg", "/constraints", bar=BAR)
    assert refused.value.faults[0].pointer == "/constraints/gym"


def test_only_what_is_there_is_lifted() -> None:
    loads = gym(at("dumbbells"), bar=BAR)
    assert loads.can_lift("front_squat")
    assert loads.can_lift("push_up")
    assert loads.implement_for("goblet_squat") is None  # of two dumbbells there is one
    assert not loads.can_lift("leg_press")
    assert loads.down("glute_bridge", 8, "kettlebell") is None
    only = gym(at("dumbbells"))
    assert only.implement_for("front_squat") == "dumbbells"
    assert only.implement_for("plank") is None
    assert not only.can_lift("back_squat_high_bar")  # with the body alone it is no stand-in for a lift with a load
    assert not only.can_lift("back_squat_low_bar")


@pytest.mark.parametrize(
    ("implements", "pointer"),
    [
        ([at("dumbbells", 0)], "/gym/implements/0/step"),
        ([at("machine", 5, 0)], "/gym/implements/0/heaviest"),
        ([at("machine"), at("machine")], "/gym/implements/1/implement"),
        ([at("machine"), at("band")], "/gym/implements/1/implement"),
    ],
)
def test_a_gym_that_cannot_be_is_refused(implements: list[GymImplement], pointer: str) -> None:
    with pytest.raises(Refusal) as refused:
        gym(*implements)
    assert refused.value.faults[0].pointer == pointer


def test_a_step_of_nothing_is_refused() -> None:
    with pytest.raises(Refusal) as refused:
        gym_of(None, "kg", "/constraints", increment=Mass(0.0, "kg"))
    assert refused.value.faults[0].pointer == "/constraints/increment"


def test_a_prescription_has_to_be_there() -> None:
    loads = gym(at("dumbbells", 2, 32))
    done = Prescription("romanian_deadlift", 3, Reps(8, 8), 40.0, implement="dumbbells")
    check_held(loads, done, "kg", "original")
    for other, pointer in (({"load": 70.0}, "/original/load"), ({"implement": None}, "/original/implement")):
        changed: dict[str, Any] = {"load": 40.0, "implement": "dumbbells"} | other
        with pytest.raises(Refusal) as refused:
            check_held(loads, Prescription("romanian_deadlift", 3, Reps(8, 8), **changed), "kg", "original")
        assert refused.value.faults[0].pointer == pointer


# --- the same gym in every operation ----------------------------------------------------------------------------------
PRESENT: Final = {
    "exercise": "romanian_deadlift", "sets": 3, "reps": {"low": 8, "high": 10}, "load": kg(60), "reps_in_reserve": 2,
    "implement": "dumbbells", "days_per_week": 2,
}  # fmt: skip
ADJUSTMENTS: Final = {
    "lifter": LIFTER,
    "prescription": PRESENT,
    "complaint": {"region": "low_back", "pain_in_session": 4},
    "aim": "muscle_size",
    "constraints": {"gym": HOTEL},
    "limit": 20,
}
REVIEW: Final = {
    "prescription": PRESENT,
    "region": "low_back",
    "gym": HOTEL,
    "sessions": [{"pain_in_session": 1, "pain_next_morning": 1, "swelling": True}],
}
RETURN: Final = {
    "lifter": LIFTER, "original": PRESENT, "adjusted": PRESENT | {"load": kg(36)}, "region": "low_back", "gym": HOTEL,
}  # fmt: skip


def test_options_use_what_is_there_in_its_steps() -> None:
    answer = ask("adjustments", ADJUSTMENTS)
    assert answer.options
    for option in answer.options:
        new = option.prescription
        held = new.implement or EXERCISES[new.exercise].implements[0]
        assert held in {"dumbbells", "one_dumbbell", "machine", "body_weight"}
        step, most = {"dumbbells": (4, 64), "one_dumbbell": (2, 32), "machine": (5, 100), "body_weight": (1, 0)}[held]
        assert new.load.value <= most
        assert new.load.value % step == pytest.approx(0)


def test_a_lift_whose_implement_is_not_there_is_replaced_or_done_with_another() -> None:
    barbell = ADJUSTMENTS | {"prescription": PRESENT | {"implement": None, "load": kg(90)}}
    answer = ask("adjustments", barbell)
    assert answer.options
    lifts = {(option.prescription.exercise, option.prescription.implement) for option in answer.options}
    assert ("romanian_deadlift", "dumbbells") in lifts
    assert ("romanian_deadlift", None) not in lifts


@pytest.mark.parametrize(("exercise", "load"), [("safety_bar_squat", 100), ("split_squat", 60)])
def test_another_lift_is_not_done_with_what_is_lifted_now_where_that_is_not_there(exercise: str, load: float) -> None:
    present = PRESENT | {"exercise": exercise, "implement": None, "load": kg(load)}
    light = {"implements": [{"implement": "belt"}, {"implement": "dumbbells", "step": kg(50)}]}  # of no pair so light
    case = {"lifter": LIFTER, "region": "groin", "gym": light, "sessions": REVIEW["sessions"], "original": present}
    complaint = {"region": "groin", "pain_in_session": 4}
    answer = ask(
        "adjustments",
        ADJUSTMENTS | {"prescription": present, "complaint": complaint, "constraints": {"gym": light}},
    )
    for option in answer.options:
        new = option.prescription
        assert (new.implement or EXERCISES[new.exercise].implements[0]) in {
            "belt",
            "dumbbells",
            "one_dumbbell",
            "body_weight",
        }
        assert ask("session-review", case | {"prescription": to_builtins(new)}).decision


def test_a_lift_that_may_not_be_done_is_not_done_with_another_implement_either() -> None:
    constraints = {"gym": HOTEL, "exclude": ["romanian_deadlift"]}
    answer = ask("adjustments", ADJUSTMENTS | {"constraints": constraints})
    assert "romanian_deadlift" not in {option.prescription.exercise for option in answer.options}


def test_reviews_and_ways_back_stay_within_the_gym() -> None:
    back = ask("session-review", REVIEW).next
    assert (back.implement, back.load.value % 4) == ("dumbbells", 0)
    assert back.load.value < 60
    plan = ask("return-plan", RETURN)
    assert {step.prescription.load.value % 4 for step in plan.steps} == {0}
    assert plan.steps[-1].prescription.load.value == 60


@pytest.mark.parametrize(
    ("operation", "request_", "field"),
    [("adjustments", ADJUSTMENTS, "prescription"), ("session-review", REVIEW, "prescription"),
     ("return-plan", RETURN, "original"), ("return-plan", RETURN, "adjusted")],
)  # fmt: skip
def test_what_a_lift_is_not_done_with_is_refused_in_words(operation: str, request_: dict[str, Any], field: str) -> None:
    for implement, words in (("band", "no load of its own"), ("machine", "not known to be done with this")):
        (fault,) = faults(operation, request_ | {field: PRESENT | {"implement": implement}})
        assert fault.pointer == f"/{field}/implement"
        assert words in fault.detail
        assert "dumbbells" in (fault.allowed or "")
    (fault,) = faults(operation, request_ | {field: PRESENT | {"load": kg(80)}})
    assert (fault.pointer, fault.allowed) == (f"/{field}/load", "up to 64 kg")


PRESS: Final[dict[str, Any]] = {
    "exercise": "overhead_press",
    "sets": 3,
    "reps": {"low": 8, "high": 10},
    "reps_in_reserve": 2,
}
"""With a bar that is lighter than the usual one, where none is named."""


@pytest.mark.parametrize("load", [kg(15), lb(33.0693), kg(7.5)])
@pytest.mark.parametrize("pain", [1, 3, 6])
def test_what_was_lifted_with_a_light_bar_is_reviewed(load: dict[str, Any], pain: float) -> None:
    review = ask(
        "session-review",
        {"prescription": PRESS | {"load": load}, "region": "shoulder", "sessions": [{"pain_in_session": pain}]},
    )
    if review.next is not None:
        assert review.next.load.value == pytest.approx(load["value"], rel=1e-4)


def test_what_was_lifted_before_with_a_light_bar_can_be_lifted_again() -> None:
    present, previous = PRESS | {"load": kg(17.5)}, PRESS | {"load": kg(15)}
    sessions = [{"pain_in_session": 6, "pain_next_morning": 4}]
    request = {"prescription": present, "previous": previous, "region": "shoulder", "sessions": sessions}
    assert ask("session-review", request).next.load.value == 15


def test_a_bar_that_is_named_is_as_heavy_as_it_is() -> None:
    sessions, bar = [{"pain_in_session": 3}], {"bar": {"bar": kg(20)}}
    request = {"prescription": PRESS | {"load": kg(15)}, "region": "shoulder", "sessions": sessions, "gym": bar}
    (fault,) = faults("session-review", request)
    assert (fault.pointer, fault.allowed) == ("/prescription/load", "20 to 965 kg")
