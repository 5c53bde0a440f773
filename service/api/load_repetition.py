"""load-for-reps, reps-for-load and estimated-max: what a lifter can lift, from sets that they did."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Annotated, Any

import msgspec
from msgspec import UNSET, Meta, UnsetType

from service.api.operation import Example, Operation
from service.api.shared import (
    Answer,
    BarSetup,
    Basis,
    Caution,
    Closed,
    DoneSet,
    Estimate,
    ExerciseId,
    RelationId,
    RepCount,
    TargetReserve,
    cautions,
    estimate,
    loaded,
    mass_estimate,
    positive,
)
from service.figures.curve import BandPoint, CurvePoint, Mark, load_curve
from service.intervals import Interval, difference
from service.knowledge.design_choices import CHOICES
from service.quantities import SI, Mass, MassUnit, mass, si
from service.refusals import Refusal
from service.training import estimates
from service.training.estimates import People, chosen_relation, people_at, spread_known_up_to
from service.training.own_curve import OwnCurve, fit
from service.training.relations import (
    RELATIONS,
    Relation,
    applies_to,
    check_range,
    covers,
    maximum,
    reps_at_share,
    share_of_max,
    shares_at,
    shown_for,
)

PEOPLE = "one standard deviation between people either side: about two thirds of them"
OWN = "one standard error of the lifter's own curve below and above"
MOST_OWN_REPS = RELATIONS["wathan"].reps[1]
USUAL = tuple(RELATIONS[name] for name in ("epley", "brzycki", "wathan"))


class Target(Closed, kw_only=True, frozen=True):
    """The repetitions wanted, and how many more should be left."""

    reps: RepCount
    reps_in_reserve: TargetReserve = 0


class TargetLoad(Closed, kw_only=True, frozen=True):
    """The load wanted, and how many repetitions should be left."""

    load: Mass
    reps_in_reserve: TargetReserve = 0


class LoadForReps(Closed, kw_only=True, frozen=True):
    """Which load allows the target repetitions, given a set that was done."""

    set: DoneSet
    target: Target
    exercise: ExerciseId | UnsetType = UNSET
    relation: (
        Annotated[RelationId, Meta(description="Use this relation and not the default for the lift.")] | UnsetType
    ) = UNSET
    own_sets: Annotated[
        list[DoneSet],
        Meta(
            max_length=20,
            description="More sets of the lifter's own, of the same lift; with two or more different loads their own curve is used.",
        ),
    ] = []
    bar: BarSetup | UnsetType = UNSET


class RepsForLoad(Closed, kw_only=True, frozen=True):
    """How many repetitions a load allows, given a set that was done."""

    set: DoneSet
    target: TargetLoad
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    own_sets: Annotated[list[DoneSet], Meta(max_length=20)] = []


class EstimatedMax(Closed, kw_only=True, frozen=True):
    """The one-repetition maximum behind one or more sets of one lift."""

    sets: Annotated[list[DoneSet], Meta(min_length=1, max_length=20)]
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET


class RelationLoad(Answer, kw_only=True, frozen=True):
    """What one relation says: the maximum behind the set and the load for the target."""

    relation: RelationId
    estimated_max: Mass
    load: Mass


class RelationReps(Answer, kw_only=True, frozen=True):
    """What one relation says: the maximum behind the set and the repetitions at the target load."""

    relation: RelationId
    estimated_max: Mass
    reps: float


class RelationMax(Answer, kw_only=True, frozen=True):
    """What one relation says: the maximum behind the set."""

    relation: RelationId
    estimated_max: Mass


class OwnCurveAnswer(Answer, kw_only=True, frozen=True):
    """The lifter's own curve: the maximum it gives, how fast load falls with repetitions, and how many sets made it."""

    estimated_max: Estimate
    load_drop_per_rep: Annotated[
        float, Meta(description="Fall of the load from one repetition to the next, as a share of it.")
    ]
    sets: int


