"""The service against every published observation of data/comparisons.csv, and what those comparisons would notice.

Where the service disagrees the row stays, with the physical cause, and the test then asserts that it still disagrees,
so that no excuse outlives its cause. RESULTS.md is the page of it all.
"""

from __future__ import annotations

import csv
import re
from typing import Final

import pytest

from service.knowledge.message_templates import read_templates
from service.knowledge.posture_rules import POSTURES
from tests.science.reference.answers import NAMES, SETUPS, Answer
from tests.science.reference.comparisons import (
    LETTERS,
    NOT_COMPUTED,
    Comparison,
    comparisons,
    dealt,
    parts,
    rows_computed,
)
from tests.science.reference.perturbations import PERTURBATIONS
from tests.science.reference.power import REGIONS, Measured, computed, measured
from tests.science.reference.results import lifts_modelled, parts_modelled, results, told_by
from tests.science.reference.worlds import changed, with_changes
from tests.science.reference.write import PAGE
from tests.support.paths import KNOWLEDGE

ROWS: Final = comparisons()
COMPUTED: Final = rows_computed()
IDS: Final = {row.id for row in ROWS}
LEAST_ROWS: Final = 662
"""A row is added and none is taken away."""

# files of the service, what the ids of their rows begin with, and where they have the finding
FILES: Final = {
    "lift_observations.csv": ("LD", "value"),
    "spinal_observations.csv": ("SP", "value"),
    "lead_leg_share_observations.csv": ("LS", "lead_share_percent"),
    "rest_observations.csv": ("RE", "reps_by_set"),
    "tempo_observations.csv": ("TE", "fraction_kept"),
}


@pytest.fixture(scope="module")
def found() -> Measured:
    return measured()


# --- the table --------------------------------------------------------------------------------------------------------


def test_no_row_is_lost() -> None:
    assert len(IDS) == len(ROWS) >= LEAST_ROWS


@pytest.mark.parametrize("file", FILES)
def test_every_observation_of_the_service_is_a_row_as_it_is_printed(file: str) -> None:
    begins, column = FILES[file]
    with (KNOWLEDGE / file).open(encoding="utf-8", newline="") as lines:
        held = list(csv.DictReader(lines, strict=True))
    for number, observation in enumerate(held, 1):
        rows = [row for row in ROWS if row.id.split("_")[0] == f"{begins}{number}"]
        assert rows, f"{file}: nothing stands for line {number}"
        assert all(observation[column] in row.printed for row in rows if observation[column]), rows


def test_each_row_is_in_the_half_into_which_its_hash_deals_it_unless_marked() -> None:
    for row in ROWS:
        if row.mark == "hash":
            assert row.split == dealt(row.id), row.id
        if row.mark in {"fitted", "derived"}:
            assert row.split == "fit", row.id
        assert (row.mark == "fitted") == bool(row.fitted), row.id
    shares = [sum(row.split == "check" for row in rows) / len(rows) for rows in (ROWS, COMPUTED)]
    assert all(0.35 < share < 0.65 for share in shares), shares


def test_what_is_dealt_out_does_not_change() -> None:
    assert [dealt(name) for name in ("fry_lean", "SQ71", "ST7", "SP8")] == ["check", "fit", "check", "check"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.id)
def test_a_row_is_computed_or_says_why_not(row: Comparison) -> None:
    asked = (row.measure, row.expected, row.unit, row.group, row.setups)
    if not row.measure:
        assert not any(asked)
        assert not row.cause
        assert row.not_computed in NOT_COMPUTED
        return
    assert all(asked)
    assert not row.not_computed
    assert {letter for letter, _ in parts(row.measure)} == set(LETTERS[: len(row.setups)])
    assert {name for _, name in parts(row.measure)} <= set(NAMES)
    assert set(row.setups) <= SETUPS.setups.keys()
    low, high = row.accepted()
    assert low < high


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row.id)
def test_figures_of_a_row_are_those_printed_or_are_said_to_be_worked_out(row: Comparison) -> None:
    """A percentage is a ratio as well, a force in newtons one in kilonewtons, and less the other way round."""
    printed = [float(number) for number in re.findall(r"-?\d+(?:\.\d+)?", row.printed)]
    meant = {round(way, 6) for each in printed for way in (each, -each, 1 + each / 100, each / 1000)}
    figures = [row.published, row.sd, row.low or None, row.high]
    strange = [figure for figure in figures if figure is not None and round(figure, 6) not in meant]
    assert not strange or row.remark, strange


def test_a_row_that_stands_for_another_names_one_that_is_there() -> None:
    for row in ROWS:
        if row.not_computed == "same_as":
            words = row.remark.replace(",", "").replace(";", "").split()
            assert any(word in IDS for word in words), (row.id, row.remark)


def test_every_setup_is_of_some_row() -> None:
    assert SETUPS.setups.keys() == {name for row in COMPUTED for name in row.setups}


# --- agreement --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row.id)
def test_published_comparison(row: Comparison) -> None:
    number = computed()[row.id]
    if row.cause:
        assert not row.agrees(number), f"{number} now agrees: take the cause away"
    else:
        assert row.agrees(number), f"computed {number}, printed {row.printed}, accepted {row.accepted()}"


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row.id)
def test_the_opposite_would_not_agree(row: Comparison) -> None:
    low, high = row.accepted()
    middle = row.published if row.expected == "value" else None
    if row.expected in {"higher", "lower"}:
        assert not row.agrees(row.neutral)
        assert row.agrees(row.neutral + (0.2 if row.expected == "higher" else -0.2))
        assert not row.agrees(row.neutral - (0.2 if row.expected == "higher" else -0.2))
    else:
        assert row.agrees((low + high) / 2 if middle is None else middle)
        assert not row.agrees(low - 0.1 * abs(low) - 0.01)
        assert not row.agrees(high + 0.1 * abs(high) + 0.01)
    assert not row.agrees(None)


