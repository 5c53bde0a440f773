"""The gym of a request: what there is to lift with, in which steps and how heavy, and the loads that can be lifted so."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import Annotated, Final, Protocol, get_args

import msgspec
from msgspec import Meta, UnsetType
from msgspec.structs import replace

from service.adjustment.prescription import Prescription, lifts_the_body
from service.api.models.base import RequestModel
from service.api.models.equipment import Bar, BarSetup, bar_of
from service.errors import Refusal, into
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.training.plate_loading import whole_steps
from service.units import SI, Mass, MassUnit, mass, si
from service.vocabulary import Implement

ON_A_BAR: Final = frozenset({"barbell", "safety_bar", "trap_bar"})
STEP: Final = CHOICES.adjustments.step
_RACKED: Final[tuple[Implement, ...]] = ("dumbbells", "one_dumbbell", "kettlebell")
_ONE_PIECE: Final = frozenset({"one_dumbbell", "kettlebell"})
_SLIGHTLY: Final = 1e-7
"""Of a load [1]: what is less than this above it is the same one."""


class GymImplement(RequestModel, kw_only=True, frozen=True):
    """Something that is there to be lifted.

    Attributes:
        implement: What it is.
        step: From each load to the next, of one dumbbell or of the stack of a machine. Null or left out: the usual
            step.
        heaviest: The heaviest that there is, of one dumbbell or of the stack; nothing heavier is offered. Null or left
            out: no limit is known.
    """

    implement: Implement
    step: Mass | None = None
    heaviest: Mass | None = None


class Gym(RequestModel, kw_only=True, frozen=True):
    """What there is to lift with.

    Where implements are listed, nothing is offered that needs another one; a bar counts as listed where it is stated,
    and the body is always there.

    Attributes:
        bar: The bar with its plates. Null or left out: one of 20 kg, or of 45 lb where loads are in pounds, with the
            usual plates; then nothing lighter is offered on a bar, and `basis.assumptions` says so.
        implements: What else there is. Null or left out: everything, in usual steps.
    """

    bar: BarSetup | None = None
    implements: Annotated[list[GymImplement], Meta(min_length=1, max_length=len(get_args(Implement)))] | None = None


EarlierBar = Annotated[BarSetup, Meta(extra_json_schema={"deprecated": True})]
EarlierStep = Annotated[Mass, Meta(extra_json_schema={"deprecated": True})]


class GymLoads(msgspec.Struct, frozen=True):
    """What can be loaded for an exercise.

    Attributes:
        bar: the bar with its plates
        step: of one dumbbell, machine, belt or assistance where none of its own is known [kg]
        steps: of implements whose step is known [kg]
        heaviest: of implements whose heaviest is known [kg]
        there: implements that are there, None where everything is
        available: loads that the request says are there, whatever the step [kg]
        bar_assumed: whether no bar was stated, so that the usual one was taken
    """

    bar: Bar
    step: float
    steps: Mapping[Implement, float] = {}
    heaviest: Mapping[Implement, float] = {}
    there: frozenset[Implement] | None = None
    available: tuple[float, ...] = ()
    bar_assumed: bool = False

    def down(self, exercise: str, load: float, implement: Implement | None = None, /) -> float | None:
        """The heaviest load not above a load [kg]; None where the empty bar is heavier, nothing would be loaded or the implement is not there."""
        if implement is not None and not self._has(implement):
            return None
        on_bar = _on_bar(exercise, implement)
        if load in self.available and (load == 0 or not on_bar):
            return load
        load = min(load, self.most(exercise, implement))
        if on_bar:
            loadable = self.bar.nearest(load, "down")
            return None if loadable is None else si(loadable)
        if implement == "body_weight" and load == 0:
            return load
        step = self.step_of(exercise, implement) * _how_many(exercise, implement)
        steps = whole_steps(load, step)
        least = 1 if not lifts_the_body(exercise) else -inf if EXERCISES[exercise].assisted else 0
        return steps * step if steps >= least else None

    def above(self, exercise: str, load: float, implement: Implement | None = None, /) -> float | None:
        """The lightest load heavier than a load [kg]; None where there is none."""
        if _on_bar(exercise, implement):
            loadable = self.bar.nearest(load * (1 + _SLIGHTLY), "up")
            heavier = None if loadable is None else si(loadable)
        else:
            step = self.step_of(exercise, implement) * _how_many(exercise, implement)
            heavier = (whole_steps(load, step) + 1) * step
        most = self.most(exercise, implement)
        return None if heavier is None or heavier > most * (1 + _SLIGHTLY) else heavier

    def most(self, exercise: str, implement: Implement | None) -> float:
        """The heaviest load of an exercise with an implement [kg], infinite where it is not known."""
        if implement == "body_weight":
            return 0.0
        return self.heaviest.get(_held(exercise, implement), inf) * _how_many(exercise, implement)

    def step_of(self, exercise: str, implement: Implement | None) -> float:
        """From each load of an exercise to the next [kg], of a pair of dumbbells that of one."""
        return self.steps.get(_held(exercise, implement), self.step)

    def implement_for(self, exercise: str) -> Implement | None:
        """What an exercise that can be lifted here is lifted with: None for what it usually is, else the first that is there."""
        usual = EXERCISES[exercise].implements[0]
        there = next(self._loaded_with(exercise))
        return None if there == usual else there

    def others_for(self, prescription: Prescription) -> tuple[Implement, ...]:
        """What else a prescription's exercise can be lifted with here, the body alone among it where that is usual.

        One dumbbell and a kettlebell are held alike: one of them is enough. In presses and pulls they are for one arm,
        which is another lift than the one of both.
        """
        lift, held = EXERCISES[prescription.exercise], prescription.held
        there = [each for each in lift.implements if each != held and self._has(each)]
        if lift.family in ("press", "pull") and not lift.one_arm:
            there = [each for each in there if each not in _ONE_PIECE]
        alike = "one_dumbbell" in (held, *there)
        return tuple(each for each in there if each != "kettlebell" or not alike)

    def can_lift(self, exercise: str) -> bool:
        """Whether something is there with which an exercise can be loaded, or it is one of the body alone."""
        return any(self._loaded_with(exercise))

    def holds(self, prescription: Prescription) -> bool:
        """Whether what a prescription is lifted with is there."""
        return self._has(_held(prescription.exercise, prescription.implement))

    def _loaded_with(self, exercise: str) -> Iterator[Implement]:
        usual, *others = EXERCISES[exercise].implements
        return filter(self._has, (usual, *(other for other in others if other != "body_weight")))

    def _has(self, implement: Implement) -> bool:
        return self.there is None or implement in self.there or implement == "body_weight"


def with_usual_racks(loads: GymLoads, present: Prescription) -> GymLoads:
    """The loads of a gym without heavier dumbbells or kettlebells than usual, unless it names them or they are lifted now."""
    usual = {name: CHOICES.adjustments.usual_heaviest[name] for name in _RACKED if name != present.held}
    return replace(loads, heaviest={**usual, **loads.heaviest})


class Lifted(Protocol):
    """Something that is lifted: an exercise, with its usual implement where that is None."""

    @property
    def exercise(self) -> str:
        """Id of the exercise."""

    @property
    def implement(self) -> Implement | None:
        """What is lifted, None for what is usual."""


def is_on_bar(prescription: Lifted) -> bool:
    """Whether what a prescription is lifted with is a bar with plates."""
    return _on_bar(prescription.exercise, prescription.implement)


def _on_bar(exercise: str, implement: Implement | None) -> bool:
    return EXERCISES[exercise].bar and (implement is None or implement in ON_A_BAR)


def _held(exercise: str, implement: Implement | None) -> Implement:
    return implement or EXERCISES[exercise].implements[0]


def _how_many(exercise: str, implement: Implement | None) -> int:
    return 2 if _held(exercise, implement) == "dumbbells" else 1


def gym_of(
    gym: Gym | None,
    unit: MassUnit,
    where: str,
    *,
    bar: BarSetup | UnsetType | None = None,
    increment: Mass | UnsetType | None = None,
) -> GymLoads:
    """What can be loaded in a gym, or with the bar and in the steps that stood in its place in earlier requests.

    unit: in which loads are answered where the gym names no other; where: pointer to the object with the gym, "" for the
    request. Raises Refusal for an impossible bar, step or heaviest, for an implement listed twice, and for both forms at
    once.
    """
    stated_bar = None if isinstance(bar, UnsetType) else bar
    stated_step = None if isinstance(increment, UnsetType) else increment
    step = STEP[unit] * SI[unit] if stated_step is None else _positive(stated_step, f"{where}/increment")
    if gym is None:
        held, steps = bar_of(stated_bar, unit, f"{where}/bar"), {} if stated_step else _usual_steps(unit)
        return GymLoads(held, step, steps, bar_assumed=stated_bar is None)
    if stated_bar is not None or stated_step is not None:
        raise Refusal.one(
            f"{where}/gym".lstrip("/"), "Bar and steps belong to the gym where there is one.", "gym alone"
        )
    held, assumed = bar_of(gym.bar, unit, f"{where}/gym/bar"), gym.bar is None
    if gym.implements is None:
        return GymLoads(held, step, _usual_steps(unit), bar_assumed=assumed)
    listed = _listed(gym.implements, f"{where}/gym/implements")
    steps = {name: size for name, (size, _) in listed.items() if size is not None}
    heaviest = {name: most for name, (_, most) in listed.items() if most is not None}
    a_bar: frozenset[Implement] = frozenset({"barbell"} if gym.bar else ())
    there = a_bar | listed.keys()
    return GymLoads(held, step, _usual_steps(unit) | steps, heaviest, there, bar_assumed=assumed)


def _listed(implements: list[GymImplement], where: str) -> dict[Implement, tuple[float | None, float | None]]:
    """Step and heaviest of each implement [kg]; where there are pairs of dumbbells there is one of each."""
    listed: dict[Implement, tuple[float | None, float | None]] = {}
    for index, one in enumerate(implements):
        place = f"{where}/{index}"
        if one.implement == "band":
            raise Refusal.one(
                f"{place}/implement".lstrip("/"),
                "A band has no load of its own; what it takes off is the assistance of a prescription.",
                "another implement",
            )
        if one.implement in listed:
            raise Refusal.one(f"{place}/implement".lstrip("/"), "This implement is listed already.", "each once")
        listed[one.implement] = (
            None if one.step is None else _positive(one.step, f"{place}/step"),
            None if one.heaviest is None else _positive(one.heaviest, f"{place}/heaviest"),
        )
    return listed if "dumbbells" not in listed else {"one_dumbbell": listed["dumbbells"], **listed}


def check_held(loads: GymLoads, prescription: Prescription, unit: MassUnit, where: str) -> None:
    """Check that a prescription can be done in a gym.

    Raises Refusal where what it is lifted with is not there, or not so heavy.
    """
    lift = EXERCISES[prescription.exercise]
    if not loads.holds(prescription):
        there = [each for each in lift.implements if loads.there is None or each in loads.there]
        raise Refusal.one(
            f"{where}/implement".lstrip("/"),
            f"{lift.name}: what it is lifted with is not among the implements of the gym.",
            ", ".join(there) or f"one of {', '.join(lift.implements)} in the gym",
            one_of=there,
        )
    check_not_above(loads, prescription, unit, where)


def check_not_above(loads: GymLoads, prescription: Prescription, unit: MassUnit, where: str) -> None:
    """Check that a load is not above the heaviest that the gym has of its implement. Raises Refusal where it is."""
    most = loads.most(prescription.exercise, prescription.implement)
    if prescription.load > most * (1 + _SLIGHTLY):
        raise Refusal.one(
            f"{where}/load".lstrip("/"),
            "The gym has nothing so heavy.",
            f"up to {mass(most, unit).value:g} {unit}",
            change=into(prescription.load, high=most),
        )


def _usual_steps(unit: MassUnit) -> dict[Implement, float]:
    return {"kettlebell": CHOICES.adjustments.steps.kettlebell[unit] * SI[unit]}


def _positive(quantity: Mass, where: str) -> float:
    if quantity.value <= 0:
        raise Refusal.one(where.lstrip("/"), "A step or a load of nothing leads nowhere.", "more than 0")
    return si(quantity)
