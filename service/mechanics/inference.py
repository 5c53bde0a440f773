"""The most probable posture of a lifter, given angles that were seen.

What a posture rule leaves open is spread about the usual between lifters: shin, depth, balance point and proportions in
a squat, the shoulder over the bar in a pull, lean, shin, foot spacing and share in a split stance. The other angles
follow by balance and closure. An angle that was seen is a measurement with the scatter of a repetition and the error of
reading. It moves all that it depends on in proportion to what they vary by: weighted least squares. Since angles
respond in a curve, they are taken a second time where that leads, with shorter steps where nothing would balance.

Sources: JCGM 100:2008 for the spread; the update is that of an iterated Kalman filter.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import degrees, radians, sqrt

from msgspec import Struct
from msgspec.structs import replace

from service.errors import Refusal, into
from service.knowledge.posture_figures import Distribution
from service.knowledge.posture_rules import POSTURE_RULES, POSTURES, ExerciseRule
from service.mechanics.balance import BAR_REFERENCE_STATURE
from service.mechanics.body import Body
from service.mechanics.body_variants import proportioned
from service.mechanics.depth import Depth
from service.mechanics.seen import Departure, SeenAngle, readings, spread_of_depth
from service.mechanics.setups import resolve_setup, shin_at
from service.mechanics.statics import statics_of
from service.mechanics.technique import Technique
from service.messages import message

_DEPTH = POSTURES.defaults.depth_error.in_radians()
_RESIDUAL = POSTURES.defaults.trunk_residual.in_radians()
_MOST = POSTURES.limits.misfit.high
_LIMITS = POSTURES.limits
_STEP = 1e-4  # [rad or 1], by which a departure is moved to see how an angle responds
_SHORTER = 6  # times that a step is halved at most

State = dict[str, float]
"""Departures from the usual by the names of service.mechanics.seen.Departure [any]."""


class Spread(Struct, frozen=True, gc=False):
    """How far a departure varies.

    Attributes:
        between: lifters [any]
        within: one lifter, from one repetition to the next [any]
    """

    between: float
    within: float


class Estimate(Struct, frozen=True, gc=False):
    """What measurements of the same state say of it together.

    Attributes:
        state: most probable departures [any]
        predicted: of each measurement, what the others let expect [rad]
        uncertain_by: of each measurement, the standard deviation of what lies between it and that [rad]
    """

    state: tuple[float, ...]
    predicted: tuple[float, ...]
    uncertain_by: tuple[float, ...]


def departure_of(body: Body, exercise_id: str, load: float, depth: Depth | None, technique: Technique) -> Departure:
    """How a lifter who was seen so most probably departs from the rule of an exercise.

    Args:
        body: the lifter
        exercise_id: id of a posture rule
        load: mass of the implement [kg]
        depth: requested depth; None for the exercise's own
        technique: with what was seen

    Raises:
        Refusal: for angles that no such lifter could show together
    """
    rule, usual = POSTURE_RULES[exercise_id], Departure(exercise_id, asked=depth)
    if technique.seen is None:
        return usual
    spreads = _spreads(body, exercise_id, rule, depth, technique)
    seen = readings(exercise_id, depth, technique.seen)
    if not seen:
        return usual
    names = tuple(spreads)

    def departing(state: Sequence[float]) -> Departure:
        return replace(usual, **dict(zip(names, state, strict=True)))

    def angles(state: Sequence[float]) -> list[float]:
        departure = departing(state)
        own = body_departing(body, departure)
        setup = resolve_setup(own, exercise_id, load, depth=depth, technique=replace(technique, departure=departure))
        lean = statics_of(own, setup).at(setup.thigh_angle).trunk_lean + departure.trunk_residual
        found: dict[SeenAngle, float] = {
            "shin_angle": shin_at(setup, setup.thigh_angle),
            "thigh_angle": setup.thigh_angle,
            "trunk_lean": lean,
        }
        return [found[name] for name in seen]

    try:
        estimate = most_probable(list(spreads.values()), list(seen.values()), angles)
        misfits = _misfits(seen, estimate)
        misfit = max(misfits.values(), default=0.0)
        if misfit <= _MOST:
            furthest = max(misfits, key=misfits.__getitem__, default=usual.misfit_of)
            return replace(departing(estimate.state), misfit=misfit, misfit_of=furthest)
    except _OutOfReach as out:
        estimate, misfits = out.estimate, _misfits(seen, out.estimate)
    raise _beyond_belief(seen, estimate, misfits)


def _spreads(
    body: Body, exercise_id: str, rule: ExerciseRule, depth: Depth | None, technique: Technique
) -> dict[str, Spread]:
    """What an exercise leaves open, without what is stated or measured."""
    found = {} if technique.shin_angle is not None else {"shin_angle": _of(rule.shin_angle)}
    if not {"thigh", "trunk"} <= {*body.measured}:
        found["proportion"] = Spread(1.0, 0.0)
    if rule.family == "pull":
        pull, scale = POSTURES.pull, body.stature / BAR_REFERENCE_STATURE
        if technique.trunk_lean is None:
            found["shoulder_ahead"] = _of(pull.shoulder_ahead, scale)
        found["shoulder_drop"] = _of(pull.shoulder_drop, scale)
        if rule.grip_height is None:
            found["turning_height"] = _of(pull.turning_height, scale)
        return found
    if depth is None or depth.box_height is None:
        found["depth"] = Spread(spread_of_depth(exercise_id, depth, technique.seen), _DEPTH.within)
    found["balance"] = _of(rule.balance or POSTURES.defaults.balance)
    if rule.family == "split":
        for name in ("trunk_lean", "foot_spacing", "lead_share"):
            one: Distribution | None = getattr(rule, name)
            if one is not None and getattr(technique, name) is None:
                found[name] = _of(one)
        return found
    if rule.trunk_lean is not None:  # a hinge keeps its lean
        return found | {"trunk_lean": _of(rule.trunk_lean)}
    return found | {"trunk_residual": _of(_RESIDUAL)}


def _of(one: Distribution, scale: float = 1.0) -> Spread:
    return Spread(scale * one.between, scale * one.within)


def body_departing(body: Body, departure: Departure | None) -> Body:
    """The lifter with the proportions that the posture seen makes most probable.

    Args:
        body: with the usual lengths where none were measured
        departure: as it was seen, None where nothing was
    """
    if departure is None or departure.proportion == 0.0:
        return body
    return proportioned(body, departure.proportion)


class _OutOfReach(Exception):
    """Nothing balances where the measurements lead; with what they say of the usual posture."""

    def __init__(self, estimate: Estimate) -> None:
        super().__init__()
        self.estimate = estimate


def most_probable(
    spreads: Sequence[Spread],
    readings: Sequence[tuple[float, float]],
    response: Callable[[Sequence[float]], Sequence[float]],
) -> Estimate:
    """What is most probable of a state that is nil on average, given measurements of what follows from it.

    Args:
        spreads: of the state [any]
        readings: each value that was read with the variance of reading it [rad] and [rad²]
        response: what would be measured in a certain state, each time without scatter [rad]
    """

    def about(point: Sequence[float], values: Sequence[float]) -> Estimate:
        return _linear(spreads, readings, point, values, _slopes(point, values, response))

    usual = [0.0] * len(spreads)
    there, values = _towards(about(usual, response(usual)), usual, response)
    estimate = about(there, values)
    found, _ = _towards(estimate, there, response)
    return replace(estimate, state=tuple(found))


def _towards(
    estimate: Estimate, point: Sequence[float], response: Callable[[Sequence[float]], Sequence[float]]
) -> tuple[Sequence[float], Sequence[float]]:
    """From a point as far towards an estimate as something balances, and what would be measured there."""
    wanted: Sequence[float] = estimate.state
    for _ in range(_SHORTER):
        try:
            return wanted, response(wanted)
        except Refusal:
            wanted = [(one + other) / 2.0 for one, other in zip(wanted, point, strict=True)]
    raise _OutOfReach(estimate)


def _slopes(
    point: Sequence[float], values: Sequence[float], response: Callable[[Sequence[float]], Sequence[float]]
) -> list[list[float]]:
    """How each measurement changes with each part of the state, by measurements."""
    columns = []
    for place in range(len(point)):
        moved = [value + (_STEP if number == place else 0.0) for number, value in enumerate(point)]
        columns.append([(after - before) / _STEP for after, before in zip(response(moved), values, strict=True)])
    return [list(row) for row in zip(*columns, strict=True)] if columns else []


def _linear(
    spreads: Sequence[Spread],
    readings: Sequence[tuple[float, float]],
    point: Sequence[float],
    values: Sequence[float],
    slopes: Sequence[Sequence[float]],
) -> Estimate:
    """All measurements taken into account one after the other, as they respond about a point."""
    size = len(spreads)
    state = [0.0] * size
    covariance = [
        [spread.between**2 if row == column else 0.0 for column in range(size)] for row, spread in enumerate(spreads)
    ]
    noises = [
        error + sum((slope * spread.within) ** 2 for slope, spread in zip(row, spreads, strict=True))
        for (_, error), row in zip(readings, slopes, strict=True)
    ]
    offsets = [value - _product(row, point) for value, row in zip(values, slopes, strict=True)]
    for (read, _), noise, offset, row in zip(readings, noises, offsets, slopes, strict=True):
        carried = [_product(one, row) for one in covariance]
        variance = _product(carried, row) + noise
        surprise = read - offset - _product(row, state)
        state = [one + share * surprise / variance for one, share in zip(state, carried, strict=True)]
        covariance = [
            [entry - carried[one] * carried[other] / variance for other, entry in enumerate(entries)]
            for one, entries in enumerate(covariance)
        ]
    predicted, deviation = [], []
    for (read, _), noise, offset, row in zip(readings, noises, offsets, slopes, strict=True):
        without_itself = noise / (noise - _product([_product(one, row) for one in covariance], row))
        left = read - offset - _product(row, state)
        predicted.append(read - left * without_itself)
        deviation.append(sqrt(noise * without_itself))
    return Estimate(tuple(state), tuple(predicted), tuple(deviation))


def _product(row: Sequence[float], column: Sequence[float]) -> float:
    return sum(one * other for one, other in zip(row, column, strict=True))


def _misfits(seen: Mapping[SeenAngle, tuple[float, float]], estimate: Estimate) -> dict[SeenAngle, float]:
    """How far each angle lies from what the others let expect, in standard deviations [1]."""
    return {
        name: abs(read - predicted) / deviation
        for (name, (read, _)), predicted, deviation in zip(
            seen.items(), estimate.predicted, estimate.uncertain_by, strict=True
        )
    }


def _beyond_belief(
    seen: Mapping[SeenAngle, tuple[float, float]], estimate: Estimate, misfits: Mapping[SeenAngle, float]
) -> Refusal:
    """The refusal of the angle that fits least, with what would be believed of it."""
    name = max(misfits, key=misfits.__getitem__)
    place = list(seen).index(name)
    predicted, deviation = estimate.predicted[place], estimate.uncertain_by[place]
    span = min(_MOST, misfits[name]) * deviation
    lowest, highest = degrees(predicted - span), degrees(predicted + span)
    allowed = {
        "shin_angle": _LIMITS.shin_angle,
        "thigh_angle": _LIMITS.thigh_angle,
        "trunk_lean": _LIMITS.seen_lean,
    }[name]
    return Refusal.one(
        f"technique/{name}",
        message("seen_beyond_belief", deviations=misfits[name]),
        f"{max(lowest, allowed.low):.0f} to {min(highest, allowed.high):.0f} deg with the load and what else is "
        "stated, or another depth, load or bar position",
        change=into(
            seen[name][0],
            max(predicted - span / 2, radians(allowed.low)),  # what is believed moves with what is stated
            min(predicted + span / 2, radians(allowed.high)),
        ),
    )
