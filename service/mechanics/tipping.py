"""Refusals of postures in which a lifter would tip: where they point, and what would help."""

from __future__ import annotations

from typing import Final, NoReturn

from service.errors import Refusal
from service.knowledge.posture_rules import POSTURES
from service.messages import message
from service.units import length

_BALANCE: Final = POSTURES.limits.balance
_FORWARD: Final = (
    "the weight further back: less technique/bar_forward_of_midfoot, less technique/shin_angle or technique/heel_lift"
)
_BACKWARD: Final = (
    "the weight further forward: more technique/bar_forward_of_midfoot, technique/shin_angle, technique/trunk_lean or "
    "load"
)
_HIP_BEHIND: Final = (
    "less depth, more technique/shin_angle (technique/heel_lift, or more lifter/ankle_dorsiflexion), or a variation "
    "with the load further forward"
)
_HIP_AHEAD: Final = (
    "more depth, less technique/shin_angle or technique/heel_lift, or a variation with the load further back"
)
_OF_POSTURE: Final = (
    "technique/shin_angle",
    "technique/bar_forward_of_midfoot",
    "technique/trunk_lean",
    "technique/thigh_angle",
    "technique/heel_lift",
    "technique/stance_width",
    "technique/ankle_dorsiflexion",
    "depth",
    "load",
)
"""What takes part in where the weight is, from what is chosen most freely."""


def refuse_balance(balance: float, field: str = "technique/bar_forward_of_midfoot") -> NoReturn:
    """Refuse a centre of mass beyond where a foot is stood on.

    Args:
        balance: where it would be from the heel, in foot lengths [1]
        field: what takes part in it first

    Raises:
        Refusal: always
    """
    allowed = _FORWARD if balance > _BALANCE.high else _BACKWARD
    raise Refusal.one(field, message("lifter_would_tip", balance=balance), allowed, or_else=_OF_POSTURE)


def refuse_no_lean(ahead: float) -> NoReturn:
    """Refuse a posture that no lean of the trunk balances.

    Args:
        ahead: hip ahead of the balance point [m]

    Raises:
        Refusal: always
    """
    behind = ahead < 0.0
    code = "no_balancing_lean_hip_behind" if behind else "no_balancing_lean_hip_ahead"
    detail = message(code, distance=length(abs(ahead), "m"))
    raise Refusal.one("depth", detail, _HIP_BEHIND if behind else _HIP_AHEAD, or_else=_OF_POSTURE)
