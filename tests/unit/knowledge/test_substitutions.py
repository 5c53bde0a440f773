"""What may be tried instead of a lift: the data hold together, and findings are turned round and merged as stated."""

from __future__ import annotations

from typing import Final

import msgspec
import pytest

from service.knowledge.arm_lifts import ARM_LIFTS, arm_lift_of
from service.knowledge.catalogue import EXERCISES, RATIOS, REGIONS
from service.knowledge.cues import cues_for
from service.knowledge.observations import published_ratio
from service.knowledge.substitutions import (
    COMPARISONS,
    SUBSTITUTES,
    Comparison,
    DemandDirection,
    Substitute,
    directions,
    merged_direction,
    ratio_between,
)

UPPER_LIMB: Final = ("shoulder", "elbow", "wrist")
LOWER_BODY: Final = ("squat", "split", "hinge")


# --- substitutes: common practice or our own choice, no source --------------------------------------------------------


@pytest.mark.parametrize("exercise", EXERCISES)
def test_every_exercise_has_two_to_ten_substitutes_and_none_twice(exercise: str) -> None:
    """Of what trains one joint or small muscles there may be only one of its kind."""
    others = [substitute.exercise for substitute in SUBSTITUTES.get(exercise, ())]
    assert (0 if EXERCISES[exercise].isolation else 2) <= len(others) <= 10
    assert len(set(others)) == len(others)
    assert exercise not in others


def test_substitutes_serve_the_same_purpose() -> None:
    for exercise, substitutes in SUBSTITUTES.items():
        family = EXERCISES[exercise].family
        for substitute in substitutes:
            other = EXERCISES[substitute.exercise].family
            assert other == family or {family, other} <= set(LOWER_BODY), (exercise, substitute)


def test_only_another_exercise_leaves_the_family_of_the_lift() -> None:
    for exercise, substitutes in SUBSTITUTES.items():
        for substitute in substitutes:
            if EXERCISES[substitute.exercise].family != EXERCISES[exercise].family:
                # a squat hung from a belt is still a squat; as a stand-in for a deadlift it is another exercise
                assert substitute.lever == "exercise", (exercise, substitute)


def test_a_change_told_both_ways_counts_as_the_same_lever() -> None:
    lever = {(exercise, s.exercise): s.lever for exercise, found in SUBSTITUTES.items() for s in found}
    assert {pair: both for pair, way in lever.items() if (both := lever.get(pair[::-1], way)) != way} == {}


def test_every_lever_of_a_substitution_is_used() -> None:
    used = {substitute.lever for found in SUBSTITUTES.values() for substitute in found}
    assert used == {"variation", "equipment", "range_of_motion", "exercise"}


def test_substitutes_are_practice_or_our_own_order_and_never_called_evidence() -> None:
    basis = {(s.source, s.known) for found in SUBSTITUTES.values() for s in found}
    assert basis == {("common_practice", "practice"), ("design_choice", "design_choice")}


@pytest.mark.parametrize(
    ("exercise", "other", "lever"),
    [  # our own order of levers by sore region (design choice)
        ("back_squat_high_bar", "safety_bar_squat", "equipment"),  # low back
        ("back_squat_high_bar", "back_squat_low_bar", "variation"),  # knee
        ("deadlift_conventional", "deadlift_trap_bar", "equipment"),  # low back, hip
        ("deadlift_trap_bar", "deadlift_conventional", "equipment"),  # knee
        ("deadlift_conventional", "block_pull", "range_of_motion"),  # low back
        ("barbell_row", "inverted_row", "exercise"),  # low back
        ("bench_press_wide_grip", "bench_press", "variation"),  # shoulder
        ("bench_press", "bench_press_wide_grip", "variation"),  # elbow
        ("bench_press", "bench_press_dumbbell", "equipment"),  # wrist
        ("pull_up", "lat_pulldown", "exercise"),  # shoulder
    ],
)
def test_steps_of_the_lever_order_are_there(exercise: str, other: str, lever: str) -> None:
    (found,) = [substitute for substitute in SUBSTITUTES[exercise] if substitute.exercise == other]
    assert (found.lever, found.source) == (lever, "design_choice")


