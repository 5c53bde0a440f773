"""Equations of the load–repetition relations, and their inverses."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

from service.training.repetition_tables import CURVES

Form = Literal[
    "linear", "hyperbolic", "power", "exponential", "cubic", "five_rep_line", "fixed_percent", "table", "not_computed"
]

Constants = dict[str, float]
"""Constants of an equation by name, as relations.toml has them."""


def share_function(form: Form, c: Constants, table: str) -> Callable[[float], float]:
    """The share of the maximum [1] as a function of repetitions to failure [count].

    Args:
        form: of the equation
        c: constants by name
        table: name of the table where the form is one
    """
    match form:
        case "table":
            return CURVES[table][0].share_at
        case "linear":
            slope = c["slope"]
            return lambda reps: 1 / (1 + slope * reps)
        case "hyperbolic":
            start, fall, numerator = c["start"], c["slope"], c["numerator"]
            return lambda reps: (start - fall * reps) / numerator
        case "power":
            exponent = -c["exponent"]
            return lambda reps: float(reps**exponent)
        case "exponential":
            floor, drop, rate, hundred = c["floor"], c["drop"], c["rate"], c["numerator"]
            return lambda reps: (floor + drop * math.exp(-rate * reps)) / hundred
        case "cubic":
            c0, c1, c2, c3 = c["c0"], c["c1"], c["c2"], c["c3"]
            return lambda reps: 1 / (c0 + reps * (c1 + reps * (c2 + reps * c3)))
        case _:
            raise ValueError(form)


def reps_at(share: float, form: Form, c: Constants, table: str) -> float:
    """Repetitions to failure at a share inside a relation's range: the inverse of share_function.

    Args:
        share: share of the maximum [1]
        form: of the equation
        c: constants by name
        table: name of the table where the form is one

    Returns:
        repetitions to failure [count]
    """
    match form:
        case "table":
            return CURVES[table][0].reps_at(share)
        case "linear":
            return (1 / share - 1) / c["slope"]
        case "hyperbolic":
            return (c["start"] - c["numerator"] * share) / c["slope"]
        case "power":
            return float(share ** (-1 / c["exponent"]))
        case "exponential":
            return -math.log((c["numerator"] * share - c["floor"]) / c["drop"]) / c["rate"]
        case _:
            return _solved_cubic(c, share)


def _solved_cubic(c: Constants, share: float) -> float:
    """Repetitions at which the cubic gives a share, by Newton's method from its inflection: no overshoot from there."""
    c0, c1, c2, c3 = c["c0"], c["c1"], c["c2"], c["c3"]
    reps = -c2 / (3 * c3)
    for _ in range(8):
        miss = c0 + reps * (c1 + reps * (c2 + reps * c3)) - 1 / share
        reps -= miss / (c1 + reps * (2 * c2 + reps * 3 * c3))
    return reps
