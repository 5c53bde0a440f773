"""Load–repetition relations: what share of the maximum a number of repetitions to failure stands for.

Each relation is data (knowledge/relations.toml: form, constants, range, source); this module only reads the forms. The
tables are interpolated linearly in the logarithm of repetitions, which is how the 2024 meta-regression was fitted
(nuzzo_2024: log repetitions, spread between people in repetitions). A relation is refused outside its range.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Final, Literal

import msgspec

from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import ExerciseId, Known, Record, SourceId
from service.knowledge.studies import REPETITION_TABLES, RepetitionTable

Form = Literal[
    "linear", "hyperbolic", "power", "exponential", "cubic", "five_rep_line", "fixed_percent", "table", "not_computed"
]


class Relation(Record, frozen=True):
    """One relation as the catalogue shows it; `reps` is the range of repetitions to failure inside which it is used."""

    id: str
    name: str
    form: Form
    equation: str
    reps: tuple[float, float]
    careful_above: float
    source: SourceId
    known: Known
    constants: dict[str, float] = msgspec.field(default_factory=dict)
    table: RepetitionTable | Literal[""] = ""
    exercises: tuple[ExerciseId, ...] = ()
    note: str = ""

    @property
    def is_curve(self) -> bool:
        """Whether the relation gives a share of the maximum for any repetitions in its range, not only a maximum."""
        return self.form not in ("five_rep_line", "fixed_percent", "not_computed")


class Curve(msgspec.Struct, frozen=True):
    """A table ready for interpolation: shares of the maximum falling, logarithms of repetitions rising."""

    shares: tuple[float, ...]
    log_reps: tuple[float, ...]

    def reps_at(self, share: float) -> float:
        """Repetitions to failure at a share of the maximum inside the table."""
        ascending = self.shares[::-1]
        return math.exp(_interpolated(ascending, self.log_reps[::-1], share))

    def share_at(self, reps: float) -> float:
        """Share of the maximum at a number of repetitions to failure; held at the table's last row beyond it."""
        return _interpolated(self.log_reps, self.shares, math.log(reps))


def _interpolated(xs: tuple[float, ...], ys: tuple[float, ...], x: float) -> float:
    if x <= xs[0]:
        return ys[0]
    if x >= xs[-1]:
        return ys[-1]
    right = bisect.bisect_right(xs, x)
    left = right - 1
    return ys[left] + (ys[right] - ys[left]) * (x - xs[left]) / (xs[right] - xs[left])


def _curve(rows: list[tuple[float, float]]) -> Curve:
    """A curve from (share, repetitions) rows; rows that do not lie above the one before are left out.

    The latter happens only to a curve one SD below the mean near the maximum, where the spread is as large as the mean.
    """
    shares, log_reps = [1.0], [0.0]
    for share, reps in rows:
        if share < 1 and reps > 1 and math.log(reps) > log_reps[-1]:
            shares.append(share)
            log_reps.append(math.log(reps))
    return Curve(tuple(shares), tuple(log_reps))


