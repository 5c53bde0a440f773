"""The same lift through less range of motion."""

from __future__ import annotations

from math import cos, floor, pi, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, RuledOut, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.setups import Depth
from service.training.depth_strength import MEASURED_UP_TO, strength_at_depth
from service.vocabulary import Likeness

_STEP: Final = radians(CHOICES.adjustments.depth_step)
_SHALLOWEST: Final = radians(CHOICES.adjustments.shallowest_thigh)
_STEP_TOLERANCE: Final = 1e-6
"""Of one step of depth: a bottom so near to a step lies on it."""
_FROM_THE_FLOOR: Final = frozenset(
    exercise for exercise, rule in EXERCISE_RULES.items() if rule.grip_height is not None
)
_RAISED_ON_BLOCKS: Final = frozenset(exercise for exercise in _FROM_THE_FLOOR if EXERCISE_RULES[exercise].accepts_box)
_RAISED_AS_ANOTHER_LIFT: Final = _FROM_THE_FLOOR - _RAISED_ON_BLOCKS


def shallower(case: Case, trial: Trial) -> Trial | RuledOut:
    """The deepest step of depth, above the one the trial has, that meets the target; the shallowest if none does."""
    levers, new = (*trial.levers, "range_of_motion"), trial.prescription
    if new.exercise in _RAISED_AS_ANOTHER_LIFT:
        return RuledOut(levers, "raised_start_is_another_lift", new)
    bottom, depths = _depths(case, trial)
    if not depths:
        return RuledOut(levers, "range_of_motion_at_its_shortest", new)
    if case.hardly_asked:  # no number says how far to go
        return _at_depth(trial, bottom, depths[min(CHOICES.adjustments.moderate_depth_steps, len(depths)) - 1])
    return _at_depth(trial, bottom, _deepest_that_meets(case, new, depths))


def moderately_shallower(case: Case, trial: Trial) -> Trial | None:
    """The trial with the configured few steps less depth; None where there is no room for them."""
    if trial.prescription.exercise in _RAISED_AS_ANOTHER_LIFT:
        return None
    bottom, depths = _depths(case, trial)
    steps = CHOICES.adjustments.moderate_depth_steps
    return _at_depth(trial, bottom, depths[steps - 1]) if len(depths) >= steps else None


def _depths(case: Case, trial: Trial) -> tuple[float, list[Depth]]:
    """The thigh angle of the trial's bottom [rad], and the depths above it, deepest first.

    For a bar lifted from the floor the depths are blocks under it.
    """
    new = trial.prescription
    demand = case.present.solved(new)
    bottom = demand.setup.thigh_angle
    if new.exercise in _RAISED_ON_BLOCKS:
        block = new.depth.box_height or 0.0 if new.depth else 0.0
        return bottom, [Depth(box_height=height) for height in CHOICES.adjustments.block_heights if height > block]
    first, last = floor(bottom / _STEP + _STEP_TOLERANCE) + 1, floor(_SHALLOWEST / _STEP + _STEP_TOLERANCE)
    return bottom, [Depth(thigh_below_horizontal=-step * _STEP) for step in range(first, last + 1)]


def _deepest_that_meets(case: Case, prescription: Prescription, depths: list[Depth]) -> Depth:
    """The first of the depths, deepest first, at which the target is met; demand falls with less depth.

    The search walks from where the reach of the thigh alone would meet it.
    """
    low, high = 0, len(depths) - 1

    def meets(depth: Depth) -> bool:
        try:
            ratio = region_ratio(case.present, replace(prescription, depth=depth), case.region)
        except Refusal:
            return False
        return ratio is not None and ratio <= case.target

    tried = min(_by_reach(case, prescription, depths), high - 1)
    while low < high:
        if meets(depths[tried]):
            high, tried = tried, tried - 1
        else:
            low = tried = tried + 1
    return depths[low]


def _by_reach(case: Case, prescription: Prescription, depths: list[Depth]) -> int:
    """The place of the depth at which the thigh reaches as much less far ahead as demand has to fall.

    Of blocks the one in the middle.
    """
    asked = region_ratio(case.present, prescription, case.region) or 1.0
    thighs = [depth.thigh_below_horizontal for depth in depths if depth.thigh_below_horizontal is not None]
    enough = (place for place, below in enumerate(thighs) if cos(min(0.0, below)) * asked <= case.target)
    return next(enough, (len(depths) - 1) if thighs else len(depths) // 2)


def _at_depth(trial: Trial, bottom: float, depth: Depth) -> Trial:
    return replace(
        trial,
        levers=(*trial.levers, "range_of_motion"),
        likeness=_likeness(trial),
        prescription=replace(trial.prescription, depth=depth),
        strength=_strength(trial, bottom, depth),
        range_cut=_cut(bottom, depth),
        sources=(*trial.sources, "cotter_2013", "enoki_2023", "wolf_2023"),
    )


def _strength(trial: Trial, bottom: float, depth: Depth) -> float | None:
    """Maximum at a new depth against the present lift's [1], from the published change between two depths.

    bottom: thigh angle of the trial so far [rad]. Left as it is where the change is not published for the lift; that
    makes the lift out to be weaker than it may be, which errs on the careful side.
    """
    exercise, new = trial.prescription.exercise, depth.thigh_below_horizontal
    if trial.strength is None or new is None:
        return trial.strength
    shallowest = max(new, -MEASURED_UP_TO)
    before, after = strength_at_depth(exercise, max(-bottom, -MEASURED_UP_TO)), strength_at_depth(exercise, shallowest)
    return trial.strength if before is None or after is None else trial.strength * after.value / before.value


def _cut(bottom: float, depth: Depth) -> float:
    """Part of the way from the bottom [rad] to standing that is left out [1]; as configured where not computed."""
    new = depth.thigh_below_horizontal
    return CHOICES.adjustments.unknown_cut if new is None else (-new - bottom) / (pi / 2 - bottom)


def _likeness(trial: Trial) -> Likeness:
    return "range_of_motion" if trial.likeness in ("same", "technique") else trial.likeness
