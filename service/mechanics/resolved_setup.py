"""A setup as it was resolved: all that statics needs but the thigh angle, and how the shin goes with that."""

from __future__ import annotations

from msgspec import Struct

from service.knowledge.posture_rules import Family
from service.mechanics.balance import Carry
from service.mechanics.closure import Pull, PullPosture
from service.mechanics.posture import shin_shape
from service.mechanics.split_inputs import SplitLift
from service.mechanics.split_stance import SplitStance
from service.mechanics.stance import Stance


class Setup(Struct, frozen=True, gc=False):
    """One lifter's exercise with everything resolved.

    Attributes:
        exercise: id
        family: squat, hinge, pull or split
        carry: how the load is carried
        load: mass of the implement [kg]
        balance: balance point of body and load from the heel, along the foot, as a fraction of foot length [1]
        thigh_angle: thigh above the horizontal at the bottom [rad]
        shin_angle: preferred shin angle at the bottom [rad]
        shin_limit: greatest shin angle that ankle and heel lift allow, infinite for a stated shin angle [rad]
        pitch: heel-up inclination of the foot [rad]
        stance: how far the legs are turned out of the sagittal plane
        trunk_lean: trunk from the vertical, used in split stances and pulls [rad]
        shape_at_bottom: shin_shape at the bottom [1]
        pull: what a pull was closed from; None for other families
        closed: a pull as it closes at the bottom; None for other families
        split: a split stance in equilibrium at the bottom; None on both feet
        lift: the split stance at other depths; None on both feet
    """

    exercise: str
    family: Family
    carry: Carry
    load: float
    balance: float
    thigh_angle: float
    shin_angle: float
    shin_limit: float
    pitch: float
    stance: Stance
    trunk_lean: float
    shape_at_bottom: float
    pull: Pull | None = None
    closed: PullPosture | None = None
    split: SplitStance | None = None
    lift: SplitLift | None = None

    @property
    def lead_share(self) -> float:
        """Share of the weight of body and load on the computed leg, half on both feet [1]."""
        return 0.5 if self.split is None else self.split.lead_share


def limits_binding(setup: Setup, shin_angle: float) -> tuple[str, ...]:
    """The limits that the shin angle of a setup has reached.

    Args:
        setup: as resolved
        shin_angle: shin from the vertical [rad]
    """
    ankle = ("ankle_dorsiflexion",) if shin_angle >= setup.shin_limit else ()
    return ankle + setup.stance.limited_by


def shin_at(setup: Setup, thigh_angle: float) -> float:
    """Shin angle on the way to the bottom, in proportion to the usual squat's.

    Args:
        setup: as resolved
        thigh_angle: thigh above the horizontal [rad]

    Returns:
        shin from the vertical [rad]
    """
    if thigh_angle == setup.thigh_angle:
        return min(setup.shin_angle, setup.shin_limit)
    return min(setup.shin_angle * (shin_shape(thigh_angle) / setup.shape_at_bottom), setup.shin_limit)