def _scaled(general: list[tuple[float, float]], published: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """The general rows scaled through a few published rows of one lift, down to the lowest published row."""
    mean = dict(general)
    ratio_shares = tuple(share for share, _ in published)
    ratios = tuple(reps / mean[share] for share, reps in published)
    return [
        (share, reps * _interpolated(ratio_shares, ratios, share))
        for share, reps in general
        if share >= ratio_shares[0]
    ]


def _tables() -> tuple[dict[str, dict[int, Curve]], dict[float, float]]:
    """Every table as curves for people at the mean and one SD below and above it, and the SDs by share."""

    def of(name: RepetitionTable) -> list[tuple[float, float]]:
        return [(row.share_of_max, row.mean_reps) for row in REPETITION_TABLES if row.table == name]

    spread = {row.share_of_max: row.sd_reps for row in REPETITION_TABLES if row.sd_reps}
    general = of("general")
    means = {
        "general": general,
        "textbook": of("textbook"),
        "bench_press": _scaled(general, sorted(of("bench_press"))),
        "leg_press": _scaled(general, sorted(of("leg_press"))),
    }
    curves = {
        name: {
            place: _curve([(share, reps + place * spread.get(share, 0.0)) for share, reps in mean])
            for place in (-1, 0, 1)
        }
        for name, mean in means.items()
    }
    return curves, spread


RELATIONS: Final = read_tables("relations.toml", Relation)
DEFAULT_RELATION: Final = "meta_regression_2024"
_CURVES, _SPREAD = _tables()
_PERCENT_TOLERANCE: Final = CHOICES.load_repetition.fixed_percent_tolerance


@cache
def relation_for(exercise: str | None) -> Relation:
    """The default relation for a lift: its own table where one is published, else the general one (nuzzo_2024)."""
    own = f"{DEFAULT_RELATION}_{exercise}"
    return RELATIONS.get(own, RELATIONS[DEFAULT_RELATION])


def applies_to(relation: Relation, exercise: str | None) -> bool:
    """Whether the relation may be shown for a lift: those made on one lift only for that lift."""
    return not relation.exercises or exercise in relation.exercises


@cache
def shown_for(exercise: str | None) -> tuple[Relation, ...]:
    """The relations that may be shown for a lift."""
    return tuple(relation for relation in RELATIONS.values() if applies_to(relation, exercise))


def covers(relation: Relation, reps: float) -> bool:
    """Whether repetitions to failure are inside the relation's range; one repetition, the maximum itself, always is."""
    low, high = relation.reps
    return relation.form != "not_computed" and (low <= reps <= high or reps == 1)


@cache
def person_curve(exercise: str | None, place: int) -> Curve:
    """The meta-regression's curve for a lift, for a person `place` (−1, 0 or 1) standard deviations from the mean."""
    return _CURVES[relation_for(exercise).table][place]


def check_range(relation: Relation, reps: float, parameter: str = "reps") -> None:
    """Refuse repetitions to failure [count] outside the relation's range; one repetition is the maximum itself."""
    if covers(relation, reps):
        return
    if relation.form == "not_computed":
        raise Refusal.one("relation", f"{relation.name} is listed for completeness and not computed: {relation.note}")
    low, high = relation.reps
    raise Refusal.one(
        parameter,
        f"{reps:g} repetitions to failure (repetitions done plus repetitions in reserve) are outside the range of "
        f"{relation.id}.",
        f"{low:g} to {high:g} repetitions to failure",
    )


def _share_function(relation: Relation) -> Callable[[float], float]:
    """The relation's share of the maximum as a function of repetitions to failure, its constants bound."""
    c = relation.constants
    match relation.form:
        case "table":
            return _CURVES[relation.table][0].share_at
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
            raise ValueError(relation.form)


_SHARES: Final = {relation.id: _share_function(relation) for relation in RELATIONS.values() if relation.is_curve}


_ENDS: Final = {
    relation.id: tuple(1.0 if reps == 1 else _SHARES[relation.id](reps) for reps in relation.reps)
    for relation in RELATIONS.values()
    if relation.is_curve
}
"""Shares of the maximum at the ends of each curve relation's range of repetitions."""


@cache
def curves_for(exercise: str | None) -> tuple[tuple[Relation, Callable[[float], float]], ...]:
    """The curve relations that may be shown for a lift, each with its share of the maximum as a plain function.

    The functions hold inside the relation's range and above one repetition; `covers` tells.
    """
    return tuple((relation, _SHARES[relation.id]) for relation in shown_for(exercise) if relation.is_curve)


@lru_cache(maxsize=4096)
def shares_at(exercise: str | None, reps: float) -> dict[str, float]:
    """Share of the maximum [1] that allows `reps` to failure [count], by each curve that covers them.

    Kept for the few numbers of repetitions that there are: of the relations, and of no lifter.
    """
    return {
        relation.id: 1.0 if reps == 1 else share_at(reps)
        for relation, share_at in curves_for(exercise)
        if covers(relation, reps)
    }


def share_of_max(relation: Relation, reps: float) -> float:
    """Share of the maximum [1] that allows `reps` repetitions to failure [count], by a curve relation.

    One repetition to failure is the maximum by definition, whatever the equation would return there.
    Raises Refusal outside the relation's range. Source: the relation's own.
    """
    check_range(relation, reps)
    if reps == 1:
        return 1.0
    if relation.id not in _SHARES:
        raise Refusal.one("relation", f"{relation.id} gives a maximum only, not a load for other repetitions.")
    return _SHARES[relation.id](reps)


def maximum(relation: Relation, load: float, reps: float) -> float:
    """One-repetition maximum [kg] from a load [kg] and its repetitions to failure [count].

    Raises Refusal outside the relation's range, or where a relation made for sets at one percentage of the maximum is
    asked about a set at another. Source: the relation's own.
    """
    check_range(relation, reps)
    c = relation.constants
    if reps == 1:
        return load
    if relation.form == "five_rep_line":
        return c["slope"] * load + c["intercept_kg"]
    if relation.form == "fixed_percent":
        found = c["intercept_kg"] + c["product"] * reps * load + c["reps_slope_kg"] * reps
        if found <= 0 or abs(load / found - c["percent"] / 100) > _PERCENT_TOLERANCE:
            raise Refusal.one("load", f"{relation.id} holds for sets at {c['percent']:g} % of the maximum only.")
        return found
    return load / share_of_max(relation, reps)


def reps_at_share(relation: Relation, share: float) -> float:
    """Repetitions to failure [count] at a share of the maximum [1]: the inverse of `share_of_max`.

    Raises Refusal outside the shares that the relation's range of repetitions covers.
    """
    low, high = relation.reps
    if not relation.is_curve:
        raise Refusal.one("relation", f"{relation.id} gives a maximum only, not repetitions at a load.")
    top, bottom = _ENDS[relation.id]
    if not bottom - 1e-12 <= share <= top + 1e-12:
        raise Refusal.one(
            "load",
            f"The load is {100 * share:.4g} % of the estimated maximum, outside what {relation.id} covers.",
            f"{100 * bottom:.4g} to {100 * top:.4g} % of the estimated maximum",
        )
    if share >= 1 - 1e-12:
        return 1.0
    return min(high, max(low, _reps_function(relation, share)))


def _reps_function(relation: Relation, share: float) -> float:
    """Repetitions to failure at a share inside the relation's range: the forms solved for repetitions."""
    c = relation.constants
    match relation.form:
        case "table":
            return _CURVES[relation.table][0].reps_at(share)
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


def _solved_cubic(c: dict[str, float], share: float) -> float:
    """Repetitions at which the cubic gives a share, by Newton's method from its inflection: no overshoot from there."""
    c0, c1, c2, c3 = c["c0"], c["c1"], c["c2"], c["c3"]
    reps = -c2 / (3 * c3)
    for _ in range(8):
        miss = c0 + reps * (c1 + reps * (c2 + reps * c3)) - 1 / share
        reps -= miss / (c1 + reps * (2 * c2 + reps * 3 * c3))
    return reps
