"""The most probable posture of a squat, given angles that were seen.

Shin, depth, balance point and proportions of lifters are spread about the usual; the trunk lean follows from them by
balance. An angle that was seen is a measurement of one of these with the scatter of a repetition and the error of
reading. It moves all that it depends on in proportion to what they vary by: weighted least squares, one measurement
after the other. Since the lean responds in a curve, each is taken twice.

Sources: JCGM 100:2008 for the spread; the update is that of a Kalman filter.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import degrees, sqrt

from msgspec.structs import replace

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURES
from service.mechanics.body import Body
from service.mechanics.body_variants import proportioned
from service.mechanics.depth import Depth
from service.mechanics.seen import Departure, Seen
from service.mechanics.setups import resolve_setup, rule_for, shin_at
from service.mechanics.statics import statics_of
from service.mechanics.technique import Technique
from service.messages import message

_ERRORS = {by: errors.in_radians() for by, errors in POSTURES.seen_by.items()}
_DEPTH = POSTURES.defaults.depth_error.in_radians()
_RESIDUAL = POSTURES.defaults.trunk_residual.in_radians()
_MOST = POSTURES.limits.misfit.high
_STEP = 1e-4  # [rad or 1], by which a departure is moved to see how an angle responds
_TIMES = 2
NOT_DEPARTING = (0.0, 0.0, 0.0, 0.0)

State = tuple[float, float, float, float]
"""Shin [rad], depth [rad], balance point [1] and proportion [1] beyond the usual, as in Departure."""


def noises(exercise_id: str, seen: Seen) -> dict[str, float]:
    """What a seen angle differs by from the lifter's usual one: scatter of a repetition and reading [rad²], by angle.

    Args:
        exercise_id: id of a posture rule
        seen: as seen
    """
    errors = _ERRORS[seen.by or "eye"]
    scatter = {
        "shin_angle": rule_for(exercise_id).shin_angle.within,
        "thigh_angle": _DEPTH.within,
        "trunk_lean": _RESIDUAL.within,
    }
    return {
        name: within**2 + getattr(errors, name) ** 2
        for name, within in scatter.items()
        if getattr(seen, name) is not None
    }


def departure_of(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> Departure:
    """How a lifter who was seen so most probably departs from the rule of a squat.

    Args:
        body: the lifter
        exercise_id: id of a posture rule of the family squat
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: with what was seen

    Raises:
        Refusal: for angles that no such lifter could show together
    """
    rule, seen = rule_for(exercise_id), technique.seen
    if seen is None:
        return Departure(exercise_id, *NOT_DEPARTING)
    balance = rule.balance or POSTURES.defaults.balance
    stopped = depth is not None and depth.box_height is not None
    spread = (
        rule.shin_angle.between**2,
        0.0 if stopped else _DEPTH.between**2,
        balance.between**2,
        0.0 if {"thigh", "trunk"} <= {*body.measured} else 1.0,
    )
    covariance = [[one if row == column else 0.0 for column in range(4)] for row, one in enumerate(spread)]

    def angles(state: State) -> dict[str, float]:
        departure = Departure(exercise_id, *state)
        own = body_departing(body, departure)
        setup = resolve_setup(own, exercise_id, load, depth=depth, technique=replace(technique, departure=departure))
        return {
            "shin_angle": shin_at(setup, setup.thigh_angle),
            "thigh_angle": setup.thigh_angle,
            "trunk_lean": statics_of(own, setup).at(setup.thigh_angle).trunk_lean,
        }

    state, misfit = NOT_DEPARTING, 0.0
    for name, noise in noises(exercise_id, seen).items():
        angle = getattr(seen, name)

        def response(point: State, name: str = name) -> float:
            return angles(point)[name]

        state, covariance, surprise, variance = most_probable(state, covariance, angle, noise, response)
        deviations = abs(surprise) / sqrt(variance)
        if deviations > _MOST:
            _refuse(name, deviations, angle - surprise, _MOST * sqrt(variance))
        misfit = max(misfit, deviations)
    return Departure(exercise_id, *state, depth, misfit)


def body_departing(body: Body, departure: Departure | None) -> Body:
    """The lifter with the proportions that the posture seen makes most probable.

    Args:
        body: with the usual lengths where none were measured
        departure: as it was seen, None where nothing was
    """
    if departure is None or departure.proportion == 0.0:
        return body
    return proportioned(body, departure.proportion)


def most_probable(
    state: State, covariance: list[list[float]], observed: float, noise: float, response: Callable[[State], float]
) -> tuple[State, list[list[float]], float, float]:
    """One measurement taken into account.

    Args:
        state: most probable departures before it [rad or 1]
        covariance: of them [any]
        observed: what was measured [rad]
        noise: variance of the measurement [rad²]
        response: what would be measured at certain departures [rad]

    Returns:
        the most probable departures and their covariance after it, how far the measurement lies beyond what was
        expected [rad], and the variance of that [rad²]
    """
    point, carried, variance, surprise = state, [0.0], 1.0, 0.0
    for _ in range(_TIMES):
        value = response(point)
        gradient = [(response(_moved(point, place)) - value) / _STEP for place in range(4)]
        carried = [_product(row, gradient) for row in covariance]
        variance = _product(carried, gradient) + noise
        expected = value + _product(gradient, [before - now for before, now in zip(state, point, strict=True)])
        surprise = observed - expected
        point = _four([one + share * surprise / variance for one, share in zip(state, carried, strict=True)])
    narrowed = [
        [entry - carried[row] * carried[column] / variance for column, entry in enumerate(entries)]
        for row, entries in enumerate(covariance)
    ]
    return point, narrowed, surprise, variance


def _moved(state: State, place: int) -> State:
    return _four([value + (_STEP if number == place else 0.0) for number, value in enumerate(state)])


def _product(row: Sequence[float], column: Sequence[float]) -> float:
    return sum(one * other for one, other in zip(row, column, strict=True))


def _four(values: Sequence[float]) -> State:
    return values[0], values[1], values[2], values[3]


def _refuse(name: str, deviations: float, expected: float, span: float) -> None:
    raise Refusal.one(
        f"technique/{name}",
        message("seen_beyond_belief", deviations=deviations),
        f"{degrees(expected - span):.0f} to {degrees(expected + span):.0f} deg with the load and what else is stated, "
        "or another depth, load or bar position",
    )
