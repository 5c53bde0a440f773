"""A step-up on its way: the trail foot pushes until body and load are over the lead foot, which then bears everything.

At rest at the start the trail leg bears what lean and lead shin leave behind the lead foot. Both are kept while the hip
comes up and forward, until the centre of body and load stands over the lead foot's centre of pressure: there the lead
leg is asked for most. From where the trail foot leaves the floor to there its push carries the body on, which at rest
would have to be held; how far that goes is not modelled.
"""

from __future__ import annotations

from math import acos, cos, pi

from msgspec import Struct
from msgspec.structs import replace

from service.mechanics.split_stance import SplitStance
from service.mechanics.statics import Solution, Statics, statics_of
from service.mechanics.supports import supports_of

_UPRIGHT = pi / 2
_TOLERANCE = 1e-9  # [N·m], a moment that is not larger than at the start is reported there


class Risen(Struct, frozen=True, gc=False):
    """A step-up where the lead foot has come to bear everything.

    Attributes:
        stance: lean and lead shin as at the start, the lead foot's share 1
        solution: moments there
    """

    stance: SplitStance
    solution: Solution


def on_the_lead_foot(stance: SplitStance) -> SplitStance | None:
    """The stance of a step-up risen until the lead foot bears everything, lean and lead shin kept.

    Args:
        stance: in equilibrium at the start

    Returns:
        The stance; None for a lift that is no step-up, where the lead foot bears everything from the start, and where
        lean and lead shin bring nobody over the lead foot.

    Source: statics; that lean and shin are kept is our own choice.
    """
    inputs = stance.inputs
    if not inputs.steps_up:
        return None
    lean, shin, spacing = stance.trunk_lean, stance.shin_angle, stance.foot_spacing
    here = supports_of(inputs).moment(lean, shin, spacing, 1.0)
    upright = supports_of(replace(inputs, thigh_angle=_UPRIGHT)).moment(lean, shin, spacing, 1.0)
    if not here < 0.0 < upright:
        return None
    cosine = cos(inputs.thigh_angle) * upright / (upright - here)
    risen = replace(inputs, thigh_angle=acos(cosine))
    spacing = supports_of(risen).spacing(shin, spacing)
    return replace(stance, inputs=risen, foot_spacing=spacing, lead_share=1.0)


def risen_of(statics: Statics) -> Risen | None:
    """Where on the way up the lead foot of a step-up has come to bear everything.

    Args:
        statics: of a setup at the start; None is answered where on_the_lead_foot is None
    """
    setup = statics.setup
    stance = None if setup.split is None or setup.lift is None else on_the_lead_foot(setup.split)
    if stance is None or setup.lift is None:
        return None
    body, thigh_angle = stance.inputs.body, stance.inputs.thigh_angle
    there = replace(setup, thigh_angle=thigh_angle, split=stance)
    return Risen(stance, statics_of(body, there).at(thigh_angle))


def hardest(start: Solution, risen: Risen | None) -> Solution:
    """The largest moments of a split stance: of a step-up those of the start or of where it has risen to.

    Args:
        start: solution at the start
        risen: as risen_of
    """
    if risen is None:
        return start
    larger = {
        joint: value
        for joint in ("ankle", "knee", "hip", "lumbosacral")
        if (value := getattr(risen.solution, joint)) > getattr(start, joint) + _TOLERANCE
    }
    return replace(start, **larger)
