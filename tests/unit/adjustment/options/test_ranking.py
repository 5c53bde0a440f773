"""Which options are shown and in which order, on made-up candidates."""

from __future__ import annotations

from typing import Final

from hypothesis import given
from hypothesis import strategies as st

from service.adjustment.consultation import Candidate, Trial
from service.adjustment.demand import Effect
from service.adjustment.options.ranking import pareto, ranked, relief, smallest
from service.adjustment.prescription import Prescription
from service.adjustment.stimulus import Stimulus
from service.knowledge.design_choices import CHOICES
from service.training.volume import Reps
from service.vocabulary import Lever, MeetsBy

REGION: Final = "low_back"
LEVERS: Final[tuple[Lever, ...]] = ("load", "reps")


def candidate(
    peak: float | None,
    kept: float,
    levers: int = 1,
    exposure: float | None = 0.5,
    meets_by: MeetsBy = "peak",
    exercise: str = "front_squat",
    knee: float = 1.0,
    *,
    untested: bool = False,
) -> Candidate:
    effects = {
        REGION: Effect(peak, "lower", "direction_only" if peak is None else "computed"),
        "knee": Effect(knee, "lower" if knee < 1 else "higher", "computed"),
    }
    new = Prescription(exercise, 4, Reps(5, 6), 50.0, 2.0, 2)
    trial = Trial(LEVERS[:levers], new, untested=untested)
    return Candidate(trial, effects, exposure, Stimulus(1.0, 1.0, 0.8, 2.0, 1.0, None, kept), meets_by)


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


def merits(one: Candidate) -> tuple[float, float, int]:
    return relief(one, REGION), -one.stimulus.kept, len(one.levers)


def alike(one: Candidate, other: Candidate) -> bool:
    def kind(candidate: Candidate) -> tuple[object, ...]:
        rises = candidate.effects["knee"].ratio == 1.2
        return candidate.meets_by, candidate.trial.untested, rises or candidate.exposure == 1.5

    return kind(one) == kind(other)


def beats(one: Candidate, other: Candidate) -> bool:
    better = merits(one) != merits(other) and all(a <= b for a, b in zip(merits(one), merits(other), strict=True))
    return alike(one, other) and better


@given(candidates)
def test_only_options_that_another_of_their_kind_beats_are_dropped(found: list[Candidate]) -> None:
    kept = pareto(found, REGION)
    for one in found:
        assert (one in kept) == (not any(beats(other, one) for other in found))
    assert bool(kept) == bool(found)


def most(found: list[Candidate], meets_by: str) -> float:
    return max((one.stimulus.kept for one in found if one.meets_by == meets_by), default=0.0)


@given(candidates)
def test_a_second_lever_must_be_worth_it(found: list[Candidate]) -> None:
    left = smallest(found)
    for one in left:
        for other in found:
            fewer = len(other.levers) < len(one.levers)
            if fewer and other.prescription == one.prescription and other.meets_by == one.meets_by:
                best = one.stimulus.kept == most(found, one.meets_by)
                assert one.stimulus.kept > other.stimulus.kept
                assert best or one.stimulus.kept >= other.stimulus.kept + CHOICES.adjustments.second_lever_worth
    for way in ("peak", "session_exposure"):
        assert most(left, way) == most(found, way)


@given(candidates)
def test_sessions_come_last_and_longer_ones_after_others_of_their_kind(found: list[Candidate]) -> None:
    keys = [
        (one.meets_by == "session_exposure", one.exposure == 1.5, -one.stimulus.kept)
        for one in ranked(found, REGION)
        if len(one.levers) == 1
    ]
    assert keys == sorted(keys)


@given(candidates)
def test_order_does_not_depend_on_the_order_in_which_options_were_found(found: list[Candidate]) -> None:
    orders = [
        [(merits(one), one.prescription.exercise, one.meets_by) for one in ranked(each, REGION)]
        for each in (found, found[::-1], found[1::2] + found[::2])
    ]
    assert orders[0] == orders[1] == orders[2]


def test_numbers_come_before_directions_and_directions_before_sessions() -> None:
    session = candidate(1.0, 1.0, meets_by="session_exposure")
    direction = candidate(None, 1.0, exposure=None, meets_by="direction_only")
    number = candidate(0.9, 0.3)
    assert ranked([session, direction, number], REGION) == [number, direction, session]


def test_relief_is_the_peak_or_the_session_where_that_is_what_falls() -> None:
    assert relief(candidate(0.8, 1, exposure=0.6), REGION) == 0.8
    assert relief(candidate(0.8, 1, exposure=0.6, meets_by="session_exposure"), REGION) == 0.6


def test_untested_load_rules_out_no_tested_one() -> None:
    tested, untested = candidate(0.9, 0.5), candidate(0.3, 0.9, untested=True)
    assert pareto([tested, untested], REGION) == [tested, untested]


def test_what_moves_demand_elsewhere_rules_out_nothing_that_does_not() -> None:
    still, moving = candidate(0.9, 0.5, knee=1.0), candidate(0.5, 1.0, knee=1.3)
    assert pareto([still, moving], REGION) == [still, moving]


def test_one_change_comes_before_two_that_keep_hardly_more() -> None:
    one = candidate(0.9, 0.80, 1)
    two = candidate(0.8, 0.84, 2, exercise="belt_squat")
    assert ranked([two, one], REGION) == [one, two]
