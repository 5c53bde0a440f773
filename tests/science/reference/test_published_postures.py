"""The planar model against published comparisons of squats, deadlifts and split stances.

Each row of data/published_postures.csv is one published finding. A direction must be the study's; a size must lie
within one published standard deviation or 25 %, whichever is wider, and on the study's side of no change; a published
range may be missed by 25 % of its ends; "no difference" must be the model's own verdict. Where the model disagrees the
row stays, with the physical reason, and the test then asserts that it still disagrees, so that no excuse outlives its
cause.
"""

from __future__ import annotations

import csv
from math import inf
from pathlib import Path

import pytest

from service.knowledge.message_templates import read_templates
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURES
from tests.science.reference.published_comparisons import COMPUTED

TABLE = Path(__file__).parent / "data" / "published_postures.csv"
NEGLIGIBLE = 1e-6  # a change smaller than this is none


def published_rows() -> list[dict[str, str]]:
    with TABLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = published_rows()


def accepted(row: dict[str, str]) -> tuple[float, float]:
    """The span within which a computed number agrees with the row."""
    kind = row["expectation"]
    neutral = float(row["neutral"]) if row["neutral"] else None
    if kind == "higher" and neutral is not None:
        return neutral + NEGLIGIBLE, inf
    if kind == "lower" and neutral is not None:
        return -inf, neutral - NEGLIGIBLE
    if kind == "range":
        low, high = float(row["low"]), float(row["high"])
        return low - 0.25 * abs(low), high + 0.25 * abs(high)
    published = float(row["published"])
    slack = max(0.25 * abs(published), float(row["sd"] or 0.0), NEGLIGIBLE)
    low, high = published - slack, published + slack
    if neutral is not None and published > neutral:
        low = max(low, neutral + NEGLIGIBLE)
    if neutral is not None and published < neutral:
        high = min(high, neutral - NEGLIGIBLE)
    return low, high


def agrees(row: dict[str, str], computed: float | str) -> bool:
    if isinstance(computed, str):
        return computed == "no_clear_difference" and row["expectation"] == "no_difference"
    low, high = accepted(row)
    return low <= computed <= high


def expected_text(row: dict[str, str]) -> str:
    if row["expectation"] == "range":
        return f"{row['low']} to {row['high']}"
    spread = f" ({row['sd']})" if row["sd"] else ""
    return row["published"] + spread or row["expectation"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["id"]))
def test_published_comparison(row: dict[str, str]) -> None:
    computed = COMPUTED[row["id"]]()
    if row["known_disagreement"]:
        assert not agrees(row, computed), f"{computed} now agrees: take the mark of a known disagreement away"
    else:
        assert agrees(row, computed), f"computed {computed}, published {expected_text(row)}"


def test_table_of_published_comparisons() -> None:
    """Prints study, published, computed and verdict (shown with -s); most rows must agree."""
    agreed = 0
    for row in ROWS:
        computed = COMPUTED[row["id"]]()
        agreed += agrees(row, computed)
        shown = computed if isinstance(computed, str) else f"{computed:.3g}"
        verdict = "agrees" if agrees(row, computed) else "DISAGREES, known"
        print(f"{row['study']} | {row['comparison']} | {row['measure']} | {expected_text(row)} | {shown} | {verdict}")  # noqa: T201
    assert agreed > 0.7 * len(ROWS)


def test_every_row_is_computed_and_every_computation_has_a_row() -> None:
    assert sorted(row["id"] for row in ROWS) == sorted(COMPUTED)


def test_a_wrong_direction_would_be_noticed() -> None:
    """The test of the test: each direction row must fail for the opposite result."""
    for row in ROWS:
        if row["expectation"] in {"higher", "lower"}:
            opposite = float(row["neutral"]) + (-0.2 if row["expectation"] == "higher" else 0.2)
            assert not agrees(row, opposite)


def test_each_disagreement_that_a_caller_can_meet_has_a_caution() -> None:
    codes = read_templates("messages/cautions.toml")
    for name in (
        "belt_squat_knee",
        "box_squat_lower_back",
        "low_bar_style",
        "front_squat_own_maximum",
        "posture_changes_with_load",
        "lead_share_and_lean",
        "heel_lift_upper_bound",
        "frontal_plane_not_modelled",
    ):
        assert name in codes
    assert {caution.code for caution in POSTURES.cautions} <= codes.keys()
    assert all(exercise in EXERCISE_RULES for caution in POSTURES.cautions for exercise in caution.exercises)
