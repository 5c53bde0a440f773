"""Lifts of one's own body: body mass is part of what is lifted, and answers say what is added to it or taken off."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.operations.load_for_reps import LoadForReps, load_for_reps_chart
from service.knowledge.catalogue import EXERCISES
from service.units import SI
from tests.support.asking import BY_NAME, Answered, ask, decoded, faults, kg, lb
from tests.support.drawn import assert_title_and_alternative, description, whole, words

OWN_BODY: Final = [name for name, exercise in EXERCISES.items() if exercise.carry == "body"]
SET: Final = {"load": kg(12), "reps": 6, "reps_in_reserve": 1}
QUESTIONS: Final[dict[str, dict[str, Any]]] = {
    "load-for-reps": {"set": SET, "target": {"reps": 9}},
    "reps-for-load": {"set": SET, "target": {"load": kg(4)}},
    "estimated-max": {"sets": [SET]},
    "rep-targets": {
        "current": {"sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(12), "reps_in_reserve": 2},
        "new_load": kg(4),
    },
}
questions = pytest.mark.parametrize("name", QUESTIONS)
bodies = st.floats(45, 130).map(lambda mass: round(mass, 1))


def done(load: float, reps: int = 6, reserve: float = 1, **more: Any) -> dict[str, Any]:  # noqa: ANN401 - any JSON
    return {"load": kg(load), "reps": reps, "reps_in_reserve": reserve, **more}


def pull_up(name: str, question: dict[str, Any], body: float) -> Answered:
    return ask(name, {**question, "exercise": "pull_up", "body_mass": kg(body)})


@questions
@pytest.mark.parametrize("exercise", OWN_BODY)
def test_without_what_the_body_adds_a_lift_of_it_is_refused(name: str, exercise: str) -> None:
    (fault,) = faults(name, {**QUESTIONS[name], "exercise": exercise})
    assert fault.pointer == ("/body_mass" if EXERCISES[exercise].body_share else "/exercise")
    assert fault.allowed
    assert EXERCISES[exercise].name in fault.detail


def test_part_of_the_body_is_known_where_it_follows_from_statics_or_was_measured() -> None:
    """mier_2014 (abstract): both hands at the bottom 0.746 men, 0.703 women. de_leva_1996: the whole less the legs."""
    above_the_hips = 1 - ((0.2832 + 0.0866 + 0.0274) + (0.2956 + 0.0962 + 0.0258)) / 2
    above_the_knees = 1 - ((0.0866 + 0.0274) + (0.0962 + 0.0258)) / 2
    shares = {
        "pull_up": 1.0, "chin_up": 1.0, "dip": 1.0, "calf_raise_standing": 1.0, "push_up": (0.746 + 0.703) / 2,
        "back_extension": above_the_hips, "nordic_curl": above_the_knees,
    }  # fmt: skip
    assert EXERCISES["inverted_row"].body_share is None
    assert {name: EXERCISES[name].body_share for name in OWN_BODY if name != "inverted_row"} == {
        name: pytest.approx(share, abs=6e-4) for name, share in shares.items()
    }


@questions
def test_body_mass_is_refused_where_it_adds_nothing_and_where_no_lifter_has_it(name: str) -> None:
    for more in ({"exercise": "front_squat"}, {}):
        (fault,) = faults(name, {**QUESTIONS[name], **more, "body_mass": kg(80)})
        assert fault.pointer == "/body_mass"
    for mass in (29, 251):
        (fault,) = faults(name, {**QUESTIONS[name], "exercise": "pull_up", "body_mass": kg(mass)})
        assert (fault.pointer, fault.allowed) == ("/body_mass", "30 to 250 kg")


@settings(max_examples=100)
@given(bodies, st.floats(0, 60), st.integers(1, 10), st.integers(1, 12))
def test_answer_is_that_of_the_whole_load_less_the_body(body: float, added: float, reps: int, target: int) -> None:
    added = round(added, 1)
    whole = {"set": done(body + added, reps), "target": {"reps": target}, "exercise": "front_squat"}
    expected = ask("load-for-reps", whole)
    found = pull_up("load-for-reps", {"set": done(added, reps), "target": {"reps": target}}, body)
    dust = 1e-5 * (body + added) * 2
    for mine, theirs in ((found.load, expected.load), (found.estimated_max, expected.estimated_max)):
        for end in ("low", "value", "high"):
            assert getattr(mine, end) == pytest.approx(getattr(theirs, end) - body, abs=dust)
    assert found.percent_of_max == expected.percent_of_max
    top = ask("estimated-max", {"sets": [whole["set"]], "exercise": "front_squat"})
    mine = pull_up("estimated-max", {"sets": [done(added, reps)]}, body)
    assert mine.estimated_max.value == pytest.approx(top.estimated_max.value - body, abs=dust)
    assert mine.spread_of_relations == pytest.approx(top.spread_of_relations, abs=1e-4)


@settings(max_examples=100)
@given(bodies, st.floats(0, 40), st.floats(0, 0.2))
def test_repetitions_are_those_of_the_whole_load(body: float, added: float, lighter: float) -> None:
    added, less = round(added, 1), round(lighter * body, 1)
    target = {"load": kg(added), "assistance": kg(less)}
    found = pull_up("reps-for-load", {"set": done(added), "target": target}, body)
    whole = {"set": done(body + added), "target": {"load": kg(round(body + added - less, 2))}}
    expected = ask("reps-for-load", {**whole, "exercise": "front_squat"})
    assert found.reps.value == pytest.approx(expected.reps.value, abs=1e-3)
    assert found.percent_of_max.value == pytest.approx(expected.percent_of_max.value, abs=1e-3)


def test_whole_body_is_in_the_volume_and_in_the_effort() -> None:
    found = pull_up("rep-targets", QUESTIONS["rep-targets"], 80)
    current = {**QUESTIONS["rep-targets"]["current"], "load": kg(92)}
    expected = ask("rep-targets", {"current": current, "new_load": kg(84), "exercise": "front_squat"})
    assert found.equal_volume == expected.equal_volume
    assert (found.effort, found.equal_effort) == (expected.effort, expected.equal_effort)
    assert found.equal_volume.volume_load.current.high.value == 4 * 6 * 92


def test_body_alone_is_a_load() -> None:
    found = pull_up("load-for-reps", {"set": done(0, 8, 1), "target": {"reps": 5}}, 80)
    assert found.load.value > 0
    assert found.loadable.value == 2.5 * (found.load.value // 2.5)
    assert found.assistance is None
    assert "bar_alone_too_heavy" not in {caution.code for caution in found.cautions}
    assert "added_to_body" in {caution.code for caution in found.cautions}


def test_less_than_the_body_is_shown_as_assistance_rounded_up() -> None:
    found = pull_up("load-for-reps", {"set": done(0, 5, 1), "target": {"reps": 12}}, 80)
    assert -20 < found.load.value < -2.5
    assert found.loadable is None
    assert found.assistance.value % 2.5 == 0
    assert 0 <= found.assistance.value + found.load.value < 2.5
    assert all(row.load.value >= 0 for row in found.relations)


def test_assisted_set_is_a_lighter_one() -> None:
    helped = pull_up("estimated-max", {"sets": [done(0, 6, 1, assistance=kg(30))]}, 80)
    assert helped.estimated_max.value < 0
    assert helped.relations == []
    assert helped.spread_of_relations > 0
    bare = pull_up("estimated-max", {"sets": [done(0, 6, 1)]}, 80)
    assert bare.estimated_max.value > 0
    assert (bare.estimated_max.value + 80) / (helped.estimated_max.value + 80) == pytest.approx(80 / 50, rel=1e-4)


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"set": done(0, assistance=kg(80))}, "/set/assistance"),
        ({"own_sets": [done(5, assistance=kg(90))]}, "/own_sets/0/assistance"),
        ({"bar": {"bar": kg(20)}}, "/bar"),
    ],
)
def test_what_leaves_nothing_to_lift_or_needs_a_bar_is_refused(change: dict[str, Any], pointer: str) -> None:
    question = {**QUESTIONS["load-for-reps"], "exercise": "pull_up", "body_mass": kg(80), **change}
    (fault,) = faults("load-for-reps", question)
    assert fault.pointer == pointer


def test_assistance_belongs_to_lifts_of_the_own_body() -> None:
    (fault,) = faults("load-for-reps", {"set": done(60, assistance=kg(5)), "target": {"reps": 5}})
    assert fault.pointer == "/set/assistance"
    target = {"load": kg(60), "assistance": kg(5)}
    (fault,) = faults("reps-for-load", {"set": done(60), "target": target})
    assert fault.pointer == "/target/assistance"


def test_own_curve_is_of_the_whole_load() -> None:
    own = [done(20, 5, 0), done(10, 8, 1), done(0, 12, 0)]
    found = pull_up("estimated-max", {"sets": own}, 80)
    whole = [done(80 + load, reps, reserve) for load, reps, reserve in ((20, 5, 0), (10, 8, 1), (0, 12, 0))]
    expected = ask("estimated-max", {"sets": whole, "exercise": "front_squat"})
    assert found.own_curve.estimated_max.value == pytest.approx(expected.own_curve.estimated_max.value - 80, abs=1e-3)


def test_answer_is_in_the_unit_of_the_set_whatever_that_of_the_body() -> None:
    in_pounds = {"load": lb(25), "reps": 6, "reps_in_reserve": 1}
    found = pull_up("load-for-reps", {"set": in_pounds, "target": {"reps": 3}}, 80)
    same = pull_up("load-for-reps", {"set": done(25 * SI["lb"]), "target": {"reps": 3}}, 80)
    assert found.load.unit == found.loadable.unit == "lb"
    assert found.load.value == pytest.approx(same.load.value / SI["lb"], rel=1e-4)
    assert found.loadable.value % 5 == 0


def test_picture_of_assistance_reaches_below_nothing() -> None:
    question = {"set": done(0), "target": {"reps": 12}, "exercise": "pull_up", "body_mass": kg(80)}
    assert "−20" in words(whole(load_for_reps_chart(decoded("load-for-reps", question))))


@pytest.mark.parametrize("added", [0, 12])
def test_picture_has_what_is_added_to_the_body(added: float) -> None:
    question = {"set": done(added), "target": {"reps": 9}, "exercise": "pull_up", "body_mass": kg(80)}
    request: LoadForReps = decoded("load-for-reps", question)
    drawn = whole(load_for_reps_chart(request))
    assert_title_and_alternative(drawn)
    load = BY_NAME["load-for-reps"].compute(request).load.value
    assert f"wanted: 9 repetitions, {load:.1f} kg".replace("-", "−") in description(drawn)
