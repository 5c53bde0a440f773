"""What the operations answer to the setups of data/setups.toml, for one lifter, as plain numbers.

Joint-demand, spinal-load and leg-distribution are asked, in the JSON of a client, for which nothing here knows how the
service computes; of presses and pulls the model of one arm is asked itself (arm_answers.py).
"""

from __future__ import annotations

import importlib
import json
import tomllib
from collections.abc import Callable, Collection, Mapping
from pathlib import Path
from typing import Any, Final, TypeAlias

import msgspec

from tests.science.reference.arm_answers import OF_ARM, OneArm

DATA: Final = Path(__file__).parent / "data"

JOINTS: Final = ("ankle", "knee", "hip", "lumbosacral")
OF_POSTURE: Final = {
    "shin": "shin_angle",
    "thigh": "thigh_angle",
    "lean": "trunk_lean",
    "knee_flexion": "knee_flexion",
    "hip_flexion": "hip_flexion",
    "dorsiflexion": "ankle_dorsiflexion",
}
OF_SPINE: Final = ("spine_moment", "spine_compression", "spine_shear")
OF_LEGS: Final = ("lead_share", "lead_mass")
OPERATIONS: Final = {
    "joint-demand": (*OF_POSTURE, *JOINTS, "factor"),
    "spinal-load": OF_SPINE,
    "leg-distribution": OF_LEGS,
}
ONE_ARM: Final = "one arm"
ANSWERED: Final = OPERATIONS | {ONE_ARM: OF_ARM}
NAMES: Final = ("body_mass", *(name for names in ANSWERED.values() for name in names))
"""All that a measure may speak of: kilograms, degrees, newton metres, newtons, the force at the turn over the weight
[1], the lead leg's share [1], and what arm_answers.py has of one arm. Moments and forces are those at rest; peaks that
were measured in motion are compared with them times the factor."""

Answer: TypeAlias = dict[str, float]
"""Numbers of one lifter in one setup; a name is missing where the operation was not asked or refused."""


