"""What a prescription asks of the simulated lifter's sore region, against the original.

A proxy of its own, not the service's answer: mass carried, depth, speed, effort and cues by simple rules, times the
lifter's true ratio between two lifts, which lies somewhere about the service's where it has one. So the service can be
wrong about a lifter.
"""

from __future__ import annotations

from math import cos, degrees, exp, radians, sin
from typing import Final

import msgspec

from service.errors import Refusal
from tests.science.episodes.constants import CONSTANTS, LIFTS, clamped
from tests.science.episodes.lifter import Lifter
from tests.science.episodes.prescribed import Json, amount, is_explosive, load_of, seconds_moving
from tests.science.episodes.strength import Done, maximum, performed
from tests.support.asking import ask

_D = CONSTANTS.demand
JOINTS: Final = {"low_back": "lumbosacral", "hip": "hip", "knee": "knee", "ankle": "ankle"}
# how much of the horizontal distance from hip to knee each region feels
DEPTH_FELT: Final = {"knee": 1.0, "hip": 1.0, "low_back": 0.8, "ankle": 0.6}
MOST_CUES: Final = 2
EQUALLY_HARD: Final = 0.75  # share of the maximum at which lifts without a number are compared
LEAST_RATIO, MOST_RATIO = 0.05, 3.0


class Asked(msgspec.Struct, frozen=True):
    """What a session asked of the sore region, against a session of the original.

    Attributes:
        peak: of the hardest repetition [1]
        dose: sum over repetitions [1]
        done: what was done
    """

    peak: float
    dose: float
    done: Done


