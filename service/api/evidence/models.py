"""The shapes of GET /v1/evidence, and what stands in them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, Final, Literal, TypeVar

import msgspec

from service.api.models.base import ResponseModel
from service.knowledge.evidence import (
    CHECKS,
    COMPARISONS,
    CONTEXT,
    COVERAGES,
    EXPERTS,
    FAULTS,
    QUANTITIES,
    TOLD,
    agreement,
)
from service.knowledge.evidence_records import Finding, Half, PartTold, Quantity, ToldBy
from service.knowledge.records import Known


class ContextOfUse(ResponseModel, kw_only=True, frozen=True):
    """What the service is for, what may rest on its numbers and what may not, in the terms of ASME V&V 40 (2018).

    verification, validation, applicability: how to read what stands under these names with each quantity.
    """

    question_of_interest: str
    context_of_use: str
    model_influence: str
    decision_consequence: str
    may_rest_on_it: list[str]
    may_not_rest_on_it: list[str]
    verification: str
    validation: str
    applicability: str
    sources: list[str]


class Agreement(ResponseModel, kw_only=True, frozen=True):
    """How many published comparisons agree, of how many; goal: the share that is to agree, null where none is set."""

    half: Half
    kind: Literal["directions", "magnitudes"]
    agree: int
    of: int
    goal: float | None


class VerificationCheck(ResponseModel, kw_only=True, frozen=True):
    """The arithmetic against something that shares no code with the service.

    tolerance: greatest deviation allowed, null where each case has its own; deviation: the greatest found, null where it is not kept.
    """

    about: str
    compared_with: str
    test: str
    cases: int
    tolerance: float | None
    deviation: float | None
    unit: str


class PublishedComparison(ResponseModel, kw_only=True, frozen=True):
    """A published observation beside what the service computes for it, null where it refuses.

    quantities: ids of those that it is about. half: check, or fit where rules may be fitted to it. finding: magnitude, or a direction: a difference, that there is none, a bound.
    assumed_spread: no spread is published, so that one of our own is used. cause: physical cause of a disagreement.
    """

    id: str
    quantities: list[str]
    half: Half
    finding: Finding
    assumed_spread: bool
    study: str
    subject: str
    quantity: str
    printed: str
    computed: float | None
    agrees: bool
    cause: str
    citation: str
    known: Known


class UnnoticedFault(ResponseModel, kw_only=True, frozen=True):
    """A figure, question or answer made wrong by itself that no published comparison notices; lift: of which alone, empty for all."""

    what: str
    change: str
    lift: str


class Faults(ResponseModel, kw_only=True, frozen=True):
    """Faults put into the service one by one, and how many are noticed by comparisons that check, and by any."""

    tried: int
    noticed_by_check: int
    noticed_by_any: int
    not_noticed: list[UnnoticedFault]


class ToldOfLift(ResponseModel, kw_only=True, frozen=True):
    """Whether anything published would tell that the lift's moment is wrong by 15 %, or its lean by 5 degrees.

    by: check, fit (rows that may be fitted to alone), would (none but rows that disagree as it is), or none.
    """

    lift: str
    part: PartTold
    by: ToldBy


class IntervalCoverage(ResponseModel, kw_only=True, frozen=True):
    """How often an interval holds for simulated lifters drawn from the stated distributions; below and above: shares that lay outside."""

    estimate: str
    meaning: str
    answers: int
    coverage: float
    below: float
    above: float


class ExpertLines(ResponseModel, kw_only=True, frozen=True):
    """Consultations written out before the answers were looked at: lines of what an expert would want, and would never want, and how many hold."""

    consultations: int
    wanted: int
    wanted_hold: int
    unwanted: int
    unwanted_hold: int


class QuantityEvidence(ResponseModel, kw_only=True, frozen=True):
    """A quantity, or quantities of one model, with all that speaks for and against it.

    answered_by: by operation, the fields of its answer, with steps joined by dots. if_wrong: what a wrong number would do.
    known: how far the weakest of what it rests on is known. disagreeing: ids of the comparisons that check and do not agree.
    expert_lines: null where no consultation is about it.
    """

    id: str
    name: str
    unit: str
    answered_by: dict[str, list[str]]
    model: str
    assumptions: list[str]
    if_wrong: str
    limits: list[str]
    sources: list[str]
    known: Known
    verification: list[VerificationCheck]
    agreement: list[Agreement]
    disagreeing: list[str]
    told_by_lift: list[ToldOfLift]
    calibration: list[IntervalCoverage]
    expert_lines: ExpertLines | None


class EvidenceAnswer(ResponseModel, kw_only=True, frozen=True):
    """The context of use, the evidence of each quantity, how far published comparisons agree, what they would notice, and each of them.

    agreement and faults, which are of the whole: null where one quantity is asked for, whose own are with it.
    """

    context: ContextOfUse
    agreement: list[Agreement] | None
    faults: Faults | None
    quantities: list[QuantityEvidence]
    comparisons: list[PublishedComparison]


PATH: Final = "/v1/evidence"
PARAMETER: Final = "quantity"
Shape = TypeVar("Shape")


@cache
def evidence(quantity: str | None) -> EvidenceAnswer:
    """All of it, or the evidence of one quantity and the comparisons that are about it."""
    chosen = list(QUANTITIES.values()) if quantity is None else [QUANTITIES[quantity]]
    return EvidenceAnswer(
        context=_shaped(CONTEXT, ContextOfUse),
        agreement=_agreement(None) if quantity is None else None,
        faults=_faults() if quantity is None else None,
        quantities=[_of_quantity(one) for one in chosen],
        comparisons=_comparisons(chosen),
    )


def _faults() -> Faults:
    return Faults(
        tried=len(FAULTS),
        noticed_by_check=sum(fault.check > 0 for fault in FAULTS),
        noticed_by_any=sum(fault.check + fault.fit > 0 for fault in FAULTS),
        not_noticed=[_shaped(fault, UnnoticedFault) for fault in FAULTS if not fault.check + fault.fit],
    )


def _shaped(row: Any, shape: type[Shape], **more: Any) -> Shape:
    """A record as an answer's shape, whose fields have its names but for those given here."""
    names = msgspec.structs.fields(shape)  # type: ignore[arg-type]
    return msgspec.convert({field.name: more.get(field.name, getattr(row, field.name, None)) for field in names}, shape)