# --- what would be noticed --------------------------------------------------------------------------------------------


ONLY_FITTED = {"ankle", "low_back", "shoulder"}
"""Of these nothing but rows that may be fitted to notices a moment that is wrong by 15 %; the page says so by lift."""


def test_every_region_has_rows_that_notice_its_moment(found: Measured) -> None:
    for region in REGIONS:
        told = {
            (noticed.change, split)
            for noticed in found.by_lift
            for split in ("check", "fit")
            if noticed.what == region and noticed.ids(split)
        }
        assert {change for change, _ in told} == {"-15 %", "+15 %"}, region
        if region not in ONLY_FITTED:
            assert "check" in {split for _, split in told}, region


def test_every_lift_has_rows_that_notice_or_the_page_says_that_nothing_could_tell(found: Measured) -> None:
    page = PAGE.read_text(encoding="utf-8").splitlines()
    for lift in lifts_modelled():
        [line] = [line for line in page if line.startswith(f"- {lift}: ")]
        for what in parts_modelled(lift):
            words = {"none": "nothing published could tell of", "would": "disagree as it is", "fit": "may be fitted to"}
            [*before] = [part for part in line.split("; ") if what.replace("_", " ") in part.split(" of ")[-1]]
            by = told_by(found, lift, what)
            assert len(before) == (by != "check"), (lift, what, line)
            assert all(words[by] in part for part in before), (lift, what, line)


@pytest.mark.parametrize(
    ("what", "change"),
    [
        *((f"moment at the {joint}", "* -1") for joint in ("ankle", "knee", "hip")),
        *((f"moment at the {joint}", "squared") for joint in ("knee", "hip")),
        *((f"moment at the {joint}", "* 3") for joint in ("knee", "hip")),
        ("moment at the lumbosacral joint, of joint-demand", "* -1"),
        ("moment at the lumbosacral joint, of joint-demand", "* 3"),
        ("moment at the lumbosacral joint, of joint-demand", "squared"),
        ("moment at the lumbosacral joint, of spinal-load, and the compression that it makes", "* -1"),
        ("moment at the lumbosacral joint, of spinal-load, and the compression that it makes", "* 2"),
        ("shear", "* -1"),
        ("share of the lead leg", "* 0.85"),
        ("load on the implement", "* 0"),
        ("body mass", "* 0.5"),
        ("body mass", "* 2"),
    ],
)
def test_a_gross_fault_is_noticed(what: str, change: str, found: Measured) -> None:
    [noticed] = [each for each in found.matrix if (each.what, each.change) == (what, change)]
    assert noticed.fails


def test_every_fault_is_tried_and_a_third_of_them_is_noticed(found: Measured) -> None:
    listed = {(noticed.what, noticed.change) for noticed in found.matrix}
    for figures in PERTURBATIONS.figures:
        assert {(figures.name, change) for change in figures.changes} <= listed, figures.name
    assert sum(bool(noticed.fails) for noticed in found.matrix) > len(found.matrix) / 3


def test_a_figure_that_is_not_there_cannot_be_made_wrong() -> None:
    table = {"a": {"b": 2.0, "c": {"value": 4}}, "d": {"value": 5}, "name": "x"}
    assert with_changes(table, {"*.value": "* 0.5"}) == {
        "a": {"b": 2.0, "c": {"value": 2.0}},
        "d": {"value": 2.5},
        "name": "x",
    }
    assert with_changes(table, {"a.new": "= 7"})["a"]["new"] == 7.0
    assert table["d"] == {"value": 5}
    with pytest.raises(KeyError):
        with_changes(table, {"a.e": "+ 1"})


def test_a_change_is_what_it_says() -> None:
    assert [changed(4.0, change) for change in ("* 1.5", "+ 1", "- 1", "= 9")] == [6.0, 5.0, 3.0, 9.0]


def test_a_measure_is_arithmetic_of_answers_and_nothing_else() -> None:
    [row] = [row for row in COMPUTED if row.id == "P34"]
    answers: dict[tuple[str, str], Answer] = {
        ("man", name): {"hip": 3.0 - number, "lumbosacral": 9.0 - number} for number, name in enumerate(row.setups)
    }
    assert row.computed(answers) is None  # the last hip is nil
    answers["man", row.setups[3]]["hip"] = 0.5
    assert row.computed(answers) == pytest.approx(9 / 8)


# --- what callers are told --------------------------------------------------------------------------------------------


def test_each_disagreement_that_a_caller_can_meet_has_a_caution() -> None:
    codes = read_templates("messages/cautions.toml").keys()
    of_the_model = {
        "belt_squat_knee",
        "box_squat_lower_back",
        "low_bar_style",
        "front_squat_own_maximum",
        "posture_changes_with_load",
        "lead_share_and_lean",
        "heel_lift_upper_bound",
        "thighs_far_out",
        "knee_twisted",
    }
    assert of_the_model | {caution.code for caution in POSTURES.cautions} <= codes
    modelled = lifts_modelled()
    assert all(exercise in modelled for caution in POSTURES.cautions for exercise in caution.exercises)


def test_the_page_is_current() -> None:
    assert PAGE.read_text(encoding="utf-8") == results(), "python -m tests.science.reference.write"
