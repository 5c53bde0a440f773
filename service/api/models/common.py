"""Shapes that several operations share: requests are closed and bounded, answers carry their basis and cautions."""

from __future__ import annotations

from typing import Annotated, Final, Self

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel, ResponseModel
from service.errors import Refusal, into
from service.intervals import Interval
from service.messages import Message, message, spoken
from service.training.volume import Reps
from service.units import SI, Mass, MassUnit, si, significant_span
from service.vocabulary import Evidence


def whole(low: int, high: int) -> Meta:
    """Bounds of a whole number; it may be written 5 or 5.0, which JSON does not tell apart."""
    return Meta(ge=low, le=high, multiple_of=1)


RepCount = Annotated[float, whole(1, 100)]
SetCount = Annotated[float, whole(1, 50)]
FURTHEST_BASIS: Final = 4
"""Most repetitions in reserve on which a maximum is based [count]."""
BasisReserve = Annotated[float, Meta(ge=0, le=FURTHEST_BASIS)]
Label = Annotated[str, Meta(min_length=1, max_length=60, pattern=r"^[^\x00-\x1f]+\Z", examples=["front"])]
TargetReserve = Annotated[float, Meta(ge=0, le=10)]


class RepRange(RequestModel, kw_only=True, frozen=True):
    """A range of whole repetitions, both ends included.

    Attributes:
        low: Fewest repetitions.
        high: Most repetitions, not fewer than `low`.
    """

    low: RepCount
    high: RepCount


class DoneSet(RequestModel, kw_only=True, frozen=True):
    """A set that was done.

    Attributes:
        load: Load on the implement; of two dumbbells their sum, in lifts of one's own body what is added to it.
        reps: Whole repetitions that were done.
        reps_in_reserve: Repetitions that would still have been possible at the end of the set, 0 (failure) to 4; halves
            are fine. RPE is 10 minus this. Further from failure the report is off by several repetitions (zourdos_2021,
            hackett_2017), so no maximum is based on it.
        assistance: In lifts of one's own body, what a band or machine takes off body mass and load. Left out: nothing.
    """

    load: Mass
    reps: RepCount
    reps_in_reserve: BasisReserve = 0
    assistance: Mass | UnsetType = UNSET


class Estimate(ResponseModel, kw_only=True, frozen=True):
    """A value with the span from low to high.

    Attributes:
        value: The most probable value.
        low: Low end of the span.
        high: High end of the span.
        unit: Unit of all three, such as kg, N·m, deg or s. Left out for a plain number: a ratio, a share or a count.
        interval: What the span means, and of what it is. Left out where `basis.interval` says it for all of the answer.
    """

    value: float
    low: float
    high: float
    unit: str | UnsetType = UNSET
    interval: str | UnsetType = UNSET


class Basis(ResponseModel, kw_only=True, frozen=True):
    """Where an answer comes from.

    Attributes:
        method: How it was computed.
        sources: Ids of the sources behind it, see GET /v1/sources.
        assumptions: What was assumed of lifter, lift or data.
        evidence: On what the answer rests.
        interval: What the span of every estimate means that does not say so itself. Left out where there is none.
    """

    method: Message
    sources: list[str]
    assumptions: list[Message]
    evidence: Evidence
    interval: str | UnsetType = UNSET


OF_ONE: Final = "68 %, one repetition: lengths, masses, habits of posture, scatter between repetitions"
"""What the interval of a computed moment means."""
ONE_TO_ONE: Final = (
    "68 %, one repetition against one: scatter of both, and what they do not share of lengths, masses and habits"
)
"""What the interval of a ratio of two computed moments means."""
CENTRAL_ONLY: Final = "one value, its span not known: by the load, all else as now, or by a usual posture"
"""What the interval of a demand means that is not propagated."""
OF_ARM: Final = "68 %, one repetition: shoulders, arms and strengths of people, place and sideways force of the hands"
"""What the interval of a moment of the arm means, and of a ratio of two."""
LIGHTEST_LOAD: Final = 0.1  # [kg]
GENERAL_CAUTIONS: Final = ("not_a_diagnosis", "licensed_practice_first")
"""What stands once in every answer, by its codes."""


def cautions(*specific: str | Message) -> list[Message]:
    """The cautions of a whole answer, those without values by their codes, and last the ones that stand once in every answer.

    First of all that nobody has reviewed the language, where that is so.
    """
    codes = (
        (*specific, *GENERAL_CAUTIONS) if spoken().reviewed else ("language_not_reviewed", *specific, *GENERAL_CAUTIONS)
    )
    return [message(one) if isinstance(one, str) else one for one in codes]


def estimate(interval: Interval, meaning: str | UnsetType, unit: str | UnsetType = UNSET) -> Estimate:
    """An interval as clients see it; meaning: left out where it is that of the answer's basis."""
    low, value, high = significant_span(interval.low, interval.value, interval.high)
    return Estimate(value=value, low=low, high=high, unit=unit, interval=meaning)


def mass_estimate(interval: Interval, unit: MassUnit, meaning: str) -> Estimate:
    """An interval of masses [kg] in the unit asked about."""
    return estimate(interval.scaled(1 / SI[unit]), meaning, unit)


def rounded(value: float | None, decimals: int = 4) -> float | None:
    """A ratio to so many decimals; None where it is not known."""
    return None if value is None else round(value, decimals)


def reps_range(reps: RepRange, pointer: str) -> Reps:
    """The range as the computations use it. Raises Refusal when its ends are crossed."""
    if reps.low > reps.high:
        raise Refusal.one(
            pointer.lstrip("/"),
            f"The low end {reps.low:g} is above the high end {reps.high:g}.",
            "low at most high",
            one_of=(RepRange(low=reps.high, high=reps.low),),
        )
    return Reps(int(reps.low), int(reps.high))


def as_rep_range(reps: Reps) -> RepRange:
    """The range as clients see it."""
    return RepRange(low=reps.low, high=reps.high)


def positive(load: Mass, pointer: str) -> float:
    """A load in [kg] heavy enough to tell something. Raises Refusal otherwise."""
    kilograms = si(load)
    if kilograms < LIGHTEST_LOAD:
        raise Refusal.one(
            pointer.lstrip("/"),
            "A load of next to nothing tells nothing about strength.",
            f"at least {LIGHTEST_LOAD:g} kg",
            change=into(kilograms, LIGHTEST_LOAD),
        )
    return kilograms


class MassRange(ResponseModel, kw_only=True, frozen=True):
    """A range of masses, both ends included.

    Attributes:
        low: The lighter end.
        high: The heavier end.
    """

    low: Mass
    high: Mass


class RatioRange(ResponseModel, kw_only=True, frozen=True):
    """A range of ratios, both ends included.

    Attributes:
        low: The smaller ratio; 1 is no change.
        high: The larger ratio; 1 is no change.
    """

    low: float
    high: float

    @classmethod
    def over(cls, *ratios: float) -> Self:
        """The range that holds these ratios: that at the low end of the repetitions may be the higher one."""
        return cls(low=round(min(ratios), 4), high=round(max(ratios), 4))
