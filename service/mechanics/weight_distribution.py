"""How two feet share body and load: as two vertical supports, by the position of the centre of mass between them.

Sources: equilibrium; measured shares in knowledge/data/stances.toml (helme_2022, mccurdy_2017, newton_2006). Horizontal
forces do not change the share with both feet on one level; with the rear foot raised they would a little, and are
ignored.
"""

from __future__ import annotations

from math import radians, sin
from typing import Final

import msgspec

from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.mechanics.balance import Carry
from service.mechanics.body import Body
from service.mechanics.posture import Posture, split_posture


def share_from_positions(foot_spacing: float, behind_lead_foot: float) -> float:
    """The lead leg's share from the position of the centre of mass between the feet.

    Args:
        foot_spacing: distance between the feet [m]
        behind_lead_foot: centre of mass behind the lead foot [m]

    Returns:
        share of the weight of body and load on the lead foot [1]

    Raises:
        Refusal: where the centre of mass is not between the feet, for such a stance would topple

    Source: statics.
    """
    if foot_spacing <= 0:
        raise Refusal.one("foot_spacing", "The feet must be apart for their places to decide the share.", "more than 0")
    if not 0 <= behind_lead_foot <= foot_spacing:
        raise Refusal.one(
            "centre_of_mass_behind_lead_foot",
            "The centre of mass must lie between the feet, or the stance would topple.",
            f"0 to {foot_spacing:.4g} m",
        )
    return 1 - behind_lead_foot / foot_spacing


def on_lead(share: float, load: float, body: float = 0.0) -> tuple[float, float]:
    """Mass whose weight rests on the lead and on the trail foot.

    Args:
        share: share of the weight of body and load on the lead foot [1]
        load: mass of the implement [kg]
        body: body mass that counts [kg]

    Returns:
        mass on the lead foot and mass on the trail foot [kg]
    """
    total = load + body
    return share * total, total - share * total


def matching_load(share: float, other_share: float, other_load: float, body: float = 0.0) -> float:
    """Load that puts on the lead foot what another stance puts there with its load.

    Args:
        share: share of the weight on the lead foot [1]
        other_share: the same in the other stance [1]
        other_load: load in the other stance [kg]
        body: body mass that counts [kg]

    Returns:
        mass of the implement, negative where the body alone exceeds it [kg]
    """
    return other_share * (body + other_load) / share - body


def share_from_posture(body: Body, posture: Posture, load: float, foot_spacing: float) -> float:
    """The lead leg's share in a split stance of known posture.

    Thigh and shank of the rear leg are assumed to have their centre midway between hip and rear foot.

    Args:
        body: the lifter
        posture: lead leg and trunk, as of service.mechanics.posture.split_posture
        load: mass of the implement, at the posture's load point [kg]
        foot_spacing: distance between the centres of pressure of the feet [m]

    Returns:
        share of the weight of body and load on the lead foot [1]

    Raises:
        Refusal: where the common centre of mass is not between the feet

    Source: statics.
    """
    front = posture.balance_point
    rear = front - foot_spacing
    hip, knee, ankle = posture.hip.x, posture.knee.x, posture.ankle.x
    leg = (body.thighs_mass + body.shanks_mass) / 2
    moment = (
        body.upper_mass * (hip + body.upper_centre_at_bar * body.trunk * sin(posture.trunk_lean))
        + load * posture.load_point.x
        + body.thighs_mass / 2 * (hip + body.thigh_centre * (knee - hip))
        + body.shanks_mass / 2 * (knee + body.shank_centre * (ankle - knee))
        + body.feet_mass / 2 * (body.feet_centre * body.foot + rear)
        + leg * (hip + rear) / 2
    )
    return share_from_positions(foot_spacing, front - moment / (body.mass + load))


ON_SHOULDERS: Final = Carry("trunk", along=0.03, anterior=-0.075)
IN_HANDS: Final = Carry("hands_at_shoulder")
_HIGHEST_LEAN: Final = radians(80)
_LEAN_ERROR: Final = radians(CHOICES.spine.shared_lean_error)


class SplitStance(msgspec.Struct, frozen=True):
    """A split stance at the bottom, but for the lean of the trunk.

    Attributes:
        body: the lifter
        carry: how the load is carried
        shin_angle: lead shin from the vertical [rad]
        thigh_angle: lead thigh above the horizontal [rad]
        foot_spacing: distance between the centres of pressure of the feet [m]
    """

    body: Body
    carry: Carry
    shin_angle: float
    thigh_angle: float
    foot_spacing: float

    def share(self, lean: float, load: float) -> float:
        """The lead leg's share.

        Args:
            lean: trunk from the vertical, taken as 0 to 80 degrees where it is beyond [rad]
            load: mass of the implement [kg]

        Returns:
            share of the weight of body and load on the lead foot [1]

        Raises:
            Refusal: where the common centre of mass is not between the feet
        """
        inside = min(_HIGHEST_LEAN, max(0.0, lean))
        posture = split_posture(self.body, self.carry, self.shin_angle, self.thigh_angle, inside)
        return share_from_posture(self.body, posture, load, self.foot_spacing)


def share_over_leans(stance: SplitStance, lean: float, load: float) -> Interval:
    """The lead leg's share, and how far an error of the lean would move it.

    Args:
        stance: the split stance
        lean: trunk from the vertical [rad]
        load: mass of the implement [kg]

    Returns:
        share of the weight of body and load on the lead foot; a lean at which the stance would topple counts as all or
        none [1]

    Raises:
        Refusal: where the common centre of mass is not between the feet
    """
    value = stance.share(lean, load)
    ends = [value]
    for tilted in (lean - _LEAN_ERROR, lean + _LEAN_ERROR):
        try:
            ends.append(stance.share(tilted, load))
        except Refusal:
            ends.append(1.0 if tilted > lean else 0.0)
    return Interval(value, min(ends), max(ends))
