"""How often the intervals of joint-demand hold what presses, pulls and raises ask of one arm of a drawn lifter.

Every drawn lifter has shoulders, an upper arm and strengths of their own, and in each lift a place of the hands and a
sideways force of their own, all drawn from the stated spans; the arm is solved anew for each of them.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from math import cos, pi
from statistics import NormalDist
from typing import Any, Final, NamedTuple

import msgspec
import numpy as np
from msgspec.structs import replace
from numpy.random import Generator, default_rng

from service.api.models.lifter import Lifter, body_of
from service.errors import Refusal
from service.knowledge.arm_figures import ARM
from service.knowledge.dynamics import LIFTS
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.arm.repetition import peaks_of, repetition, shoulder_peak
from service.mechanics.arm.segments import arm_of
from service.mechanics.arm.shoulder import STRENGTH
from service.mechanics.arm.technique import asked_arm_setup
from service.mechanics.body import Body
from tests.science.calibration.mechanics import METRE, lifter
from tests.science.calibration.repetitions import Coverage
from tests.support.asking import Answered, ask, kg

SEED: Final = 15
LIFTERS: Final = {
    "sex not stated": lifter(72, 1.70),
    "tall man": lifter(95, 1.88, sex="male"),
    "woman": lifter(62, 1.66, sex="female"),
    "measured man": lifter(
        82,
        1.76,
        sex="male",
        shoulder_breadth={"value": 0.42, "unit": METRE},
        segment_lengths={"upper_arm": {"value": 0.29, "unit": METRE}},
    ),
}
LOADS: Final = {
    "bench_press": 0.9,
    "bench_press_wide_grip": 0.9,
    "bench_press_dumbbell": 0.7,
    "incline_bench_press": 0.7,
    "overhead_press": 0.5,
    "overhead_press_dumbbell": 0.45,
    "push_up": 0.0,
    "dip": 0.0,
    "pull_up": 0.0,
    "chin_up": 0.0,
    "lat_pulldown": 0.7,
    "barbell_row": 0.7,
    "chest_supported_row": 0.6,
    "seated_row": 0.6,
    "lateral_raise": 0.15,
    "biceps_curl": 0.3,
}
"""Over body mass [1]."""
ADDED: Final = 0.15
"""Load that is added for the comparison of a lift with itself, over body mass [1]."""
AGAINST: Final = {
    "bench_press": ("bench_press_wide_grip", "bench_press_dumbbell", "incline_bench_press", "overhead_press"),
    "overhead_press": ("overhead_press_dumbbell",),
    "dip": ("push_up",),
    "pull_up": ("lat_pulldown", "chin_up"),
    "barbell_row": ("chest_supported_row",),
}
MOMENTS: Final = ("shoulder", "elbow", "wrist")
FROM_A_SPAN: Final = NormalDist().inv_cdf((1.0 + 0.90) / 2)
"""Ends of the stated spans in standard deviations: nine in ten lie within."""
NIL: Final = 2.0
"""Moments that are smaller are not looked at [N·m]."""
SURE: Final = 0.01
"""A ratio whose interval is narrower than this part of it is not looked at: the stops of a repetition show [1]."""


class Truth(NamedTuple):
    """What one repetition asks of one arm [N·m]."""

    shoulder: float
    elbow: float
    wrist: float
    weighed: float
    raising: float
    forward: float
    inward_rotation: float
    valgus: float
    moving_shoulder: float
    moving_elbow: float
    moving_wrist: float


class DrawnArm:
    """One lifter, with deviations in standard deviations: some of the body, some of a lift alone."""

    def __init__(self, known: Body, draw: Generator) -> None:
        self.known = known
        self.deviations: defaultdict[object, float] = defaultdict(draw.standard_normal)

    def _of(self, low: float, high: float, *name: object) -> float:
        """A deviation that is `low` or `high` at the ends of its span."""
        z = self.deviations[name] / FROM_A_SPAN
        return -z * low if z < 0 else z * high

    def _length(self, name: str, measured: float | None) -> float:
        span = getattr(ARM.spans, name)
        error = None if measured is None else ARM.reading.length.value / measured
        return 1.0 + (self._of(span.low - 1, span.high - 1, name) if error is None else self._of(-error, error, name))

    def once(self, setup: ArmSetup) -> Truth | None:
        """One repetition; None where this lifter cannot hold the hands there."""
        spans, usual, lift, technique = ARM.spans, ARM.both.separation.value, setup.lift, setup.technique
        breadth = self._length("shoulder_breadth", self.known.own_arm.shoulder_breadth)
        arm = arm_of(
            self.known,
            separation=usual + self._of(spans.separation.low - usual, spans.separation.high - usual, "separation"),
            breadth_ratio=breadth,
            upper_arm_ratio=self._length("upper_arm", self.known.own_arm.upper_arm),
        )
        outward = (spans.outward.low, spans.outward.high)
        if lift.outward is not None:
            outward = (lift.outward.low - lift.outward.value, lift.outward.high - lift.outward.value)
        held = replace(
            technique,
            outward_error=self._of(*outward, "outward", lift.id, technique.grip),
            touch=self._of(spans.touch.low, spans.touch.high, "touch", lift.id),
            height=self._of(spans.height.low, spans.height.high, "height", lift.id),
        )
        strength = STRENGTH
        for movements in (
            ("extension", "flexion"),
            ("horizontal_forward", "horizontal_backward"),
            ("inward_rotation", "outward_rotation"),
        ):
            factor = 1.0 + self._of(spans.strength.low - 1, spans.strength.high - 1, "strength", movements)
            strength = strength.times(factor, *movements)
        try:
            states = repetition(self.known, arm, replace(setup, technique=held))
        except Refusal:
            return None
        peaks, most = peaks_of(states), shoulder_peak(states, strength).demand
        force = self._force(lift.id, [state.part for state in states])
        moving = [(state.moments, more) for state, more in zip(states, force, strict=True)]
        return Truth(
            peaks.shoulder_net.value,
            abs(peaks.elbow.value),
            peaks.wrist.value,
            most.weighed,
            most.moment.elevation,
            most.moment.horizontal,
            most.moment.axial,
            abs(peaks.elbow_valgus.value),
            max(one.shoulder * more for one, more in moving),
            max(abs(one.elbow_extension or 0.0) * more for one, more in moving),
            max(one.wrist * more for one, more in moving),
        )

    def _force(self, lift: str, parts: list[float]) -> list[float]:
        """Force of the hands over that at rest, which falls as half a sine with the way [1]."""
        if lift not in LIFTS:
            return [1.0] * len(parts)
        usual = LIFTS[lift].usual
        excess = max(0.0, usual.value + self.deviations["turn"] * usual.sd - 1.0)
        return [1.0 + excess * max(0.0, cos(pi * part)) for part in parts]


class Pair(NamedTuple):
    """Two setups of one lifter: name in LIFTERS, what they are called, what differs, each lift with its load [kg]."""

    lifter: str
    lift: str
    about: str
    setups: tuple[tuple[str, float], tuple[str, float]]


def pairs() -> Iterator[Pair]:
    """Every lift with more load, and lifts against each other."""
    for name, person in LIFTERS.items():
        mass = person["body_mass"]["value"]
        for lift, ratio in LOADS.items():
            yield Pair(name, lift, "more load", ((lift, ratio * mass), (lift, (ratio + ADDED) * mass)))
            for other in AGAINST.get(lift, ()):
                setups = ((lift, ratio * mass), (other, LOADS[other] * mass))
                yield Pair(name, f"{other} for {lift}", "own load", setups)


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate of every pair, so many lifters for each."""
    draw = default_rng(SEED)
    return tuple(one for pair in pairs() for one in _coverages(pair, count, draw))


