"""rep-targets: repetitions that keep the volume load, and those that keep the effort."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Final

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from service.adjustment.prescription import may_be_unloaded
from service.api.models.base import RequestModel, ResponseModel, or_default, stated
from service.api.models.common import (
    FURTHEST_BASIS,
    Basis,
    Estimate,
    MassRange,
    RatioRange,
    RepRange,
    SetCount,
    as_rep_range,
    cautions,
    estimate,
    positive,
)
from service.api.models.ids import ExerciseId
from service.api.models.operation import Example, Operation
from service.api.models.own_body import BODY_COUNTED, body_lifted, lifted
from service.api.models.prescription import NOT_FLAT, PrescribedReserve, RestOfPrescription, reps_of
from service.api.operations._repetition_maximum import ERRORS, PEOPLE, SOURCES_OF_ERRORS
from service.errors import Refusal
from service.intervals import exactly
from service.messages import Message, message
from service.training.equal_volume_effort import HARD_SET_RESERVE, Effort, effort_at_equal_volume
from service.training.load_repetition import relation_for
from service.training.volume import equal_volume_reps, volume_load
from service.units import Duration, Mass, mass, si


class CurrentSets(RestOfPrescription, kw_only=True, frozen=True):
    """The sets as they are now, or a whole prescription.

    Above 4 in reserve, and for a hold, nothing is said of effort: no maximum is based on them.

    Attributes:
        exercise: In the place of the question's exercise.
        sets: Sets now.
        reps: Repetitions of a set now. Null or left out: only with a hold.
        load: Load now, in lifts of one's own body what is added to it.
        assistance: In lifts of one's own body, what a band or machine takes off. Null or left out: nothing.
        reps_in_reserve: Repetitions that would still be possible after the top of the range, 0 (failure) to 30; halves
            are fine. Null or left out: not known, and nothing is said of effort.
        hold: How long each repetition is held still. Null or left out: repetitions move.
    """

    exercise: Annotated[ExerciseId | None, NOT_FLAT] = None
    sets: SetCount
    reps: RepRange | None = None
    load: Mass
    assistance: Mass | None = None
    reps_in_reserve: PrescribedReserve | None = None
    hold: Duration | None = None


class RepTargets(RequestModel, kw_only=True, frozen=True):
    """Repetitions that keep volume, and those that keep effort, when load or number of sets change.

    Attributes:
        current: The sets as they are now.
        new_load: The new load. Left out: it stays.
        new_sets: The new number of sets. Left out: it stays.
        exercise: Id of the exercise, see GET /v1/exercises. Left out: any lift, by the general relation.
        body_mass: Body mass, 30 to 250 kg: needed in lifts of one's own body, such as pull-ups. Left out: not needed.
    """

    current: CurrentSets
    new_load: Mass | UnsetType = UNSET
    new_sets: SetCount | UnsetType = UNSET
    exercise: ExerciseId | UnsetType = UNSET
    body_mass: Mass | UnsetType = UNSET


class VolumeChange(ResponseModel, kw_only=True, frozen=True):
    """Volume load (sets × repetitions × load) before and after.

    Attributes:
        current: Now.
        new: With the new load and sets.
    """

    current: MassRange
    new: MassRange


class EqualVolume(ResponseModel, kw_only=True, frozen=True):
    """The sets and repetitions that keep the volume load.

    Attributes:
        sets: Sets.
        reps: Repetitions of a set.
        volume_load: Volume load before and after.
        ratio: The new volume as a ratio of the old, over both ends of the range.
    """

    sets: int
    reps: RepRange
    volume_load: VolumeChange
    ratio: RatioRange


class EffortChange(ResponseModel, kw_only=True, frozen=True):
    """Repetitions left in reserve after the top of the range, at equal volume.

    Attributes:
        current: Now.
        new: With the new load and repetitions; less than nothing where they cannot be done.
    """

    current: Estimate
    new: Estimate


class EqualEffort(ResponseModel, kw_only=True, frozen=True):
    """The repetitions that leave as many in reserve as now.

    Attributes:
        reps: Repetitions of a set.
    """

    reps: RepRange


class RepTargetsAnswer(ResponseModel, kw_only=True, frozen=True):
    """Equal volume and equal effort side by side, because they are not the same.

    Attributes:
        equal_volume: What keeps the volume.
        effort: What that does to effort; null where nothing is said of it.
        equal_effort: What keeps the effort; null where nothing is said of it.
        achievable: Whether the repetitions of equal volume can be done at all; null where nothing is said of effort.
        counts_as_hard: Whether these sets still come near enough to failure to count as hard ones; null where nothing
            is said of effort.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    equal_volume: EqualVolume
    effort: EffortChange | None
    equal_effort: EqualEffort | None
    achievable: bool | None
    counts_as_hard: bool | None
    basis: Basis
    cautions: list[Message]


