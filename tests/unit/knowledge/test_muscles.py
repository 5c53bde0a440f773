"""What each exercise trains: every exercise trains something, and no share is shown as more than it is."""

from __future__ import annotations

import pytest

from service.knowledge.catalogue import EXERCISES
from service.knowledge.muscles import MUSCLE_SHARES, MUSCLES, MuscleShare

SHARES = [share for shares in MUSCLE_SHARES.values() for share in shares.values()]


@pytest.mark.parametrize("exercise", EXERCISES)
def test_every_exercise_trains_some_muscle_directly_or_is_far_from_failure(exercise: str) -> None:
    assert max(share.share for share in MUSCLE_SHARES[exercise].values()) >= 0.5


@pytest.mark.parametrize("muscle", MUSCLES)
def test_every_muscle_is_trained_by_some_exercise(muscle: str) -> None:
    assert any(share.muscle == muscle and share.share > 0 for share in SHARES)


@pytest.mark.parametrize("share", SHARES, ids=lambda share: f"{share.exercise}-{share.muscle}")
def test_shares_are_those_of_the_published_rule_or_marked_as_ours(share: MuscleShare) -> None:
    assert share.share in (0, 0.25, 0.5, 1)
    assert ("design_choice" in share.sources) == (share.known == "design_choice")
    assert share.share != 0.25 or share.known == "design_choice"


def test_squats_train_the_back_extensors_less_than_they_load_the_back() -> None:
    """plotkin_2023, hammond_2019: growth of glutes and adductors as measured; hamstrings did not grow."""
    squat = MUSCLE_SHARES["back_squat_high_bar"]
    assert {muscle: share.share for muscle, share in squat.items()} == {
        "quads": 1, "glutes": 1, "adductors": 1, "spinal_erectors": 0.5, "calves": 0.25, "hamstrings": 0,
    }  # fmt: skip