class LoadForRepsAnswer(Answer, kw_only=True, frozen=True):
    """The load, what the bar can hold of it (rounded down), and what it is made of."""

    load: Estimate
    loadable: Mass | None
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationLoad]
    basis: Basis
    cautions: list[Caution]


class RepsForLoadAnswer(Answer, kw_only=True, frozen=True):
    """The repetitions at the target effort, and what they are made of."""

    reps: Estimate
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationReps]
    basis: Basis
    cautions: list[Caution]


class EstimatedMaxAnswer(Answer, kw_only=True, frozen=True):
    """The maximum, every published relation that covers the set side by side, and the lifter's own curve if there is one."""

    estimated_max: Estimate
    relations: list[RelationMax]
    spread_of_relations: float
    own_curve: OwnCurveAnswer | None
    basis: Basis
    cautions: list[Caution]


class Question(msgspec.Struct, frozen=True):
    """A done set in SI, the relation to use, and the lifter's own curve if the sets define one."""

    load: float
    reps: float
    reserve: float
    unit: MassUnit
    exercise: str | None
    relation: Relation
    curve: OwnCurve | None


def _failure(done: DoneSet, pointer: str) -> tuple[float, float]:
    return positive(done.load, f"{pointer}/load"), done.reps + done.reps_in_reserve


def _question(
    done: DoneSet, own: list[DoneSet], exercise: str | UnsetType, relation: str | UnsetType, where: str
) -> Question:
    load, reps = _failure(done, where)
    wanted = None if isinstance(relation, UnsetType) else RELATIONS[relation]
    lift = None if isinstance(exercise, UnsetType) else exercise
    if wanted is not None and not applies_to(wanted, lift):
        raise Refusal.one(
            "relation", f"{wanted.id} was made on other lifts.", f"with exercise: {', '.join(wanted.exercises)}"
        )
    used = chosen_relation(lift, wanted)
    curve = None
    if own and wanted is None:
        points = [(load, reps), *(_failure(one, f"/own_sets/{index}") for index, one in enumerate(own))]
        curve = _curve(points, "/own_sets")
    if curve is None:
        try:
            check_range(used, reps)
        except Refusal as refusal:
            raise refusal.at({"/reps": f"{where}/reps"}) from None
    return Question(load, reps, done.reps_in_reserve, done.load.unit, lift, used, curve)


def _curve(points: list[tuple[float, float]], pointer: str) -> OwnCurve:
    for index, (_, reps) in enumerate(points):
        if reps > MOST_OWN_REPS:
            raise Refusal.one(
                pointer.lstrip("/"),
                f"Set {index + 1} has {reps:g} repetitions to failure.",
                "1 to 20 repetitions to failure",
            )
    try:
        return fit(points)
    except Refusal as refusal:
        raise refusal.at({"/sets": pointer}) from None


def _check_own_range(reps: float, pointer: str) -> None:
    """Refuse repetitions to failure so many that no curve of a lifter's own was studied there."""
    if reps > MOST_OWN_REPS:
        raise Refusal.one(
            pointer,
            f"{reps:g} repetitions to failure are outside what a lifter's own curve is used for.",
            f"1 to {MOST_OWN_REPS:g}",
        )


def _maximum(question: Question, people: People) -> Interval:
    if question.curve:
        return estimates.own_maximum(question.curve)
    return estimates.estimate_maximum(question.relation, question.load, question.reps, people)


@lru_cache(maxsize=1024)
def _spread(reps: float) -> float:
    """How far the usual relations differ at a number of repetitions to failure, as a share of the least maximum."""
    found = [share_of_max(relation, reps) for relation in USUAL if covers(relation, reps)]
    return max(found) / min(found) - 1 if found else 0.0


