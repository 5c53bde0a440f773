"""Which options are shown and in which order, on made-up candidates."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from service.adjustment.candidates import Candidate
from service.adjustment.prescription import Prescription
from service.adjustment.ranking import pareto, ranked, relief
from service.adjustment.stimulus import Stimulus
from service.intervals import Interval
from service.training.volume import Reps

REGION = "low_back"


def candidate(
    peak: float, kept: float, levers: int, exposure: float = 0.5, *, by_exposure: bool = False, tested: bool = True
) -> Candidate:
    return Candidate(
        levers=("load", "reps", "variation")[:levers],
        prescription=Prescription("front_squat", 4, Reps(5, 6), 50.0, 2.0, 2),
        demand={REGION: Interval(peak, peak, peak)},
        exposure=exposure,
        stimulus=Stimulus(1.0, 1.0, 0.8, 2.0, 1.0, kept),
        likeness="same",
        by_exposure=by_exposure,
        tested=tested,
    )


tenths = st.integers(1, 10).map(lambda n: n / 10)
candidates = st.lists(
    st.builds(candidate, tenths, tenths, st.integers(1, 3), tenths, by_exposure=st.booleans(), tested=st.booleans()),
    max_size=8,
)


def beats(one: Candidate, other: Candidate) -> bool:
    return (
        one.by_exposure == other.by_exposure
        and one.tested == other.tested
        and relief(one, REGION) <= relief(other, REGION)
        and one.stimulus.kept >= other.stimulus.kept
        and len(one.levers) <= len(other.levers)
        and (relief(one, REGION), one.stimulus.kept, len(one.levers))
        != (relief(other, REGION), other.stimulus.kept, len(other.levers))
    )


@given(candidates)
def test_only_options_that_another_beats_are_dropped(found: list[Candidate]) -> None:
    kept = pareto(found, REGION)
    for one in found:
        assert (one in kept) == (not any(beats(other, one) for other in found))
    assert bool(kept) == bool(found)


@given(candidates)
def test_order_is_stimulus_then_levers_then_relief_with_exposure_last(found: list[Candidate]) -> None:
    order = ranked(found, REGION)
    keys = [(one.by_exposure, -one.stimulus.kept, len(one.levers), relief(one, REGION)) for one in order]
    assert keys == sorted(keys)


@given(candidates)
def test_order_does_not_depend_on_the_order_in_which_options_were_found(found: list[Candidate]) -> None:
    merits = [
        [(one.by_exposure, one.stimulus.kept, len(one.levers), relief(one, REGION)) for one in ranked(each, REGION)]
        for each in (found, found[::-1], found[1::2] + found[::2])
    ]
    assert merits[0] == merits[1] == merits[2]


def test_relief_is_the_peak_or_the_session_where_that_is_what_falls() -> None:
    assert relief(candidate(0.8, 1, 1, 0.6), REGION) == 0.8
    assert relief(candidate(0.8, 1, 1, 0.6, by_exposure=True), REGION) == 0.6


def test_untested_load_rules_out_no_tested_one() -> None:
    tested, untested = candidate(0.9, 0.5, 1), candidate(0.3, 0.9, 1, tested=False)
    assert pareto([tested, untested], REGION) == [tested, untested]
