"""What one prescription changes against another, by the names that reviews and ways back share."""

from __future__ import annotations

from typing import Final

from msgspec.structs import astuple

from service.adjustment.prescription import Prescription
from service.knowledge.substitutions import SUBSTITUTES
from service.mechanics.setups import Depth, Technique
from service.mechanics.technique import prescribed
from service.vocabulary import Change, Lever

LOAD_TOLERANCE: Final = 1e-3
"""Difference below which two loads are one [kg]: no plate is as light, and plates marked in other units are rounded."""
_SAME: Final = 1e-6
"""Difference below which two lengths [m], angles [rad] or times [s] are one: units were changed."""


def changes_between(before: Prescription, after: Prescription) -> tuple[Change, ...]:
    """The names of everything by which two prescriptions differ, the lift itself first.

    Repetitions in reserve are expected from the rest and no change of their own. Another exercise brings its own usual
    depth and technique: only what is stated of them counts as a change.

    Args:
        before: what was done
        after: what is to be done
    """
    other_lift = before.exercise != after.exercise
    technique = not _alike(prescribed(before.technique), prescribed(after.technique))
    differing: dict[Change, bool] = {
        "range_of_motion": not _alike(before.depth, after.depth),
        "technique": technique and not other_lift,
        "cues": before.cues != after.cues,
        "load": abs(max(before.load, 0.0) - max(after.load, 0.0)) > LOAD_TOLERANCE,
        "assistance": abs(min(before.load, 0.0) - min(after.load, 0.0)) > LOAD_TOLERANCE,
        "sets": before.sets != after.sets,
        "reps": before.reps != after.reps,
        "hold": not _same(before.hold, after.hold),
        "tempo": before.tempo != after.tempo,
        "rest": not _same(before.rest, after.rest),
        "days": before.days != after.days,
        "implement": before.held != after.held and not other_lift,
        "side": before.side != after.side,
    }
    lift: tuple[Change, ...] = (lever_between(before.exercise, after.exercise),) if other_lift else ()
    return tuple(dict.fromkeys((*lift, *(name for name, differs in differing.items() if differs))))


def _alike(before: Depth | Technique | None, after: Depth | Technique | None) -> bool:
    """Whether two depths or two techniques are one, but for the rounding of their numbers."""
    if before is None or after is None:
        return before is after
    return all(map(_same, astuple(before), astuple(after)))


def _same(before: object, after: object) -> bool:
    """Whether two parts of a prescription are one; numbers but for their rounding [any]."""
    if isinstance(before, float) and isinstance(after, float):
        return abs(before - after) <= _SAME
    return before == after


def lever_between(before: str, after: str) -> Lever:
    """What the change from one exercise to another counts as: the lever of the substitution, whichever way it goes.

    Args:
        before: id of the exercise that was done
        after: id of the exercise that is to be done
    """
    for one, other in ((after, before), (before, after)):
        for substitute in SUBSTITUTES.get(one, ()):
            if substitute.exercise == other:
                return substitute.lever
    return "exercise"