def _codes(question: Question, *more_reps: float) -> list[Caution]:
    most = max(question.reps, *more_reps)
    spread = _spread(question.reps)
    codes = ["stopped_by_pain"]
    if most > question.relation.careful_above:
        codes.append("low_confidence_reps")
    if spread > CHOICES.load_repetition.relations_disagree_above:
        codes.append("relations_disagree")
    if question.reserve > 0:
        codes.append("reserve_is_understated")
    if not question.curve and most > spread_known_up_to(question.exercise):
        codes.append("interval_cut")
    if question.curve and not question.curve.fewest_reps <= most <= question.curve.most_reps:
        codes.append("outside_own_range")
    low, high = (question.curve.fewest_reps, question.curve.most_reps) if question.curve else (0.0, 0.0)
    return cautions(
        *codes,
        reps=f"{question.relation.careful_above:g}",
        spread=f"{100 * spread:.0f} %",
        low=f"{low:g}",
        high=f"{high:g}",
    )


def _basis(question: Question) -> Basis:
    if question.curve:
        return Basis(
            method=f"the lifter's own curve, load = a · e^(−b · repetitions), fitted to {question.curve.sets} sets",
            sources=["mitter_2023", "mitter_2022", "grgic_2020"],
            assumptions=["All sets are of the same lift, done fresh, at one range of motion and tempo."],
            evidence="computed",
        )
    return Basis(
        method=f"{question.relation.id}: {question.relation.equation}",
        sources=list(dict.fromkeys([question.relation.source, "nuzzo_2024", "grgic_2020", "halperin_2022"])),
        assumptions=[
            "Repetitions to failure are the repetitions done plus those in reserve.",
            "A lifter keeps the same place among people at every load.",
            *([] if question.exercise else ["No exercise was named: the general table for all lifts was used."]),
        ],
        evidence="published",
    )


def load_for_reps(request: LoadForReps) -> LoadForRepsAnswer:
    """The load for the target repetitions. Raises Refusal outside the relation's published range."""
    question = _question(request.set, request.own_sets, request.exercise, request.relation, "/set")
    target = request.target.reps + request.target.reps_in_reserve
    people = people_at(question.exercise, question.reps)
    top = _maximum(question, people)
    if question.curve:
        _check_own_range(target, "target/reps")
        found = estimates.own_load(question.curve, target)
        percent = Interval(found.value / top.value, found.low / top.value, min(1.0, found.high / top.value))
    else:
        wanted = people_at(question.exercise, target)
        try:
            found = estimates.estimate_load(question.relation, question.load, question.reps, target, people, wanted)
        except Refusal as refusal:
            raise refusal.at({"/reps": "/target/reps"}) from None
        percent = estimates.spread_of_share(share_of_max(question.relation, target), wanted)
    unit = question.unit
    loadable = loaded(request.bar, found.value, unit)
    rows = []
    there = shares_at(question.exercise, target)
    for relation, share in shares_at(question.exercise, question.reps).items():
        if relation in there:
            top_here = question.load / share
            load_here = top_here * there[relation]
            rows.append(RelationLoad(relation=relation, estimated_max=mass(top_here, unit), load=mass(load_here, unit)))
    meaning = OWN if question.curve else PEOPLE
    return LoadForRepsAnswer(
        load=mass_estimate(found, unit, meaning),
        loadable=loadable,
        percent_of_max=estimate(percent.scaled(100), meaning, "%"),
        estimated_max=mass_estimate(top, unit, f"{meaning}; at least the 4.2 % by which a test of a maximum repeats"),
        relations=rows,
        basis=_basis(question),
        cautions=_codes(question, target) + (cautions("bar_alone_too_heavy")[:1] if loadable is None else []),
    )


