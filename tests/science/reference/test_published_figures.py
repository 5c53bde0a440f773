"""Every published figure that the service holds, against a second copy keyed in from the source by someone else.

data/printed_*.csv: figures as printed, each row with its citation and how far it is known. The service's own files hold
more (which exercise of the catalogue a lift is read as, notes); what both hold must be the same, row by row.
"""

from __future__ import annotations

import csv
import re
import tomllib
from typing import Any, Final

import pytest

from service.knowledge.catalogue import SOURCES
from tests.support.asking import rows
from tests.support.paths import KNOWLEDGE

Row = dict[str, str]

# the service's file, the copy, and its columns with those of the copy
FILES: Final[dict[str, tuple[str, dict[str, str]]]] = {
    "exercise_ratios.csv": (
        "printed_ratios.csv",
        {"from_as_published": "first_lift", "to_as_published": "second_lift", "ratio": "ratio", "sd": "sd"},
    ),
    "tempo_observations.csv": (
        "printed_tempo.csv",
        {"reps_reference": "reps_usual", "reps_slow": "reps_slow", "fraction_kept": "fraction_kept"},
    ),
    "rest_observations.csv": (
        "printed_rest.csv",
        {
            "load_as_published": "load",
            "scheme": "scheme",
            "rest_seconds": "rest_seconds",
            "reps_by_set": "reps_by_set",
            "sd_by_set": "sd_by_set",
            "total_relative_to_one_minute": "total_against_one_minute",
        },
    ),
    "effort_accuracy.csv": (
        "printed_effort_accuracy.csv",
        {"value": "value", "sd": "sd", "low": "low", "high": "high"},
    ),
    "repetition_errors.csv": (
        "printed_repetition_errors.csv",
        {"error": "error", "at": "at", "bias": "bias", "sd": "sd"},
    ),
    "lift_observations.csv": (
        "printed_lift_demand.csv",
        {
            "lift_as_published": "lift",
            "condition": "condition",
            "region": "region",
            "measure": "measure",
            "value": "value",
            "unit": "unit",
        },
    ),
    "spinal_observations.csv": (
        "printed_spinal_load.csv",
        {
            "exercise_as_published": "exercise",
            "load": "load",
            "variable": "variable",
            "value": "value",
            "sd": "sd",
            "unit": "unit",
            "level": "level",
        },
    ),
    "lead_leg_share_observations.csv": (
        "printed_leg_share.csv",
        {
            "exercise_as_published": "exercise",
            "load": "load",
            "lead_share_percent": "lead_share_percent",
            "sd": "sd",
            "basis": "basis",
        },
    ),
}


def held(name: str) -> list[Row]:
    """The rows of a file of the service, read as a user would read them."""
    with (KNOWLEDGE / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines, strict=True))


ROWS: Final = [(name, number) for name, (copy, _) in FILES.items() for number in range(len(rows(copy)))]


@pytest.mark.parametrize("name", FILES)
def test_both_copies_have_the_same_rows(name: str) -> None:
    copy = rows(FILES[name][0])
    assert len(held(name)) == len(copy)
    assert all(row["source"] and row["known"] for row in copy)


@pytest.mark.parametrize(("name", "number"), ROWS)
def test_row_is_as_printed(name: str, number: int) -> None:
    copy, columns = FILES[name]
    ours, printed = held(name)[number], rows(copy)[number]
    assert {column: ours[column] for column in columns} == {column: printed[other] for column, other in columns.items()}
    for source in ours["source"].split():
        assert_cites(source, printed["source"])


def assert_cites(source: str, citation: str) -> None:
    """A source of the bibliography is the one that the copy cites: by its year or its DOI, where the copy has one."""
    record = SOURCES[source]
    if record.year is not None and re.search(r"\b(19|20)\d\d\b", citation):
        assert str(record.year) in citation or (record.doi and record.doi in citation), (source, citation)


def test_losses_and_load_cuts_of_the_rest_studies_are_as_printed() -> None:
    for ours, printed in zip(held("rest_observations.csv"), rows("printed_rest.csv"), strict=True):
        spans = [part.split("-") for part in printed["loss_percent_by_set"].split()]
        assert ours["loss_percent_low_by_set"].split() == [low for low, _ in spans]
        assert ours["loss_percent_high_by_set"].split() == [high for _, high in spans]
        cuts = {
            "too little": ours["cut_percent_too_little"],
            "holds": ours["cut_percent_holds"],
            "too much": ours["cut_percent_too_much"],
        }
        assert printed["load_cut_percent"] == "; ".join(f"{said} {cut}" for said, cut in cuts.items() if cut)
        assert set(printed["mean_reps"].split()) <= set(re.findall(r"\d+(?:\.\d+)?", ours["result"]))


