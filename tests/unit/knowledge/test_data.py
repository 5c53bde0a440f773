"""The data files behind the numbers: each row names a source that exists, and each figure is the printed one.

The files are read here as a user would read them, without the service's own loader, so that an error of the loader and
an error of a file cannot hide each other.
"""

from __future__ import annotations

import csv
import math
import re
import tomllib
from collections import Counter
from typing import Any, Final

import pytest

from tests.support.paths import KNOWLEDGE

KNOWN: Final = {"paper", "abstract", "secondary", "memory", "practice", "derived", "design_choice"}
MEASURED: Final = KNOWLEDGE / "evidence"
"""What the tests write there is measured by them and has no source."""
TABLES: Final = sorted(
    path.relative_to(KNOWLEDGE).as_posix() for path in KNOWLEDGE.rglob("*.csv") if path.parent != MEASURED
)

# Rows of each table as they were published or found; a row that goes missing is an error, even one without a figure.
ROWS: Final = {
    "signs.csv": 74,
    "exercise_ratios.csv": 45,
    "tempo_observations.csv": 11,
    "rest_observations.csv": 20,
    "repetitions_observed.csv": 31,
    "effort_accuracy.csv": 23,
    "repetition_errors.csv": 5,
    "lift_observations.csv": 96,
    "spinal_observations.csv": 36,
    "lead_leg_share_observations.csv": 16,
    "exercise_muscles.csv": 371,
}

EXERCISES: Final = {
    "back_squat_high_bar", "back_squat_low_bar", "front_squat", "safety_bar_squat", "goblet_squat", "box_squat",
    "overhead_squat", "belt_squat", "split_squat", "rear_foot_elevated_split_squat", "lunge", "step_up",
    "single_leg_squat", "leg_press", "leg_extension", "leg_curl", "deadlift_conventional", "deadlift_sumo",
    "deadlift_trap_bar", "deadlift_trap_bar_high_handle", "romanian_deadlift", "stiff_leg_deadlift",
    "single_leg_stiff_leg_deadlift", "block_pull", "good_morning", "bench_press", "bench_press_narrow_grip",
    "bench_press_wide_grip", "bench_press_dumbbell", "bench_press_smith", "incline_bench_press", "floor_press",
    "bench_press_partial", "overhead_press", "overhead_press_seated", "overhead_press_dumbbell",
    "overhead_press_dumbbell_seated", "pull_up", "lat_pulldown", "barbell_row", "chest_supported_row", "inverted_row",
    "one_arm_cable_row", "hip_thrust", "glute_bridge", "back_extension", "nordic_curl", "kettlebell_swing",
    "leg_curl_seated", "hack_squat", "dip", "push_up", "incline_bench_press_dumbbell", "chest_press_machine",
    "landmine_press", "lateral_raise", "triceps_extension", "chin_up", "dumbbell_row", "seated_row", "biceps_curl",
    "face_pull", "calf_raise_standing", "calf_raise_seated", "hip_abduction_machine", "hip_adduction_machine", "plank",
    "farmers_carry", "sled_push",
}  # fmt: skip


def rows_of(name: str) -> list[dict[str, str]]:
    with (KNOWLEDGE / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines, strict=True))


def tables_of(name: str) -> dict[str, dict[str, Any]]:
    return tomllib.loads((KNOWLEDGE / name).read_text(encoding="utf-8"))


def sources_in(row: dict[str, str]) -> list[str]:
    return row.get("sources", row.get("source", "")).split()


def numbers_in(name: str, column: str) -> list[float]:
    numbers = [float(text) for row in rows_of(name) for text in row[column].split()]
    assert numbers, f"{name} holds no {column}"
    return numbers


SOURCES: Final = tables_of("sources.toml")
RATIOS: Final = rows_of("exercise_ratios.csv")


# --- the form of the files (RFC 4180 with a heading; line ends of the repository) -------------------------------------


@pytest.mark.parametrize("name", TABLES)
def test_table_is_rectangular_utf8_with_plain_line_ends(name: str) -> None:
    raw = (KNOWLEDGE / name).read_bytes()
    assert b"\r" not in raw
    assert raw.endswith(b"\n")
    assert not raw.startswith(b"\xef\xbb\xbf")
    heading, *rows = csv.reader(raw.decode("utf-8").splitlines(keepends=True), strict=True)
    assert len(set(heading)) == len(heading)
    assert rows
    assert {len(row) for row in rows} == {len(heading)}