def reps_for_load(request: RepsForLoad) -> RepsForLoadAnswer:
    """The repetitions that a load allows. Raises Refusal outside the relation's published range."""
    question = _question(request.set, request.own_sets, request.exercise, request.relation, "/set")
    load = positive(request.target.load, "/target/load")
    people = people_at(question.exercise, question.reps)
    top = _maximum(question, people)
    try:
        if question.curve:
            found = estimates.own_reps(question.curve, load)
            _check_own_range(found.value, "load")
        else:
            found = estimates.estimate_reps(question.relation, question.exercise, question.load, question.reps, load)
    except Refusal as refusal:
        raise refusal.at({"/load": "/target/load"}) from None
    left = request.target.reps_in_reserve
    if difference(found.value, left) < 0:
        raise Refusal.one(
            "target/reps_in_reserve",
            f"At that load about {found.value:.1f} repetitions to failure are expected, fewer than are to be left.",
            f"0 to {found.value:.1f}",
        )
    reps = found.less(left).at_least(0)
    share = load / top.value
    meaning = OWN if question.curve else PEOPLE
    unit = question.unit
    rows = []
    for relation, share_done in shares_at(question.exercise, question.reps).items():
        top_here = question.load / share_done
        try:
            at_load = reps_at_share(RELATIONS[relation], load / top_here)
        except Refusal:
            continue
        rows.append(
            RelationReps(
                relation=relation,
                estimated_max=mass(top_here, unit),
                reps=round(max(0.0, difference(at_load, left)), 3),
            )
        )
    return RepsForLoadAnswer(
        reps=estimate(reps, meaning, "reps"),
        percent_of_max=estimate(Interval(share, load / top.high, load / top.low).scaled(100), meaning, "%"),
        estimated_max=mass_estimate(top, unit, f"{meaning}; at least the 4.2 % by which a test of a maximum repeats"),
        relations=rows,
        basis=_basis(question),
        cautions=_codes(question, found.value),
    )


def estimated_max(request: EstimatedMax) -> EstimatedMaxAnswer:
    """The maximum behind the sets: of several, by the own curve, or else by the one with fewest repetitions to failure."""
    points = [_failure(done, f"/sets/{index}") for index, done in enumerate(request.sets)]
    best = min(range(len(points)), key=lambda index: (points[index][1], -points[index][0]))
    done = request.sets[best]
    question = _question(done, [], request.exercise, request.relation, f"/sets/{best}") if len(points) == 1 else None
    curve = None
    if question is None:
        try:
            curve = _curve(points, "/sets")
        except Refusal:
            curve = None
        if curve is None or not isinstance(request.relation, UnsetType):
            question = _question(done, [], request.exercise, request.relation, f"/sets/{best}")
        else:
            lift = None if isinstance(request.exercise, UnsetType) else request.exercise
            question = Question(
                *points[best], done.reps_in_reserve, done.load.unit, lift, chosen_relation(lift, None), curve
            )
    unit = done.load.unit
    rows = []
    for relation in shown_for(question.exercise):
        try:
            found = maximum(relation, question.load, question.reps)
        except Refusal:
            continue
        rows.append(RelationMax(relation=relation.id, estimated_max=mass(found, unit)))
    own = None
    if curve:
        own_top = mass_estimate(estimates.own_maximum(curve), unit, OWN)
        own = OwnCurveAnswer(
            estimated_max=own_top, load_drop_per_rep=round(1 - math.exp(-curve.rate), 6), sets=curve.sets
        )
    meaning = OWN if question.curve else PEOPLE
    values = [si(row.estimated_max) for row in rows]
    return EstimatedMaxAnswer(
        estimated_max=mass_estimate(
            _maximum(question, people_at(question.exercise, question.reps)),
            unit,
            f"{meaning}; at least the 4.2 % by which a test of a maximum repeats",
        ),
        relations=rows,
        spread_of_relations=round(max(values) / min(values) - 1, 4) if values else 0.0,
        own_curve=own,
        basis=_basis(question),
        cautions=_codes(question, 1),
    )


