"""rep-targets: repetitions that keep the volume load, and those that keep the effort."""

from __future__ import annotations

from typing import Final

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from service.adjustment.prescription import may_be_unloaded
from service.api.models.base import RequestModel, ResponseModel, or_default, stated
from service.api.models.common import (
    Basis,
    BasisReserve,
    BodyMass,
    Caution,
    Estimate,
    MassRange,
    RatioRange,
    RepRange,
    SetCount,
    as_rep_range,
    cautions,
    estimate,
    positive,
    reps_range,
)
from service.api.models.ids import ExerciseId
from service.api.models.operation import Example, Operation
from service.api.models.own_body import BODY_COUNTED, body_lifted
from service.errors import Refusal
from service.intervals import Interval, difference
from service.knowledge.design_choices import CHOICES
from service.training.load_repetition import person_curve, relation_for
from service.training.repetition_maximum import estimate_reps
from service.training.volume import Reps, equal_volume_reps, volume_load
from service.units import Mass, mass, si

HARD_SET_RESERVE: Final = CHOICES.effort.hard_set_reserve


class CurrentSets(RequestModel, kw_only=True, frozen=True):
    """The sets as they are now; repetitions in reserve are those left after the top of the range."""

    sets: SetCount
    reps: RepRange
    load: Mass
    reps_in_reserve: BasisReserve | UnsetType = UNSET


class RepTargets(RequestModel, kw_only=True, frozen=True):
    """Repetitions that keep volume, and those that keep effort, when load or number of sets change."""

    current: CurrentSets
    new_load: Mass | UnsetType = UNSET
    new_sets: SetCount | UnsetType = UNSET
    exercise: ExerciseId | UnsetType = UNSET
    body_mass: BodyMass | UnsetType = UNSET


class VolumeChange(ResponseModel, kw_only=True, frozen=True):
    """Volume load (sets × repetitions × load) before and after."""

    current: MassRange
    new: MassRange


class EqualVolume(ResponseModel, kw_only=True, frozen=True):
    """The sets and repetitions that keep the volume load, and the new volume as a ratio of the old at either end."""

    sets: int
    reps: RepRange
    volume_load: VolumeChange
    ratio: RatioRange


class EffortChange(ResponseModel, kw_only=True, frozen=True):
    """Repetitions left in reserve after the top of the range, before and after, at equal volume."""

    current: Estimate
    new: Estimate


class EqualEffort(ResponseModel, kw_only=True, frozen=True):
    """The repetitions that leave as many in reserve as now."""

    reps: RepRange


class RepTargetsAnswer(ResponseModel, kw_only=True, frozen=True):
    """Equal volume and equal effort side by side, because they are not the same."""

    equal_volume: EqualVolume
    effort: EffortChange | None
    equal_effort: EqualEffort | None
    achievable: bool | None
    counts_as_hard: bool | None
    basis: Basis
    cautions: list[Caution]


EFFORT = "one standard deviation between people either side: about two thirds of them"


def rep_targets(request: RepTargets) -> RepTargetsAnswer:
    """Equal volume and equal effort for a changed load or number of sets."""
    current = request.current
    old = reps_range(current.reps, "/current/reps")
    lift = stated(request.exercise)
    body = body_lifted(lift, request.body_mass)
    if _nothing_on(request) and not body and (lift is None or may_be_unloaded(lift)):
        return _body_alone(request)
    load = body + si(current.load) if body else positive(current.load, "/current/load")
    unit = current.load.unit
    if isinstance(request.new_load, UnsetType):
        new_load = load
    else:
        new_load = body + si(request.new_load) if body else positive(request.new_load, "/new_load")
    new_unit = unit if isinstance(request.new_load, UnsetType) else request.new_load.unit
    sets = int(current.sets)
    new_sets = sets if isinstance(request.new_sets, UnsetType) else int(request.new_sets)
    new = equal_volume_reps(sets, old, load, new_sets, new_load)
    before = [volume_load(sets, reps, load) for reps in (old.low, old.high)]
    after = [volume_load(new_sets, reps, new_load) for reps in (new.low, new.high)]
    effort, codes, achievable, hard, equal, facts = _effort(current, lift, old, new, load, new_load)
    relation = relation_for(lift)
    return RepTargetsAnswer(
        equal_volume=EqualVolume(
            sets=new_sets,
            reps=as_rep_range(new),
            volume_load=VolumeChange(
                current=MassRange(low=mass(before[0], unit), high=mass(before[1], unit)),
                new=MassRange(low=mass(after[0], new_unit), high=mass(after[1], new_unit)),
            ),
            ratio=RatioRange.over(after[0] / before[0], after[1] / before[1]),
        ),
        effort=effort,
        equal_effort=equal,
        achievable=achievable,
        counts_as_hard=hard,
        basis=Basis(
            method=f"volume load = sets × repetitions × load; effort by {relation.id}",
            sources=["hornsby_2018", relation.source, "baz_valle_2021", "design_choice"],
            assumptions=[
                "Repetitions in reserve are those left after the top of the range.",
                "The new low end is rounded up and the new high end down; where they cross, the nearest whole repetition.",
                f"A set with more than {HARD_SET_RESERVE:g} repetitions in reserve does not count as hard (our own choice).",
                *([BODY_COUNTED] if body else []),
            ],
            evidence="computed",
        ),
        cautions=cautions(*codes, **facts),
    )


