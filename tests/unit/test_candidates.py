"""Where a new exercise starts, and the load that meets the target."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.candidates import (
    EXERCISES_TRIED,
    VARIATIONS,
    Candidate,
    Case,
    RuledOut,
    candidates,
    load_for_target,
    ratio_between,
)
from service.adjustment.prescription import Prescription, demand, ratios
from service.knowledge.catalogue import EXERCISES, RATIOS
from service.mechanics.body import build_body
from service.training.volume import Reps

BODY = build_body(75.0, 1.75, "male")
PRESENT = Prescription("back_squat_high_bar", 4, Reps(5, 6), 100.0, 2.0, 2)
SWEPT = demand(BODY, PRESENT)


def case(**change: Any) -> Case:  # noqa: ANN401 - any field
    usual = Case(
        body=BODY,
        present=PRESENT,
        swept=SWEPT,
        region="low_back",
        target=0.9,
        aim="strength",
        levers=frozenset({"load", "reps", "variation", "exercise", "days"}),
        exercises=frozenset({*VARIATIONS, *EXERCISES_TRIED}),
        most_days=6,
        round_down=lambda load: math.floor(load / 2.5) * 2.5 if load >= 20 else None,
    )
    return replace(usual, **change)


def kinds(found: Case) -> dict[tuple[str, ...], list[Candidate]]:
    grouped: dict[tuple[str, ...], list[Candidate]] = {}
    for one in candidates(found):
        if isinstance(one, Candidate):
            grouped.setdefault(one.levers, []).append(one)
    return grouped


@settings(max_examples=40)
@given(st.floats(0.7, 0.99), st.sampled_from(["low_back", "hip", "knee"]))
def test_load_for_the_target_is_the_heaviest_that_meets_it(target: float, region: str) -> None:
    found = case(target=target, region=region)
    load = load_for_target(found, PRESENT)
    assert load is not None
    assert ratios(demand(BODY, replace(PRESENT, load=load)), SWEPT)[region].value <= target + 1e-9
    heavier = ratios(demand(BODY, replace(PRESENT, load=load + 2.5)), SWEPT)[region].value
    assert heavier > target - 1e-9 or load + 2.5 > PRESENT.load


def test_target_that_no_load_meets_gives_none() -> None:
    assert load_for_target(case(target=0.05), PRESENT) is None
    assert load_for_target(case(round_down=lambda load: 100.0 if load >= 100 else None), PRESENT) is None


@pytest.mark.parametrize("target", [0.9, 0.7, 0.6, 0.5])
def test_no_option_rests_on_repetitions_below_what_is_published(target: float) -> None:
    # nuzzo_2024 (secondary): the table ends at 60 % of the maximum
    found = list(candidates(case(target=target)))
    shares = [one.stimulus.relative_load for one in found if isinstance(one, Candidate)]
    assert all(share is None or share >= 0.60 for share in shares)


def test_option_below_what_is_published_is_ruled_out_and_says_so() -> None:
    reasons = [one.reason for one in candidates(case(target=0.6)) if isinstance(one, RuledOut)]
    assert any("below 60 % of its estimated maximum" in reason for reason in reasons)


def test_only_the_levers_allowed_are_pulled() -> None:
    for lever in ("load", "variation", "exercise", "days"):
        assert set(kinds(case(levers=frozenset({lever})))) <= {(lever,)}
    assert set(kinds(case(levers=frozenset({"reps"})))) == set()


def test_only_the_exercises_allowed_are_tried() -> None:
    found = kinds(case(exercises=frozenset({"front_squat"})))
    named = {one.prescription.exercise for many in found.values() for one in many}
    assert named <= {"front_squat", PRESENT.exercise}


def test_lever_without_an_option_says_why() -> None:
    found = list(candidates(case(target=0.05, levers=frozenset({"load", "days"}))))
    assert found
    assert all(isinstance(one, RuledOut) and one.reason.endswith(".") for one in found)


def test_days_are_ruled_out_where_none_are_stated() -> None:
    found = case(present=replace(PRESENT, days=None), levers=frozenset({"days"}))
    assert [one.reason for one in candidates(found) if isinstance(one, RuledOut)] == [
        "The days a week are not stated in the prescription."
    ]


def test_more_days_spread_the_week_and_lower_the_session_alone() -> None:
    (one,) = kinds(case(levers=frozenset({"days"})))[("days",)]
    assert one.by_exposure
    assert (one.prescription.days, one.prescription.sets, one.prescription.load) == (3, 3, 100.0)
    assert one.exposure == pytest.approx(0.75)
    assert one.demand["low_back"].value == pytest.approx(1)


@pytest.mark.parametrize("exercise", [*VARIATIONS, *EXERCISES_TRIED])
def test_start_of_a_new_exercise_follows_the_published_ratio_with_its_margin_or_half_the_load(exercise: str) -> None:
    if exercise == PRESENT.exercise:
        return
    ratio = RATIOS.get((PRESENT.exercise, exercise))
    anything = case(target=5.0, levers=frozenset({"variation", "exercise"}), round_down=lambda load: load)
    found = [one for one in candidates(anything) if isinstance(one, Candidate)]
    (one,) = [one for one in found if one.prescription.exercise == exercise]
    assert one.prescription.load <= PRESENT.load + 1e-9
    assert one.tested == (ratio is not None)
    if ratio is not None:
        factor = ratio.ratio - ratio.sd if ratio.sd else 0.90 * ratio.ratio
        assert one.prescription.load == pytest.approx(min(100.0, 100.0 * factor))
        assert one.prescription.reserve >= PRESENT.reserve
    else:
        assert one.prescription.load <= 0.5 * PRESENT.load + 1e-9
        assert one.prescription.reserve == 3


@pytest.mark.parametrize("present", VARIATIONS)
@pytest.mark.parametrize("new", VARIATIONS)
def test_ratios_between_variations_are_inverse_of_each_other(present: str, new: str) -> None:
    if present == new:
        return
    there, back = ratio_between(present, new), ratio_between(new, present)
    assert (there is None) == (back is None)
    if there is not None and back is not None:
        assert there.ratio * back.ratio == pytest.approx(1)


def test_exercises_tried_are_known() -> None:
    assert {*VARIATIONS, *EXERCISES_TRIED} <= set(EXERCISES)
