"""What the muscle is asked to do, and how much of the training effect an option is taken to keep.

No study gives one number for the effect kept. The parts are computed or published: hard sets (baz_valle_2021), relative
load (lopez_2021: it matters for strength, little for size near failure), volume load. The index over them is our own
choice: for strength the hard sets times the share of relative load, for size the hard sets, each times what is taken to
carry over from a variation or another exercise.
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.adjustment.prescription import Prescription
from service.knowledge.loader import CHOICES
from service.training.volume import volume_load

Aim = Literal["strength", "muscle_size", "tendon", "maintain"]
Likeness = Literal["same", "variation", "exercise"]
HARD: Final[float] = CHOICES["effort"]["hard_set_reserve"]
CHOICE: Final = CHOICES["adjustments"]


class Stimulus(msgspec.Struct, frozen=True):
    """Against the present prescription.

    hard_sets, volume_load: ratios of the week; relative_load: share of the lift's own maximum [1], None where
    untested; reserve: expected repetitions in reserve after the top of the range [count]; muscle_moment: ratio of
    the moment asked of hip and knee together; kept: index from 0 to 1.
    """

    hard_sets: float
    volume_load: float
    relative_load: float | None
    reserve: float
    muscle_moment: float
    kept: float


def effort_factor(reserve: float) -> float:
    """1 for a hard set, falling to nothing as the repetitions in reserve go beyond one."""
    fades_over: float = CHOICE["effect_fades_over"]
    return max(0.0, min(1.0, 1 - (reserve - HARD) / fades_over))


def stimulus(
    new: Prescription,
    present: Prescription,
    aim: Aim,
    likeness: Likeness,
    share: float | None,
    present_share: float,
    muscle_moment: float,
) -> Stimulus:
    """Stimulus of a prescription against the present one; shares are of each lift's own maximum [1]."""

    def volume(p: Prescription) -> float:
        return volume_load(p.weekly_sets, (p.reps.low + p.reps.high) / 2, p.load)

    sets = new.weekly_sets / present.weekly_sets
    hard = min(1.0, sets) * effort_factor(new.reserve) / max(effort_factor(present.reserve), 1e-9)
    load = min(1.0, share / present_share) if share is not None else min(1.0, muscle_moment)
    kept = hard * CHOICE["specificity"][likeness] * (1.0 if aim == "muscle_size" else load)
    relative = volume(new) / volume(present) if volume(present) else 0.0
    return Stimulus(sets, relative, share, new.reserve, muscle_moment, round(min(1.0, kept), 6))
