"""Our own choices on what is tried to take demand off shoulder, elbow and wrist in presses and pulls."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import Degrees, Metres
from service.knowledge.records import Record

Worth = Annotated[float, Meta(gt=0, le=90)]
"""Angle [deg] that is something."""


class PostureWorth(Record, frozen=True):
    """From how much on a change of a shoulder's posture counts.

    Attributes:
        behind: upper arm behind the body [deg]
        raised: upper arm raised into where the space under the acromion is narrowest [deg]
        turned: upper arm turned outward where it is raised so far [deg]
    """

    behind: Worth
    raised: Worth
    turned: Worth


class ArmAdjustments(Record, frozen=True):
    """What is tried in presses and pulls, and when the arm's model has a number.

    Attributes:
        least_moment: largest moment of a repetition below which no ratio to it is given [N·m]
        posture: from how much on a change of a shoulder's posture counts
        above_bottom: heights above the lowest point of the full range at which a repetition may end [m]
        grip_changes: changes of the grip width, on each side [m]
        bench_changes: changes of the bench's angle, head up [deg]
    """

    least_moment: Annotated[float, Meta(gt=0, le=100)]
    posture: PostureWorth
    above_bottom: tuple[Metres, ...]
    grip_changes: tuple[Annotated[float, Meta(ge=-0.5, le=0.5)], ...]
    bench_changes: tuple[Degrees, ...]