def _nothing_on(request: RepTargets) -> bool:
    """Whether neither the present nor the new sets have a load, as in body-weight squats."""
    new = or_default(request.new_load, request.current.load)
    return request.current.load.value == 0 == new.value


def _body_alone(request: RepTargets) -> RepTargetsAnswer:
    """The answer where the body alone is lifted: as with any load that stays, but that no volume load can be told."""
    current = request.current
    one = Mass(1.0, current.load.unit)
    found = rep_targets(replace(request, current=replace(current, load=one), new_load=one))
    none = MassRange(low=Mass(0.0, one.unit), high=Mass(0.0, one.unit))
    volume = replace(found.equal_volume, volume_load=VolumeChange(current=none, new=none))
    return replace(found, equal_volume=volume)


def _effort(
    current: CurrentSets, lift: str | None, old: Reps, new: Reps, load: float, new_load: float
) -> tuple[EffortChange | None, list[str], bool | None, bool | None, EqualEffort | None, dict[str, str]]:
    """What equal volume does to effort; all None where the present effort is not stated."""
    if isinstance(current.reps_in_reserve, UnsetType):
        return None, ["no_reserve_stated"], None, None, None, {}
    reserve = current.reps_in_reserve
    failure = old.high + reserve
    relation = relation_for(lift)
    curve = person_curve(lift, 0)
    if failure > relation.reps[1]:
        raise Refusal.one(
            "current/reps/high",
            f"{failure:g} repetitions to failure (with those in reserve) are outside the range of {relation.id}.",
            f"up to {relation.reps[1]:g} repetitions to failure",
        )
    share = curve.share_at(failure) * new_load / load
    if share < curve.shares[-1]:
        least = relation.reps[1] - new.high
        bound = f"at least {least:.0f} repetitions would be left in reserve at equal volume"
        codes = ["effort_out_of_range", *(["no_longer_hard"] if least > HARD_SET_RESERVE else [])]
        return None, codes, True, least <= HARD_SET_RESERVE, None, {"bound": bound, "reserve": f"{least:.0f} or more"}
    if share > 1:
        return (
            None,
            ["equal_volume_not_achievable", "effort_out_of_range"],
            False,
            None,
            None,
            {"bound": "the load is above the estimated maximum"},
        )
    found = estimate_reps(relation, lift, load, failure, new_load, lifted=load)
    left = found.less(new.high)
    shift = difference(found.value, failure)
    equal_low, equal_high = round(old.low + shift), int(old.high + shift + 1e-9)
    equal = (
        EqualEffort(reps=RepRange(low=max(1, min(equal_low, equal_high)), high=equal_high)) if equal_high >= 1 else None
    )
    achievable, hard = left.value >= 0, left.value <= HARD_SET_RESERVE
    codes = [*([] if achievable else ["equal_volume_not_achievable"]), *([] if hard else ["no_longer_hard"])]
    now = Interval(reserve, reserve, reserve)
    change = EffortChange(
        current=estimate(now, "as stated", "reps in reserve"), new=estimate(left, EFFORT, "reps in reserve")
    )
    return change, codes, achievable, hard, equal, {"reserve": f"{left.value:.0f}"}


OPERATION: Final = Operation(
    name="rep-targets",
    leading="current",
    tag="Volume",
    summary="Repetitions that keep volume, and those that keep effort",
    description="When load (kg or lb) or sets change: the repetitions that keep the volume load, what that does to the repetitions in reserve, and the "
    "repetitions that keep the effort. Says when equal volume is not achievable and when effort falls so far that the set no longer counts as hard "
    "(more than 4 in reserve, our own choice). Without reps_in_reserve (0 to 4) effort is null.",
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
