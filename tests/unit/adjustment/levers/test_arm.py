"""Less range, another grip or bench and straight wrists in presses and pulls: what is tried and what comes of it."""

from __future__ import annotations

from math import radians
from typing import Final

import pytest
from msgspec.structs import replace

from service.adjustment.complaint import Complaint
from service.adjustment.consultation import Candidate, RuledOut
from service.adjustment.levers.arm import less_range, other_techniques, range_is_computed
from service.adjustment.options.search import candidates
from service.adjustment.prescription import Prescription
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import build_body
from service.mechanics.depth import Depth
from service.mechanics.technique import Technique
from service.training.volume import Reps
from tests.unit.adjustment.options.test_search import case, options, reasons

BENCH: Final = Prescription("bench_press", 4, Reps(6, 6), 90.0, 2.0, 2)
PULL_UP: Final = Prescription("pull_up", 4, Reps(5, 5), 0.0, 2.0, 2)
DIP: Final = Prescription("dip", 3, Reps(8, 8), 10.0, 2.0, 2)
RANGE: Final = frozenset({"range_of_motion"})
TECHNIQUE: Final = frozenset({"technique"})


def test_a_bench_press_that_ends_higher_eases_the_shoulders_posture_and_not_its_moment() -> None:
    (one,) = options(case(BENCH, region="shoulder", levers=RANGE, exercises=frozenset()))
    assert one.meets_by == "posture"
    assert one.prescription.depth == Depth(above_bottom=CHOICES.arm.above_bottom[0])
    assert one.effects["shoulder"].ratio == 1.0
    assert one.prescription.load == BENCH.load
    assert not one.prescription.cues


def test_a_dip_that_ends_higher_asks_less_of_the_shoulder_in_numbers() -> None:
    (one,) = options(case(DIP, region="shoulder", levers=RANGE, exercises=frozenset()))
    assert one.meets_by == "peak"
    assert one.effects["shoulder"].direction == "lower"


def test_a_pull_keeps_its_stretch_and_an_elbow_gets_no_shorter_press() -> None:
    assert not list(less_range(case(PULL_UP, region="shoulder")))
    assert not range_is_computed(case(BENCH, region="elbow"))
    assert not options(case(BENCH, region="elbow", levers=RANGE, exercises=frozenset()))


def test_a_range_as_short_as_it_is_looked_at_is_said() -> None:
    short = replace(BENCH, depth=Depth(above_bottom=max(CHOICES.arm.above_bottom)))
    (one,) = less_range(case(short, region="shoulder"))
    assert isinstance(one, RuledOut)
    assert one.reason == "range_of_motion_at_its_shortest"


def test_a_wider_grip_surely_asks_less_of_the_elbow_in_a_pull_up_and_what_it_moves_to_the_shoulder_is_known() -> None:
    helped, woman = replace(PULL_UP, load=-10.0), build_body(74.0, 1.71, "female")
    found = options(case(helped, woman, region="elbow", levers=TECHNIQUE, exercises=frozenset()))
    wider = [one for one in found if one.prescription.technique and one.prescription.technique.grip_width]
    assert [one.effects["elbow"].direction for one in wider] == ["lower"]
    assert (wider[0].effects["shoulder"].ratio or 0.0) > 1.0


@pytest.mark.parametrize("region", ["shoulder", "elbow"])
def test_no_other_grip_or_bench_of_a_bench_press_is_sure(region: str) -> None:
    found = options(case(BENCH, region=region, levers=TECHNIQUE, exercises=frozenset()))
    assert all(one.prescription.technique is None for one in found)
    assert "not_said_to_ask_less" in reasons(candidates(case(BENCH, region=region, levers=TECHNIQUE)))


def test_wrists_that_are_bent_back_are_tried_straight() -> None:
    bent = replace(BENCH, technique=Technique(wrist_bend=radians(40.0)))
    found = options(case(bent, region="wrist", levers=TECHNIQUE, exercises=frozenset()))
    straight = [one for one in found if one.prescription.technique and one.prescription.technique.wrist_bend == 0.0]
    assert [one.effects["wrist"].direction for one in straight] == ["lower"]
    assert not [one for one in other_techniques(case(BENCH, region="wrist")) if isinstance(one, Candidate)]


def test_where_it_hurts_at_the_bottom_the_range_comes_with_less_load_that_surely_relieves() -> None:
    levers, both = frozenset({"range_of_motion", "load"}), ("range_of_motion", "load")
    plain = case(BENCH, region="shoulder", levers=levers, exercises=frozenset())
    assert all(one.levers[:2] != both for one in options(plain))
    told = replace(plain, rules=Complaint("shoulder", painful_range="bottom").rules(BENCH.exercise))
    lighter = next(one for one in options(told) if one.levers == both)
    assert (lighter.meets_by, lighter.effects["shoulder"].eased) == ("peak", True)


def test_a_grip_of_one_and_a_half_shoulders_is_the_first_cue_of_a_sore_shoulder_and_charges_no_elbow() -> None:
    # noteboom_2024, mausehund_2022; of the elbow mausehund_2022, larsen_2021a and chou_2008_bench disagree
    wide = replace(BENCH, exercise="bench_press_wide_grip")
    first, *_ = options(case(wide, region="shoulder", levers=TECHNIQUE, exercises=frozenset()))
    assert first.prescription.cues == ("grip_at_most_one_and_a_half",)
    assert first.effects["elbow"].direction == "unknown"


@pytest.mark.parametrize(("widths", "cued"), [(1.4, False), (1.5, False), (1.6, True)])
def test_a_grip_that_is_stated_to_be_no_wider_is_not_cued_again(widths: float, cued: bool) -> None:  # noqa: FBT001
    body = build_body(84.0, 1.81, "male")
    held = replace(BENCH, technique=Technique(grip_width=widths * body.shoulder_breadth))
    found = options(case(held, body, region="shoulder", levers=TECHNIQUE, exercises=frozenset()))
    assert any(one.prescription.cues == ("grip_at_most_one_and_a_half",) for one in found) is cued
