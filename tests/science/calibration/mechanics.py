"""How often the intervals of joint-demand and spinal-load hold what one repetition of a drawn lifter asks."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, Final

import msgspec
import numpy as np
from numpy.random import default_rng

from service.api.models.lifter import Lifter, body_of
from service.api.models.setup import Depth, Technique, depth_of, technique_of
from service.errors import Refusal
from tests.science.calibration.bodies import DrawnLifter, Question
from tests.science.calibration.repetitions import Coverage
from tests.support.asking import Answered, ask, kg

SEED: Final = 14
JOINTS: Final = ("ankle", "knee", "hip", "hip_adductor", "hip_resultant", "lumbosacral")
METRE: Final = "m"


def lifter(mass: float, stature: float, **known: object) -> dict[str, Any]:
    """A lifter as a request writes it."""
    return {"body_mass": kg(mass), "stature": {"value": stature, "unit": METRE}, **known}


LENGTHS: Final = {"shank": 0.41, "thigh": 0.40, "trunk": 0.46, "foot": 0.245}
LIFTERS: Final = {
    "sex not stated": lifter(72, 1.70),
    "tall man": lifter(95, 1.88, sex="male"),
    "measured woman": lifter(
        62, 1.66, sex="female", segment_lengths={name: {"value": one, "unit": METRE} for name, one in LENGTHS.items()}
    ),
    "stiff ankles": lifter(80, 1.77, sex="male", ankle_dorsiflexion={"value": 36, "unit": "deg"}),
}
SQUATS: Final = (
    "back_squat_high_bar",
    "back_squat_low_bar",
    "front_squat",
    "safety_bar_squat",
    "goblet_squat",
    "box_squat",
    "belt_squat",
    "good_morning",
)
PULLS: Final = (
    "deadlift_conventional",
    "deadlift_sumo",
    "deadlift_trap_bar",
    "romanian_deadlift",
    "block_pull",
)
SPLITS: Final = ("split_squat", "rear_foot_elevated_split_squat", "lunge", "step_up")
LIFTS: Final = (*SQUATS, *PULLS, *SPLITS)
LIGHT: Final = frozenset({"goblet_squat", "good_morning", *SPLITS})
LOADS: Final = (0.6, 1.2)
"""Loads over body mass, half of them for LIGHT [1]."""
LESS: Final = 0.825
"""Load of the same lift with which it is compared, over its own [1]."""
SHALLOW: Final = {"thigh_below_horizontal": {"value": -20, "unit": "deg"}}
WIDE: Final = ("back_squat_high_bar", "back_squat_low_bar", "box_squat")
"""Squats that are compared with a wide stance."""
AGAINST: Final = {
    "back_squat_high_bar": ("front_squat", "deadlift_conventional", "belt_squat"),
    "back_squat_low_bar": ("back_squat_high_bar",),
    "romanian_deadlift": ("good_morning",),
    "deadlift_sumo": ("deadlift_conventional",),
    "split_squat": ("rear_foot_elevated_split_squat", "front_squat"),
}
"""Lifts that are compared at one load, the first of each pair being the reference."""


class Pair(msgspec.Struct, frozen=True):
    """Two setups of one lifter, the first of them the reference.

    Attributes:
        lifter: name in LIFTERS
        lift: what both are called
        about: load of the reference over body mass
        setups: as a request writes them
    """

    lifter: str
    lift: str
    about: str
    setups: tuple[dict[str, Any], dict[str, Any]]


def pairs() -> Iterator[Pair]:
    """Every lift with less load, squats less deep too, and lifts against each other."""
    for name, person in LIFTERS.items():
        mass = person["body_mass"]["value"]
        for lift in LIFTS:
            for ratio in LOADS:
                load = mass * ratio * (0.5 if lift in LIGHT else 1.0)
                whole = {"exercise": lift, "load": kg(load)}
                yield _pair(name, lift, f"{ratio:g}, less load", whole, {"exercise": lift, "load": kg(LESS * load)})
                if lift in SQUATS and lift != "good_morning":
                    yield _pair(name, lift, f"{ratio:g}, less depth", whole, whole | {"depth": SHALLOW})
                if lift in WIDE:
                    wide = whole | {"technique": {"stance": "wide"}}
                    yield _pair(name, lift, f"{ratio:g}, wider", whole, wide)
                for other in AGAINST.get(lift, ()):
                    yield _pair(name, f"{other} for {lift}", f"{ratio:g}", whole, {"exercise": other, "load": kg(load)})


def _pair(name: str, lift: str, about: str, one: dict[str, Any], other: dict[str, Any]) -> Pair:
    return Pair(name, lift, about, ({"label": "before", **one}, {"label": "after", **other}))


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate of every pair, so many lifters for each."""
    draw = default_rng(SEED)
    return tuple(one for pair in pairs() for one in _coverages(pair, count, draw))


def _coverages(pair: Pair, count: int, draw: np.random.Generator) -> Iterator[Coverage]:
    request = {"lifter": LIFTERS[pair.lifter], "setups": list(pair.setups)}
    try:
        joints, spine = ask("joint-demand", request).setups, ask("spinal-load", request).setups
    except Refusal:
        return
    person = msgspec.convert(LIFTERS[pair.lifter], Lifter)
    questions = [_question(setup, person) for setup in pair.setups]
    people = (DrawnLifter(body_of(person), draw) for _ in range(count))
    drawn = [
        (one, other) for one, other in ([person.once(it) for it in questions] for person in people) if one and other
    ]

    def held(estimate: str, joint: str, interval: Answered, *, turning: bool = False) -> Iterator[Coverage]:
        """Of a result of the first setup, or of the ratio of two results."""
        if interval is None or interval.low == interval.high:
            return  # no ratio is stated, or no leg is turned out and nothing is asked
        found = np.array([[getattr(one.turning if turning else one, joint) for one in both] for both in drawn])
        value = found[:, 1] / found[:, 0] if "relative" in estimate else found[:, 0]
        near = 1e-5 * np.abs(value)
        yield Coverage(
            estimate,
            pair.lift,
            pair.lifter,
            joint,
            pair.about,
            interval.interval,
            count,
            value < interval.low - near,
            value > interval.high + near,
            np.full(len(value), joint == "lead_share" and interval.high == 1.0),  # no leg bears more than the whole
        )

    for joint in JOINTS:
        yield from held("joint-demand: moments", joint, getattr(joints[0].moments, joint))
        yield from held("joint-demand: relative", joint, getattr(joints[1].relative, joint))
        yield from held("joint-demand: dynamic.moments", joint, getattr(joints[0].dynamic.moments, joint), turning=True)
    for name, of in (("moment", "lumbosacral"), ("compression", "compression")):
        yield from held(f"spinal-load: {name}", of, getattr(spine[0], name))
        yield from held(f"spinal-load: relative.{name}", of, getattr(spine[1].relative, name))
    if joints[0].posture.split:
        yield from held("joint-demand: posture.split.lead_share", "lead_share", joints[0].posture.split.lead_share)
    yield from held("spinal-load: trunk_lean", "trunk_lean", spine[0].trunk_lean)


def _question(setup: dict[str, Any], person: Lifter) -> Question:
    depth = msgspec.convert(setup.get("depth"), Depth | None)
    technique = msgspec.convert(setup.get("technique"), Technique | None)
    return Question(setup["exercise"], setup["load"]["value"], depth_of(depth), technique_of(technique, person))