def rep_targets(request: RepTargets) -> RepTargetsAnswer:
    """Equal volume and equal effort for a changed load or number of sets."""
    current = request.current
    old = reps_of(current.reps, current.hold, "/current")
    lift = _exercise(request)
    body = body_lifted(lift, request.body_mass)
    if _nothing_on(request) and not body and (lift is None or may_be_unloaded(lift)):
        return _body_alone(request)
    load = lifted(current.load, current.assistance, body, "/current")
    unit = current.load.unit
    changed = stated(request.new_load)
    new_mass, new_load = (current.load, load) if changed is None else (changed, _new_load(changed, body))
    sets, new_sets = int(current.sets), int(or_default(request.new_sets, current.sets))
    new = equal_volume_reps(sets, old, load, new_sets, new_load)
    before = [volume_load(sets, reps, load) for reps in (old.low, old.high)]
    after = [volume_load(new_sets, reps, new_load) for reps in (new.low, new.high)]
    unknown = _effort_unknown(current)
    reserve = None if unknown else current.reps_in_reserve
    effort = None
    if reserve is not None:
        try:
            effort = effort_at_equal_volume(lift, old, reserve, load, new, new_load)
        except Refusal as refusal:
            raise refusal.at({"/reps/high": "/current/reps/high"}) from None
    relation = relation_for(lift)
    return RepTargetsAnswer(
        equal_volume=EqualVolume(
            sets=new_sets,
            reps=as_rep_range(new),
            volume_load=VolumeChange(
                current=MassRange(low=mass(before[0], unit), high=mass(before[1], unit)),
                new=MassRange(low=mass(after[0], new_mass.unit), high=mass(after[1], new_mass.unit)),
            ),
            ratio=RatioRange.over(after[0] / before[0], after[1] / before[1]),
        ),
        effort=_change(reserve, effort),
        equal_effort=None
        if effort is None or effort.equal_effort is None
        else EqualEffort(reps=as_rep_range(effort.equal_effort)),
        achievable=None if effort is None else effort.achievable,
        counts_as_hard=None if effort is None else effort.hard,
        basis=Basis(
            method=message("method_volume_load", relation=relation.id),
            sources=[
                *("hornsby_2018", relation.source, "baz_valle_2021"),
                *(() if effort is None else SOURCES_OF_ERRORS),
                "design_choice",
            ],
            assumptions=[
                message("assumed_reserve_after_top_of_range"),
                message("assumed_ends_rounded_inwards"),
                message("assumed_hard_set", reserve=HARD_SET_RESERVE),
                *([] if effort is None else [ERRORS()]),
                *([message(BODY_COUNTED)] if body else []),
            ],
            evidence="computed",
        ),
        cautions=cautions(*([unknown] if unknown else _specific(effort))),
    )


def _exercise(request: RepTargets) -> str | None:
    """The lift, stated with the question or with the prescription. Raises Refusal where they name two."""
    lift, prescribed = stated(request.exercise), request.current.exercise
    if None not in (lift, prescribed) and lift != prescribed:
        raise Refusal.one("exercise", "The present sets are of another exercise.", f"left out, or {prescribed}")
    return lift or prescribed


def _new_load(load: Mass, body: float) -> float:
    return body + si(load) if body else positive(load, "/new_load")


def _effort_unknown(current: CurrentSets) -> str | None:
    """The caution that says why nothing is known of the effort; None where it is."""
    if current.hold is not None:
        return "hold_has_no_repetitions_to_failure"
    if current.reps_in_reserve is None:
        return "no_reserve_stated"
    return "reserve_is_no_basis" if current.reps_in_reserve > FURTHEST_BASIS else None


def _nothing_on(request: RepTargets) -> bool:
    """Whether neither the present nor the new sets have a load, as in body-weight squats."""
    new = or_default(request.new_load, request.current.load)
    return request.current.load.value == 0 == new.value


def _body_alone(request: RepTargets) -> RepTargetsAnswer:
    """The answer where the body alone is lifted: as with any load that stays, but without a volume load."""
    current = request.current
    one = Mass(1.0, current.load.unit)
    answer = rep_targets(replace(request, current=replace(current, load=one), new_load=one))
    none = MassRange(low=Mass(0.0, one.unit), high=Mass(0.0, one.unit))
    volume = replace(answer.equal_volume, volume_load=VolumeChange(current=none, new=none))
    return replace(answer, equal_volume=volume)


def _specific(effort: Effort | None) -> Iterator[str | Message]:
    """The cautions about effort where it is known."""
    if effort is None:
        return
    if not effort.achievable:
        yield "equal_volume_not_achievable"
    if effort.left is None:
        least = effort.least_left
        yield "effort_above_maximum" if least is None else message("effort_out_of_range", left=least)
    if effort.hard is False:
        if effort.left is not None:
            yield message("no_longer_hard", reserve=effort.left.value)
        elif effort.least_left is not None:
            yield message("no_longer_hard_at_least", reserve=effort.least_left)


def _change(reserve: float | None, effort: Effort | None) -> EffortChange | None:
    if reserve is None or effort is None or effort.left is None:
        return None
    return EffortChange(
        current=estimate(exactly(reserve), "as stated", "reps in reserve"),
        new=estimate(effort.left, PEOPLE, "reps in reserve"),
    )


OPERATION: Final = Operation(
    name="rep-targets",
    leading="current",
    tag="Volume",
    summary="Repetitions that keep volume, and those that keep effort",
    description="When load (kg or lb) or sets change: the repetitions that keep the volume load, what that does to the repetitions in reserve, and the "
    "repetitions that keep the effort. Says when equal volume is not achievable and when effort falls so far that the set no longer counts as hard "
    "(more than 4 in reserve, our own choice). Without reps_in_reserve, above 4 of them and for a hold effort is null.",
    request=RepTargets,
    answer=RepTargetsAnswer,
    compute=rep_targets,
    examples=(
        Example(
            "lighter-front-squat",
            "4 sets of 5 to 6 at 62.5 kg moved to 55 kg",
            {
                "current": {
                    "sets": 4,
                    "reps": {"low": 5, "high": 6},
                    "load": {"value": 62.5, "unit": "kg"},
                    "reps_in_reserve": 2,
                },
                "new_load": {"value": 55, "unit": "kg"},
                "exercise": "front_squat",
            },
        ),
    ),
)
