"""What each exercise trains, against a second copy keyed in from the sources by someone else, disagreements in view.

data/printed_muscle_shares.csv: the share of a set that counts for a muscle, with its citation, how far it is known, and
where a trial compared growth the lowest and highest share that follows from it. The copy knows the exercises that were
in the catalogue first; shares of those that came later rest on the rule or on our own choice, and say so.
"""

from __future__ import annotations

import re
from collections import Counter
from typing import Final

import pytest

from service.knowledge.catalogue import EXERCISES, SOURCES
from service.knowledge.muscles import MUSCLE_SHARES, MuscleShare
from tests.support.asking import rows

PRINTED: Final = rows("printed_muscle_shares.csv")
COPIED: Final = {row["exercise"] for row in PRINTED}
RULE: Final = (0.0, 0.25, 0.5, 1.0)


def ours(row: dict[str, str]) -> MuscleShare:
    return MUSCLE_SHARES[row["exercise"]][row["muscle"]]


def test_both_copies_have_the_same_muscles_of_the_same_exercises() -> None:
    held = {(exercise, muscle) for exercise in COPIED for muscle in MUSCLE_SHARES[exercise]}
    assert held == {(row["exercise"], row["muscle"]) for row in PRINTED}
    assert len(PRINTED) == len(held)


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row['exercise']}-{row['muscle']}")
def test_share_is_as_printed(row: dict[str, str]) -> None:
    held = ours(row)
    assert held.share == float(row["share"])
    disagrees = held.known != row["known"]
    assert not disagrees or row["known_disagreement"], row


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row['exercise']}-{row['muscle']}")
def test_share_cites_what_the_copy_cites(row: dict[str, str]) -> None:
    cited = set(ours(row).sources) - {"design_choice"}
    assert bool(cited) == (row["source"] != "own choice")
    records = [SOURCES[source] for source in cited]
    for year in re.findall(r"\b(?:19|20)\d\d\b", row["source"]):
        doi = re.findall(r"doi:(\S+?)[,;)\s]", f"{row['source']} ")
        assert any(str(one.year) == year or one.doi in doi for one in records), row
    for one in records:
        assert str(one.year) in row["source"] or (one.doi and one.doi in row["source"]), row


@pytest.mark.parametrize("row", [row for row in PRINTED if row["low"]], ids=lambda row: row["exercise"])
def test_share_of_a_growth_trial_is_the_lower_one_as_the_rule_counts(row: dict[str, str]) -> None:
    nearest = min(RULE, key=lambda share: abs(share - float(row["low"])))
    assert ours(row).share == nearest
    assert bool(row["known_disagreement"]) == (row["low"] != row["high"])


def test_known_disagreements_are_those_in_view() -> None:
    """Where the copy has more faith in a share than we have, it is steadying work, which no published rule counts."""
    known = [row for row in PRINTED if ours(row).known != row["known"]]
    assert {float(row["share"]) for row in known} == {0.25}
    assert {ours(row).known for row in known} == {"design_choice"}
    assert Counter(row["muscle"] for row in known) == {"spinal_erectors": 6, "chest": 4, "rear_delt": 4, "triceps": 1}


def test_what_no_copy_speaks_of_is_our_own_choice_but_for_single_joints_and_what_was_measured() -> None:
    claimed = {
        (share.exercise, share.muscle, share.sources)
        for exercise in EXERCISES.keys() - COPIED
        for share in MUSCLE_SHARES[exercise].values()
        if share.known != "design_choice"
    }
    single_joints = {
        ("calf_raise_standing", "calves"),
        ("calf_raise_seated", "calves"),
        ("nordic_curl", "hamstrings"),
        ("leg_curl_seated", "hamstrings"),
        ("hip_abduction_machine", "abductors"),
        ("hip_adduction_machine", "adductors"),
        ("biceps_curl", "biceps"),
        ("triceps_extension", "triceps"),
    }
    assert claimed == {(*pair, ("pelland_2024",)) for pair in single_joints} | {
        ("hip_thrust", "glutes", ("plotkin_2023",)),  # abstract: grew as with the squat
        ("seated_row", "lats", ("lehman_2004",)),  # abstract: the highest activity of the lifts compared
        ("lateral_raise", "side_delt", ("campos_2020",)),  # abstract: 30.3 % of a maximum contraction
        ("lateral_raise", "rear_delt", ("campos_2020",)),  # abstract: 24 %
    }
