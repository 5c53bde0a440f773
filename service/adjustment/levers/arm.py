"""The present press or pull otherwise done: less range at the bottom, another grip or bench, straight wrists.

Each is tried where the model of the arm has it, and is an option where its relief is sure, or a sore shoulder's posture
is eased; most changes of grip and bench are not, which is then said.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, RuledOut, Trial
from service.adjustment.demand import effect_on
from service.adjustment.evaluation import meets_peak
from service.adjustment.prescription import Prescription
from service.errors import Refusal
from service.knowledge.arm_lifts import STATURE_OF_POINTS
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.mechanics.arm.lifts import ArmSetup
from service.mechanics.depth import Depth
from service.mechanics.technique import USUAL_TECHNIQUE, Technique

_CHOICE: Final = CHOICES.arm
_CENTIMETRE: Final = 0.01


def less_range(case: Case) -> Iterator[Trial | RuledOut]:
    """The present press ending higher above its lowest point: the least that does it, else the most that is tried.

    A pull that ends higher leaves out the stretch at the bottom, which is no relief that a coach looks for.
    """
    setup = _setup(case)
    press = EXERCISES[case.now.exercise].family == "press"
    if setup is None or not press or not setup.lift.path or case.region not in case.present.comparable:
        return
    now = case.now.depth.above_bottom or 0.0 if case.now.depth else 0.0
    heights = [height for height in _CHOICE.above_bottom if height > now + _CENTIMETRE / 2]
    if not heights:
        yield RuledOut(("range_of_motion",), "range_of_motion_at_its_shortest", case.now)
        return
    trials = [_ending_at(case, setup, height) for height in heights]
    yield next((trial for trial in trials if _may_meet(case, trial) and _meets(case, trial)), trials[-1])


def other_techniques(case: Case) -> Iterator[Trial | RuledOut]:
    """The present lift with another grip, another bench or straight wrists, those first that ask less at rest."""
    setup = _setup(case)
    if setup is None or case.region not in case.present.comparable:
        return
    base = case.now.technique or USUAL_TECHNIQUE
    for technique in (*_grips(case, setup, base), *_benches(setup, base), *_wrists(base)):
        held = replace(case.now, technique=technique)
        if _asks_less(case, held):
            yield Trial(("technique",), held, likeness="technique")
        else:
            yield RuledOut(("technique",), "not_said_to_ask_less", held)


def range_is_computed(case: Case) -> bool:
    """Whether less range at the bottom is an option by the model of the arm, so that no cue need say it."""
    return any(isinstance(trial, Trial) and _meets(case, trial) for trial in less_range(case))


def _setup(case: Case) -> ArmSetup | None:
    return None if case.present.arms is None else case.present.arms.setup(case.now)


def _ending_at(case: Case, setup: ArmSetup, height: float) -> Trial:
    path = setup.lift.path
    whole = abs(path[-1].along - path[0].along) * case.present.body.stature / STATURE_OF_POINTS
    return Trial(
        ("range_of_motion",),
        replace(case.now, depth=Depth(above_bottom=height)),
        likeness="range_of_motion",
        range_cut=min(1.0, height / whole),
    )


def _grips(case: Case, setup: ArmSetup, base: Technique) -> Iterator[Technique]:
    usual, breadth = setup.lift.grip, case.present.body.shoulder_breadth
    if usual is None:
        return
    width = usual * breadth if base.grip_width is None else base.grip_width
    for change in _CHOICE.grip_changes:
        yield replace(base, grip_width=_CENTIMETRE * round((width + 2 * change) / _CENTIMETRE))


def _benches(setup: ArmSetup, base: Technique) -> Iterator[Technique]:
    bench = setup.lift.bench
    if bench is None:
        return
    angle = radians(setup.lift.trunk_angle) if base.bench_angle is None else base.bench_angle
    for change in _CHOICE.bench_changes:
        if radians(bench.low) <= angle + radians(change) <= radians(bench.high):
            yield replace(base, bench_angle=angle + radians(change))


def _wrists(base: Technique) -> Iterator[Technique]:
    if base.wrist_bend:
        yield replace(base, wrist_bend=0.0)


def _asks_less(case: Case, held: Prescription) -> bool:
    """Whether the region's moment is less with all as it is assumed; otherwise nothing more is looked at."""
    try:
        moment = case.present.setup_of(held).moments.get(case.region)
    except Refusal:
        return False
    return moment is not None and moment < case.present.moments[case.region]


def _may_meet(case: Case, trial: Trial) -> bool:
    """Whether the target is met or a posture eased with all as it is assumed; otherwise nothing more is looked at."""
    arms = case.present.arms
    try:
        moment = case.present.setup_of(trial.prescription).moments.get(case.region, 0.0)
        less = moment <= case.target * case.present.moments[case.region]
        return less or (
            arms is not None and case.region == "shoulder" and arms.eases_at_rest(trial.prescription, case.now)
        )
    except Refusal:
        return False


def _meets(case: Case, trial: Trial) -> bool:
    try:
        return meets_peak(case, effect_on(case.present, trial.prescription, case.region)) is not None
    except Refusal:
        return False
