"""The finer regions: what stands for each, what is not told apart, and what no expert would call easier on it."""

from __future__ import annotations

from typing import Final

import pytest
from msgspec.structs import replace

from service.adjustment.compared import compared_demand
from service.adjustment.consultation import Candidate, RuledOut, Trial
from service.adjustment.demand import effect_on, effects
from service.adjustment.evaluation import assess
from service.adjustment.prescription import Prescription
from service.adjustment.present import present_demand
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.muscles import MUSCLE_SHARES
from service.mechanics.demand import setup_demand
from service.mechanics.setups import Technique
from service.training.volume import Reps
from tests.unit.adjustment.options.test_search import BODY, case

SQUAT: Final = Prescription("back_squat_high_bar", 4, Reps(5, 6), 100.0, 2.0, 2, technique=Technique())
LIGHTER: Final = replace(SQUAT, load=70.0)
FINER: Final = tuple(region.id for region in REGIONS.values() if region.finer)


@pytest.mark.parametrize(("part", "whole"), [("front_of_knee", "knee"), ("calf_achilles", "ankle")])
def test_a_part_that_carries_what_the_whole_is_asked_for_has_its_number(part: str, whole: str) -> None:
    present = present_demand(BODY, SQUAT, part)
    assert effect_on(present, LIGHTER, part) == effect_on(present, LIGHTER, whole)
    compared = compared_demand(present, LIGHTER)
    assert compared.ratios[part] == compared.ratios[whole]
    assert part in compared.with_interval


def test_the_groin_goes_by_the_adductors_within_one_lift_that_turns_the_legs_out_and_by_the_hip_between_lifts() -> None:
    now, lighter = (replace(one, reserve=None) for one in (SQUAT, LIGHTER))
    present, narrow = present_demand(BODY, now, "groin"), replace(now, technique=Technique(stance="narrow"))
    within, narrower = (effect_on(present, new, "groin") for new in (lighter, narrow))
    moments = [setup_demand(BODY, SQUAT.exercise, one.load).peaks["hip_adductor"].moment for one in (LIGHTER, SQUAT)]
    assert within.searched == pytest.approx(moments[0] / moments[1])
    assert (narrower.ratio, narrower.direction) == (None, "lower")
    another = replace(now, exercise="front_squat")
    assert effect_on(present, another, "groin").searched == effect_on(present, another, "hip").ratio
    pull = replace(now, exercise="deadlift_conventional")  # its legs are taken to go straight ahead
    present, lighter = present_demand(BODY, pull, "groin"), replace(pull, load=0.8 * pull.load)
    assert effect_on(present, lighter, "groin").searched == effect_on(present, lighter, "hip").ratio


@pytest.mark.parametrize("part", ["groin", "hamstring"])
def test_a_part_that_cannot_be_told_apart_is_said_as_a_direction(part: str) -> None:
    present = present_demand(BODY, SQUAT, part)
    hip, effect = effect_on(present, LIGHTER, "hip"), effect_on(present, LIGHTER, part)
    assert (effect.ratio, effect.direction, effect.evidence) == (None, "lower", "direction_only")
    assert effect.stand_in == effect.searched
    assert part == "groin" or effect.searched == hip.ratio
    compared = compared_demand(present, LIGHTER)
    assert part not in compared.ratios
    assert compared.directions[part] == compared.directions["hip"]


@pytest.mark.parametrize("part", ["upper_back", "neck"])
def test_what_nothing_is_computed_of_falls_with_the_load_alone(part: str) -> None:
    present = present_demand(BODY, SQUAT, part)
    assert effect_on(present, LIGHTER, part).direction == "lower"
    assert effect_on(present, SQUAT, part).direction == "no_clear_difference"
    assert effect_on(present, replace(LIGHTER, exercise="overhead_squat"), part).direction == "unknown"
    assert effect_on(present, replace(LIGHTER, exercise="belt_squat"), part).direction == "lower"
    assert effect_on(present, LIGHTER, part).searched is None


def test_a_lift_that_trains_the_sore_muscle_more_is_not_said_to_spare_it() -> None:
    present = present_demand(BODY, SQUAT, "hamstring")
    hinge = Prescription("romanian_deadlift", 4, Reps(5, 6), 30.0, 2.0, 2)
    assert effect_on(present, hinge, "hip").direction == "lower"
    assert MUSCLE_SHARES["romanian_deadlift"]["hamstrings"].share > MUSCLE_SHARES[SQUAT.exercise]["hamstrings"].share
    assert effect_on(present, hinge, "hamstring").direction == "unknown"


def test_what_bends_the_knee_is_not_said_to_spare_the_hamstring_because_it_spares_the_hip() -> None:
    present = present_demand(BODY, Prescription("stiff_leg_deadlift", 4, Reps(5, 6), 60.0, 2.0, 2), "hamstring")
    assert effect_on(present, Prescription("leg_curl", 4, Reps(5, 6), 20.0, 2.0, 2), "hamstring").direction == "unknown"


def test_a_lift_that_does_not_load_a_part_asks_little_of_it_though_it_loads_the_whole() -> None:
    present = present_demand(BODY, Prescription("leg_extension", 4, Reps(8, 10), 40.0, 2.0, 2), "front_of_knee")
    curl = Prescription("leg_curl", 4, Reps(8, 10), 30.0, 2.0, 2)
    assert effect_on(present, curl, "front_of_knee").direction == "lower"


@pytest.mark.parametrize("region", FINER)
def test_a_finer_region_is_shown_only_where_it_is_named_and_loaded(region: str) -> None:
    assert region not in effects(present_demand(BODY, SQUAT), LIGHTER)
    assert region in effects(present_demand(BODY, SQUAT, region), LIGHTER)
    curl = Prescription("biceps_curl", 4, Reps(5, 6), 20.0, 2.0, 2)
    assert region not in effects(present_demand(BODY, curl, region), replace(curl, load=15.0))


def test_what_loads_a_part_loads_the_whole_or_is_listed() -> None:
    for exercise in EXERCISES.values():
        for region in map(REGIONS.__getitem__, FINER):
            listed = exercise.id in region.loaded_by
            with_whole = region.part_of in exercise.regions and exercise.id not in region.spared_by
            assert (region.id in exercise.regions) == (listed or with_whole)
            assert exercise.regions.count(region.id) <= 1
    assert all(region.source for region in REGIONS.values() if region.finer)


def test_a_part_is_relieved_only_where_the_whole_meets_the_target() -> None:
    asked = case(region="groin", target=0.9)
    present = asked.present
    missed, met = (assess(asked, Trial(("load",), replace(SQUAT, load=load))) for load in (95.0, 70.0))
    assert isinstance(missed, RuledOut)
    assert effect_on(present, replace(SQUAT, load=95.0), "groin").direction == "lower"
    assert (missed.reason, missed.facts["region"]) == ("whole_above_target", "hip")
    assert isinstance(met, Candidate)
    assert met.meets_by == "direction_only"


def test_a_finding_of_the_part_itself_says_which_way_and_the_whole_how_far() -> None:
    present = present_demand(BODY, replace(SQUAT, exercise="deadlift_sumo", technique=None), "groin")
    effect = effect_on(present, replace(SQUAT, exercise="deadlift_conventional", technique=None), "groin")
    assert (effect.direction, effect.sources) == ("lower", ("common_practice",))
    assert (
        effect.stand_in
        == effect_on(present, replace(SQUAT, exercise="deadlift_conventional", technique=None), "hip").ratio
    )
