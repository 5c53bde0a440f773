"""Depth, technique and cues by grades, from those of one prescription to those of another.

No study says in what grades they should come back: all of them are our own choices.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil, floor, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.adjustment.present import solved
from service.adjustment.return_plan.problem import ReturnCase
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.setups import USUAL_TECHNIQUE, Depth, StanceWidth, Technique

DEPTH_TOLERANCE: Final = 1e-6
"""Difference below which two depths are one [rad or m]."""
_STEP: Final = radians(CHOICES.adjustments.depth_step)
_SHALLOWEST: Final = radians(CHOICES.adjustments.shallowest_thigh)
_KNEE_STEP: Final = radians(CHOICES.return_plan.knee_grade)
_BOX_STEP: Final = CHOICES.return_plan.box_grade
_HEEL_STEP: Final = CHOICES.return_plan.heel_grade
_SHIN_STEP: Final = radians(CHOICES.return_plan.shin_grade)
_BAR_STEP: Final = CHOICES.return_plan.bar_grade
_SPACING_STEP: Final = CHOICES.return_plan.spacing_grade
_WIDTH_STEP: Final = CHOICES.return_plan.width_grade
_TOE_STEP: Final = radians(CHOICES.return_plan.toe_out_grade)
_SMALLEST_PART: Final = 0.2
"""Of a grade [1]: no eye tells two depths so near to each other, so no step of the way lies between them."""
_STANCES: Final[tuple[StanceWidth, ...]] = ("narrow", "shoulder", "wide")

Depths = tuple[tuple[Depth | None, ...], tuple[float | None, ...]]
"""Depths and how far down each of them goes [rad or m]."""


def has_thigh(prescription: Prescription) -> bool:
    """Whether the depth of a lift is that of its thigh, and not the height of its start."""
    rule = EXERCISE_RULES.get(prescription.exercise)
    return rule is not None and rule.grip_height is None


def is_raised(prescription: Prescription) -> bool:
    """Whether the lift starts from blocks, whose height is its depth."""
    rule = EXERCISE_RULES.get(prescription.exercise)
    return rule is not None and rule.grip_height is not None and rule.accepts_box


def depth_at(case: ReturnCase, prescription: Prescription) -> float | None:
    """How far down a lift goes: the thigh below the horizontal [rad], else the height of its start taken negative [m].

    None where neither is known. Raises Refusal for a posture that cannot be had.
    """
    rule, depth = EXERCISE_RULES.get(prescription.exercise), prescription.depth
    if rule is None:
        return _height_of_end(case, prescription)
    if rule.grip_height is not None:
        return -(rule.block_height if depth is None or depth.box_height is None else depth.box_height)
    demand = solved(case.present.body, prescription)
    return -demand.setup.thigh_angle


def _height_of_end(case: ReturnCase, prescription: Prescription) -> float | None:
    """How far above its lowest point a lift without a thigh ends, or the height under it, taken negative [m]."""
    depth = prescription.depth
    if depth is not None and depth.box_height is not None:
        return -depth.box_height
    if depth is not None and depth.above_bottom is not None:
        return -depth.above_bottom
    return -0.0 if ends_by_arm(case, prescription) else None


def ends_by_arm(case: ReturnCase, prescription: Prescription) -> bool:
    """Whether the range of a lift is that of the arms, from the lowest point of the load."""
    arms = case.present.arms
    setup = None if arms is None else arms.setup(prescription)
    return setup is not None and bool(setup.lift.path)


def depth_grades(case: ReturnCase, start: Prescription, end: Prescription) -> Depths:
    """The depths of the lift at the start, from its own to the other's, in the way in which they are stated.

    Args:
        case: the return
        start: whose lift is done deeper and deeper
        end: whose depth is the last; of another exercise it is entered after it
    """
    first, last = depth_at(case, start), depth_at(case, end)
    if start.depth == end.depth and start.exercise == end.exercise:
        return (end.depth,), (last,)
    if first is None or last is None:
        return (start.depth, end.depth), (first, last)
    same = start.exercise == end.exercise
    if abs(first - last) <= DEPTH_TOLERANCE:
        return ((end.depth,), (last,)) if same else ((start.depth,), (first,))
    between = _between(case, start, end, first, last)
    ends: list[tuple[Depth | None, float | None]] = [(start.depth, first), *between]
    if same:
        ends.append((end.depth, last))
    elif has_thigh(start) and last > first:
        ends.append((Depth(thigh_below_horizontal=last), last))
    return tuple(depth for depth, _ in ends), tuple(reached for _, reached in ends)


def partial_depths(depth: float) -> tuple[float, ...]:
    """The grades of depth from the shallowest to less than a stated one, shallowest first.

    Args:
        depth: thigh below the horizontal [rad]

    Returns:
        thighs below the horizontal [rad]
    """
    return tuple(step * _STEP for step in _marks(-_SHALLOWEST - DEPTH_TOLERANCE, depth, _STEP))


def _between(
    case: ReturnCase, start: Prescription, end: Prescription, first: float, last: float
) -> list[tuple[Depth | None, float]]:
    """The depths strictly between two, shallowest first; none where the way leads to less range."""
    stated = start.depth or end.depth or Depth()
    if is_raised(start) or start.exercise not in EXERCISE_RULES:
        heights = [-mark * _BOX_STEP for mark in _marks(first, last, _BOX_STEP)]
        by_arm = ends_by_arm(case, start)
        return [
            (Depth(above_bottom=height) if by_arm else Depth(box_height=height), -height)
            for height in heights
            if height > 0
        ]
    if stated.box_height is not None and start.depth is not None:
        height = stated.box_height
        way = 1 if EXERCISE_RULES[start.exercise].family == "split" else -1  # a step is higher for more range
        mark = floor(height / _BOX_STEP + _SMALLEST_PART) if way > 0 else ceil(height / _BOX_STEP - _SMALLEST_PART)
        return _solved(case, start, first, last, lambda n: Depth(box_height=(mark + way * n) * _BOX_STEP))
    if stated.knee_flexion is not None and start.depth is not None:
        bend = stated.knee_flexion
        mark = floor(bend / _KNEE_STEP + _SMALLEST_PART)
        return _solved(case, start, first, last, lambda n: Depth(knee_flexion=(mark + n) * _KNEE_STEP))
    return [(Depth(thigh_below_horizontal=mark * _STEP), mark * _STEP) for mark in _marks(first, last, _STEP)]


def _marks(above: float, below: float, grade: float) -> range:
    """The multiples of a grade strictly between two values, least first."""
    return range(floor(above / grade + _SMALLEST_PART) + 1, ceil(below / grade - _SMALLEST_PART))


def _solved(
    case: ReturnCase, start: Prescription, first: float, last: float, at: Callable[[int], Depth]
) -> list[tuple[Depth | None, float]]:
    """Depths whose thigh has to be solved for, as long as they are shallower than the last."""
    found: list[tuple[Depth | None, float]] = []
    least = _SMALLEST_PART * _STEP
    for number in range(1, CHOICES.return_plan.most_grades + 1):
        try:
            reached = depth_at(case, replace(start, depth=at(number)))
        except Refusal:
            break
        if reached is None or reached >= last - least:
            break
        if reached > first + least:
            found.append((at(number), reached))
    return found


def technique_grades(case: ReturnCase, start: Prescription, end: Prescription) -> tuple[Technique | None, ...]:
    """The techniques of a lift from one to another: every part of it a grade nearer each time."""
    now, goal = start.technique or USUAL_TECHNIQUE, end.technique or USUAL_TECHNIQUE
    goal = replace(goal, seen=now.seen, departure=now.departure, maximum=now.maximum)
    if now == goal:
        return (end.technique,)
    grades: list[Technique | None] = [start.technique]
    usual = _usual(case, end)
    for _ in range(CHOICES.return_plan.most_grades):
        now = _nearer(now, goal, usual)
        if now == goal:
            break
        grades.append(now)
    return (*grades, end.technique)


def _nearer(now: Technique, goal: Technique, usual: Technique) -> Technique:
    """A technique one grade nearer to another, its bounce last; what is not stated of its posture is as usual."""
    shin = _stated_nearer(now.shin_angle, goal.shin_angle, usual.shin_angle, _SHIN_STEP)
    spacing = _stated_nearer(now.foot_spacing, goal.foot_spacing, usual.foot_spacing, _SPACING_STEP)
    lean = _stated_nearer(now.trunk_lean, goal.trunk_lean, usual.trunk_lean, _SHIN_STEP)
    width = _stated_nearer(now.stance_width, goal.stance_width, usual.stance_width, _WIDTH_STEP)
    place, last = _STANCES.index(now.stance), _STANCES.index(goal.stance)
    stance = _STANCES[place + (last > place) - (last < place)] if now.stance_width is None else goal.stance
    nearer = replace(
        goal,
        heel_lift=_towards(now.heel_lift, goal.heel_lift, _HEEL_STEP),
        stance=stance if width is None else "shoulder",
        stance_width=width if now.stance_width is not None or stance == goal.stance else None,
        toe_out=_stated_nearer(now.toe_out, goal.toe_out, usual.toe_out, _TOE_STEP),
        shin_angle=shin,
        bar_forward_of_midfoot=_towards(now.bar_forward_of_midfoot, goal.bar_forward_of_midfoot, _BAR_STEP),
        foot_spacing=spacing,
        bounce=now.bounce,
        trunk_lean=lean,
    )
    return goal if nearer == now else nearer


def _towards(now: float, goal: float, grade: float) -> float:
    """A value at most a grade nearer to another; what is left of less than a part of a grade is gone with it."""
    if abs(goal - now) <= grade * (1 + _SMALLEST_PART):
        return goal
    return now + grade if goal > now else now - grade


def _stated_nearer(now: float | None, goal: float | None, usual: float | None, grade: float) -> float | None:
    """What is stated a grade nearer to a goal, or to what is usual, where it is left unstated in the end."""
    target = usual if goal is None else goal
    if now is None or target is None or abs(target - now) <= grade:
        return goal
    return _towards(now, target, grade)


def _usual(case: ReturnCase, prescription: Prescription) -> Technique:
    """The posture that a lift has at the bottom, nothing of it where the lift has none."""
    if prescription.exercise not in EXERCISE_RULES:
        return USUAL_TECHNIQUE
    demand = solved(case.present.body, prescription)
    split = demand.setup.split
    return Technique(
        shin_angle=demand.posture.shin_angle,
        trunk_lean=demand.posture.trunk_lean,
        stance_width=demand.setup.stance.width if demand.family == "squat" else None,
        toe_out=demand.setup.stance.toe_out if demand.family == "squat" else None,
        foot_spacing=None if split is None or split.inputs.steps_up else split.foot_spacing,
    )


def cue_grades(start: tuple[str, ...], end: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Cues from one list to another: those that are not in the other are left one by one, the last added first."""
    grades = [start]
    for cue in reversed(start):
        if cue not in end:
            grades.append(tuple(one for one in grades[-1] if one != cue))
    return tuple(grades) if grades[-1] == end else (*grades, end)


def hold_grades(hold: float | None, original_hold: float | None) -> tuple[float | None, ...]:
    """Lengths of a static repetition [s], None for repetitions that move.

    From one to a longer one by whole seconds within the step, else in one change.

    Args:
        hold: length now [s]
        original_hold: length in the original [s]
    """
    if hold == original_hold:
        return (hold,)
    if hold is None or original_hold is None or hold > original_hold:
        return hold, original_hold
    grade = max(1, floor(CHOICES.return_plan.step * original_hold))
    marks = (original_hold - number * grade for number in range(CHOICES.return_plan.most_grades, 0, -1))
    return (hold, *(mark for mark in marks if mark > hold), original_hold)
