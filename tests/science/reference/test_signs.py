"""The urgency of every sign, row by row, against a table keyed in from its source and not from the service's own file.

data/sign_urgencies.csv: the source of each sign, how far it is known, and what a second reading of open guidance said
of it. The urgency itself is our interpretation where the source states none; a clinician must sign the list off. Where
the second reading advises more urgency than the table, the table has what is agreed so far.
"""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.knowledge.catalogue import SIGNS, SOURCES, URGENCIES
from tests.support.asking import ask, kg, rows

TABLE: Final = rows("sign_urgencies.csv")
MILDEST_LAST: Final = ("emergency_now", "same_day", "urgent_refer", "hold_and_review")
SORE: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(71), "stature": {"value": 1.74, "unit": "m"}},
    "prescription": {"exercise": "front_squat", "sets": 3, "reps": {"low": 5, "high": 5}, "load": kg(60)},
    "aim": "strength",
}
OURS: Final = {"design_choice", "clinical_consensus", "regional_joint_guidance"}  # name nobody


def test_every_sign_stands_in_the_table_once() -> None:
    assert sorted(row["sign"] for row in TABLE) == sorted(SIGNS)
    assert all(row["source"] and row["known"] and row["read_again"] for row in TABLE)
    assert [URGENCIES[urgency].rank for urgency in MILDEST_LAST] == [1, 2, 3, 4]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["sign"])
def test_sign_has_the_urgency_of_the_table(row: dict[str, str]) -> None:
    sign = SIGNS[row["sign"]]
    assert (sign.urgency, sign.region) == (row["urgency"], row["region"])
    asked = {**SORE, "complaint": {"region": "low_back", "pain_in_session": 1, "signs": [sign.id]}}
    referral = ask("adjustments", asked).referral
    assert (referral.urgency, [one.urgency for one in referral.signs]) == (row["urgency"], [row["urgency"]])
    assert referral.what_to_do == URGENCIES[row["urgency"]].what_to_do


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["sign"])
def test_sign_cites_the_sources_of_the_table(row: dict[str, str]) -> None:
    authors = {source: SOURCES[source].authors for source in SIGNS[row["sign"]].sources if source not in OURS}
    named = [part.split(" ")[0].replace("Thomee", "Thomeé") for part in row["source"].split("; ")]
    named = [name for name in named if name not in {"clinical", "regional"}]
    assert len(named) == len(authors)
    for name, source in zip(sorted(named), sorted(authors), strict=True):
        assert name.lower()[:5] in (authors[source] + source).lower()


@pytest.mark.parametrize(
    ("urgency", "action"),
    [
        ("emergency_now", "call the emergency services or go to an emergency department at once"),
        ("same_day", "by a doctor today"),
        ("urgent_refer", "within the next few days"),
        ("hold_and_review", "before the training goes on"),
    ],
)
def test_each_urgency_says_what_to_do_and_by_when(urgency: str, action: str) -> None:
    assert action in URGENCIES[urgency].what_to_do
    assert URGENCIES[urgency].what_to_do.startswith("Do not add" if urgency == "hold_and_review" else "Stop")