@pytest.mark.parametrize("name", ROWS)
def test_no_row_was_dropped(name: str) -> None:
    assert len(rows_of(name)) == ROWS[name]


# --- where figures are from -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", TABLES)
def test_every_row_names_sources_that_exist_and_how_far_they_are_known(name: str) -> None:
    for row in rows_of(name):
        assert sources_in(row), row
        assert set(sources_in(row)) <= SOURCES.keys(), row
        assert row["known"] in KNOWN, row


@pytest.mark.parametrize("name", ["signs.csv", "exercise_ratios.csv", "lift_observations.csv"])
def test_our_own_choices_are_marked_as_such(name: str) -> None:
    for row in rows_of(name):
        assert ("design_choice" in sources_in(row)) == (row["known"] == "design_choice"), row


@pytest.mark.parametrize("source", SOURCES)
def test_source_record_is_well_formed(source: str) -> None:
    record = SOURCES[source]
    assert re.fullmatch(r"[a-z0-9]+(_[a-z0-9]+)*", source)
    assert record.keys() <= {"authors", "year", "title", "published_in", "doi", "known", "note"}
    assert record["authors"]
    assert record["known"] in KNOWN
    assert re.fullmatch(r"10\.\d{4,9}/\S+", record.get("doi", "10.1234/none"))
    assert 1940 <= record.get("year", 2000) <= 2026
    assert all(record[field] == record[field].strip() != "" for field in record.keys() - {"year"})
    assert "\n" not in record.get("note", "")


def test_a_source_id_carries_the_year_of_its_record() -> None:
    dated = {source: re.search(r"_((?:19|20)\d\d)[a-z]?$", source) for source in SOURCES}
    wrong = [s for s, year in dated.items() if year and int(year[1]) != SOURCES[s].get("year")]
    assert wrong == []


def test_no_doi_stands_in_two_records() -> None:
    counts = Counter(record["doi"].lower() for record in SOURCES.values() if "doi" in record)
    assert [doi for doi, count in counts.items() if count > 1] == []


# --- signs and urgencies (design choice: a clinician must sign both off) ----------------------------------------------


def test_signs_are_unique_with_an_urgency_and_the_words_for_regions_that_the_service_has() -> None:
    signs = rows_of("signs.csv")
    regions = tables_of("regions.toml").keys() | {
        "groin", "hamstring", "front_of_knee", "calf_achilles", "upper_back", "neck",
    }  # fmt: skip
    assert len({sign["id"] for sign in signs}) == 74
    assert len({sign["text"] for sign in signs}) == 74
    assert {region for sign in signs for region in sign["regions"].split()} == regions
    assert {sign["urgency"] for sign in signs} == tables_of("urgencies.toml").keys()
    assert all(re.fullmatch(r"[A-Z].{15,}\.", sign["text"]) for sign in signs)


def test_no_emergency_was_moved_to_a_lesser_urgency() -> None:
    emergencies = {sign["id"] for sign in rows_of("signs.csv") if sign["urgency"] == "emergency_now"}
    assert emergencies == {
        # low back: cauda equina (nhs_gloucestershire, nhs_lothian_2025), the cord with cancer (rnoh_cord_compression)
        "saddle_numbness", "bladder_change", "bowel_change", "sexual_function_change", "bilateral_leg_symptoms",
        "bilateral_leg_weakness", "cancer_with_nerve_signs",
        # a rupture in the belly (nice_ng156)
        "pulsatile_or_abdominal", "first_colic_over_55",
        # compartment syndrome (lagreca_2024, kroenung_2024), a clot in the lung (nhs_pulmonary_embolism), pregnancy
        "back_muscle_compartment", "pulmonary_embolism", "pregnancy_emergency",
        # hip and groin: rch_epiphysis and queensland_limp for a child, bsr_2006, nhs_borders_hernia, nhs_torsion
        "hip_joint_infection_suspected", "child_hip", "child_limp_unwell", "irreducible_groin_lump",
        "testicular_pain_sudden",
        # an infected joint (bsr_2006) or a dislocated one (rangan_2015)
        "hot_swollen_joint", "joint_infection_suspected", "unreduced_dislocation",
        # the heart, from acsm_guidelines
        "referred_cardiac_or_visceral", "chest_pain_exertional", "syncope_or_collapse",
        # neck (can_scip_neck) and head (memory, acep_2013 in part); muscle breakdown (nye_2021)
        "arterial_event", "trauma_neck", "thunderclap_headache", "rhabdomyolysis_suspected",
    }  # fmt: skip