def picture(request: LoadForReps) -> str:
    """Load against repetitions to failure with the band between people, the set done and the target."""
    answer = load_for_reps(request)
    question = _question(request.set, request.own_sets, request.exercise, request.relation, "/set")
    unit = question.unit
    low, high = (1.0, MOST_OWN_REPS) if question.curve else question.relation.reps
    people = people_at(question.exercise, question.reps)
    counts = [low + (high - low) * step / 40 for step in range(41)]
    found = [
        estimates.own_load(question.curve, reps)
        if question.curve
        else estimates.estimate_load(
            question.relation, question.load, question.reps, reps, people, people_at(question.exercise, reps)
        )
        for reps in counts
    ]
    scale = 1 / SI[unit]
    target = request.target.reps + request.target.reps_in_reserve
    return load_curve(
        [CurvePoint(reps, one.value * scale) for reps, one in zip(counts, found, strict=True)],
        [
            BandPoint(reps, one.low * scale, one.high * scale)
            for reps, one in zip(counts, found, strict=True)
            if question.curve or reps <= spread_known_up_to(question.exercise)
        ],
        [
            Mark("done", question.reps, question.load * scale),
            Mark("wanted", target, answer.load.value, "target", answer.load),
        ],
        unit,
    )


_SET: dict[str, Any] = {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2}

OPERATIONS = (
    Operation(
        name="load-for-reps",
        leading="set",
        tag="Load and repetitions",
        summary="Load that allows a number of repetitions",
        description="Given one set that was done (load in kg or lb, repetitions, 0 to 4 in reserve), the load that allows the target repetitions at "
        "the target effort, with the spread between people. Default: the 2024 meta-regression, 1 to 19.5 repetitions to failure (60 to 100 % of the "
        "maximum); outside a relation's range the answer is a refusal. One repetition with none in reserve returns the load itself. With own sets at "
        "two or more loads the lifter's own curve is used. `loadable` is what the bar can hold, rounded down.",
        request=LoadForReps,
        answer=LoadForRepsAnswer,
        compute=load_for_reps,
        picture_cost=20,
        picture=picture,
        examples=(
            Example(
                "front-squat",
                "A front squat of 62.5 kg for 6 with 2 left: which load for 9 with 2 left?",
                {"set": _SET, "target": {"reps": 9, "reps_in_reserve": 2}, "exercise": "front_squat"},
            ),
            Example(
                "own-curve",
                "The same from the lifter's own sets",
                {
                    "set": _SET,
                    "target": {"reps": 9, "reps_in_reserve": 2},
                    "exercise": "front_squat",
                    "own_sets": [
                        {"load": {"value": 70, "unit": "kg"}, "reps": 4, "reps_in_reserve": 1},
                        {"load": {"value": 55, "unit": "kg"}, "reps": 10, "reps_in_reserve": 1},
                    ],
                    "bar": {"bar": {"value": 15, "unit": "kg"}},
                },
            ),
        ),
    ),
    Operation(
        name="reps-for-load",
        leading="set",
        tag="Load and repetitions",
        summary="Repetitions that a load allows",
        description="Given one set that was done, how many repetitions another load (kg or lb) allows with a stated number in reserve. The load must lie in "
        "the range that the relation covers, by default 60 to 100 % of the estimated maximum.",
        request=RepsForLoad,
        answer=RepsForLoadAnswer,
        compute=reps_for_load,
        examples=(
            Example(
                "front-squat",
                "How many at 55 kg with 2 left?",
                {
                    "set": _SET,
                    "target": {"load": {"value": 55, "unit": "kg"}, "reps_in_reserve": 2},
                    "exercise": "front_squat",
                },
            ),
        ),
    ),
    Operation(
        name="estimated-max",
        tag="Load and repetitions",
        summary="One-repetition maximum behind one or more sets",
        description="The maximum (in the unit of the load) with its interval, every published relation that covers the set side by side, and the lifter's own "
        "curve if the sets define one (two or more loads at least 5 % apart). Of several sets the one with the fewest repetitions to failure decides "
        "where no curve is used. Sets with more than 4 repetitions in reserve are refused as a basis.",
        request=EstimatedMax,
        answer=EstimatedMaxAnswer,
        compute=estimated_max,
        examples=(
            Example(
                "front-squat",
                "The maximum behind 62.5 kg for 6 with 2 left",
                {"sets": [_SET], "exercise": "front_squat"},
            ),
        ),
    ),
)
