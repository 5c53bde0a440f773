"""The published observations as one typed table, data/comparisons.csv, and when a computed number agrees with a row.

Every observation that we hold is a row, whether the service can be asked about it or not. Half of them may be used to
fit the model's rules and half only to check them: a row that its collection had marked keeps the mark, a row that a
rule was made from is for fitting, and the others are dealt out by a hash of their id.
"""

from __future__ import annotations

import ast
import csv
import operator
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from hashlib import sha256
from math import inf
from statistics import fmean
from typing import Any, Final, Literal

import msgspec

from service.knowledge.records import Known
from tests.science.reference.answers import ANSWERED, DATA, NAMES, SETUPS, Answer

Split = Literal["fit", "check"]
Mark = Literal["hash", "given", "fitted", "derived"]
Expected = Literal["", "higher", "lower", "no_difference", "bound", "value", "range"]

LETTERS: Final = "abcdef"

ASSUMED_SD: Final[dict[str, float]] = {"ratio": 0.10, "absolute": 0.20, "deg": 5.0, "points": 5.0}
"""What stands for a standard deviation that is not published: a tenth of a ratio, a fifth of a moment or force, which
is what the model is good for within and between people by our own judgement; five degrees; five percentage points."""

OF_NO_SIZE: Final = 1e-3
"""A change smaller than this is none: answers have six figures, of which a ratio of differences keeps fewer."""

NOT_COMPUTED: Final[dict[str, str]] = {
    "same_as": "the same finding as another row, which is computed",
    "no_such_quantity": "no operation answers the quantity that was measured",
    "no_such_input": "no operation can be asked about what was varied",
    "lift_not_modelled": "no model covers the lift",
    "muscle_activity": "electrical activity of a muscle, not a moment or an angle",
    "muscle_force": "force or stress of a muscle, tendon or joint surface, which no operation answers",
    "condition_unreadable": "load, depth, axis or style is not printed where it was read",
    "no_size": "a correlation or a test of significance without a size or a direction",
    "an_input": "a figure that describes how lifters stand or what they lift, and which the caller states",
    "definition": "true by definition, not measured",
    "memory": "remembered and not seen: never a check",
    "repetitions": "repetitions, tempo or rest: compared where those are computed",
    "strength": "what lifters manage in one lift beside another: compared where ratios are",
    "method": "about a method of measurement, not about a lift",
}


