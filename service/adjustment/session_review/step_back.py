"""One step back: to the previous prescription if it was one, else less of the present one, and never less protected."""

from __future__ import annotations

from math import floor
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case
from service.adjustment.demand import region_ratio
from service.adjustment.levers.load import load_for_target
from service.adjustment.loads import Rounding
from service.adjustment.prescription import Prescription, relative_load
from service.adjustment.present import peak_moments, present_demand
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.mechanics.body import Body
from service.mechanics.setups import USUAL_TECHNIQUE, Technique
from service.mechanics.technique import prescribed
from service.training.load_repetition import person_curve
from service.training.volume import Reps
from service.vocabulary import Lever, Region

_TOLERANCE: Final = 1e-6
"""Of a ratio of demands: what is less than this from 1 comes from rounding."""


def mass_of(body: Body | None) -> float:
    """Body mass of the lifter, or else of an assumed one [kg]."""
    return CHOICES.spine.assumed_lifter.mass if body is None else body.mass


def asks_no_less(previous: Prescription, present: Prescription) -> bool:
    """Whether a previous prescription of the same lift is no step back from the present one in any respect."""
    days, holds = (previous.days, present.days), (previous.hold, present.hold)
    return (
        previous.exercise == present.exercise
        and previous.load >= present.load
        and previous.sets >= present.sets
        and previous.reps.low >= present.reps.low
        and previous.reps.high >= present.reps.high
        and (None in days or (previous.days or 0) >= (present.days or 0))
        and (None in holds or (previous.hold or 0.0) >= (present.hold or 0.0))
        and not _protects_more(previous, present)
    )


def _protects_more(previous: Prescription, present: Prescription) -> bool:
    """Whether a previous prescription has a depth, a technique, a tempo or a cue that the present one has not."""
    return (
        previous.depth not in (None, present.depth)
        or not (_is_usual(previous.technique) or prescribed(previous.technique) == prescribed(present.technique))
        or previous.tempo not in (None, present.tempo)
        or not set(previous.cues) <= set(present.cues)
    )


def protected(previous: Prescription, present: Prescription) -> Prescription:
    """A previous prescription of the same lift with the protection of the present one where it has none of its own."""
    if previous.exercise != present.exercise:
        return previous
    return replace(
        previous,
        depth=previous.depth or present.depth,
        technique=present.technique if _is_usual(previous.technique) else previous.technique,
        tempo=previous.tempo or present.tempo,
        rest=previous.rest if previous.rest is not None else present.rest,
        cues=tuple(dict.fromkeys((*previous.cues, *present.cues))),
        implement=previous.implement or present.implement,
        side=previous.side or present.side,
    )


def _is_usual(technique: Technique | None) -> bool:
    """Whether nothing is done otherwise than usual; the lifter's own limits are no technique."""
    limits = dict.fromkeys(("ankle_dorsiflexion", "hip_flexion", "hip_abduction", "hip_external_rotation"))
    return replace(prescribed(technique), **limits) == USUAL_TECHNIQUE


def lighter_load(
    body: Body,
    present: Prescription,
    region: Region,
    share: float,
    down: Rounding,
) -> float | None:
    """The load that brings a region to a share of what it carries now, found as an adjustment of the load is.

    Args:
        body: the lifter
        present: what was done
        region: region that is sore
        share: of its demand [1]
        down: the heaviest load of an exercise not above another one, None where there is none

    Returns:
        the load [kg]; None where no load is known to do it
    """
    try:
        demand = present_demand(body, present, sore=region)
        levers: frozenset[Lever] = frozenset({"load"})
        case = Case(demand, region, share, "maintain", levers, frozenset({present.exercise}), 7, -body.mass, down)
        return load_for_target(case, present)
    except Refusal:
        return None


def returned(previous: Prescription, present: Prescription, down: Rounding) -> Prescription | None:
    """The previous prescription as it can be loaded, as protected as the present one; None where it cannot."""
    load = down(previous.exercise, previous.load, previous.implement)
    return None if load is None else replace(protected(previous, present), load=load)


