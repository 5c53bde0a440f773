"""What one prescription changes against another, by the names that reviews and ways back share."""

from __future__ import annotations

from typing import Final

from service.adjustment.prescription import Prescription
from service.knowledge.substitutions import SUBSTITUTES
from service.mechanics.setups import USUAL_TECHNIQUE
from service.vocabulary import Change, Lever

LOAD_TOLERANCE: Final = 1e-6
"""Difference below which two loads are one [kg]."""


def changes_between(before: Prescription, after: Prescription) -> tuple[Change, ...]:
    """The names of everything by which two prescriptions differ, the lift itself first.

    Repetitions in reserve are expected from the rest and no change of their own. Another exercise brings its own usual
    depth and technique: only what is stated of them counts as a change.

    Args:
        before: what was done
        after: what is to be done
    """
    other_lift = before.exercise != after.exercise
    technique = (before.technique or USUAL_TECHNIQUE) != (after.technique or USUAL_TECHNIQUE)
    differing: dict[Change, bool] = {
        "range_of_motion": before.depth != after.depth,
        "technique": technique and not other_lift,
        "cues": before.cues != after.cues,
        "load": abs(max(before.load, 0.0) - max(after.load, 0.0)) > LOAD_TOLERANCE,
        "assistance": abs(min(before.load, 0.0) - min(after.load, 0.0)) > LOAD_TOLERANCE,
        "sets": before.sets != after.sets,
        "reps": before.reps != after.reps,
        "hold": before.hold != after.hold,
        "tempo": before.tempo != after.tempo,
        "rest": before.rest != after.rest,
        "days": before.days != after.days,
    }
    lift: tuple[Change, ...] = (lever_between(before.exercise, after.exercise),) if other_lift else ()
    return tuple(dict.fromkeys((*lift, *(name for name, differs in differing.items() if differs))))


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
