"""The force at the turn over the weight: the formula against a moved mass, ratios of two, and what leaves it alone."""

from __future__ import annotations

from math import cos, pi
from random import Random
from statistics import quantiles
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES
from service.knowledge.dynamics import KINDS, LIFTS, SHARED
from service.mechanics.body import GRAVITY
from service.mechanics.dynamics import (
    AT_TURN,
    Pace,
    TurnFactor,
    excess_of_share,
    excess_of_time,
    met_above,
    product,
    ratio,
    turn_factor,
)

STATURE: Final = 1.75
SQUAT: Final = "back_squat_high_bar"
TEMPOS: Final = [None, "3-0-3-0", "2-0-1-0", "1-0-3-0", "4-0-4-0", "2-1-2-0", "3-0-X-0", "X-0-X-0", "0-0-2-0"]
paces: Final = st.builds(Pace, st.sampled_from(TEMPOS), st.booleans(), st.booleans())
shares: Final = st.one_of(st.none(), st.floats(0.2, 1.0))


def factor(exercise: str, tempo: str | None, *, bounce: bool = False, share: float | None = None) -> TurnFactor:
    found = turn_factor(exercise, STATURE, Pace(tempo, bounce), share)
    assert found is not None
    return found


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seconds", [1.0, 1.7, 3.0])
def test_the_excess_is_the_largest_acceleration_of_a_mass_that_moves_by_half_a_sine(kind: str, seconds: float) -> None:
    # the way of the centre of mass in steps of a thousandth of the phase, and its second differences
    lift, steps = KINDS[kind], 1000
    travel = lift.part_of_bar.value * lift.travel.value
    way = [travel * (1 - cos(pi * step / steps)) / 2 for step in range(steps + 1)]
    second = [(a - 2 * b + c) / (seconds / steps) ** 2 for a, b, c in zip(way, way[1:], way[2:], strict=False)]
    assert way[-1] - way[0] == pytest.approx(travel)
    assert excess_of_time(lift, STATURE, seconds) == pytest.approx(max(second) / GRAVITY, rel=1e-4)


@pytest.mark.parametrize("kind", [kind for kind, lift in KINDS.items() if lift.speeds])
def test_time_and_mean_speed_are_two_ways_to_one_excess(kind: str) -> None:
    lift = KINDS[kind]
    assert lift.speeds is not None
    for share, speed in zip(lift.speeds.share, lift.speeds.speed, strict=True):
        assert excess_of_share(lift, STATURE, share) == pytest.approx(
            excess_of_time(lift, STATURE, lift.travel.value / speed)
        )


def test_between_two_loads_the_speed_lies_on_a_straight_line_and_beyond_them_it_stays() -> None:
    squat = KINDS["squat"]
    assert squat.speeds is not None
    middle = excess_of_share(squat, STATURE, 0.95)
    speed = (squat.speeds.speed[-1] + squat.speeds.speed[-2]) / 2
    assert middle == pytest.approx(excess_of_time(squat, STATURE, squat.travel.value / speed))
    assert excess_of_share(squat, STATURE, 1.2) == excess_of_share(squat, STATURE, 1.0)


def test_a_taller_lifter_moves_further_in_the_same_time() -> None:
    tall = turn_factor(SQUAT, 2.1, Pace("3-0-3-0"))
    assert tall is not None
    assert (tall.value - 1) / (factor(SQUAT, "3-0-3-0").value - 1) == pytest.approx(2.1 / STATURE)


def test_nothing_is_taken_from_the_formula_above_what_was_measured() -> None:
    assert excess_of_time(KINDS["squat"], STATURE, 0.0) == excess_of_time(KINDS["squat"], STATURE, 0.3)
    assert 1 + excess_of_time(KINDS["squat"], STATURE, 0.3) == SHARED.largest.value


@pytest.mark.parametrize("tempo", TEMPOS)
def test_a_faster_descent_alone_raises_nothing(tempo: str | None) -> None:
    # achermann_2025: no effect of the speed of descent on the force at the turning point
    assert factor(SQUAT, "1-0-1-0") == factor(SQUAT, "4-0-1-0") == factor(SQUAT, None)
    if tempo is not None:
        _, *rest = tempo.split("-")
        fast, slow = (factor(SQUAT, "-".join((lowering, *rest))) for lowering in ("X", "4"))
        assert fast.value <= max(slow.value, factor(SQUAT, None).value)


def test_a_slow_way_up_after_a_fast_descent_has_no_relief_but_after_a_pause_or_from_the_floor() -> None:
    assert factor(SQUAT, "1-0-3-0") == factor(SQUAT, None)
    assert factor(SQUAT, "1-2-3-0").value < factor(SQUAT, "2-0-2-0").value < factor(SQUAT, None).value
    assert factor("deadlift_conventional", "1-0-3-0") == factor("deadlift_conventional", "3-0-3-0")


