"""The same lift by another technique: what the posture model sees, and cues that it does not see."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, RuledOut, Trial
from service.adjustment.levers.arm import range_is_computed
from service.adjustment.levers.lean import lean_is_computed
from service.adjustment.levers.split import held_otherwise
from service.adjustment.levers.stance import sure_stances
from service.knowledge.cues import Cue, cues_for
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import POSTURES
from service.mechanics.posture import foot_pitch
from service.mechanics.setups import USUAL_TECHNIQUE, Technique

_SMALLEST_SHIN_CHANGE: Final = radians(1.0)
"""Of the shin [rad]; less cannot be seen."""


def own_techniques(case: Case) -> Iterator[Trial | RuledOut]:
    """The present lift with each configured change of technique."""
    _, unsure = sure_stances(case)
    yield from [RuledOut(("technique",), "stance_relief_not_sure")] * len(unsure)
    yield from held_otherwise(case, case.present.solved(case.now))
    yield from techniques(case, Trial((), case.now))


def techniques(case: Case, trial: Trial) -> Iterator[Trial]:
    """The trial with each configured change of technique: heel lift, stance, shin angle, bar over mid-foot.

    Raises Refusal where the trial's own posture cannot be had.
    """
    new = trial.prescription
    base = new.technique or USUAL_TECHNIQUE
    demand = case.present.solved(new)
    changed: list[Technique] = []
    if demand.family == "squat":
        changed += [replace(base, heel_lift=lift) for lift in CHOICES.adjustments.heel_lifts if lift > base.heel_lift]
        if new.exercise == case.now.exercise:
            changed += sure_stances(case)[0]
    if demand.family not in ("hinge", "pull") or demand.setup.carry.kind == "hands_at_side":
        shin = demand.posture.shin_angle
        furthest = max(shin, _furthest_shin(case, base))
        angles = dict.fromkeys(min(shin + radians(change), furthest) for change in CHOICES.adjustments.shin_changes)
        changed += [replace(base, shin_angle=angle) for angle in angles if abs(angle - shin) > _SMALLEST_SHIN_CHANGE]
    if base.bar_forward_of_midfoot > 0:
        changed.append(replace(base, bar_forward_of_midfoot=0.0))
    for technique in changed:
        yield replace(
            trial,
            levers=(*trial.levers, "technique"),
            prescription=replace(new, technique=technique),
            likeness="technique" if trial.likeness == "same" else trial.likeness,
        )


def without_bounce(case: Case) -> Iterator[Trial]:
    """The present lift without the bounce at the bottom, where it is stated to have one."""
    technique = case.now.technique
    if technique is not None and technique.bounce:
        steady = replace(case.now, technique=replace(technique, bounce=False))
        yield Trial(("technique",), steady, likeness="technique", sources=("achermann_2025",))


def cued(case: Case) -> Iterator[Trial]:
    """The present lift with each cue that takes demand off the region; none for a range or a lean that is computed."""
    shortened = "range_of_motion" in case.levers and range_is_computed(case)
    leaning = lean_is_computed(case)
    for cue in cues_for(case.now.exercise, case.region):
        computed = (shortened and cue.lever == "range_of_motion") or (cue.computed_by == "trunk_lean" and leaning)
        if cue.lever in case.levers and cue.id not in case.now.cues and not computed and not _is_done(case, cue):
            yield Trial(
                (cue.lever,),
                replace(case.now, cues=(*case.now.cues, cue.id)),
                likeness="range_of_motion" if cue.lever == "range_of_motion" else "technique",
                range_cut=CHOICES.adjustments.unknown_cut if cue.lever == "range_of_motion" else 0.0,
                sources=cue.sources,
            )


def _is_done(case: Case, cue: Cue) -> bool:
    """Whether the grip is stated to be as narrow as the cue asks for."""
    grip = None if case.now.technique is None else case.now.technique.grip_width
    if grip is None or cue.grip_at_most is None:
        return False
    return grip <= cue.grip_at_most * case.present.body.shoulder_breadth


def _furthest_shin(case: Case, technique: Technique) -> float:
    """How far forward the shin gets [rad] by what ankle and heel lift allow, as stated or as assumed."""
    ankle = technique.ankle_dorsiflexion or radians(POSTURES.defaults.ankle_limit.value)
    return ankle + foot_pitch(technique.heel_lift, case.present.body.foot)