class Comparison(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One published observation.

    Attributes:
        id: of the row
        split: whether it may be fitted to, or only checks
        mark: why: dealt out by the hash of the id, marked so by its collection, made use of by a rule, or derived
        fitted: constants of the service that were made from it
        study: authors and year
        subject: the lift or lifts in the study's words
        condition: what was compared
        quantity: what was measured
        printed: the finding as printed
        expected: what a computed number has to be
        published: the figure, in the unit of the measure
        sd: its standard deviation between lifters, as printed or worked out from what is
        low: lower end of a published range or bound
        high: upper end of a published range or bound
        unit: of the measure, which says what is assumed where no standard deviation is published
        group: lifters over whom the mean is taken
        setups: a, b, c … of the measure, in this order
        measure: arithmetic of the answers to the setups
        not_computed: why it is not computed, by its code
        remark: what to mind
        cause: physical cause of a disagreement
        source: where it is printed
        known: how far it is known
    """

    id: str
    split: Split
    mark: Mark
    study: str
    subject: str
    quantity: str
    source: str
    known: Known
    condition: str = ""
    printed: str = ""
    fitted: str = ""
    expected: Expected = ""
    published: float | None = None
    sd: float | None = None
    low: float | None = None
    high: float | None = None
    unit: Literal["", "ratio", "absolute", "deg", "points"] = ""
    group: str = ""
    setups: tuple[str, ...] = ()
    measure: str = ""
    not_computed: str = ""
    remark: str = ""
    cause: str = ""

    @property
    def is_direction(self) -> bool:
        """Whether a direction is compared, that there is none, or a bound; otherwise a magnitude."""
        return self.expected in {"higher", "lower", "no_difference", "bound"}

    @property
    def askable(self) -> bool:
        """Whether the service as it stands can be asked, with nothing changed in what it knows."""
        return all(SETUPS.setups[name].askable for name in self.setups)

    @property
    def lifts(self) -> tuple[str, ...]:
        """The lifts and stances that it is about."""
        return tuple(dict.fromkeys(SETUPS.setups[name].subject for name in self.setups))

    @property
    def neutral(self) -> float:
        """The number that stands for no difference."""
        return 1.0 if self.unit == "ratio" else 0.0

    @property
    def assumes_spread(self) -> bool:
        """Whether the spread within which it agrees is assumed, none being published."""
        return self.expected in {"value", "no_difference"} and self.sd is None

    @property
    def is_absolute(self) -> bool:
        """Whether it is about one setup, neither a difference from another nor a ratio."""
        return len(self.setups) == 1 and self.unit != "ratio"

    def operations(self) -> tuple[str, ...]:
        """The operations that have to be asked."""
        names = _names(self.measure)
        return tuple(operation for operation, answered in ANSWERED.items() if names & set(answered))

    def computed(self, answers: Mapping[tuple[str, str], Answer]) -> float | None:
        """The number that the answers come to, the mean over the lifters; None where an answer is missing.

        Args:
            answers: by names of lifter and setup
        """
        found = []
        for lifter in SETUPS.groups[self.group]:
            each = dict(zip(LETTERS, (answers[lifter, name] for name in self.setups), strict=False))
            try:
                found.append(value_of(self.measure, each))
            except (KeyError, ZeroDivisionError):
                return None
        return fmean(found)

    def accepted(self) -> tuple[float, float]:
        """The span within which a computed number agrees."""
        if self.expected in {"range", "bound"}:
            return self.low or 0.0, self.high or 0.0
        if self.expected == "higher":
            return self.neutral + OF_NO_SIZE, inf
        if self.expected == "lower":
            return -inf, self.neutral - OF_NO_SIZE
        middle = self.neutral if self.expected == "no_difference" else self.published or 0.0
        relative = self.unit in {"ratio", "absolute"}
        spread = ASSUMED_SD[self.unit] * (abs(middle) if relative else 1.0) if self.sd is None else self.sd
        return middle - spread, middle + spread

    def agrees(self, computed: float | None) -> bool:
        """Whether a computed number agrees with the row."""
        low, high = self.accepted()
        return computed is not None and low <= computed <= high


def dealt(row_id: str) -> Split:
    """The half into which the hash of an id puts a row."""
    return "check" if sha256(row_id.encode()).digest()[0] % 2 else "fit"


@cache
def comparisons() -> tuple[Comparison, ...]:
    """The rows of data/comparisons.csv."""
    with (DATA / "comparisons.csv").open(encoding="utf-8", newline="") as lines:
        rows = [{name: cell for name, cell in row.items() if cell} for row in csv.DictReader(lines, strict=True)]
    listed = [row | {"setups": str(row.get("setups", "")).split()} for row in rows]
    return tuple(msgspec.convert(row, Comparison, strict=False) for row in listed)


def rows_computed() -> tuple[Comparison, ...]:
    """The rows that the service is asked about."""
    return tuple(row for row in comparisons() if row.measure)


# --- the arithmetic of a measure --------------------------------------------------------------------------------------

_OPERATORS: Final[dict[type[ast.operator], Callable[[float, float], float]]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
}
_FUNCTIONS: Final[dict[str, Callable[..., float]]] = {"min": min, "max": max}


@cache
def _parsed(measure: str) -> ast.expr:
    return ast.parse(measure, mode="eval").body


@cache
def _names(measure: str) -> frozenset[str]:
    return frozenset(node.attr for node in ast.walk(_parsed(measure)) if isinstance(node, ast.Attribute))


def parts(measure: str) -> set[tuple[str, str]]:
    """Each letter of a setup with each name of an answer that a measure speaks of."""
    nodes = [node for node in ast.walk(_parsed(measure)) if isinstance(node, ast.Attribute)]
    return {(node.value.id, node.attr) for node in nodes if isinstance(node.value, ast.Name) and node.attr in NAMES}


def value_of(measure: str, answers: Mapping[str, Answer]) -> float:
    """The number that a measure comes to.

    Args:
        measure: four kinds of sums, min and max, over the named numbers of each setup
        answers: by the letter of the setup
    """
    return _value(_parsed(measure), answers)


def _value(node: ast.expr, answers: Mapping[str, Answer]) -> float:
    """Nothing else is evaluated than what `value_of` says."""
    match node:
        case ast.Constant(value=float() | int() as value):
            return float(value)
        case ast.Attribute(value=ast.Name(id=letter), attr=name):
            return answers[letter][name]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, answers)
        case ast.BinOp(left=left, op=sign, right=right):
            return _OPERATORS[type(sign)](_value(left, answers), _value(right, answers))
        case ast.Call(func=ast.Name(id=name), args=arguments):
            return _FUNCTIONS[name](*_values(arguments, answers))
        case _:
            raise ValueError(f"Not arithmetic: {ast.unparse(node)}")


def _values(nodes: Sequence[Any], answers: Mapping[str, Answer]) -> list[float]:
    return [_value(node, answers) for node in nodes]
