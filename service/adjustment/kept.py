"""How much of the training effect an option is taken to keep, part by part.

No study gives one number. The parts are published or computed, and the index is their product:

- strength: the share of relative load (lopez_2021: heavier is better), the sets of the lift (pelland_2024), effort,
  which hardly matters near failure (robinson_2024) and cannot be nothing far from it, the carry-over of another lift;
- size: the hard sets of each muscle that the present lift trains (pelland_2024), those of very few repetitions in part
  (baz_valle_2021), less where the range is cut, and effort (robinson_2024: size grows with nearness to failure); the
  load does not count (lopez_2021);
- to keep what there is: as strength, but a part of the sets is enough (bickel_2011, spiering_2021);
- tendon: the load on the sore region and its time; below the tolerated range a load keeps nothing.

Each part has the span of what is published, or of our own choice where nothing is. Sets count by the repetitions that
their rest keeps. An untested load is taken to keep a part only, of which the test decides.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import msgspec

from service.adjustment.prescription import Prescription
from service.intervals import Interval, exactly
from service.knowledge.design_choices import CHOICES
from service.knowledge.kept_choices import Fading
from service.training.fractional_sets import (
    muscle_shares,
    size_effect,
    strength_effect,
    trained_muscles,
)
from service.training.tempo import phase_seconds, seconds_per_rep
from service.vocabulary import Aim, KeptPart, Likeness

_CHOICE: Final = CHOICES.adjustments
_WHOLE: Final = exactly(1.0)
_LEAST_EFFORT: Final = 1e-9
"""So that an effort of nothing can be divided by."""


class Kept(msgspec.Struct, frozen=True):
    """The training effect kept, as an index and by its parts.

    Attributes:
        index: product of the parts, 1 for the present lift [1]
        parts: each part against the present lift [1]
        muscles: for size, of each muscle that the present lift trains [1]
    """

    index: Interval
    parts: Mapping[KeptPart, Interval] = {}
    muscles: Mapping[str, Interval] = {}

    @property
    def value(self) -> float:
        """The index that options are compared by [1]."""
        return self.index.value


class Change(msgspec.Struct, frozen=True, gc=False):
    """What became of the lift and its effort.

    Attributes:
        likeness: of the lift as it would be done to the present one
        share: of the lift's own maximum that the load is [1], None where untested
        present_share: the same of the present load [1]
        expected_share: where untested, the share that the stated reserve stands for [1]
        region_load: what the sore region carries, or where no number is known the load, against the present [1]
        target: share of its present demand to which the region is to be brought [1]
        ratio_spread: spread of the ratio between the two lifts over the ratio [1]
        range_cut: part of the range of motion that is left out [1]
        rested: repetitions that the rest keeps over the sets, against the present ones [1]
    """

    likeness: Likeness
    share: float | None
    present_share: float
    expected_share: float
    region_load: float
    target: float
    ratio_spread: float = 0.0
    range_cut: float = 0.0
    rested: float = 1.0


def kept(new: Prescription, present: Prescription, aim: Aim, change: Change) -> Kept:
    """The training effect that a prescription is taken to keep.

    Args:
        new: what would be done
        present: what is done now
        aim: what the lifter trains for
        change: what became of the lift and its effort
    """
    if aim == "tendon":
        return _product(_tendon_parts(new, present, change))
    if aim == "muscle_size":
        return _size(new, present, change)
    sets = new.weekly_sets * change.rested
    if aim == "maintain":
        enough = min(1.0, sets / present.weekly_sets / _CHOICE.maintaining_share_of_sets)
        by_sets = Interval(enough, min(enough, sets / present.weekly_sets), 1.0 if enough == 1.0 else enough)
    else:
        by_sets = _WHOLE if sets >= present.weekly_sets else strength_effect(sets, present.weekly_sets)
    return _product(
        {
            "relative_load": _relative_load(change),
            "sets": by_sets,
            "effort": _effort(new, present, _CHOICE.effect_fades.strength),
            "carry_over": _carry_over(change.likeness),
        }
    )


def _product(parts: Mapping[KeptPart, Interval], muscles: Mapping[str, Interval] | None = None) -> Kept:
    index = _WHOLE
    shown = {name: part for name, part in parts.items() if part != _WHOLE}
    for part in shown.values():
        index = index.times(part)
    return Kept(Interval(*(round(end, 6) for end in (index.value, index.low, index.high))), shown, muscles or {})


def _relative_load(change: Change) -> Interval:
    """The share of the relative load that is kept; of an untested one by the reserve at which it is stopped."""
    if change.share is None:
        return _CHOICE.untested_effect.scaled(min(1.0, change.expected_share / change.present_share))
    ratio, spread = change.share / change.present_share, change.ratio_spread
    return Interval(ratio, ratio / (1 + spread), ratio / (1 - spread)).at_most(1.0)


def _carry_over(likeness: Likeness) -> Interval:
    value = _CHOICE.specificity[likeness]
    return _WHOLE if value == 1.0 else Interval(value, min(value, _CHOICE.least_specificity), 1.0)


def effort_factor(reserve: float, fades: float) -> float:
    """Effort of a set: 1 for a hard one, falling to nothing as the repetitions in reserve go beyond one.

    Args:
        reserve: repetitions in reserve [count]
        fades: repetitions in reserve over which the effect falls to nothing [count]

    Returns:
        The effort [1].
    """
    return max(0.0, min(1.0, 1 - (reserve - CHOICES.effort.hard_set_reserve) / fades))


def _effort(new: Prescription, present: Prescription, fades: Fading) -> Interval:
    """Effort against the present one; a hold has none that is counted in repetitions."""
    hard = new.counted_reserve <= CHOICES.effort.hard_set_reserve
    if hard or new.hold is not None or present.hold is not None:
        return _WHOLE
    values = [
        min(
            1.0,
            effort_factor(new.counted_reserve, over) / max(effort_factor(present.counted_reserve, over), _LEAST_EFFORT),
        )
        for over in (fades.value, fades.low, fades.high)
    ]
    return Interval(values[0], min(values), max(values))


def _size(new: Prescription, present: Prescription, change: Change) -> Kept:
    """Size: the muscles of the present lift, each by its hard sets and its range, then effort."""
    parts: dict[KeptPart, Interval] = {"effort": _effort(new, present, _CHOICE.effect_fades.muscle_size)}
    if change.share is None:
        parts["untested_load"] = _CHOICE.untested_effect
    before, after = muscle_shares(present.exercise), muscle_shares(new.exercise)
    sets = new.weekly_sets * new.share_of_set * change.rested
    usual = present.weekly_sets * present.share_of_set
    muscles = {
        muscle: _of_muscle(
            muscle,
            sets * after.get(muscle, 0.0),
            usual * before[muscle],
            change,
        )
        for muscle in trained_muscles(present.exercise)
    }
    weights = {muscle: before[muscle] for muscle in muscles}
    if muscles:
        parts["sets"] = _mean(muscles, weights)
        return _product(parts, muscles)
    parts["sets"] = size_effect(sets, usual).at_most(1.0)
    parts["carry_over"] = _carry_over(change.likeness)
    return _product(parts)


def _of_muscle(muscle: str, sets: float, usual: float, change: Change) -> Interval:
    effect = _WHOLE if sets >= usual else size_effect(sets, usual)
    if change.range_cut == 0.0:
        return effect
    lost = _CHOICE.range_loss.quads if muscle == "quads" else _CHOICE.range_loss.other
    return effect.times(
        Interval(*(max(0.0, 1 - change.range_cut * loss) for loss in (lost.value, lost.high, lost.low)))
    )


def _mean(muscles: Mapping[str, Interval], weights: Mapping[str, float]) -> Interval:
    """The mean over muscles, each as much as the present lift trains it."""
    whole = sum(weights.values())
    return Interval(
        sum(one.value * weights[muscle] for muscle, one in muscles.items()) / whole,
        sum(one.low * weights[muscle] for muscle, one in muscles.items()) / whole,
        sum(one.high * weights[muscle] for muscle, one in muscles.items()) / whole,
    )


def _tendon_parts(new: Prescription, present: Prescription, change: Change) -> dict[KeptPart, Interval]:
    """The load on the region, nothing below the tolerated range unless it is held for long, and its time a week."""
    tolerated = new.hold is not None or change.region_load >= _CHOICE.tendon_least_of_target * change.target
    load = min(1.0, change.region_load) if tolerated else 0.0
    time = min(1.0, _seconds_a_week(new) / _seconds_a_week(present))
    by_time = size_effect(time, 1.0)
    parts: dict[KeptPart, Interval] = {
        "tendon_load": exactly(load),
        "time_under_tension": Interval(by_time.value, time, 1.0),
    }
    if change.share is None and new.hold is None:
        parts["untested_load"] = _CHOICE.untested_effect
    return parts


def _seconds_a_week(prescription: Prescription) -> float:
    """Time under tension of a week [s]; without a tempo of repetitions at the usual one."""
    if prescription.hold is not None:
        return prescription.hold * prescription.reps_a_week
    tempo = prescription.tempo or _CHOICE.usual_tempo
    return seconds_per_rep(phase_seconds(tempo)).value * prescription.reps_a_week
