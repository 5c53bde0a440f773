"""How two feet share body and load: as two vertical supports, by the position of the centre of mass between them.

Sources: equilibrium; measured shares in knowledge/data/stances.toml (helme_2022, mccurdy_2017, newton_2006). Horizontal
forces do not change the share with both feet on one level; with the rear foot raised they would a little, and are
ignored.
"""

from __future__ import annotations

from service.errors import Refusal, into


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
            change=into(behind_lead_foot, 0.0, foot_spacing),
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