def test_every_sore_arm_in_a_press_or_pull_has_a_way_out() -> None:
    # design: every lift family can be adjusted for every region that it loads, if only by direction, or by another lift
    # whose load is computed; where nothing but less load is known to help, the list below says so
    only_less_load = {
        ("bench_press_dumbbell", "elbow"),
        ("incline_bench_press_dumbbell", "elbow"),
        ("overhead_press_dumbbell", "elbow"),
        ("overhead_press_dumbbell_seated", "elbow"),
        ("landmine_press", "shoulder"),
        ("landmine_press", "elbow"),
        ("landmine_press", "wrist"),
        ("triceps_extension", "elbow"),
        ("dumbbell_row", "wrist"),
        ("biceps_curl", "elbow"),
        ("face_pull", "elbow"),
    }
    without = set()
    for exercise in EXERCISES.values():
        if exercise.family not in ("press", "pull"):
            continue
        for region in exercise.regions:
            if REGIONS[region].finer:
                continue
            lower = [s for s in SUBSTITUTES.get(exercise.id, ()) if _lowers(exercise.id, s.exercise, region)]
            if not lower and not cues_for(exercise.id, region):
                without.add((exercise.id, region))
    assert without == only_less_load


def _lowers(exercise: str, other: str, region: str) -> bool:
    found = directions(exercise, other).get(region)
    arms = [ARM_LIFTS[lift] for one in (exercise, other) if (lift := arm_lift_of(one, None))]
    if len(arms) == 2 and (region == "shoulder" or all(lift.hands != "free" for lift in arms)):
        return True
    return (found is not None and found.direction == "lower") or region not in EXERCISES[other].regions


# --- directions -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("exercise", "other", "region", "direction", "source"),
    [
        ("bench_press_wide_grip", "bench_press_narrow_grip", "shoulder", "lower", "noteboom_2024"),  # abstract
        ("bench_press_wide_grip", "bench_press_narrow_grip", "elbow", "higher", "mausehund_2022"),  # abstract
        ("bench_press", "bench_press_narrow_grip", "shoulder", "lower", "larsen_2021a"),  # abstract
        ("bench_press", "bench_press_dumbbell", "elbow", "lower", "saeterbakken_2011"),  # abstract, triceps
        ("bench_press", "incline_bench_press", "elbow", "lower", "saeterbakken_2017"),  # abstract, triceps
        ("overhead_press", "overhead_press_dumbbell", "elbow", "lower", "saeterbakken_fimland_2013"),  # triceps
        ("overhead_press_dumbbell", "overhead_press_dumbbell_seated", "shoulder", "lower", "saeterbakken_fimland_2013"),
        ("barbell_row", "inverted_row", "low_back", "lower", "fenwick_2009"),  # abstract
        ("barbell_row", "one_arm_cable_row", "low_back", "lower", "fenwick_2009"),  # abstract
        ("back_squat_high_bar", "leg_press", "knee", "lower", "escamilla_2001c"),  # abstract
        ("back_squat_high_bar", "back_squat_low_bar", "shoulder", "higher", "common_practice"),  # from memory
        ("deadlift_conventional", "deadlift_trap_bar", "wrist", "lower", "common_practice"),  # practice, no source
    ],
)
def test_direction_is_the_published_one_and_turns_round(
    exercise: str, other: str, region: str, direction: str, source: str
) -> None:
    there, back = directions(exercise, other)[region], directions(other, exercise)[region]
    assert (there.direction, there.disputed) == (direction, False)
    assert source in there.sources
    turned = {"lower": "higher", "higher": "lower"}[direction]
    assert back == msgspec.structs.replace(there, direction=turned, never_higher=turned == "lower")


