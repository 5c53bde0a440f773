"""The words that code and data files share are the same in both."""

from __future__ import annotations

from typing import get_args

from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CueLever
from service.knowledge.design_choices import CHOICES
from service.knowledge.substitutions import SubstitutionLever
from service.vocabulary import LEVERS, TIERS, DemandEvidence, Difference, Direction, Evidence, Likeness
from service.vocabulary import REGIONS as SORE_REGIONS


def test_every_region_of_the_data_is_one_of_the_vocabulary_and_the_other_way_round() -> None:
    assert set(REGIONS) == set(SORE_REGIONS)
    assert all(set(exercise.regions) <= set(SORE_REGIONS) for exercise in EXERCISES.values())


def test_the_levers_of_the_data_are_levers() -> None:
    assert set(get_args(CueLever)) | set(get_args(SubstitutionLever)) <= set(LEVERS)


def test_the_choices_speak_of_the_same_tiers_and_likenesses() -> None:
    choices = CHOICES.adjustments
    assert set(choices.specificity.__struct_fields__) == set(get_args(Likeness))
    assert set(choices.first_step.__struct_fields__) == set(TIERS) - {"green", "pause"}


def test_the_wider_lists_hold_the_narrower_ones() -> None:
    assert set(get_args(Difference)) < set(get_args(Direction))
    assert set(get_args(DemandEvidence)) < set(get_args(Evidence))
