"""Load–repetition relations: the share of the maximum that allows a number of repetitions to failure.

Each relation is data (relations.toml: formula, range, source). A relation is refused outside its range.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from typing import Final

from service.errors import Refusal, into
from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_tables
from service.knowledge.records import ExerciseId, Known, Record, SourceId
from service.training.relation_forms import CurveForm, FiveRepLine, FixedPercent, Form, NotComputed, Tabulated
from service.training.repetition_tables import CURVES, LIFTERS, Curve, Lifters

SHARE_TOLERANCE: Final = 1e-12  # [1], a share of the maximum may lie this far beyond a range by rounding


class Relation(Record, frozen=True):
    """One relation as the catalogue shows it.

    Attributes:
        id: in relations.toml
        name: for people
        formula: its form with the constants
        equation: in words or symbols
        reps: fewest and most repetitions to failure for which the relation is used [count]
        careful_above: repetitions to failure above which confidence is low [count]
        source: id in the bibliography
        known: how far the constants are known
        exercises: lifts for which the relation was made; empty for all
        note: remarks for people
    """

    id: str
    name: str
    formula: Form
    equation: str
    reps: tuple[float, float]
    careful_above: float
    source: SourceId
    known: Known
    exercises: tuple[ExerciseId, ...] = ()
    note: str = ""

    @property
    def form(self) -> str:
        """Name of the formula's form."""
        return str(self.formula.__struct_config__.tag)

    @property
    def is_curve(self) -> bool:
        """Whether the relation gives a share of the maximum for any repetitions in its range, not only a maximum."""
        return isinstance(self.formula, CurveForm)


RELATIONS: Final = read_tables("relations.toml", Relation)
DEFAULT_RELATION: Final = "meta_regression_2024"
_TABLES: Final = {
    relation.id: relation.formula.table for relation in RELATIONS.values() if isinstance(relation.formula, Tabulated)
}
_PERCENT_TOLERANCE: Final = CHOICES.load_repetition.fixed_percent_tolerance


@cache
def relation_for(exercise: str | None) -> Relation:
    """The default relation for a lift: its own table where one is published, else the general one (nuzzo_2024)."""
    own = f"{DEFAULT_RELATION}_{exercise}"
    return RELATIONS.get(own, RELATIONS[DEFAULT_RELATION])


def applies_to(relation: Relation, exercise: str | None) -> bool:
    """Whether the relation may be shown for a lift: one made on some lifts only for those."""
    return not relation.exercises or exercise in relation.exercises


@cache
def shown_for(exercise: str | None) -> tuple[Relation, ...]:
    """The relations that may be shown for a lift."""
    return tuple(relation for relation in RELATIONS.values() if applies_to(relation, exercise))


def covers(relation: Relation, reps: float) -> bool:
    """Whether repetitions are inside the relation's range; one repetition, the maximum itself, always is.

    Args:
        relation: any
        reps: repetitions to failure [count]
    """
    low, high = relation.reps
    return not isinstance(relation.formula, NotComputed) and (low <= reps <= high or reps == 1)


@cache
def person_curve(exercise: str | None, z_score: int) -> Curve:
    """The meta-regression's curve of single tests for a lift and a person.

    Args:
        exercise: id; None for any lift
        z_score: person's distance from the mean in standard deviations of repetitions, −1, 0 or 1 [1]

    Source: nuzzo_2024.
    """
    return CURVES[_TABLES[relation_for(exercise).id]][z_score]


@cache
def lifters_for(exercise: str | None) -> Lifters:
    """Lifters over the distribution of people, each by the meta-regression's curve of a usual day.

    Args:
        exercise: id; None for any lift

    Source: nuzzo_2024, mitter_2022 (what of the spread is the day's).
    """
    return LIFTERS[_TABLES[relation_for(exercise).id]]


def check_range(relation: Relation, reps: float, parameter: str = "reps") -> None:
    """Check repetitions against the relation's range; one repetition is the maximum itself.

    Args:
        relation: any
        reps: repetitions to failure [count]
        parameter: name of the argument to which a refusal points

    Raises:
        Refusal: outside the range, and for a relation that is listed but not computed
    """
    if covers(relation, reps):
        return
    if isinstance(relation.formula, NotComputed):
        raise Refusal.one("relation", f"{relation.name} is listed for completeness and not computed: {relation.note}")
    low, high = relation.reps
    raise Refusal.one(
        parameter,
        f"{reps:g} repetitions to failure (repetitions done plus repetitions in reserve) are outside the range of "
        f"{relation.id}.",
        f"{low:g} to {high:g} repetitions to failure",
        change=into(reps, low, high),
    )