def test_ottawa_rule_has_its_five_items() -> None:
    """Stiell 1995, through secondary texts: age, patella, fibular head, flexion, weight."""
    items = [sign for sign in rows_of("signs.csv") if sign["id"].startswith("ottawa_") and "knee" in sign["regions"]]
    assert {sign["id"] for sign in items} == {
        "ottawa_age",
        "ottawa_patella",
        "ottawa_fibula",
        "ottawa_flexion",
        "ottawa_weight",
    }
    assert {sign["urgency"] for sign in items} == {"same_day"}
    assert all("stiell_1995" in sign["sources"] for sign in items)
    assert "55" in next(sign["text"] for sign in items if sign["id"] == "ottawa_age")
    assert "90 degrees" in next(sign["text"] for sign in items if sign["id"] == "ottawa_flexion")


def test_urgencies_are_ranked_and_ask_for_a_clinicians_signature() -> None:
    urgencies = tables_of("urgencies.toml")
    order = sorted(urgencies, key=lambda urgency: int(urgencies[urgency]["rank"]))
    assert order == ["emergency_now", "same_day", "urgent_refer", "hold_and_review"]
    assert [urgencies[urgency]["rank"] for urgency in order] == [1, 2, 3, 4]
    for urgency in urgencies.values():
        assert urgency["what_to_do"]
        assert urgency["stop_rule"]
        assert urgency["known"] == "design_choice"
        assert "clinician must sign" in urgency["sign_off"]
        assert set(urgency["sources"]) <= SOURCES.keys()


# --- exercise ratios --------------------------------------------------------------------------------------------------


def ratio_row(source: str, published_from: str, published_to: str) -> list[dict[str, str]]:
    wanted = (source, published_from, published_to)
    return [row for row in RATIOS if (row["source"], row["from_as_published"], row["to_as_published"]) == wanted]


def test_ratios_join_exercises_we_know_and_lie_in_a_sane_range() -> None:
    outside = [row["to_as_published"] for row in RATIOS if not row["to_exercise"]]
    assert outside == ["split_jerk"]
    for row in RATIOS:
        assert {row["from_exercise"], row["to_exercise"]} - {""} <= EXERCISES, row
        assert row["form"] in {"ratio", "linear"}, row
        assert row["preferred"] in {"true", "false"}, row
        assert (row["form"] == "linear") == bool(row["slope"]) == bool(row["intercept_kg"]), row
        assert 0.2 < float(row["ratio"] or 1) < 1.6, row
        assert 0 < float(row["sd"] or 0.1) < 0.2, row
        assert row["ratio"] or "no published ratio found" in row["note"], row
        assert row["ratio"] or not row["sd"], row


def test_each_pair_with_a_ratio_has_one_row_to_use_first() -> None:
    def pairs(rows: list[dict[str, str]]) -> Counter[tuple[str, str]]:
        return Counter((row["from_exercise"], row["to_exercise"]) for row in rows)

    usable = [
        row for row in RATIOS if row["ratio"] and row["to_exercise"] and row["from_exercise"] != row["to_exercise"]
    ]
    preferred = [row for row in RATIOS if row["preferred"] == "true"]
    assert all(row["ratio"] for row in preferred)
    assert pairs(preferred) == Counter(pairs(usable).keys())


@pytest.mark.parametrize(
    ("pair", "ratio", "sd", "source"),
    [
        (("back_squat_high_bar", "safety_bar_squat"), "0.951", "", "johansson_2024"),
        (("back_squat_high_bar", "back_squat_low_bar"), "1.0085", "", "larsen_2024"),
        (("bench_press", "incline_bench_press"), "0.752", "0.065", "koreascience_2006"),
        (("deadlift_conventional", "deadlift_trap_bar"), "1.060", "", "lake_2017"),
    ],
)
def test_row_to_use_first_is_the_chosen_one(pair: tuple[str, str], ratio: str, sd: str, source: str) -> None:
    """Design choice: which of several published ratios comes first."""
    (row,) = [r for r in RATIOS if (r["from_exercise"], r["to_exercise"]) == pair and r["preferred"] == "true"]
    assert (row["ratio"], row["sd"], row["source"]) == (ratio, sd, source)