class Body:
    """A lifter with a consultation: who, what hurts where, and by how much more or less other work asks."""

    def __init__(self, lifter: Lifter, stated: Json, original: Json, region: str) -> None:
        """Take the lifter, what the request states of them, the original prescription and the sore region."""
        self.lifter = lifter
        self.stated = stated
        self.original = original
        self.region = region
        self.mass = amount(stated["body_mass"])
        self.stature = amount(stated["stature"])
        self._ratios: dict[str, float] = {}
        self._techniques: dict[str, float] = {}
        start = performed(lifter, original, original, self.mass, 1.0, 0)
        self.stimulus = start.stimulus
        self._peak = self._raw_peak(original, start)
        self._reps = sum(start.reps)

    def asked(self, prescription: Json, strength: float, day: int) -> Asked:
        """What a session asks on a day, with the strength of that day against the start's [1]."""
        done = performed(self.lifter, self.original, prescription, self.mass, strength, day)
        peak = self._raw_peak(prescription, done) / self._peak
        exponent = self.lifter.dose_exponent
        return Asked(peak, (sum(done.reps) / max(1, self._reps)) ** (1 / exponent) * peak, done)

    def _raw_peak(self, prescription: Json, done: Done) -> float:
        exercise = prescription["exercise"]
        nearer = max(0.0, _D.effort_from - done.reserve)
        return (
            self.carried(exercise, load_of(prescription))
            * self.ratio(exercise)
            * self._depth(prescription)
            * self._technique(prescription)
            * self._cues(prescription)
            * self._speed(prescription)
            * (1 + _D.effort_effect * nearer)
        )

    def carried(self, exercise: str, load: float) -> float:
        """Load and what of the body goes with it [kg]."""
        lift = LIFTS[exercise]
        return max(1.0, load + (lift.body_lifted + lift.body_carried) * self.mass)

    def ratio(self, exercise: str) -> float:
        """True demand of a lift for this lifter against the original, each kilogram carried [1]."""
        if exercise == self.original["exercise"]:
            return 1.0
        if exercise not in self._ratios:
            self._ratios[exercise] = clamped(self._drawn_ratio(exercise), LEAST_RATIO, MOST_RATIO)
        return self._ratios[exercise]

    def _drawn_ratio(self, exercise: str) -> float:
        random = self.lifter.random("variation", exercise)
        load, usual = amount(self.original["load"]), self.original["exercise"]
        here, there = self._moment(usual, load), self._moment(exercise, load)
        if here is not None and there is not None:
            centre = there / here * self.carried(usual, load) / self.carried(exercise, load)
            return centre * random.lognormvariate(0.0, _D.variation_spread)
        spared = self.region in LIFTS[exercise].spares.split() and self.region not in LIFTS[usual].spares.split()
        before, after = (
            self.carried(lift, EQUALLY_HARD * maximum(self.lifter, self.original, lift, self.mass))
            for lift in (usual, exercise)
        )
        centre = (_D.spared_ratio if spared else _D.unknown_ratio) * before / after
        return centre * random.lognormvariate(0.0, _D.unknown_spread)

    def _moment(self, exercise: str, load: float, technique: Json | None = None) -> float | None:
        """The service's moment about the region in a lift [N·m], None where it computes none."""
        setup: Json = {"label": "a", "exercise": exercise, "load": {"value": max(load, 1.0), "unit": "kg"}}
        if technique:
            setup["technique"] = {name: value for name, value in technique.items() if value is not None}
        if self.region not in JOINTS:
            return None
        try:
            answer = ask("joint-demand", {"lifter": self.stated, "setups": [setup]})
        except Refusal:
            return None
        moment = getattr(answer.setups[0].moments, JOINTS[self.region], None)
        return None if moment is None else max(1.0, abs(moment.value))

    def _depth(self, prescription: Json) -> float:
        depth = prescription.get("depth") or {}
        family = LIFTS[prescription["exercise"]].family
        if family == "hinge" and depth.get("box_height"):
            effect = 1 - _D.raised_start * amount(depth["box_height"])
        else:
            above = self._thigh_above_level(depth)
            effect = max(0.1, cos(radians(above))) if above > 0 else 1 + _D.below_level * -above / 20
        return float(effect ** (DEPTH_FELT.get(self.region, 0.0) * self.lifter.depth_effect))

    def _thigh_above_level(self, depth: Json) -> float:
        """Thigh above the horizontal at the bottom [deg]; level where no depth is stated, below it negative."""
        if depth.get("thigh_below_horizontal"):
            return -amount(depth["thigh_below_horizontal"])
        if depth.get("knee_flexion"):
            return 115.0 - amount(depth["knee_flexion"])
        if depth.get("box_height"):
            hip_above_knee = amount(depth["box_height"]) + 0.06 - 0.25 * self.stature
            share = clamped(hip_above_knee / (0.245 * self.stature), sin(radians(-30)), sin(radians(80)))
            return degrees(share)  # of so small angles the sine is near enough
        return 0.0

    def _technique(self, prescription: Json) -> float:
        technique = prescription.get("technique")
        if not technique:
            return 1.0
        key = msgspec.json.encode([prescription["exercise"], technique]).decode()
        if key not in self._techniques:
            load = amount(self.original["load"])
            with_it = self._moment(prescription["exercise"], load, technique)
            without = self._moment(prescription["exercise"], load)
            ratio = 1.0 if with_it is None or without is None else clamped(with_it / without, 0.2, 2.0)
            self._techniques[key] = ratio**self.lifter.technique_effect
        return self._techniques[key]

    def _cues(self, prescription: Json) -> float:
        cues = min(MOST_CUES, len(prescription.get("cues") or ()))
        return float((1 - self.lifter.cue_effect) ** cues)

    def _speed(self, prescription: Json) -> float:
        tempo = prescription.get("tempo")
        seconds = seconds_moving(tempo)
        if prescription.get("hold") or (seconds is not None and seconds >= _D.slow_from):
            return 1 - self.lifter.speed_effect
        return 1 + self.lifter.speed_effect if is_explosive(tempo) else 1.0


def decayed(days: float, over: float) -> float:
    """What is left of something after some days, with a time constant [days]."""
    return exp(-days / over)