@pytest.mark.parametrize(
    ("exercise", "other", "region", "sources"),
    [
        # powers_2014, abstract: squat higher at 60 to 90 degrees, extension higher at 0 to 30
        ("back_squat_high_bar", "leg_extension", "knee", ("powers_2014",)),
        # larsen_2021a, abstract: wide and medium grip alike at the shoulder and at the elbow
        (
            "bench_press_wide_grip",
            "bench_press",
            "shoulder",
            ("noteboom_2024", "mausehund_2022", "noteboom_2023", "larsen_2021a"),
        ),
        ("bench_press_wide_grip", "bench_press", "elbow", ("mausehund_2022", "larsen_2021a")),
        # chou_2008_bench, abstract: more at the elbow in the wider of two grips
        ("bench_press", "bench_press_narrow_grip", "elbow", ("mausehund_2022", "chou_2008_bench")),
    ],
)
def test_findings_that_disagree_give_no_clear_difference(
    exercise: str, other: str, region: str, sources: tuple[str, ...]
) -> None:
    for pair in ((exercise, other), (other, exercise)):
        found = directions(*pair)[region]
        assert (found.direction, found.disputed, found.ratio) == ("no_clear_difference", True, None)
        assert found.sources == sources


def compared(direction: str, ratio: float | None, known: str) -> Comparison:
    row = {"from_exercise": "pull_up", "to_exercise": "lat_pulldown", "region": "elbow", "direction": direction}
    return msgspec.convert({**row, "ratio": ratio, "source": f"{known}_source", "known": known}, Comparison)


def test_the_best_known_of_several_findings_speaks_and_all_are_named() -> None:
    found = merged_direction([compared("lower", None, "practice"), compared("lower", 0.8, "abstract")])
    sources = ("abstract_source", "practice_source")
    assert found == DemandDirection(
        "lower", 0.8, sources[0], "abstract", "", disputed=False, sources=sources, never_higher=True
    )


def test_a_ratio_of_demands_turns_round_and_falls_with_a_dispute() -> None:
    one = compared("lower", 0.8, "abstract")
    assert one.turned().ratio == pytest.approx(1.25)
    assert one.turned().turned() == one
    assert merged_direction([one, compared("higher", 1.1, "paper")]).ratio is None


def test_nothing_is_said_of_a_pair_never_compared() -> None:
    assert directions("leg_curl", "pull_up") == {}


def test_no_comparison_is_stored_both_ways_or_twice() -> None:
    stored = [(c.from_exercise, c.to_exercise, c.region, c.direction, c.source) for c in COMPARISONS]
    assert len(set(stored)) == len(stored)
    pairs = {(c.from_exercise, c.to_exercise, c.region) for c in COMPARISONS}
    assert [key for key in pairs if (key[1], key[0], key[2]) in pairs] == []


def test_directions_speak_of_regions_that_one_of_the_two_lifts_loads() -> None:
    for c in COMPARISONS:
        loaded = {*EXERCISES[c.from_exercise].regions, *EXERCISES[c.to_exercise].regions}
        assert c.region in loaded, c


def test_practice_says_that_no_evidence_or_measurement_was_found() -> None:
    for c in COMPARISONS:
        if c.known == "practice":
            assert "no evidence found" in c.note or ("no measurement" in c.note and "found" in c.note), c
            assert c.source == "common_practice", c
        assert c.note, c


ASKS_MORE: Final = {
    "load on the elbow of 15 people; what load was pressed is not in the abstract",
    "net elbow moment grows as the grip narrows at 6 to 8 repetitions maximum, 35 people",
    "the inverted row had the lowest load on the lumbar spine of three, 7 men",
    "activity of the broad back muscle and the upper back higher; muscle activity, not a moment",
    "the trunk must be held against the pull; no measurement against a hang or a seat found",
    "low-bar needs more shoulder motion; recalled, not read",
    "hands closer under a lower bar; no evidence found",
    "demand of the front rack; recalled, not read",
    "a bar behind the neck must be held; no evidence found",
    "patellofemoral stress at 0 to 30 degrees of knee bend higher in the extension, 10 people",
    "the knee flexors carry the whole resistance",
    "the knees stay nearly straight, so the hamstrings work at a greater length; no measurement found",
    "the trunk goes further forward over nearly straight knees; no measurement found",
    "the knees are straighter, so the hamstrings work at a greater length; no measurement found",
    "the hips are bent, so the hamstrings work at a greater length; no measurement found",
    "the forearms are turned out and the elbow flexors work harder; no measurement found",
}
ASKS_THE_SAME: Final = {
    "activity of the pectoral muscle equal, each at its own load; muscle activity, not a moment",
    "shoulder moment similar in wide and medium grip where the bar is slowest, each at its own maximum, 14 people",
    "elbow moment similar in wide and medium grip, each at its own maximum, 14 people",
}
BY_THE_MODEL: Final = "; by the model of the arm "