# Means as printed: source, names as published, mean of the first lift, mean of the second, in one unit.
PRINTED_MEANS: Final = [
    ("johansson_2024", "back_squat_traditional_bar", "safety_bar_squat", 123.17, 117.17),
    ("larsen_2024", "back_squat_high_bar_3RM", "back_squat_low_bar_3RM", 129.1, 130.2),
    ("gullett_2009", "back_squat", "front_squat", 61.8, 48.5),  # from memory
    ("bautista_2020", "front_squat", "overhead_squat", 125, 91),
    ("swinton_2011", "deadlift_conventional", "deadlift_hex_bar", 245, 265),
    ("lake_2017", "deadlift_conventional", "deadlift_hex_bar", 183, 194),
    ("lockie_2018", "deadlift_conventional", "deadlift_hex_bar_high_handle", 134.72, 154.50),  # from memory
    ("koreascience_2006", "bench_press_flat", "bench_press_incline", 89.2, 67.1),
    ("garcia_ramos_2021", "bench_press_flat", "bench_press_incline", 94.2, 87.7),  # men
    ("garcia_ramos_2021", "bench_press_flat", "bench_press_incline", 45.4, 41.6),  # women
    ("larsen_2021a", "bench_press_wide", "bench_press_medium", 109.8, 108.9),
    ("larsen_2021a", "bench_press_wide", "bench_press_narrow", 109.8, 103.7),
    ("soriano_2022", "overhead_press", "split_jerk", 60.2, 95.7),
    ("johnson_2009", "pull_up_total_load_incl_body_mass", "lat_pulldown", 1.16, 0.93),  # men
    ("johnson_2009", "pull_up_total_load_incl_body_mass", "lat_pulldown", 0.73, 0.55),  # women
    ("hecker_2019", "back_squat_traditional_bar", "safety_bar_squat", 100, 100 - 11.3),
    ("cotter_2013", "back_squat_above_parallel", "back_squat_parallel", 100, 100 - 13.6),
    ("cotter_2013", "back_squat_parallel", "back_squat_below_parallel", 100, 100 - 3.6),
    ("cotter_2013", "back_squat_above_parallel", "back_squat_below_parallel", 100, 100 * 0.864 * 0.964),  # derived
    ("saeterbakken_2011", "bench_press_barbell", "bench_press_dumbbell_total", 100, 100 - 17),
    ("saeterbakken_2011", "bench_press_smith", "bench_press_dumbbell_total", 100, 100 - 14),
    ("saeterbakken_2017", "bench_press_flat_wide_6RM", "bench_press_incline_wide_6RM", 100, 100 - (18.5 + 21.5) / 2),
]


@pytest.mark.parametrize(("source", "published_from", "published_to", "first", "second"), PRINTED_MEANS)
def test_ratio_follows_from_the_printed_means(
    source: str, published_from: str, published_to: str, first: float, second: float
) -> None:
    rows = ratio_row(source, published_from, published_to)
    matching = [row for row in rows if round(second / first, len(row["ratio"].split(".")[1])) == float(row["ratio"])]
    assert len(matching) == 1


@pytest.mark.parametrize(
    ("source", "published_to", "slope", "intercept", "pound"),
    [
        ("ebben_2008", "deadlift_6RM", 0.83, 14.92, 1.0),
        ("ebben_2008", "lunge_6RM", 0.52, 14.82, 1.0),
        ("ebben_2008", "step_up_6RM", 0.50, 3.32, 1.0),
        ("ebben_2008", "leg_extension_6RM", 0.48, 9.58, 1.0),
        ("ebben_2010", "stiff_leg_deadlift_6RM", 1.133, -86.331, 0.45359237),  # printed in pounds
        ("ebben_2010", "single_leg_stiff_leg_deadlift_6RM", 0.443, -3.425, 0.45359237),
        ("ebben_2010", "good_morning_6RM", 0.961, -105.505, 0.45359237),
        ("ebben_2010", "seated_leg_curl_6RM", 0.186, 10.935, 0.45359237),
        ("enoki_2023", "back_squat_half_90deg", 1.0728, 24.641, 1.0),
    ],
)
def test_regression_is_the_printed_one_and_gives_the_ratio_at_100_kg(
    source: str, published_to: str, slope: float, intercept: float, pound: float
) -> None:
    (row,) = [r for r in RATIOS if (r["source"], r["to_as_published"]) == (source, published_to)]
    assert float(row["slope"]) == slope
    assert float(row["intercept_kg"]) == pytest.approx(intercept * pound, abs=5e-5)
    assert float(row["ratio"]) == pytest.approx(slope + intercept * pound / 100, abs=5.1e-4)
    if row["see_kg"]:
        assert float(row["sd"]) == pytest.approx(float(row["see_kg"]) / 100, abs=5.1e-4)