_FORMS: Final = {
    relation.id: relation.formula for relation in RELATIONS.values() if isinstance(relation.formula, CurveForm)
}
_SHARES: Final = {name: form.share_function() for name, form in _FORMS.items()}
_REPS: Final = {name: form.reps_at for name, form in _FORMS.items()}


_ENDS: Final = {
    name: tuple(1.0 if reps == 1 else share_at(reps) for reps in RELATIONS[name].reps)
    for name, share_at in _SHARES.items()
}
"""Shares of the maximum at the ends of each curve relation's range of repetitions."""


@cache
def curves_for(exercise: str | None) -> tuple[tuple[Relation, Callable[[float], float]], ...]:
    """The curve relations that may be shown for a lift, each with its share of the maximum as a plain function.

    The functions are valid where `covers` is true, and above one repetition.
    """
    return tuple((relation, _SHARES[relation.id]) for relation in shown_for(exercise) if relation.is_curve)


@lru_cache(maxsize=4096)
def shares_at(exercise: str | None, reps: float) -> dict[str, float]:
    """Share of the maximum that allows some repetitions, by each curve relation that covers them.

    Args:
        exercise: id; None for any lift
        reps: repetitions to failure [count]

    Returns:
        share of the maximum [1] by the relation's id
    """
    return {
        relation.id: 1.0 if reps == 1 else share_at(reps)
        for relation, share_at in curves_for(exercise)
        if covers(relation, reps)
    }


def share_of_max(relation: Relation, reps: float) -> float:
    """Share of the maximum that allows some repetitions, by a curve relation.

    One repetition to failure is the maximum by definition, whatever the equation would return there.

    Args:
        relation: a curve relation
        reps: repetitions to failure [count]

    Returns:
        share of the maximum [1]

    Raises:
        Refusal: outside the relation's range

    Source: the relation's own.
    """
    check_range(relation, reps)
    if reps == 1:
        return 1.0
    if relation.id not in _SHARES:
        raise Refusal.one("relation", f"{relation.id} gives a maximum only, not a load for other repetitions.")
    return _SHARES[relation.id](reps)


def maximum(relation: Relation, load: float, reps: float) -> float:
    """One-repetition maximum from a load and its repetitions to failure.

    Args:
        relation: any that is computed
        load: mass lifted [kg]
        reps: repetitions to failure [count]

    Returns:
        one-repetition maximum [kg]

    Raises:
        Refusal: outside the relation's range, and for a set at another percentage of the maximum than the one that a
            relation was made for

    Source: the relation's own.
    """
    check_range(relation, reps)
    if reps == 1:
        return load
    if relation.id in _SHARES:
        return load / _SHARES[relation.id](reps)
    match relation.formula:
        case FiveRepLine() as line:
            return line.maximum(load)
        case FixedPercent() as regression:
            estimate = regression.maximum(load, reps)
            if estimate <= 0 or abs(load / estimate - regression.percent / 100) > _PERCENT_TOLERANCE:
                percent = f"{regression.percent:g} %"
                raise Refusal.one("load", f"{relation.id} holds for sets at {percent} of the maximum only.")
            return estimate
        case _:
            raise ValueError(relation.form)  # whatever is not computed was refused with its range


def reps_at_share(relation: Relation, share: float, maximum: float = 1.0) -> float:
    """Repetitions to failure at a share of the maximum: the inverse of share_of_max.

    Args:
        relation: a curve relation
        share: share of the maximum [1]
        maximum: of which it is the share, so that a refusal can name a load [kg]

    Returns:
        repetitions to failure [count]

    Raises:
        Refusal: outside the shares that the relation's range of repetitions covers

    Source: the relation's own.
    """
    low, high = relation.reps
    reps_at = _REPS.get(relation.id)
    if reps_at is None:
        raise Refusal.one("relation", f"{relation.id} gives a maximum only, not repetitions at a load.")
    top, bottom = _ENDS[relation.id]
    if not bottom - SHARE_TOLERANCE <= share <= top + SHARE_TOLERANCE:
        raise Refusal.one(
            "load",
            f"The load is {100 * share:.4g} % of the estimated maximum, outside what {relation.id} covers.",
            f"{100 * bottom:.4g} to {100 * top:.4g} % of the estimated maximum",
            change=into(share, bottom, top) * maximum,
        )
    if share >= 1 - SHARE_TOLERANCE:
        return 1.0
    return min(high, max(low, reps_at(share)))
