"""What the lifter can do: repetitions and reserve at a load, what a session trains, and what goes without training."""

from __future__ import annotations

from math import floor

import msgspec

from tests.science.episodes.constants import CONSTANTS, LIFTS, clamped
from tests.science.episodes.lifter import Lifter
from tests.science.episodes.prescribed import USUAL_RESERVE, Json, amount, load_of

MOST_REPS = 60
_S = CONSTANTS.strength


class Done(msgspec.Struct, frozen=True):
    """What a lifter did in a session.

    Attributes:
        reps: of each set; of static ones those that would take as long
        reserve: repetitions left after the last set [count]
        stimulus: sets times effort times share of the maximum at the start [1]
    """

    reps: tuple[int, ...]
    reserve: float
    stimulus: float


def moved(prescription: Json, original: Json, body_mass: float) -> float:
    """What a lift moves [kg]; where the original has no load, with what of the body rides on it."""
    lift, usual = LIFTS[prescription["exercise"]], LIFTS[original["exercise"]]
    load = load_of(prescription) + lift.body_lifted * body_mass
    if load_of(original) + usual.body_lifted * body_mass <= 0:
        load += lift.body_carried * body_mass
    return max(1.0, load)


def repetitions(prescription: Json) -> float:
    """Repetitions of a set at the top of the range; of a static one those that would take as long."""
    reps = float(prescription["reps"]["high"])
    hold = amount(prescription.get("hold"))
    return reps * hold / CONSTANTS.dose.seconds_a_repetition if hold else reps


def first_maximum(lifter: Lifter, original: Json, body_mass: float) -> float:
    """One repetition's load in the original at the start [kg], from the stated reserve and how wrong it is."""
    reserve = original.get("reps_in_reserve")
    to_failure = repetitions(original) + (USUAL_RESERVE if reserve is None else reserve)
    return moved(original, original, body_mass) * (1 + to_failure / _S.epley) * lifter.strength_error


def maximum(lifter: Lifter, original: Json, exercise: str, body_mass: float) -> float:
    """One repetition's load in any lift at the start [kg]; what it is in a lift not done before shows only then."""
    first = first_maximum(lifter, original, body_mass)
    if exercise == original["exercise"]:
        return first
    spread = lifter.random("maximum", exercise).lognormvariate(0.0, _S.maximum_spread)
    return first * LIFTS[exercise].maximum / LIFTS[original["exercise"]].maximum * spread


def performed(lifter: Lifter, original: Json, prescription: Json, body_mass: float, strength: float, day: int) -> Done:
    """The sets as this lifter does them on a day: up to the top of the range, or as far as it goes."""
    best = maximum(lifter, original, prescription["exercise"], body_mass)
    today = best * strength * (1 + lifter.random("strength", day).gauss(0.0, _S.day_to_day))
    load = moved(prescription, original, body_mass)
    wanted = repetitions(prescription)
    reps, left = [], 0.0
    for number in range(int(prescription["sets"])):
        possible = clamped(_S.epley * (today * (1 - _S.set_to_set * number) / load - 1), 0.0, MOST_REPS)
        reps.append(floor(min(wanted, possible)))
        left = possible - reps[-1]
    return Done(tuple(reps), left, _stimulus(original, prescription, reps, left, load / best))


def _stimulus(original: Json, prescription: Json, reps: list[int], reserve: float, share: float) -> float:
    effort = clamped((_S.nothing_from - reserve) / (_S.nothing_from - _S.full_up_to), 0.0, 1.0)
    counted = _S.without_effort + (1 - _S.without_effort) * effort
    carries_over = 1.0
    if prescription["exercise"] != original["exercise"]:
        carries_over = _S.another_exercise
    elif prescription.get("depth") != original.get("depth"):
        carries_over = _S.part_of_the_range
    return sum(1.0 for done in reps if done > 0) * counted * min(1.0, share) * carries_over


def a_day_later(lifter: Lifter, strength: float, stimulus: float) -> float:
    """Strength against that at the start [1] after a day; stimulus: that of the last weeks against the original's."""
    if stimulus < _S.keeps_from:
        return max(_S.floor, strength - lifter.lost_a_week / 7 * (1 - stimulus / _S.keeps_from))
    return strength + (1.0 - strength) * _S.regained_a_week / 7