def test_incline_regression_is_the_printed_one() -> None:
    """KoreaScience 2006, abstract: incline = 0.827 x flat - 6.648 kg, so 76.05 kg at 100 kg."""
    (row,) = [r for r in RATIOS if r["source"] == "koreascience_2006"]
    assert float(row["slope"]) * 100 + float(row["intercept_kg"]) == pytest.approx(76.05, abs=0.005)


@pytest.mark.parametrize(
    ("source", "ratio", "first", "second", "correlation"),
    [
        ("koreascience_2006", "0.752", (89.2, 25.9), (67.1, 22.1), 0.969),
        ("johnson_2009", "0.802", (1.16, 0.15), (0.93, 0.17), 0.78),
        ("johnson_2009", "0.753", (0.73, 0.09), (0.55, 0.11), 0.44),
    ],
)
def test_spread_of_a_ratio_follows_from_the_printed_spreads(
    source: str, ratio: str, first: tuple[float, float], second: tuple[float, float], correlation: float
) -> None:
    """Derived: first-order propagation of the printed standard deviations and correlation."""
    a, b = first[1] / first[0], second[1] / second[0]
    spread = second[0] / first[0] * math.sqrt(a * a + b * b - 2 * correlation * a * b)
    (row,) = [r for r in RATIOS if (r["source"], r["ratio"]) == (source, ratio)]
    assert float(row["sd"]) == pytest.approx(spread, abs=1e-3)


# --- observations -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "column", "low", "high"),
    [
        ("tempo_observations.csv", "load_percent_of_max", 40, 100),
        ("tempo_observations.csv", "slow_seconds_per_rep", 2, 20),
        ("tempo_observations.csv", "reps_reference", 1, 40),
        ("tempo_observations.csv", "reps_slow", 1, 40),
        ("tempo_observations.csv", "fraction_kept", 0.1, 1),
        ("rest_observations.csv", "load_percent_of_max", 40, 100),
        ("rest_observations.csv", "rest_seconds", 30, 600),
        ("rest_observations.csv", "reps_by_set", 1, 40),
        ("rest_observations.csv", "sd_by_set", 0.1, 10),
        ("rest_observations.csv", "total_relative_to_one_minute", 1, 2),
        ("repetitions_observed.csv", "n", 5, 100),
        ("repetitions_observed.csv", "percent_of_max", 40, 100),
        ("repetitions_observed.csv", "mean_reps", 1, 60),
        ("repetitions_observed.csv", "sd_reps", 0.1, 25),
        ("effort_accuracy.csv", "load_percent_of_max", 40, 100),
        ("effort_accuracy.csv", "reps_in_reserve_called", 0, 10),
        ("effort_accuracy.csv", "value", -1, 10),
        ("effort_accuracy.csv", "sd", 0.1, 5),
        ("repetition_errors.csv", "bias", 0, 2),
        ("repetition_errors.csv", "sd", 0.1, 3),
        ("lead_leg_share_observations.csv", "lead_share_percent", 50, 100),
        ("lead_leg_share_observations.csv", "sd", 0.1, 15),
        ("spinal_observations.csv", "sd", 1, 1000),
    ],
)
def test_figures_are_finite_and_in_a_sane_range(name: str, column: str, low: float, high: float) -> None:
    numbers = numbers_in(name, column)
    assert all(math.isfinite(number) for number in numbers)
    assert low <= min(numbers)
    assert max(numbers) <= high