def _coverages(pair: Pair, count: int, draw: Generator) -> Iterator[Coverage]:
    person = LIFTERS[pair.lifter]
    setups: list[dict[str, Any]] = [
        {"label": label, "exercise": lift, "load": kg(load)}
        for label, (lift, load) in zip(("before", "after"), pair.setups, strict=True)
    ]
    before, after = ask("joint-demand", {"lifter": person, "setups": setups}).setups
    body = body_of(msgspec.convert(person, Lifter))
    held_so = [asked_arm_setup(body, lift, None, load) for lift, load in pair.setups]
    people = (DrawnArm(body, draw) for _ in range(count))
    drawn = [
        (one, other) for one, other in ([each.once(it) for it in held_so if it] for each in people) if one and other
    ]

    def held(estimate: str, name: str, interval: Answered, found: np.ndarray[Any, Any]) -> Iterator[Coverage]:
        nil = 0 if "relative" in estimate else NIL
        if interval is None or interval.low == interval.high or abs(interval.value) < nil:
            return
        if "relative" in estimate and interval.high - interval.low < SURE * interval.value:
            return
        near = 1e-5 * np.abs(found)
        yield Coverage(
            f"joint-demand: {estimate}",
            pair.lift,
            pair.lifter,
            name,
            pair.about,
            interval.interval,
            count,
            found < interval.low - near,
            found > interval.high + near,
            np.zeros(len(found), dtype=bool),
        )

    one, other = (np.array(each) for each in zip(*drawn, strict=True))
    for number, name in enumerate(MOMENTS):
        reference = getattr(before.moments, name)
        yield from held("moments, arms", name, reference, one[:, number])
        if reference is not None and reference.value > NIL:
            asked = Truth._fields.index("weighed") if name == "shoulder" else number
            ratio = other[:, asked] / one[:, asked]
            yield from held("relative, arms", name, getattr(after.relative, name), ratio)
    of = {name: one[:, number] for number, name in enumerate(Truth._fields)}
    for name in ("weighed", "raising", "forward", "inward_rotation"):
        yield from held(f"arm.shoulder.{name}", name, getattr(before.arm.shoulder, name), of[name])
    elbow = before.arm.elbow
    yield from held("arm.elbow.valgus", "valgus", None if elbow is None else elbow.valgus, of["valgus"])
    if before.dynamic is not None:
        for name in MOMENTS:
            moving = getattr(before.dynamic.moments, name)
            yield from held("dynamic.moments, arms", name, moving, of[f"moving_{name}"])