@pytest.mark.parametrize("tempo", ["3-0-3-0", None, "3-0-X-0"])
def test_a_bounce_multiplies_and_a_pause_or_a_hold_leaves_nothing_to_bounce(tempo: str | None) -> None:
    assert factor(SQUAT, tempo, bounce=True).value == pytest.approx(SHARED.bounce.value * factor(SQUAT, tempo).value)
    assert factor(SQUAT, "3-2-1-0", bounce=True) == factor(SQUAT, "3-2-1-0")
    assert turn_factor(SQUAT, STATURE, Pace(tempo, bounce=True, held=True)) == TurnFactor(1.0)


def test_lifted_as_fast_as_possible_it_falls_with_the_load_and_without_one_spreads_wide() -> None:
    at = [factor(SQUAT, "2-0-X-0", share=share) for share in (0.7, 0.8, 0.9, 1.0)]
    assert [one.value for one in at] == sorted((one.value for one in at), reverse=True)
    unknown = factor(SQUAT, "2-0-X-0").interval
    assert unknown.low <= at[-1].value + 0.01
    assert unknown.high >= at[0].value - 0.01


@given(st.sampled_from(sorted(EXERCISES)), st.floats(1.3, 2.3), paces, shares)
def test_every_factor_is_at_least_the_weight_and_has_a_span(
    exercise: str, stature: float, pace: Pace, share: float | None
) -> None:
    found = turn_factor(exercise, stature, pace, share)
    assert (found is None) == (exercise not in LIFTS)
    if found is not None:
        span = found.interval
        assert 1.0 <= span.low <= span.value <= span.high <= 3.0
        assert (span.low == span.high) == pace.held


@given(st.sampled_from(sorted(LIFTS)), paces, paces, paces, shares)
def test_ratios_follow_each_other_and_to_itself_there_is_none(
    exercise: str, one: Pace, other: Pace, third: Pace, share: float | None
) -> None:
    a, b, c = (turn_factor(exercise, STATURE, pace, share) for pace in (one, other, third))
    assert a is not None
    assert b is not None
    assert c is not None
    assert ratio(a, b).value * ratio(b, c).value == pytest.approx(ratio(a, c).value)
    assert ratio(a, a) == Interval(1.0, 1.0, 1.0)


@pytest.mark.parametrize(
    ("new", "reference"),
    [(Pace("3-0-3-0"), Pace()), (Pace(), Pace(bounce=True)), (Pace("3-0-3-0"), Pace("2-0-2-0", bounce=True))],
)
def test_the_span_of_a_ratio_is_that_of_drawn_lifters(new: Pace, reference: Pace) -> None:
    random, drawn = Random(7), []  # noqa: S311 - no secret
    a, b = turn_factor(SQUAT, STATURE, new), turn_factor(SQUAT, STATURE, reference)
    assert a is not None
    assert b is not None
    for _ in range(20_000):
        formula, habit, bounce = (random.gauss(0, 1) for _ in range(3))
        drawn.append(
            (a.value + formula * a.formula + habit * a.usual_pace + bounce * a.bounce)
            / (b.value + formula * b.formula + habit * b.usual_pace + bounce * b.bounce)
        )
    marks, found = quantiles(drawn, n=100), ratio(a, b)
    assert marks[15] == pytest.approx(found.low, abs=0.006)
    assert marks[83] == pytest.approx(found.high, abs=0.006)


def test_in_the_sticking_region_a_slower_turn_takes_less_off() -> None:
    slow, usual = factor(SQUAT, "3-0-3-0"), factor(SQUAT, None)
    places = (AT_TURN, met_above(0.9, 0.2), met_above(0.9, 0.4))
    at_turn, higher, near_half = (ratio(slow.of_largest(met), usual.of_largest(met)).value for met in places)
    assert at_turn < higher < near_half < 1.0
    half = met_above(0.5, 0.5)
    assert ratio(slow.of_largest(half), usual.of_largest(half)).value == pytest.approx(1.0)


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.sampled_from(TEMPOS))
def test_the_largest_moment_of_a_repetition_lies_between_that_at_rest_and_all_of_the_factor(
    at_turn: float, way: float, tempo: str | None
) -> None:
    whole = factor(SQUAT, tempo)
    part = whole.of_largest(met_above(at_turn, way))
    assert 1.0 <= part.value <= whole.value


def test_a_product_spreads_by_both_and_keeps_the_order_of_a_negative_value() -> None:
    both = product(Interval(100.0, 97.0, 103.0), Interval(1.0, 0.96, 1.04))
    assert (both.value, both.low, both.high) == pytest.approx((100.0, 95.0, 105.0))
    flexor = product(Interval(-10.0, -12.0, -9.0), Interval(1.2, 1.1, 1.3))
    assert flexor.low < flexor.value == -12.0 < flexor.high


def test_a_moment_that_rises_slowly_is_largest_in_motion_below_where_it_is_largest_at_rest() -> None:
    whole = TurnFactor(1.2, 0.1)
    part = whole.of_largest(met_above(0.8, 0.5, [(0.95, 0.25)]))
    left = 0.95 * cos(pi / 4)
    assert part.value == pytest.approx(0.95 + left * 0.2)
    assert part.formula == pytest.approx(left * 0.1)
    assert part.value > max(0.8 * 1.2, 1.0)
