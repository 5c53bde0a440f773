"""Shapes that several operations share: requests are closed and bounded, answers carry their basis and cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Final, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.catalogue import BARS, CAUTIONS, EXERCISES
from service.training.load_repetition import RELATIONS
from service.training.plate_loading import HEAVIEST, Loading, Plates, Rounding, heaviest_total, loadable, loadable_total
from service.training.volume import Reps
from service.units import SI, Mass, MassUnit, mass, si, significant
from service.vocabulary import Evidence

if TYPE_CHECKING:
    ExerciseId = str
    RelationId = str
else:  # the ids are data: decoding checks them against the files that the service was started with
    ExerciseId = Literal[tuple(EXERCISES)]
    RelationId = Literal[tuple(RELATIONS)]


class Closed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True, gc=False):
    """A request shape: immutable, and closed to fields that it does not know."""


class Answer(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """An answer shape. Answers may grow new fields; clients ignore those they do not know."""


def whole(low: int, high: int, text: str) -> Meta:
    """Bounds of a whole number; it may be written 5 or 5.0, which JSON does not tell apart."""
    return Meta(ge=low, le=high, multiple_of=1, description=text)


RepCount = Annotated[float, whole(1, 100, "Whole repetitions, 1 to 100.")]
SetCount = Annotated[float, whole(1, 50, "Whole sets, 1 to 50.")]
BasisReserve = Annotated[
    float,
    Meta(
        ge=0,
        le=4,
        description="Repetitions left in reserve at the end of the set, 0 (failure) to 4; halves are fine. RPE is 10 minus this. "
        "Further from failure the report is off by several repetitions (zourdos_2021, hackett_2017), so no maximum is based on it.",
    ),
]
Label = Annotated[str, Meta(min_length=1, max_length=60, pattern=r"^[^\x00-\x1f]+\Z")]
TargetReserve = Annotated[
    float, Meta(ge=0, le=10, description="Repetitions to be left in reserve, 0 to 10; halves are fine.")
]


class RepRange(Closed, kw_only=True, frozen=True):
    """A range of whole repetitions, both ends included; low must not be above high."""

    low: RepCount
    high: RepCount


Assistance = Annotated[
    Mass, Meta(description="In lifts of one's own body: what a band or machine takes off body mass and load.")
]
BodyMass = Annotated[
    Mass, Meta(description="The lifter's body mass, 30 to 250 kg: needed in lifts of one's own body, such as pull-ups.")
]


class DoneSet(Closed, kw_only=True, frozen=True):
    """A set that was done: load (in lifts of one's own body what is added to it), repetitions, and how many more were left (reps_in_reserve, 0 if not given)."""

    load: Mass
    reps: RepCount
    reps_in_reserve: BasisReserve = 0
    assistance: Assistance | UnsetType = UNSET


class PlateKind(Closed, kw_only=True, frozen=True):
    """One kind of plate and how many pairs of it there are."""

    plate: Mass
    pairs: Annotated[float, whole(1, 10, "Pairs of this plate, one plate for each side: 1 to 10.")] = 4


class BarSetup(Closed, kw_only=True, frozen=True):
    """A bar and its plates. Where plates are left out, the usual set of the bar's unit is meant."""

    bar: Mass
    plates: Annotated[list[PlateKind], Meta(min_length=1, max_length=12)] | UnsetType = UNSET
    collars: Annotated[Mass, Meta(description="Both collars together.")] | UnsetType = UNSET


class Estimate(Answer, kw_only=True, frozen=True):
    """A value with the span from low to high; `interval` says what the span means. Unit left out: a plain number."""

    value: float
    low: float
    high: float
    unit: str | UnsetType = UNSET
    interval: str


class Caution(Answer, kw_only=True, frozen=True):
    """Something to know before acting on the answer; the code is stable, the text may be reworded."""

    code: str
    text: str


class Basis(Answer, kw_only=True, frozen=True):
    """Where an answer comes from: the method, the ids of its sources (see GET /v1/sources), and what was assumed."""

    method: str
    sources: list[str]
    assumptions: list[str]
    evidence: Evidence


LIGHTEST_LOAD: Final = 0.1  # [kg]
HEAVIEST_PLATE: Final = 100_000  # thousandths of the unit
GENERAL_CAUTIONS: Final = ("not_a_diagnosis", "licensed_practice_first")


FIXED_CAUTIONS: Final = {code: Caution(code=code, text=text) for code, text in CAUTIONS.items() if "{" not in text}


def cautions(*codes: str, **facts: str) -> list[Caution]:
    """The cautions of these codes and the ones that go with every answer, filled in with the facts of the case."""
    return [
        FIXED_CAUTIONS.get(code) or Caution(code=code, text=CAUTIONS[code].format(**facts))
        for code in dict.fromkeys((*codes, *GENERAL_CAUTIONS))
    ]


def estimate(interval: Interval, meaning: str, unit: str | UnsetType = UNSET) -> Estimate:
    """An interval as clients see it."""
    return Estimate(
        value=significant(interval.value),
        low=significant(interval.low),
        high=significant(interval.high),
        unit=unit,
        interval=meaning,
    )


def mass_estimate(interval: Interval, unit: MassUnit, meaning: str) -> Estimate:
    """An interval of masses [kg] in the unit asked about."""
    return estimate(interval.scaled(1 / SI[unit]), meaning, unit)


def reps_range(reps: RepRange, pointer: str) -> Reps:
    """The range as the computations use it. Raises Refusal when its ends are crossed."""
    if reps.low > reps.high:
        raise Refusal.one(
            pointer.lstrip("/"), f"The low end {reps.low:g} is above the high end {reps.high:g}.", "low at most high"
        )
    return Reps(int(reps.low), int(reps.high))


def as_rep_range(reps: Reps) -> RepRange:
    """The range as clients see it."""
    return RepRange(low=reps.low, high=reps.high)


def stated(value: float | UnsetType) -> float | None:
    """A number that a request may leave out; None where it did."""
    return None if isinstance(value, UnsetType) else value


def positive(load: Mass, pointer: str) -> float:
    """A load in [kg] heavy enough to tell something. Raises Refusal otherwise."""
    kilograms = si(load)
    if kilograms < LIGHTEST_LOAD:
        raise Refusal.one(
            pointer.lstrip("/"),
            "A load of next to nothing tells nothing about strength.",
            f"at least {LIGHTEST_LOAD:g} kg",
        )
    return kilograms


class Bar(msgspec.Struct, frozen=True):
    """A bar ready for computing, and the unit in which its plates are marked."""

    plates: Plates
    unit: MassUnit

    @property
    def span(self) -> str:
        """The lightest and the heaviest load that it holds, in words."""
        return f"{self.plates.bar / 1000:g} to {heaviest_total(self.plates) / 1000:g} {self.unit}"

    def nearest(self, load: float, rounding: Rounding) -> Mass | None:
        """The loadable load for a load in [kg], in the bar's unit."""
        total = loadable_total(self.plates, load / SI[self.unit] * 1000, rounding)
        return None if total is None else Mass(total / 1000, self.unit)

    def load(self, load: float, rounding: Rounding) -> Loading | None:
        """The loading of the bar for a load in [kg]."""
        return loadable(self.plates, load / SI[self.unit] * 1000, rounding)


def _thousandths(quantity: Mass, unit: MassUnit) -> int:
    return round((quantity.value if quantity.unit == unit else si(quantity) / SI[unit]) * 1000)


def bar_of(setup: BarSetup | UnsetType, unit: MassUnit, pointer: str = "/bar") -> Bar:
    """The bar of a request, or the usual bar and plates of the unit where it names none.

    Raises Refusal for a bar too heavy, a plate of no mass or the same plate listed twice.
    """
    if isinstance(setup, UnsetType):
        usual = BARS[unit]
        return Bar(Plates(round(usual.bar * 1000), usual.kinds), unit)
    unit = setup.bar.unit
    bar = _thousandths(setup.bar, unit) + (
        0 if isinstance(setup.collars, UnsetType) else _thousandths(setup.collars, unit)
    )
    if bar > HEAVIEST:
        raise Refusal.one(
            f"{pointer.lstrip('/')}/collars",
            "The bar with its collars is too heavy.",
            f"up to {HEAVIEST / 1000:g} {unit}",
        )
    if isinstance(setup.plates, UnsetType):
        return Bar(Plates(bar, BARS[unit].kinds), unit)
    kinds: dict[int, int] = {}
    for index, kind in enumerate(setup.plates):
        plate = _thousandths(kind.plate, unit)
        where = f"{pointer.lstrip('/')}/plates/{index}/plate"
        if plate <= 0 or plate > HEAVIEST_PLATE:
            raise Refusal.one(where, "A plate must have a mass that fits on a bar.", f"more than 0, up to 100 {unit}")
        if plate in kinds:
            raise Refusal.one(where, "This plate is listed already; give its pairs there.", "each plate once")
        kinds[plate] = int(kind.pairs)
    return Bar(Plates(bar, tuple(sorted(kinds.items()))), unit)


def loaded(bar: BarSetup | UnsetType, load: float, unit: MassUnit) -> Mass | None:
    """The heaviest loadable load not above a load in [kg], shown in `unit`; None if the bar alone is heavier."""
    held = bar_of(bar, unit)
    found = held.nearest(load, "down")
    if found is None or found.unit == unit:
        return found
    return mass(si(found), unit)
