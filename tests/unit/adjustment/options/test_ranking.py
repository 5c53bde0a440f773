"""Which options are shown and in which order, on made-up candidates."""

from __future__ import annotations

from typing import Final

from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from service.adjustment.consultation import Candidate, Trial
from service.adjustment.kept import Kept
from service.adjustment.options.ranking import beaten, merits, pareto, ranked, relief, smallest, without_unloading
from service.adjustment.prescription import Prescription
from service.adjustment.region_effect import Effect
from service.adjustment.stimulus import Stimulus
from service.intervals import exactly
from service.knowledge.design_choices import CHOICES
from service.training.volume import Reps
from service.vocabulary import Lever, MeetsBy
from tests.unit.adjustment.options.test_search import case

CASE: Final = case()
REGION: Final = CASE.region
LEVERS: Final[tuple[Lever, ...]] = ("load", "technique")


def candidate(
    peak: float | None,
    kept: float,
    levers: int = 1,
    exposure: float | None = 0.5,
    meets_by: MeetsBy = "peak",
    exercise: str = "front_squat",
    knee: float = 1.0,
    reserve: float = 2.0,
    *,
    untested: bool = False,
) -> Candidate:
    effects: dict[str, Effect] = {
        REGION: Effect(peak, "lower", "direction_only" if peak is None else "computed"),
        "knee": Effect(knee, "lower" if knee < 1 else "higher", "computed"),
    }
    new = Prescription(exercise, 4, Reps(5, 6), 50.0, 2.0, 2)
    trial = Trial(LEVERS[:levers], new, untested=untested)
    return Candidate(
        trial, effects, exposure, Stimulus(1.0, 1.0, 0.8, reserve, 1.0, None, Kept(exactly(kept))), meets_by
    )


tenths = st.integers(1, 10).map(lambda n: n / 10)
candidates = st.lists(
    st.builds(
        candidate,
        tenths,
        st.integers(1, 40).map(lambda n: n / 40),
        st.integers(1, 2),
        st.sampled_from([0.4, 0.8, 1.5]),
        st.sampled_from(["peak", "session_exposure"]),
        st.sampled_from(["front_squat", "belt_squat"]),
        st.sampled_from([0.9, 1.2]),
        untested=st.booleans(),
    ),
    max_size=8,
)


def alike(one: Candidate, other: Candidate) -> bool:
    def kind(candidate: Candidate) -> tuple[object, ...]:
        rises = candidate.effects["knee"].ratio == 1.2
        easy = candidate.stimulus.reserve > CHOICES.adjustments.most_reserve
        return candidate.meets_by, candidate.trial.untested, rises, rises or candidate.exposure == 1.5, easy

    return kind(one) == kind(other)


def beats(one: Candidate, other: Candidate) -> bool:
    mine, theirs = merits(one, CASE), merits(other, CASE)
    return alike(one, other) and mine != theirs and all(a <= b for a, b in zip(mine, theirs, strict=True))


@given(candidates)
def test_only_options_that_another_of_their_kind_beats_are_dropped(found: list[Candidate]) -> None:
    kept = pareto(found, CASE)
    for one in found:
        assert (one in kept) == (not any(beats(other, one) for other in found))
    assert bool(kept) == bool(found)


def most(found: list[Candidate], meets_by: str) -> float:
    return max((one.stimulus.kept.value for one in found if one.meets_by == meets_by), default=0.0)


@given(candidates)
def test_a_second_lever_must_be_worth_it(found: list[Candidate]) -> None:
    left = smallest(found, CASE)
    for one in left:
        for other in found:
            fewer = len(other.levers) < len(one.levers)
            if fewer and other.prescription == one.prescription and other.meets_by == one.meets_by:
                if other.effects["knee"].ratio == 1.2 != one.effects["knee"].ratio:
                    continue  # one change less that another region pays for is no smaller change
                best = one.stimulus.kept.value == most(found, one.meets_by)
                assert one.stimulus.kept.value > other.stimulus.kept.value
                assert (
                    best
                    or one.stimulus.kept.value >= other.stimulus.kept.value + CHOICES.adjustments.second_lever_worth
                )
    for way in ("peak", "session_exposure"):
        assert most(left, way) == most(found, way)


@given(candidates)
def test_sessions_come_last_and_longer_ones_after_others_of_their_kind(found: list[Candidate]) -> None:
    keys = [
        (one.effects["knee"].ratio == 1.2, one.meets_by == "session_exposure", one.exposure == 1.5)
        for one in ranked(found, CASE)
        if len(one.levers) == 1
    ]
    assert keys == sorted(keys)


