"""How two feet share body and load: as two vertical supports do, by the place of the centre of mass between them.

Sources: equilibrium; measured shares in knowledge/stances.toml (helme_2022, mccurdy_2017, newton_2006). Horizontal
forces do not change the share with both feet on one level; with the rear foot raised they would a little, and are
ignored.
"""

from __future__ import annotations

from service.refusals import Refusal


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