def _agreement(measured: tuple[str, ...] | None) -> list[Agreement]:
    """Of all comparisons by half and kind, with the goals, or of those that are about some names alone."""
    halves: tuple[Half, ...] = ("check", "fit")
    kinds: tuple[tuple[Literal["directions", "magnitudes"], float], ...] = (
        ("directions", CONTEXT.directions_goal),
        ("magnitudes", CONTEXT.magnitudes_goal),
    )
    return [
        Agreement(
            half=half,
            kind=kind,
            agree=found.agree,
            of=found.of,
            goal=goal if half == "check" and measured is None else None,
        )
        for half in halves
        for kind, goal in kinds
        for found in [agreement(half, directions=kind == "directions", measured=measured)]
        if found.of
    ]


def _of_quantity(one: Quantity) -> QuantityEvidence:
    return _shaped(
        one,
        QuantityEvidence,
        verification=[_shaped(row, VerificationCheck) for row in CHECKS if _about(row.measured, one)],
        agreement=_agreement(one.measured),
        disagreeing=[
            row.id for row in COMPARISONS if row.half == "check" and not row.agrees and _about(row.measured, one)
        ],
        told_by_lift=[_shaped(row, ToldOfLift) for row in TOLD if row.part in one.told_of_lifts],
        calibration=[_shaped(row, IntervalCoverage) for row in COVERAGES if row.estimate in one.estimates],
        expert_lines=_shaped(EXPERTS, ExpertLines) if one.lines_of_experts else None,
    )


def _comparisons(chosen: Sequence[Quantity]) -> list[PublishedComparison]:
    about = {row.id: [one.id for one in QUANTITIES.values() if _about(row.measured, one)] for row in COMPARISONS}
    ids = {one.id for one in chosen}
    return [
        _shaped(row, PublishedComparison, quantities=about[row.id])
        for row in COMPARISONS
        if not ids.isdisjoint(about[row.id])
    ]


def _about(measured: Iterable[str], one: Quantity) -> bool:
    return not set(measured).isdisjoint(one.measured)
