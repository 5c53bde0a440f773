"""The urgency, regions and words of every sign against tables keyed in from the evidence, not from the service's files.

data/sign_urgencies.csv: each sign, who names it, how far it is known, and who says its urgency, which is our
interpretation wherever the source states none; a clinician must sign the list off. data/sign_evidence.csv: each
statement of the evidence, and the words of a sign, an urgency, a confirmation or a source by which it was followed;
`elsewhere` is what is no sign, with the reason.
"""

from __future__ import annotations

from typing import Any, Final

import pytest

from service.knowledge.catalogue import SOURCES, Source
from service.knowledge.confirmations import CONDITIONS
from service.knowledge.signs import SIGNS, URGENCIES
from service.vocabulary import REGIONS
from tests.support.asking import ask, kg, rows

TABLE: Final = rows("sign_urgencies.csv")
EVIDENCE: Final = rows("sign_evidence.csv")
MILDEST_LAST: Final = ("emergency_now", "same_day", "urgent_refer", "hold_and_review")
SORE: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(71), "stature": {"value": 1.74, "unit": "m"}},
    "prescription": {"exercise": "front_squat", "sets": 3, "reps": {"low": 5, "high": 5}, "load": kg(60)},
    "aim": "strength",
}
OUR_RULE: Final = "our own rule"


def referred(*signs: str) -> Any:  # noqa: ANN401 - the shape of an answer depends on the operation asked
    complaint = {"region": "low_back", "pain_in_session": 1, "signs": list(signs)}
    return ask("adjustments", {**SORE, "complaint": complaint})


def test_every_sign_stands_in_the_table_once() -> None:
    assert sorted(row["sign"] for row in TABLE) == sorted(SIGNS)
    assert all(row["sources"] and row["known"] and row["urgency_by"] for row in TABLE)
    assert [URGENCIES[urgency].rank for urgency in MILDEST_LAST] == [1, 2, 3, 4]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["sign"])
def test_sign_has_the_urgency_of_the_table(row: dict[str, str]) -> None:
    sign = SIGNS[row["sign"]]
    assert (sign.urgency, " ".join(sign.regions)) == (row["urgency"], row["regions"])
    answer = referred(sign.id)
    assert (answer.decision, answer.referral.urgency) == ("refer", row["urgency"])
    assert [one.urgency for one in answer.referral.signs] == [row["urgency"]]
    assert answer.referral.what_to_do.text == URGENCIES[row["urgency"]].what_to_do


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row["sign"])
def test_sign_names_the_sources_of_the_table_and_how_far_it_is_known(row: dict[str, str]) -> None:
    sign, named = SIGNS[row["sign"]], row["sources"].split("; ")
    assert sign.known == ("design_choice" if row["known"] == OUR_RULE else row["known"])
    left = [SOURCES[source] for source in sign.sources]
    assert len(named) == len(left)
    for name in named:
        (found,) = [source for source in left if is_called(source, name)]
        left.remove(found)


def is_called(source: Source, name: str) -> bool:
    """Whether a source is the one that the table names, by authors, year and where it stands."""
    if name in (OUR_RULE, "clinical consensus"):
        return source.id == {OUR_RULE: "design_choice"}.get(name, "clinical_consensus")
    words = f"{source.id} {source.authors} {source.year or ''} {source.published_in}".lower().replace("_", " ")
    return source.id not in ("design_choice", "clinical_consensus") and all(
        word in words for word in name.lower().split()
    )


@pytest.mark.parametrize("row", EVIDENCE, ids=lambda row: f"{row['section']} {row['subject']}")
def test_each_statement_of_the_evidence_is_followed(row: dict[str, str]) -> None:
    kind, _, subject = row["subject"].partition(":")
    if kind == "elsewhere":
        assert row["note"]
        return
    says, says_not = row["says"].split("|"), row["says_not"].split("|") if row["says_not"] else []
    if kind == "regions":
        assert all(SIGNS[sign].concerns(region) for region, sign in (pair.split(":") for pair in says))  # type: ignore[arg-type]
        return
    if kind == "ages":
        assert sorted(filter(None, map(_ages, SIGNS))) == sorted(says)
        return
    words = _words(kind, subject)
    assert [one for one in says if one not in words] == []
    assert [one for one in says_not if one in words] == []
    assert not row["urgency"] or SIGNS[subject].urgency == row["urgency"]


def _ages(sign: str) -> str:
    """The ages of whom a sign speaks, as the table writes them; empty for everybody."""
    low, high = ("" if age is None else f"{age:g}" for age in (SIGNS[sign].age_from, SIGNS[sign].age_below))
    return f"{sign}:{low}:{high}" if low or high else ""


def _words(kind: str, subject: str) -> str:
    if kind == "sign":
        return SIGNS[subject].text
    if kind == "urgency":
        return f"{URGENCIES[subject].what_to_do} {URGENCIES[subject].stop_rule}"
    if kind == "confirmation":
        return f"{CONDITIONS[subject].what_to_do} {CONDITIONS[subject].once_confirmed}"
    if kind == "source":
        return SOURCES[subject].note
    assert kind == "referral"
    return " ".join(one.text for one in referred("saddle_numbness").basis.assumptions)


def test_every_sign_is_followed_from_the_evidence() -> None:
    assert {row["subject"].removeprefix("sign:") for row in EVIDENCE if row["subject"].startswith("sign:")} == set(
        SIGNS
    )


@pytest.mark.parametrize("region", REGIONS)
def test_every_region_has_signs_of_its_own(region: Any) -> None:  # noqa: ANN401 - one of the words of REGIONS
    assert [sign for sign in SIGNS.values() if region in sign.regions]


@pytest.mark.parametrize(
    ("urgency", "action"),
    [
        ("emergency_now", "call the emergency services or go to an emergency department at once"),
        ("same_day", "by a doctor today"),
        ("urgent_refer", "within a week at most"),
        ("hold_and_review", "before the training goes on"),
    ],
)
def test_each_urgency_says_what_to_do_and_by_when_and_what_not_to_do(urgency: str, action: str) -> None:
    found = URGENCIES[urgency]
    assert action in found.what_to_do
    assert found.what_to_do.startswith("Do not add" if urgency == "hold_and_review" else "Stop")
    assert "Do not " in found.stop_rule
    assert "painkiller" in found.what_to_do
