"""The same lift done otherwise: less range of motion, another technique, a cue."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import CHOICE, Case, RuledOut, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.prescription import Prescription
from service.errors import Refusal
from service.knowledge.cues import cues_for
from service.knowledge.posture_rules import EXERCISE_RULES, POSTURES
from service.mechanics.demand import setup_demand
from service.mechanics.posture import foot_pitch
from service.mechanics.setups import USUAL_TECHNIQUE, Depth, Stance, Technique
from service.training.depth_strength import MEASURED_UP_TO, strength_at_depth
from service.vocabulary import Likeness

_STEP: Final = radians(CHOICE.depth_step)
_SHALLOWEST: Final = radians(CHOICE.shallowest_thigh)
_LEG: Final = ("ankle", "knee", "hip")
_OTHER_STANCES: Final[tuple[Stance, ...]] = ("wide", "narrow")
_WORTH_A_CHANGE: Final = radians(1.0)  # of the shin; less cannot be seen


def other_forms(case: Case) -> Iterator[Trial | RuledOut]:
    """The present lift with each allowed change of its form; range of motion just far enough to meet the target."""
    if case.now.exercise in EXERCISE_RULES:
        if "range_of_motion" in case.levers:
            yield shallower(case, Trial((), case.now))
        if "technique" in case.levers:
            yield from _techniques(case)
    for cue in cues_for(case.now.exercise, case.region):
        if cue.lever in case.levers and cue.id not in case.now.cues:
            cued = replace(case.now, cues=(*case.now.cues, cue.id))
            partial = cue.lever == "range_of_motion"
            yield Trial((cue.lever,), cued, likeness="range_of_motion" if partial else "technique", sources=cue.sources)


def shallower(case: Case, trial: Trial) -> Trial | RuledOut:
    """The deepest step of depth, above the one the trial has, that meets the target; the shallowest if none does."""
    if trial.prescription.exercise in _RAISED_BY_ANOTHER:
        return RuledOut(
            (*trial.levers, "range_of_motion"),
            "From a raised start it is another lift (block pull, high handles), which is tried as such.",
            trial.prescription,
        )
    bottom, tried = _depths(case, trial)
    if not tried:
        return RuledOut(
            (*trial.levers, "range_of_motion"),
            "The range of motion is as short already as it is looked at.",
            trial.prescription,
        )
    return _at_depth(trial, bottom, _deepest_that_meets(case, trial.prescription, tried))


def a_little_shallower(case: Case, trial: Trial) -> Trial | None:
    """The trial with the configured few steps less depth; None where there is no room for them."""
    if trial.prescription.exercise in _RAISED_BY_ANOTHER:
        return None
    bottom, tried = _depths(case, trial)
    steps = CHOICE.moderate_depth_steps
    return _at_depth(trial, bottom, tried[steps - 1]) if len(tried) >= steps else None


def _depths(case: Case, trial: Trial) -> tuple[float, list[Depth]]:
    """The thigh angle of the trial's bottom [rad], and the depths above it, deepest first.

    For a bar lifted from the floor the depths are blocks under it.
    """
    new = trial.prescription
    found = setup_demand(case.present.body, new.exercise, new.load, new.depth, new.technique)
    bottom = found.setup.thigh_angle
    if new.exercise in _HELD_BY_BLOCKS:
        block = new.depth.box_height or 0.0 if new.depth else 0.0
        return bottom, [Depth(box_height=height) for height in CHOICE.block_heights if height > block]
    first, last = floor(bottom / _STEP + 1e-6) + 1, floor(_SHALLOWEST / _STEP + 1e-6)
    return bottom, [Depth(thigh_below_horizontal=-step * _STEP) for step in range(first, last + 1)]


_FROM_THE_FLOOR: Final = frozenset(
    exercise for exercise, rule in EXERCISE_RULES.items() if rule.grip_height is not None
)
_HELD_BY_BLOCKS: Final = frozenset(exercise for exercise in _FROM_THE_FLOOR if EXERCISE_RULES[exercise].accepts_box)
_RAISED_BY_ANOTHER: Final = _FROM_THE_FLOOR - _HELD_BY_BLOCKS


def _deepest_that_meets(case: Case, prescription: Prescription, depths: list[Depth]) -> Depth:
    """The first of the depths, deepest first, at which the target is met. Demand falls with less depth: bisection."""
    low, high = 0, len(depths) - 1

    def meets(place: int) -> bool:
        try:
            ratio = region_ratio(case.present, replace(prescription, depth=depths[place]), case.region)
        except Refusal:
            return False
        return ratio is not None and ratio <= case.target

    while low < high:
        middle = (low + high) // 2
        if meets(middle):
            high = middle
        else:
            low = middle + 1
    return depths[low]


def _at_depth(trial: Trial, bottom: float, depth: Depth) -> Trial:
    return replace(
        trial,
        levers=(*trial.levers, "range_of_motion"),
        likeness=_likeness(trial),
        prescription=replace(trial.prescription, depth=depth),
        strength=_strength(trial, bottom, depth),
        sources=(*trial.sources, "cotter_2013", "enoki_2023", "wolf_2023"),
    )


def _strength(trial: Trial, bottom: float, depth: Depth) -> float | None:
    """Maximum at a new depth against the present lift's, from the published change between two depths.

    bottom: thigh angle of the trial so far [rad]. Left as it is where the change is not published for the lift; that
    makes the lift out to be weaker than it may be, which errs on the careful side.
    """
    exercise, new = trial.prescription.exercise, depth.thigh_below_horizontal
    if trial.strength is None or new is None:
        return trial.strength
    shallowest = max(new, -MEASURED_UP_TO)
    before, after = strength_at_depth(exercise, max(-bottom, -MEASURED_UP_TO)), strength_at_depth(exercise, shallowest)
    return trial.strength if before is None or after is None else trial.strength * after.value / before.value


def _likeness(trial: Trial) -> Likeness:
    return "range_of_motion" if trial.likeness in ("same", "technique") else trial.likeness


def techniques(case: Case, trial: Trial) -> Iterator[Trial]:
    """The trial with each configured change of technique: heel lift, shin angle, stance, bar over mid-foot."""
    new = trial.prescription
    base = new.technique or USUAL_TECHNIQUE
    found = setup_demand(case.present.body, new.exercise, new.load, new.depth, base)
    changed: list[Technique] = []
    if found.family == "squat":
        changed += [replace(base, heel_lift=lift) for lift in CHOICE.heel_lifts if lift > base.heel_lift]
        changed += [replace(base, stance=stance) for stance in _stances(case, base)]
    if found.family != "hinge" or found.setup.carry.kind == "hands_at_side":
        shin = found.posture.shin_angle
        most = max(shin, _furthest_shin(case, base))
        angles = dict.fromkeys(min(shin + radians(change), most) for change in CHOICE.shin_changes)
        changed += [replace(base, shin_angle=angle) for angle in angles if abs(angle - shin) > _WORTH_A_CHANGE]
    if base.bar_forward_of_midfoot > 0:
        changed.append(replace(base, bar_forward_of_midfoot=0.0))
    likeness = "technique" if trial.likeness == "same" else trial.likeness
    for technique in changed:
        yield replace(
            trial,
            levers=(*trial.levers, "technique"),
            prescription=replace(new, technique=technique),
            likeness=likeness,
        )


def _stances(case: Case, technique: Technique) -> Iterator[Stance]:
    """Other stances; for a sore leg none to or from a wide one, whose moments to the side are not computed."""
    for stance in _OTHER_STANCES:
        turned_out = "wide" in (stance, technique.stance)
        if stance != technique.stance and not (turned_out and case.region in _LEG):
            yield stance


def _furthest_shin(case: Case, technique: Technique) -> float:
    """How far forward the shin gets [rad] by what ankle and heel lift allow, as stated or as assumed."""
    ankle = technique.ankle_dorsiflexion or radians(POSTURES.defaults.ankle_limit.value)
    return ankle + foot_pitch(technique.heel_lift, case.present.body.foot)


def _techniques(case: Case) -> Iterator[Trial | RuledOut]:
    if case.region in _LEG and EXERCISE_RULES[case.now.exercise].family == "squat":
        yield RuledOut(
            ("technique",),
            "A wide stance turns the thighs out; what that asks of ankle, knee and hip to the side is not computed.",
        )
    yield from techniques(case, Trial((), case.now))