def test_fraction_kept_follows_from_the_printed_repetitions() -> None:
    """Hatfield 2006, Keefer 2021, Rev Bras Med Esporte 2007; LaChance & Hortobágyi 1994 print only "so much more"."""
    rows = rows_of("tempo_observations.csv")
    counted = [row for row in rows if row["reps_reference"]]
    assert len(counted) == 9
    for row in counted:
        kept = float(row["reps_slow"]) / float(row["reps_reference"])
        assert float(row["fraction_kept"]) == pytest.approx(kept, abs=0.0051), row
    more = {0.51: 0.96, 0.41: 1.45}
    others = [float(row["fraction_kept"]) for row in rows if not row["reps_reference"]]
    assert others == [pytest.approx(1 / (1 + extra), abs=0.0051) for extra in more.values()]
    assert others == list(more)


def test_slow_seconds_are_the_sum_of_the_named_phases() -> None:
    timed = [row for row in rows_of("tempo_observations.csv") if row["slow_seconds_per_rep"]]
    assert len(timed) == 9
    for row in timed:
        phases = [float(text) for text in re.findall(r"([\d.]+) s\b", row["slow_tempo"])]
        assert len(phases) == 2, row
        assert float(row["slow_seconds_per_rep"]) == sum(phases), row


def test_repetitions_fall_over_the_sets_and_last_longer_with_more_rest() -> None:
    """Rev Bras Med Esporte 2007: set 2 keeps 0.519 after 1 min and 0.745 after 3 min."""
    rows = [row for row in rows_of("rest_observations.csv") if row["source"] == "rbme_2007"]
    sets = {row["rest_seconds"]: [float(text) for text in row["reps_by_set"].split()] for row in rows}
    assert all(reps == sorted(reps, reverse=True) and len(reps) == 3 for reps in sets.values())
    assert {rest: round(reps[1] / reps[0], 3) for rest, reps in sets.items()} == {"60": 0.519, "180": 0.745}


def test_repetitions_fall_as_the_load_rises_in_each_study() -> None:
    series: dict[tuple[str, ...], list[tuple[float, float]]] = {}
    for row in rows_of("repetitions_observed.csv"):
        if row["mean_reps"]:
            key = (row["source"], row["exercise_as_published"], row["population"])
            series.setdefault(key, []).append((float(row["percent_of_max"]), float(row["mean_reps"])))
    longer = [sorted(points) for points in series.values() if len(points) > 1]
    assert len(longer) == 9
    for points in longer:
        reps = [count for _, count in points]
        assert reps == sorted(reps, reverse=True), points
        assert len(set(reps)) == len(reps), points


@pytest.mark.parametrize(
    ("exercise", "percent", "mean", "sd"),
    [
        ("back_squat_high_bar", "75", "18.0", "6.2"),
        ("bench_press", "85", "9.0", "4.6"),
        ("leg_press", "70", "17.9", "2.8"),
    ],
)
def test_printed_repetitions_are_copied_exactly(exercise: str, percent: str, mean: str, sd: str) -> None:
    """Wolfe 2024 and Richens & Cleather 2014, abstracts."""
    rows = [
        (row["mean_reps"], row["sd_reps"])
        for row in rows_of("repetitions_observed.csv")
        if (row["exercise"], row["percent_of_max"]) == (exercise, percent)
    ]
    assert rows.count((mean, sd)) == 1


def test_raised_rear_foot_share_is_the_published_one() -> None:
    """Helme 2022, abstract: 84.36 (3.6) % of body and load together, and never less than the foot on the floor."""
    rows = rows_of("lead_leg_share_observations.csv")
    (helme,) = [row for row in rows if row["source"] == "helme_2022"]
    assert (helme["lead_share_percent"], helme["sd"], helme["basis"]) == ("84.36", "3.6", "system")
    (floor,) = [row for row in rows if row["exercise"] == "split_squat"]
    assert float(floor["lead_share_percent"]) < float(helme["lead_share_percent"])


@pytest.mark.parametrize(
    ("name", "column"), [("lift_observations.csv", "measure"), ("spinal_observations.csv", "variable")]
)
def test_observations_say_what_was_measured_and_in_what_unit(name: str, column: str) -> None:
    for row in rows_of(name):
        assert row[column], row
        assert row["value"], row
        assert row["unit"], row
        assert set(row["exercise"].split()) <= EXERCISES, row