@given(candidates)
def test_order_does_not_depend_on_the_order_in_which_options_were_found(found: list[Candidate]) -> None:
    orders = [
        [(merits(one, CASE), one.prescription.exercise, one.meets_by) for one in ranked(each, CASE)]
        for each in (found, found[::-1], found[1::2] + found[::2])
    ]
    assert orders[0] == orders[1] == orders[2]


def test_numbers_come_before_directions_and_directions_before_sessions() -> None:
    session = candidate(1.0, 1.0, meets_by="session_exposure")
    direction = candidate(None, 1.0, exposure=None, meets_by="direction_only")
    number = candidate(0.9, 0.6)
    assert ranked([session, direction, number], CASE) == [number, direction, session]


def test_relief_is_the_peak_or_the_session_where_that_is_what_falls() -> None:
    assert relief(candidate(0.8, 1, exposure=0.6), REGION) == 0.8
    assert relief(candidate(0.8, 1, exposure=0.6, meets_by="session_exposure"), REGION) == 0.6


def test_untested_load_rules_out_no_tested_one() -> None:
    tested, untested = candidate(0.9, 0.5), candidate(0.3, 0.9, untested=True)
    assert pareto([tested, untested], CASE) == [tested, untested]


def test_what_moves_demand_elsewhere_rules_out_nothing_that_does_not() -> None:
    still, moving = candidate(0.9, 0.5, knee=1.0), candidate(0.5, 1.0, knee=1.3)
    assert pareto([still, moving], CASE) == [still, moving]


def test_one_change_comes_before_two_that_keep_hardly_more() -> None:
    one = candidate(0.9, 0.80, 1)
    two = candidate(0.8, 0.84, 2, exercise="belt_squat")
    assert ranked([two, one], CASE) == [one, two]


def test_unloading_is_shown_only_where_nothing_better_is_to_be_had() -> None:
    unloading, training = candidate(0.9, 0.45), candidate(1.0, 0.55, meets_by="session_exposure")
    assert without_unloading([unloading, training]) == [training]
    assert ranked([unloading, training], CASE) == [training]
    assert [one.reason for one in beaten([unloading, training], [training])] == ["unloading_not_needed"]
    assert ranked([unloading], CASE) == [unloading]


def test_easy_sets_come_after_hard_ones_whatever_meets_the_target() -> None:
    easy, session = candidate(0.9, 0.9, reserve=5.5), candidate(1.0, 0.8, meets_by="session_exposure")
    assert ranked([easy, session], CASE) == [session, easy]
    assert ranked([candidate(0.9, 0.9, reserve=5.0), session], CASE)[-1] == session


def test_what_is_familiar_comes_before_what_keeps_hardly_more_and_is_not() -> None:
    known, unknown = candidate(0.85, 0.75), candidate(0.85, 0.8, untested=True)
    assert ranked([unknown, known], CASE) == [known, unknown]
    slow = candidate(0.85, 0.8)
    slow = replace(slow, trial=replace(slow.trial, levers=("tempo",)))
    lighter = candidate(0.85, 0.75)
    assert ranked([slow, lighter], CASE)[0] == lighter
    assert ranked([slow, lighter], case(aim="tendon"))[0] == slow


def test_sets_to_failure_come_after_others_and_rule_none_of_them_out() -> None:
    at_failure, short = candidate(0.8, 1.0, reserve=0.0), candidate(0.8, 0.9, reserve=1.0)
    assert ranked([at_failure, short], CASE) == [short, at_failure]


def test_what_another_region_pays_for_comes_after_what_none_pays_for() -> None:
    paid, free = candidate(0.9, 0.95, knee=1.11), candidate(0.9, 0.7, knee=1.1)
    assert ranked([paid, free], CASE) == [free, paid]


def test_relief_far_beyond_the_target_costs_rank() -> None:
    enough, far = candidate(0.88, 0.90, 1), candidate(0.40, 0.92, 1, exercise="belt_squat")
    assert ranked([far, enough], CASE) == [enough, far]


def test_repetitions_that_go_with_less_load_are_no_further_change() -> None:
    one = candidate(0.9, 0.8)
    with_reps = replace(one, trial=replace(one.trial, levers=("load", "reps")))
    assert merits(one, CASE).changes == merits(with_reps, CASE).changes == 1
