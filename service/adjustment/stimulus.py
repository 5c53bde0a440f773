"""What the muscle is asked to do against the present prescription."""

from __future__ import annotations

import msgspec

from service.adjustment.kept import Kept
from service.adjustment.prescription import Prescription
from service.intervals import Interval, exactly
from service.training.rest import reps_kept
from service.training.tempo import phase_seconds, seconds_per_rep
from service.training.volume import volume_load


class Stimulus(msgspec.Struct, frozen=True):
    """What the muscle is asked to do, against the present prescription.

    Attributes:
        hard_sets: ratio of the week's sets [1]
        volume_load: ratio of the week's sets × repetitions × load [1]
        relative_load: share of the lift's own maximum [1], None where untested and for holds
        reserve: expected repetitions in reserve after the top of the range [count]
        muscle_moment: ratio of the moment asked of hip and knee together [1], None where not computed
        set_seconds: time under tension of a set in the middle of the range [s], None without a tempo
        kept: the training effect that is taken to be kept
    """

    hard_sets: float
    volume_load: float
    relative_load: float | None
    reserve: float
    muscle_moment: float | None
    set_seconds: Interval | None
    kept: Kept


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
    if new.rest is None or present.rest is None or (new.rest, new.sets) == (present.rest, present.sets):
        return 1.0
    after, before = reps_kept(new.rest, new.sets), reps_kept(present.rest, present.sets)
    return 1.0 if after is None or before is None else after.value / before.value


def stimulus(
    new: Prescription,
    present: Prescription,
    moved: float,
    share: float | None,
    rested: float,
    muscle_moment: float | None,
    kept: Kept,
) -> Stimulus:
    """Stimulus of a prescription against the present one.

    Args:
        new: what would be done
        present: what is done now
        moved: what the lift moves against the present one [1]
        share: of the lift's own maximum that the new load is [1], None where untested
        rested: repetitions that the rest keeps over the sets, against the present ones [1]
        muscle_moment: ratio to the present [1], None where not computed
        kept: the training effect that is taken to be kept
    """
    weeks = [volume_load(one.weekly_sets, (one.reps.low + one.reps.high) / 2, 1.0) for one in (new, present)]
    relative = weeks[0] / weeks[1] * moved * rested
    sets = new.weekly_sets / present.weekly_sets
    of_maximum = share if present.hold is None else None
    return Stimulus(sets, relative, of_maximum, new.counted_reserve, muscle_moment, set_seconds(new), kept)
