"""What is to be said of a split stance in equilibrium: its assumptions, and cautions that carry numbers."""

from __future__ import annotations

from service.knowledge.posture_rules import POSTURE_RULES, POSTURES
from service.mechanics.split_stance import SplitStance
from service.messages import Message, message
from service.units import angle, length

_GAP = POSTURES.defaults.lateral_gap.value
_MISFIT = POSTURES.defaults.misfit.value


def assumptions_of_split(exercise: str, stance: SplitStance) -> Message:
    """The stance as it was solved, and which of its quantities follow from the others.

    Args:
        exercise: id of a posture rule
        stance: in equilibrium
    """
    lean, shin = angle(stance.trunk_lean, "deg"), angle(stance.shin_angle, "deg")
    if stance.inputs.steps_up:
        return message("assumed_step_up", lean=lean, shin=shin, share=stance.lead_share)
    published = POSTURE_RULES[exercise].lead_share
    return message(
        "assumed_split_stance",
        lean=lean,
        shin=shin,
        spacing=length(stance.foot_spacing, "m"),
        share=stance.lead_share,
        published=stance.lead_share if published is None else published.mean,
        free=list(stance.free),
    )


def cautions_of_split(stance: SplitStance) -> tuple[Message, ...]:
    """How unlike the usual one a stance has to be, and where body and load stand between the feet seen from the front.

    With a gap g to the side and the share p, body and load are (p - 1/2) g from the middle.

    Args:
        stance: in equilibrium
    """
    said = []
    if stance.misfit > _MISFIT:
        said.append(message("split_stance_unlike_usual", quantity=stance.misfit_of, deviations=stance.misfit))
    towards = (stance.lead_share - 0.5) * _GAP
    if not stance.inputs.steps_up:
        said.append(message("split_stance_to_the_side", gap=length(_GAP, "m"), towards=length(towards, "m")))
    return tuple(said)
