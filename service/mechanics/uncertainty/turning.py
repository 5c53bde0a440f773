"""How far each uncertain input turns the legs of a squat whose feet stay where they are.

The hip has to be above a point that the width fixes: Lt cos t sin a - Ls sin s sin b = (W - w) / 2. What moves a term
of this moves the azimuth a of the thigh or, with the thigh at its limit, b of the shank. Both are taken at the bottom
and hold for the whole way up (service.mechanics.stance).
"""

from __future__ import annotations

from math import cos, sin

from msgspec import Struct

from service.mechanics.demand import Demand
from service.mechanics.stance import STEEPEST
from service.mechanics.uncertainty.derivatives import UNTURNED, Turn
from service.mechanics.uncertainty.inputs import InputSteps

Turns = dict[str, Turn]
"""Changes of the azimuths by input, the bottom's thigh angle held; only of those that change them."""


class ShinSlopes(Struct, frozen=True, gc=False):
    """Derivatives of the shin angle at one depth.

    Attributes:
        habit: with the habit [1]
        limit: with the limit of the ankle [1]
        bottom: with the bottom's thigh angle [1]
    """

    habit: float
    limit: float
    bottom: float


def turns(demand: Demand, steps: InputSteps, shin: ShinSlopes, limit_step: float) -> Turns:
    """The changes of the azimuths with each input moved up by its step.

    Args:
        demand: the setup solved
        steps: by input
        shin: derivatives of the shin angle at the bottom
        limit_step: change of the shin's limit with the step of the foot [rad]
    """
    stance, body = demand.setup.stance, demand.body
    if stance.follows is None:
        return {"abduction": (steps.abduction, 0.0)} if steps.abduction else {}
    shin_sine, per_shin = sin(demand.bottom.shin_angle), body.shank * cos(demand.bottom.shin_angle)
    level = cos(min(demand.setup.thigh_angle, STEEPEST))
    return {
        "shank": _turn(demand, knee_reach=shin_sine * steps.shank),
        "thigh_and_trunk": _turn(demand, thigh_reach=level * steps.thigh),
        "foot": _turn(demand, knee_reach=per_shin * shin.limit * limit_step),
        "shin_angle": _turn(demand, knee_reach=per_shin * shin.habit * steps.shin_angle),
        "hip_centres": _turn(demand, hip_aside=steps.hip_centres / 2),
        "abduction": _turn(demand, thigh_turn=steps.abduction),
    }


def turn_with_depth(demand: Demand, shin: ShinSlopes) -> Turn:
    """Changes of the azimuths with the bottom's thigh angle, the shin following [1].

    Args:
        demand: the setup solved
        shin: derivatives of the shin angle at the bottom
    """
    bottom, body = demand.setup.thigh_angle, demand.body
    if demand.setup.stance.follows is None:
        return UNTURNED
    knee_reach = body.shank * cos(demand.bottom.shin_angle) * shin.bottom
    return _turn(demand, knee_reach=knee_reach, thigh_reach=-body.thigh * sin(bottom) if bottom < STEEPEST else 0.0)


def further(turn: Turn, per_depth: Turn, depth: float) -> Turn:
    """Changes of the azimuths with those that a change of the bottom brings besides.

    Args:
        turn: with the bottom's thigh angle held [rad]
        per_depth: with the bottom's thigh angle [1]
        depth: change of the bottom's thigh angle [rad]
    """
    return turn[0] + per_depth[0] * depth, turn[1] + per_depth[1] * depth


def _turn(
    demand: Demand,
    *,
    knee_reach: float = 0.0,
    thigh_reach: float = 0.0,
    hip_aside: float = 0.0,
    thigh_turn: float = 0.0,
) -> Turn:
    """The changes of the azimuths that keep the feet where they are; lengths [m] lie along the floor."""
    stance, body = demand.setup.stance, demand.body
    aside = stance.shank_aside * knee_reach - stance.thigh_aside * thigh_reach - hip_aside
    reach = body.thigh * cos(min(demand.setup.thigh_angle, STEEPEST)) * stance.thigh_ahead
    if stance.follows == "thigh":
        return aside / reach + thigh_turn, 0.0
    return thigh_turn, (reach * thigh_turn - aside) / (body.shank * sin(demand.bottom.shin_angle) * stance.shank_ahead)
