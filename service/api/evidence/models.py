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

    Attributes:
        question_of_interest: The question that a decision has to answer.
        context_of_use: What the models do for it, and for whom.
        model_influence: What else the decision rests on.
        decision_consequence: What a wrong answer can do.
        may_rest_on_it: Decisions for which the numbers are meant.
        may_not_rest_on_it: Decisions for which they are not.
        verification: How the arithmetic is checked: how to read what stands under this name with each quantity.
        validation: How the numbers are held against people: how to read the comparisons.
        applicability: How far what was validated is what is asked.
        sources: Ids of the sources of these terms, see GET /v1/sources.
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
    """How many published comparisons agree.

    Attributes:
        half: Those that check, or those that rules may be fitted to.
        kind: What is compared.
        agree: How many agree.
        of: Of how many.
        goal: The share that is to agree, 0 to 1; null where none is set.
    """

    half: Half
    kind: Literal["directions", "magnitudes"]
    agree: int
    of: int
    goal: float | None


class VerificationCheck(ResponseModel, kw_only=True, frozen=True):
    """The arithmetic against something that shares no code with the service.

    Attributes:
        about: What was checked.
        compared_with: Against what.
        test: Which test of the service does it.
        cases: How many cases.
        tolerance: Greatest deviation allowed; null where each case has its own.
        deviation: Greatest deviation that was found; null where it is not kept.
        unit: Unit of both.
    """

    about: str
    compared_with: str
    test: str
    cases: int
    tolerance: float | None
    deviation: float | None
    unit: str


class PublishedComparison(ResponseModel, kw_only=True, frozen=True):
    """A published observation beside what the service computes for it.

    Attributes:
        id: Stable id of the observation.
        quantities: Ids of the quantities that it is about.
        half: What it is used for.
        finding: What was found.
        assumed_spread: Whether no spread is published, so that one of our own is used.
        study: Authors and year.
        subject: Lifts and condition.
        quantity: What was measured.
        printed: The finding as printed.
        computed: What the service computes; null where it refuses.
        agrees: Whether that is the published direction, or within the published spread.
        cause: Physical cause of a disagreement; empty where they agree.
        citation: Where it is printed.
        known: How far it is known.
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
    """A figure, question or answer made wrong by itself that no published comparison notices.

    Attributes:
        what: What was made wrong.
        change: By how much.
        lift: Id of the lift of which alone; empty for all.
    """

    what: str
    change: str
    lift: str


class Faults(ResponseModel, kw_only=True, frozen=True):
    """Faults put into the service one by one, and how many are noticed.

    Attributes:
        tried: How many were tried.
        noticed_by_check: How many are noticed by comparisons that check.
        noticed_by_any: How many are noticed by any comparison.
        not_noticed: Those that none notices.
    """

    tried: int
    noticed_by_check: int
    noticed_by_any: int
    not_noticed: list[UnnoticedFault]


class ToldOfLift(ResponseModel, kw_only=True, frozen=True):
    """Whether anything published would tell that the lift's moment is wrong by 15 %, or its lean by 5 degrees.

    Attributes:
        lift: Id of the exercise.
        part: What would be wrong.
        by: Which observations would tell.
    """

    lift: str
    part: PartTold
    by: ToldBy


class IntervalCoverage(ResponseModel, kw_only=True, frozen=True):
    """How often an interval holds for simulated lifters drawn from the stated distributions.

    Attributes:
        estimate: Which estimate.
        meaning: What its interval is stated to mean.
        answers: How many answers were looked at.
        coverage: Share of lifters for whom it holds, 0 to 1.
        below: Share whose value lay below it.
        above: Share whose value lay above it.
    """

    estimate: str
    meaning: str
    answers: int
    coverage: float
    below: float
    above: float


class ExpertLines(ResponseModel, kw_only=True, frozen=True):
    """Consultations written out before the answers were looked at.

    Attributes:
        consultations: How many consultations.
        wanted: Lines of what an expert would want.
        wanted_hold: How many of them hold.
        unwanted: Lines of what an expert would never want.
        unwanted_hold: How many of them hold: what is never wanted does not come.
    """

    consultations: int
    wanted: int
    wanted_hold: int
    unwanted: int
    unwanted_hold: int


class QuantityEvidence(ResponseModel, kw_only=True, frozen=True):
    """A quantity, or quantities of one model, with all that speaks for and against it.

    Attributes:
        id: Stable id, by which one is asked for.
        name: Name for people.
        unit: Its unit.
        answered_by: By operation, the fields of its answer that hold it, with steps joined by dots; regions and joints are no steps.
        model: How it is computed.
        assumptions: What is assumed.
        if_wrong: What a wrong number would do.
        limits: Where it ends, and what is known to be off.
        sources: Ids of the sources, see GET /v1/sources.
        known: How far the weakest of what it rests on is known.
        verification: Checks of the arithmetic.
        agreement: How many published comparisons agree.
        disagreeing: Ids of the comparisons that check and do not agree.
        told_by_lift: Lift by lift, whether anything published would tell that it is wrong.
        calibration: How often its intervals hold.
        expert_lines: How it fares in consultations of experts; null where none is about it.
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
    """The context of use, the evidence of each quantity, and the published comparisons.

    Attributes:
        context: What the service is for, and what may rest on its numbers.
        agreement: How far all published comparisons agree; null where one quantity is asked for.
        faults: What the comparisons would notice; null where one quantity is asked for.
        quantities: The quantities, or the one that is asked for.
        comparisons: The published comparisons about them.
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