class Setup(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One setup as data/setups.toml has it.

    Attributes:
        exercise: id; empty where only the legs are asked about
        legs: stance of leg-distribution; empty for a lift
        lifter: the lifter, where it is another than the comparison's
        load: on the implement [kg]
        times_body: load as a multiple of body mass [1], used where `load` is not stated
        thigh_below: depth, thigh below the horizontal [deg]
        knee_flexion: depth, bend of the knee [deg]
        shin: shin from the vertical [deg]
        stance: width in words
        stance_width: from ankle to ankle [m]
        reps: repetitions of a set, where how near to the maximum is printed [count]
        reserve: repetitions left after them [count]
        heel_lift: under the heels [m]
        bar_forward: drift of the bar ahead of mid-foot [m]
        foot_spacing: between the pressure centres of the feet [m]
        lean: trunk from the vertical, with foot_spacing [deg]
        grip: between the hands over biacromial breadth, where it is not the lift's own [1]
        touch: hand moved across the load's line [m]
        point: of the hand's way, 0 at the bottom; None for the whole repetition
        knowledge: by file and key, what the service is to know instead
    """

    exercise: str = ""
    legs: str = ""
    lifter: str = ""
    load: float | None = None
    times_body: float = 0.0
    thigh_below: float | None = None
    knee_flexion: float | None = None
    shin: float | None = None
    stance: str | None = None
    stance_width: float | None = None
    reps: int | None = None
    reserve: float | None = None
    heel_lift: float | None = None
    bar_forward: float | None = None
    foot_spacing: float | None = None
    lean: float | None = None
    grip: float | None = None
    touch: float = 0.0
    point: int | None = None
    knowledge: dict[str, dict[str, float]] = {}

    @property
    def subject(self) -> str:
        """The lift, or the stance, that the setup is of."""
        return self.exercise or {"bilateral": "back_squat_high_bar", "single_leg": "single_leg_squat"}.get(
            self.legs, self.legs
        )

    @property
    def askable(self) -> bool:
        """Whether the service as it stands can be asked."""
        return not self.knowledge


class Setups(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The whole of data/setups.toml.

    Attributes:
        lifters: by name, masses [kg], statures and lengths as a request has them [cm, deg, m]
        groups: names of the lifters over whom a comparison is the mean
        setups: by name
    """

    lifters: dict[str, dict[str, float | str]]
    groups: dict[str, tuple[str, ...]]
    setups: dict[str, Setup]


SETUPS: Final = msgspec.convert(tomllib.loads((DATA / "setups.toml").read_text(encoding="utf-8")), Setups)

_UNITS: Final = {"body_mass": "kg", "stature": "cm", "ankle_dorsiflexion": "deg", "hip_flexion": "deg"}
_LENGTHS: Final = ("shank", "thigh", "trunk", "foot")


def _quantity(value: float | str, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit}


def _lifter(described: Mapping[str, float | str]) -> dict[str, Any]:
    lengths = {name: _quantity(described[name], "m") for name in _LENGTHS if name in described}
    request: dict[str, Any] = {
        name: _quantity(value, _UNITS[name]) if name in _UNITS else value
        for name, value in described.items()
        if name not in lengths
    }
    return request | ({"segment_lengths": lengths} if lengths else {})


def _of(pairs: Mapping[str, tuple[float | None, str]]) -> dict[str, Any] | None:
    stated = {name: _quantity(value, unit) for name, (value, unit) in pairs.items() if value is not None}
    return stated or None


def _kilograms(setup: Setup, body_mass: float) -> float:
    return setup.times_body * body_mass if setup.load is None else setup.load


def _lift(setup: Setup, body_mass: float, label: str) -> dict[str, Any]:
    technique = _of(
        {
            "shin_angle": (setup.shin, "deg"),
            "heel_lift": (setup.heel_lift, "m"),
            "stance_width": (setup.stance_width, "m"),
            "bar_forward_of_midfoot": (setup.bar_forward, "m"),
        }
    )
    if setup.stance:
        technique = (technique or {}) | {"stance": setup.stance}
    depth = _of(
        {"thigh_below_horizontal": (setup.thigh_below, "deg"), "knee_flexion": (setup.knee_flexion, "deg")},
    )
    reps = {"low": setup.reps, "high": setup.reps} if setup.reps is not None else None
    asked = {"depth": depth, "technique": technique, "reps": reps, "reps_in_reserve": setup.reserve}
    return {"label": label, "exercise": setup.exercise, "load": _quantity(_kilograms(setup, body_mass), "kg")} | {
        name: value for name, value in asked.items() if value is not None
    }


def _legs(setup: Setup, lifter: dict[str, Any], body_mass: float) -> dict[str, Any]:
    request = {"stance": setup.legs, "load": _quantity(_kilograms(setup, body_mass), "kg")}
    if setup.foot_spacing is None:
        return request | {"body_mass": lifter["body_mass"]}
    posture = {"lifter": lifter, "trunk_lean": _quantity(setup.lean or 0.0, "deg")}
    return request | {"foot_spacing": _quantity(setup.foot_spacing, "m"), "posture": posture}


class Service:
    """The service of the process that this is made in; its operations are taken in when it is made."""

    def __init__(self) -> None:
        """Take in the three operations and the model of one arm."""
        self._arm = OneArm()
        reader: Any = importlib.import_module("service.api.serialization.json").Reader
        self._refusal: Any = importlib.import_module("service.errors").Refusal
        self._compute: dict[str, tuple[Any, Callable[[Any], Any]]] = {}
        for name in OPERATIONS:
            operation: Any = importlib.import_module(f"service.api.operations.{name.replace('-', '_')}").OPERATION
            self._compute[name] = (reader(operation.request), operation.compute)

    def _ask(self, operation: str, request: dict[str, Any]) -> Any:  # noqa: ANN401 - the shape depends on the operation
        reader, compute = self._compute[operation]
        try:
            return compute(reader.read(json.dumps(request).encode()))
        except self._refusal:
            return None

    def answer(
        self,
        lifter: str,
        setup: Setup,
        operations: Collection[str],
        load: float = 1.0,
        body_mass: float = 1.0,
        outward: float = 0.0,
        touch: float = 0.0,
    ) -> Answer:
        """What the operations say of a lifter in a setup.

        Args:
            lifter: name of the comparison's lifter
            setup: that is asked about
            operations: which to ask
            load: factor of its load [1]
            body_mass: factor of the lifter's body mass, the load as it would be without it [1]
            outward: added to the sideways force of the hand [1]
            touch: by which the hand is moved across besides [m]
        """
        described = SETUPS.lifters[setup.lifter or lifter]
        request = _lifter(described)
        mass = float(request["body_mass"]["value"])
        setup = msgspec.structs.replace(setup, load=load * _kilograms(setup, mass))
        request["body_mass"] = _quantity(body_mass * mass, "kg")
        found: Answer = {"body_mass": mass}
        if ONE_ARM in operations:
            kilograms = _kilograms(setup, mass)
            found |= self._arm.answer(dict(described), setup, kilograms, body_mass * mass, outward, touch)
        if "joint-demand" in operations:
            found |= self._joints({"lifter": request, "setups": [_lift(setup, mass, "a")]})
        if "spinal-load" in operations:
            found |= self._spine({"lifter": request, "setups": [_lift(setup, mass, label) for label in "ab"]})
        if "leg-distribution" in operations:
            answered = self._ask("leg-distribution", _legs(setup, request, mass))
            if answered is not None:
                found |= {"lead_share": answered.lead_share.value, "lead_mass": answered.with_body_mass.lead.value}
        return found

    def _joints(self, request: dict[str, Any]) -> Answer:
        answered = self._ask("joint-demand", request)
        if answered is None or answered.setups[0].posture is None:
            return {}
        one = answered.setups[0]
        angles = {name: getattr(one.posture, field).value for name, field in OF_POSTURE.items()}
        moments = {joint: getattr(one.moments, joint).value for joint in JOINTS}
        return angles | moments | {"factor": one.dynamic.factor.value}

    def _spine(self, request: dict[str, Any]) -> Answer:
        answered = self._ask("spinal-load", request)
        if answered is None:
            return {}
        one = answered.setups[0]
        return {name: getattr(one, name.removeprefix("spine_")).value for name in OF_SPINE}

    def spine_when_leaning(self, lifter: str, setup: Setup, lean: float, more: float) -> float | None:
        """By what the lumbosacral moment changes when the trunk leans more, everything else as it is.

        Args:
            lifter: name of the comparison's lifter
            setup: that is asked about
            lean: trunk from the vertical, as answered [deg]
            more: by how much it leans more [deg]

        Returns:
            moment over the moment at the lean as answered [1]; None where spinal-load covers no such lift
        """
        request = _lifter(SETUPS.lifters[setup.lifter or lifter])
        one = _lift(setup, float(request["body_mass"]["value"]), "a")
        one.pop("depth", None)
        one.pop("technique", None)
        setups = [one | {"trunk_lean": _quantity(lean, "deg")}]
        setups.append(one | {"label": "b", "trunk_lean": _quantity(max(0.0, lean + more), "deg")})
        answered = self._ask("spinal-load", {"lifter": request, "setups": setups})
        if answered is None or answered.setups[1].relative.moment is None:
            return None
        return float(answered.setups[1].relative.moment.value)
