"""The maximum that a set tells of, on which a lifter's posture depends near it."""

from __future__ import annotations

from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.mechanics.seen import Departure
from service.mechanics.setups import USUAL_TECHNIQUE, Maximum
from service.training.load_repetition import covers, relation_for, share_of_max


def maximum_told(
    exercise: str, posture: str | None, load: float, reps: float | None, reserve: float | None, *, held: bool = False
) -> Maximum | None:
    """The maximum by the lift's usual relation of load and repetitions, which says nothing of holds.

    Args:
        exercise: id
        posture: id of the posture rule by which it is done, None without one
        load: on the implement [kg]
        reps: in a set, None where that is not stated [count]
        reserve: repetitions left after it, None where that is not stated [count]
        held: whether its repetitions are held still

    Returns:
        None where effort is not stated, or lies outside the relation
    """
    if held or posture is None or reps is None or reserve is None or load <= 0.0:
        return None
    relation = relation_for(exercise)
    to_failure = reps + reserve
    if not relation.is_curve or not covers(relation, to_failure):
        return None
    return Maximum(posture, load / share_of_max(relation, to_failure))


def maximum_of(prescription: Prescription) -> Maximum | None:
    """The maximum that the set of a prescription tells of; None where it tells none.

    Args:
        prescription: with its load, repetitions and what is left after them
    """
    one = prescription
    return maximum_told(one.exercise, one.posture, one.load, one.reps.high, one.reserve, held=one.hold is not None)


def lifted_near(
    maximum: Maximum | None, prescription: Prescription, departure: Departure | None = None
) -> Prescription:
    """The prescription with what is known of the lifter and is no part of what is prescribed.

    Args:
        maximum: of one exercise; it says nothing of others
        prescription: of any exercise
        departure: from the rule of the present lift, as far as it was seen
    """
    if maximum is None and departure is None:
        return prescription
    technique = replace(prescription.technique or USUAL_TECHNIQUE, maximum=maximum, departure=departure)
    return replace(prescription, technique=technique)
