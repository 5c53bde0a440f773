"""What is said and measured of each quantity that the service computes: the records of data/evidence."""

from __future__ import annotations

from typing import Literal

from service.knowledge.records import Known, Record, SourceId

Half = Literal["check", "fit"]
Finding = Literal["difference", "no_difference", "bound", "magnitude"]
ToldBy = Literal["check", "fit", "would", "none"]
PartTold = Literal["ankle", "knee", "hip", "low_back", "lean", "shoulder", "elbow"]


class Context(Record, frozen=True):
    """What the service is for, and what may rest on it.

    Attributes:
        question_of_interest: the question that a decision has to answer
        context_of_use: what the models do for it, and for whom
        model_influence: what else the decision rests on
        decision_consequence: what a wrong answer can do
        may_rest_on_it: decisions for which the numbers are meant
        may_not_rest_on_it: decisions for which they are not
        verification: how the arithmetic is checked
        validation: how the numbers are held against people
        applicability: how far what was validated is what is asked
        directions_goal: share of published directions that are to agree [1]
        magnitudes_goal: share of published magnitudes that are to agree [1]
        sources: of the terms
    """

    question_of_interest: str
    context_of_use: str
    model_influence: str
    decision_consequence: str
    may_rest_on_it: tuple[str, ...]
    may_not_rest_on_it: tuple[str, ...]
    verification: str
    validation: str
    applicability: str
    directions_goal: float
    magnitudes_goal: float
    sources: tuple[SourceId, ...]


class Quantity(Record, frozen=True):
    """A quantity, or quantities of one model, that operations answer.

    Attributes:
        id: stable id
        name: in words
        answered_by: by operation, the fields of its answer, with steps joined by dots
        model: how it comes about, in a sentence
        assumptions: what that takes for granted
        if_wrong: what a wrong number would do
        limits: what is known to be missing or weak
        sources: what the model rests on
        known: how far the weakest of it is known
        unit: in which it is compared; empty where it has none
        measured: names under which tests compare it
        estimates: names under which the calibration has it
        told_of_lifts: parts of which it is said lift by lift whether anything published would tell of an error
        lines_of_experts: whether consultations with what an expert would want are about it
    """

    id: str
    name: str
    answered_by: dict[str, tuple[str, ...]]
    model: str
    assumptions: tuple[str, ...]
    if_wrong: str
    limits: tuple[str, ...]
    sources: tuple[SourceId, ...]
    known: Known
    unit: str = ""
    measured: tuple[str, ...] = ()
    estimates: tuple[str, ...] = ()
    told_of_lifts: tuple[PartTold, ...] = ()
    lines_of_experts: bool = False


class Check(Record, frozen=True):
    """A check of the arithmetic against something that shares no code with the service.

    Attributes:
        measured: what is compared
        about: lifts or stances
        compared_with: the other way to compute it, or what was known beforehand
        test: module of the tests
        cases: that were compared [count]
        tolerance: greatest deviation that the test allows, None where each case has its own [any]
        deviation: greatest deviation found, rounded up to one digit, None where it is not kept [any]
        unit: of tolerance and deviation
    """

    measured: tuple[str, ...]
    about: str
    compared_with: str
    test: str
    cases: int
    tolerance: float | None = None
    deviation: float | None = None
    unit: str = ""


class Comparison(Record, frozen=True):
    """A published observation beside the number that the service computes for it.

    Attributes:
        id: of the observation
        half: whether it checks, or rules may be fitted to it
        finding: what was published: a difference, that there is none, a bound, or a magnitude
        assumed_spread: whether the spread within which it agrees is assumed, none being published
        study: authors and year
        subject: lifts and condition
        quantity: what was measured
        measured: quantities that are compared
        printed: the finding as printed
        agrees: whether what is computed is the published direction, or within the published spread
        citation: where it is printed
        known: how far it is known
        computed: what the answers come to, None where they are refused [any]
        cause: physical cause of a disagreement
    """

    id: str
    half: Half
    finding: Finding
    assumed_spread: bool
    study: str
    subject: str
    quantity: str
    measured: tuple[str, ...]
    printed: str
    agrees: bool
    citation: str
    known: Known
    computed: float | None = None
    cause: str = ""

    @property
    def is_direction(self) -> bool:
        """Whether a direction is compared, that there is none, or a bound."""
        return self.finding != "magnitude"


class Fault(Record, frozen=True):
    """One figure of the model, question or answer made wrong by itself.

    Attributes:
        what: that was made wrong
        change: by how much
        check: comparisons that check, agreed and then failed [count]
        fit: comparisons that may be fitted to, agreed and then failed [count]
        lift: of which lift alone; empty for all
    """

    what: str
    change: str
    check: int
    fit: int
    lift: str = ""


class Told(Record, frozen=True):
    """Which comparisons would tell that a lift's moment is wrong by 15 %, or its lean by 5 degrees.

    Attributes:
        lift: id of the exercise
        part: region of the moment, or the lean
        by: rows that check, rows that may be fitted to alone, none but rows that disagree as it is, or none
    """

    lift: str
    part: PartTold
    by: ToldBy


class Coverage(Record, frozen=True):
    """How often an interval holds, for simulated lifters drawn from the distributions that the service states.

    Attributes:
        estimate: operation and field
        answers: that were counted [count]
        coverage: share of them whose interval held [1]
        below: share that lay below it [1]
        above: share that lay above it [1]
        meaning: what `interval` says
    """

    estimate: str
    answers: int
    coverage: float
    below: float
    above: float
    meaning: str


class Experts(Record, frozen=True):
    """Consultations written out beforehand, with what an expert would want first and would never want.

    Attributes:
        consultations: that are asked [count]
        wanted: lines of what has to be [count]
        wanted_hold: of them, those that hold [count]
        unwanted: lines of what must not be [count]
        unwanted_hold: of them, those that hold [count]
    """

    consultations: int
    wanted: int
    wanted_hold: int
    unwanted: int
    unwanted_hold: int