def test_every_reason_points_one_way() -> None:
    # what a finding or a practice says of one pair it says of every pair that rests on it
    reasons = [c.note.partition(BY_THE_MODEL)[0] for c in COMPARISONS]
    for c, reason in zip(COMPARISONS, reasons, strict=True):
        expected = "higher" if reason in ASKS_MORE else "no_clear_difference" if reason in ASKS_THE_SAME else "lower"
        assert c.direction == expected, c
    assert {*reasons} >= ASKS_MORE | ASKS_THE_SAME


def test_ratios_of_strength_are_not_taken_for_ratios_of_demand() -> None:
    assert [c for c in COMPARISONS if c.ratio is not None] == []


# --- ratios between lifts ---------------------------------------------------------------------------------------------


def test_published_ratio_is_taken_before_any_joined_one() -> None:
    for pair, ratio in RATIOS.items():
        assert ratio_between(*pair) == ratio
        assert ratio.sources == (ratio.source,)
        assert not ratio.through


def test_ratio_turned_round_has_no_spread() -> None:
    found = ratio_between("incline_bench_press", "bench_press")
    assert found is not None
    assert found.ratio == pytest.approx(1 / 0.752)  # koreascience_2006, abstract
    assert found.sd is None


def test_joined_ratio_names_both_sources_and_is_known_no_better_than_the_worse() -> None:
    found = ratio_between("front_squat", "safety_bar_squat")
    assert found is not None
    assert found.ratio == pytest.approx(0.951 / 0.785)  # johansson_2024 over gullett_2009
    assert found.through == "back_squat_high_bar"
    assert found.sources == ("gullett_2009", "johansson_2024")
    assert (found.sd, found.known) == (None, "memory")


def test_two_lifts_of_one_study_are_joined_under_one_source() -> None:
    found = ratio_between("lunge", "step_up")
    assert found is not None
    assert found.ratio == pytest.approx(0.533 / 0.668)  # ebben_2008
    assert found.sources == ("ebben_2008",)


def test_of_several_joined_ratios_the_lowest_is_taken() -> None:
    # design choice; through the flat bench 1.085 x 0.752, through the wide grip 0.800 / 0.944
    found = ratio_between("bench_press_narrow_grip", "incline_bench_press")
    assert found is not None
    assert found.ratio == pytest.approx(min(1.085 * 0.752, 0.800 / 0.944))
    assert found.through == "bench_press"


def test_ratio_is_joined_through_one_lift_only() -> None:
    # lunge, squat, deadlift, trap bar would take two
    assert published_ratio("deadlift_conventional", "deadlift_trap_bar") is not None
    assert ratio_between("lunge", "deadlift_trap_bar") is None


def test_no_ratio_between_a_lift_and_itself_or_one_never_compared() -> None:
    assert ratio_between("bench_press", "bench_press") is None
    assert ratio_between("deadlift_conventional", "deadlift_sumo") is None


# --- checks at start --------------------------------------------------------------------------------------------------


def test_unknown_lever_stops_the_start() -> None:
    row = {"from_exercise": "pull_up", "to_exercise": "lat_pulldown", "source": "common_practice", "known": "practice"}
    assert msgspec.convert({**row, "lever": "exercise"}, Substitute).exercise == "lat_pulldown"
    with pytest.raises(msgspec.ValidationError, match="lever"):
        msgspec.convert({**row, "lever": "magic"}, Substitute)
