"""What the muscle is asked to do, and how much of the training effect an option is taken to keep.

No study gives one number for the effect kept. The parts are computed or published: hard sets (baz_valle_2021), relative
load (lopez_2021: it matters for strength, little for size near failure), effort (robinson_2024: size grows with
nearness to failure, strength hardly), and for keeping what there is a third of the sets at the same relative load
(bickel_2011, spiering_2021). The index over them is our own choice: for size the sets times their effort, otherwise,
and where a load is untested, the sets times the share of relative load, each times what is taken to carry over from
the lift as it is now to the lift as it would be done. Sets count by the repetitions that their rest keeps.
"""

from __future__ import annotations

from typing import Final

import msgspec

from service.adjustment.prescription import Prescription
from service.intervals import Interval, exactly
from service.knowledge.design_choices import CHOICES
from service.training.rest import reps_kept
from service.training.tempo import phase_seconds, seconds_per_rep
from service.training.volume import volume_load
from service.vocabulary import Aim, Likeness

_LEAST_EFFORT: Final = 1e-9
"""So that an effort of nothing can be divided by."""


class Stimulus(msgspec.Struct, frozen=True):
    """What the muscle is asked to do, against the present prescription.

    Attributes:
        hard_sets: ratio of the week's sets [1]
        volume_load: ratio of the week's sets × repetitions × load [1]
        relative_load: share of the lift's own maximum [1], None where untested and for holds
        reserve: expected repetitions in reserve after the top of the range [count]
        muscle_moment: ratio of the moment asked of hip and knee together [1], None where not computed
        set_seconds: time under tension of a set in the middle of the range [s], None without a tempo
        kept: index of the training effect kept, from 0 to 1 [1]
    """

    hard_sets: float
    volume_load: float
    relative_load: float | None
    reserve: float
    muscle_moment: float | None
    set_seconds: Interval | None
    kept: float


def effort_factor(reserve: float) -> float:
    """Effort of a set: 1 for a hard one, falling to nothing as the repetitions in reserve go beyond one.

    Args:
        reserve: repetitions in reserve [count]

    Returns:
        The effort [1].
    """
    fades_over = CHOICES.adjustments.effect_fades_over
    return max(0.0, min(1.0, 1 - (reserve - CHOICES.effort.hard_set_reserve) / fades_over))


def set_seconds(prescription: Prescription) -> Interval | None:
    """Time under tension of one set [s]: of the hold, or of the repetitions in the middle of the range."""
    if prescription.hold is not None:
        return exactly(prescription.hold)
    if prescription.tempo is None:
        return None
    reps = (prescription.reps.low + prescription.reps.high) / 2
    return seconds_per_rep(phase_seconds(prescription.tempo)).scaled(reps)


def rest_factor(new: Prescription, present: Prescription) -> float:
    """Repetitions that the rest keeps over the sets, against the present ones [1]; 1 where nothing is known."""
    if new.rest is None or present.rest is None:
        return 1.0
    after, before = reps_kept(new.rest, new.sets), reps_kept(present.rest, present.sets)
    return 1.0 if after is None or before is None else after.value / before.value


def stimulus(
    new: Prescription,
    present: Prescription,
    moved: float,
    aim: Aim,
    likeness: Likeness,
    share: float | None,
    present_share: float,
    muscle_moment: float | None,
) -> Stimulus:
    """Stimulus of a prescription against the present one.

    Args:
        new: what would be done
        present: what is done now
        moved: what the lift moves against the present one [1]
        aim: what the lifter trains for
        likeness: of the lift as it would be done to the present one
        share: of the lift's own maximum that the new load is [1], None where untested
        present_share: the same of the present load [1]
        muscle_moment: ratio to the present [1], None where not computed
    """
    sets = new.weekly_sets / present.weekly_sets
    needed = CHOICES.adjustments.maintaining_share_of_sets if aim == "maintain" else 1.0
    rested = rest_factor(new, present)
    volume = min(1.0, sets * rested / needed)
    if aim == "muscle_size" and share is not None:
        quality = min(
            1.0, effort_factor(new.counted_reserve) / max(effort_factor(present.counted_reserve), _LEAST_EFFORT)
        )
    else:
        quality = _relative(share, present_share, muscle_moment)
    kept = volume * quality * CHOICES.adjustments.specificity[likeness]
    weeks = [volume_load(one.weekly_sets, (one.reps.low + one.reps.high) / 2, 1.0) for one in (new, present)]
    relative = weeks[0] / weeks[1] * moved * rested
    return Stimulus(
        sets,
        relative,
        share if present.hold is None else None,
        new.counted_reserve,
        muscle_moment,
        set_seconds(new),
        round(min(1.0, kept), 6),
    )


def _relative(share: float | None, present_share: float, muscle_moment: float | None) -> float:
    if share is not None:
        return min(1.0, share / present_share)
    return CHOICES.adjustments.untested_share if muscle_moment is None else max(0.0, min(1.0, muscle_moment))