# --- repetitions at shares of the maximum -----------------------------------------------------------------------------


def test_repetitions_observed_are_as_printed() -> None:
    columns = ("exercise_as_published", "n", "percent_of_max", "mean_reps", "sd_reps")
    ours = [tuple(row[column] for column in columns) for row in held("repetitions_observed.csv")]
    copy = [row for row in rows("printed_repetitions.csv") if row["table"] == "observed"]
    printed = [(row["exercise"], *(row[column] for column in columns[1:])) for row in copy]
    assert ours == printed
    for row, other in zip(held("repetitions_observed.csv"), copy, strict=True):
        assert_cites(row["source"], other["source"])


def test_tables_of_repetitions_are_as_printed() -> None:
    names = {
        "nuzzo2024_general": "general",
        "nuzzo2024_bench_press": "bench_press",
        "nuzzo2024_leg_press": "leg_press",
        "textbook_table": "textbook",
    }
    printed = {
        (names[row["table"]], row["percent_of_max"]): (row["mean_reps"], row["sd_reps"], row["mean_interval"])
        for row in rows("printed_repetitions.csv")
        if row["table"] in names
    }
    ours = {
        (row["table"], row["percent_of_max"]): (
            row["mean_reps"],
            row["sd_reps"],
            "-".join(end for end in (row["mean_reps_low"], row["mean_reps_high"]) if end),
        )
        for row in held("repetition_tables.csv")
    }
    by_definition = ours.pop(("general", "100"))
    assert by_definition == ("1", "", "")
    assert ours == printed


# --- the body ---------------------------------------------------------------------------------------------------------


def test_spread_of_lengths_is_as_measured() -> None:
    # gordon_2014: ratios to stature over 4,082 men and 1,986 women
    named = {"shank": "shank (", "thigh": "thigh (", "trunk": "acromion -", "foot": "foot length/"}
    for row in held("body/ansur_spread.csv"):
        [printed] = [
            one
            for one in rows("printed_lengths.csv")
            if one["sex"] == row["sex"] and one["ratio"].startswith(named[row["segment"]])
        ]
        assert {column: row[column] for column in ("n", "mean", "sd")} == {
            column: printed[column] for column in ("n", "mean", "sd")
        }


def segment(name: str, sex: str, source: str) -> Row:
    [row] = [
        one
        for one in rows("printed_segments.csv")
        if (one["segment"], one["sex"]) == (name, sex) and one["source"].startswith(source)
    ]
    return row


def body() -> dict[str, Any]:
    return tomllib.loads((KNOWLEDGE / "body" / "segments.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("sex", ["female", "male"])
def test_segments_are_those_of_the_published_tables(sex: str) -> None:
    table = body()[sex]
    for part, mass, centre in (
        ("thigh", "thighs_mass", "thigh_centre"),
        ("shank", "shanks_mass", "shank_centre"),
        ("foot", "feet_mass", "feet_centre"),
    ):
        printed = segment(part, sex, "de Leva 1996")
        assert table[mass]["value"] == pytest.approx(2 * float(printed["mass_fraction"]), abs=1e-9)
        assert table[centre]["value"] == float(printed["centre_from_proximal"])
        assert table[mass]["source"] == table[centre]["source"] == "de_leva_1996"
    arms = sum(float(segment(part, sex, "de Leva 1996")["mass_fraction"]) for part in ("upper arm", "forearm", "hand"))
    assert table["arms_mass"]["value"] == pytest.approx(2 * arms, abs=1e-9)


@pytest.mark.parametrize("sex", ["female", "male"])
def test_mass_above_the_lumbosacral_joint_is_the_sum_of_the_published_segments(sex: str) -> None:
    # dumas_wojtusch_2018: head and neck, thorax, abdomen and both arms
    def mass(part: str) -> float:
        return float(segment(part, sex, "Dumas")["mass_fraction"])

    above = mass("head+neck") + mass("thorax") + mass("abdomen")
    above += 2 * (mass("upper arm") + mass("forearm") + mass("hand"))
    assert body()[sex]["above_lumbosacral_mass"]["value"] == pytest.approx(above, abs=1e-9)


@pytest.mark.parametrize("part", ["shank", "thigh", "trunk", "foot"])
def test_lengths_from_stature_are_the_published_fractions(part: str) -> None:
    found = body()["lengths"][part]
    assert found["value"] == float(segment(part, "both", "Winter 2009")["length_of_stature"])
    assert found["source"] == "drillis_contini_1966"
