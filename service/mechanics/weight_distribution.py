"""How two feet share body and load: as two vertical supports do, by the place of the centre of mass between them.

Sources: equilibrium; measured shares in knowledge/stances.toml (helme_2022, mccurdy_2017, newton_2006). Horizontal
forces do not change the share with both feet on one level; with the rear foot raised they would a little, and are
ignored.
"""

from __future__ import annotations

from math import sin

from service.errors import Refusal
from service.mechanics.body import Body
from service.mechanics.posture import Posture


def share_from_positions(foot_spacing: float, behind_lead_foot: float) -> float:
    """The lead leg's share [1] from where the centre of mass lies between the feet.

    foot_spacing: between the feet [m]; behind_lead_foot: of the centre of mass behind the lead foot [m].
    Raises Refusal where the centre of mass is not between the feet: such a stance would topple.
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
    """What rests on the lead and the trail foot [kg] at a lead share [1] of load and body [kg]."""
    total = load + body
    return share * total, total - share * total


def matching_load(share: float, other_share: float, other_load: float, body: float = 0.0) -> float:
    """Load [kg] that puts on the lead foot what another stance puts there with its load.

    Negative if the body alone exceeds it.
    """
    return other_share * (body + other_load) / share - body


def share_from_posture(body: Body, posture: Posture, load: float, foot_spacing: float) -> float:
    """The lead leg's share [1] of a split stance whose lead leg, trunk and load are placed.

    posture: of the lead leg and trunk (service.mechanics.posture.split_posture); load [kg] at its load point;
    foot_spacing: between the pressure centres of the feet [m]. Thigh and shank of the rear leg are taken to have their
    centre midway between hip and rear foot. Raises Refusal where the system's centre of mass is not between the feet.
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