def asks_more(previous: Prescription, present: Prescription, region: Region, body: Body | None) -> bool:
    """Whether a previous prescription asks more of a region than the present one, so far as is known.

    It was tolerated: with less asked of a repetition it is a step back, however many there were; with as much where
    there were no more of them.

    Args:
        previous: to go back to
        present: what was done
        region: region that is sore
        body: the lifter, None where not stated: then loads of the same lift are compared
    """
    asked = _asked(previous, present, region, body)
    if asked is None or (previous.hold is None) != (present.hold is None) or asked < 1.0 - _TOLERANCE:
        return False
    return asked > 1.0 + _TOLERANCE or _amount(previous) > _amount(present) + _TOLERANCE


def _asked(new: Prescription, present: Prescription, region: Region, body: Body | None) -> float | None:
    """What a repetition asks of a region against now [1]: computed, else by the load of the same lift, else None."""
    ratio = None
    if body is not None:
        try:
            ratio = region_ratio(present_demand(body, present, sore=region), new, region)
        except Refusal:
            ratio = None
    if ratio is None and new.exercise == present.exercise:
        return relative_load(new, present, mass_of(body))
    return ratio


def relieves(less: Prescription, present: Prescription, region: Region, share: float, body: Body | None) -> bool:
    """Whether less of a lift comes with load off and asks no more of a region than it is to carry.

    Args:
        less: the lift as it would be done
        present: what was done
        region: region that is sore
        share: of what it carries now, that it is brought to [1]
        body: the lifter, None where not stated: then loads of the lift are compared
    """
    asked = _asked(less, present, region, body)
    return less.load < present.load and asked is not None and asked <= share + _TOLERANCE


def _amount(prescription: Prescription) -> float:
    """Repetitions of a session [count], or the time of its holds [s]."""
    return prescription.reps_a_session * (1.0 if prescription.hold is None else prescription.hold)


def reduced(
    present: Prescription,
    share: float,
    load: float | None,
    down: Rounding,
    body: Body | None,
) -> Prescription | None:
    """Less of the present prescription: of its load, else of its sets, repetitions or seconds.

    With so light a load that the lifter would tip, the load stays.

    Args:
        present: what was done
        share: of what the sore region carries now, that it is brought to [1]
        load: that brings it there [kg], None where no load is known to
        down: the heaviest load of an exercise not above another one, None where there is none
        body: the lifter, None where not stated

    Returns:
        the prescription; None where the present one cannot be made smaller
    """
    if load is None:
        load = down(present.exercise, share * present.load, present.implement)
    if load is not None and load < present.load:
        lighter = _with_reserve(replace(present, load=load), present, body)
        if body is None or _can_be_held(body, lighter):
            return lighter
    return _smaller(present, share, down)


def _with_reserve(lighter: Prescription, present: Prescription, body: Body | None) -> Prescription:
    """The prescription with the repetitions that are expected to be left with less load."""
    share_of_load = relative_load(lighter, present, mass_of(body))
    if present.reserve is None or present.hold is not None or share_of_load is None:
        return lighter
    curve = person_curve(present.exercise, 0)
    share = curve.share_at(present.reps.high + present.reserve) * share_of_load
    left = curve.reps_at(share) - present.reps.high
    return replace(lighter, reserve=max(present.reserve, left))


def _can_be_held(body: Body, prescription: Prescription) -> bool:
    """Whether a lifter can have the posture of a prescription, so far as it is modelled."""
    try:
        peak_moments(body, prescription)
    except Refusal:
        return False
    return True


def _smaller(present: Prescription, share: float, down: Rounding) -> Prescription | None:
    """Fewer sets, then fewer repetitions or seconds, where the load gets no lighter; share of them that is left [1]."""
    load = down(present.exercise, present.load, present.implement)
    if load is None:
        return None
    same = replace(present, load=load)
    if present.sets > 1:
        return replace(same, sets=_fewer(present.sets, share))
    if present.hold is not None:
        step = CHOICES.review.hold.step
        shorter = step * floor(share * present.hold / step)
        return replace(same, hold=shorter) if shorter > 0 else None
    low, high = present.reps.low, present.reps.high
    if high == 1:
        return None
    fewer = _fewer(high, share)
    return replace(same, reps=Reps(max(1, min(low - 1, fewer)), fewer))


def _fewer(number: int, share: float) -> int:
    """A share [1] of a number of things [count], at least one fewer and one left."""
    return max(1, min(number - 1, floor(share * number)))
