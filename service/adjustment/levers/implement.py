"""The same lift with another implement: dumbbells or a kettlebell instead of a bar, the body alone.

What such a load asks of the region is computed where a posture rule says where it acts; else only a direction is said,
or that it is practice. Nobody knows how strong the lifter is with it, so it starts low and is found by a ramp. The body
alone is for lifters to whom even the lightest load that is looked at asks too much.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, RuledOut, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.evaluation import RATIO_TOLERANCE
from service.adjustment.levers.load import load_for_target
from service.adjustment.prescription import Prescription, lifts_the_body
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.implements import direction_of
from service.vocabulary import Difference, Lever

_CHOICE: Final = CHOICES.adjustments
_LEVER: Final[tuple[Lever, ...]] = ("equipment",)


def other_implements(case: Case) -> Iterator[Trial | RuledOut]:
    """The present lift with each other implement that is there, at its start load, or why it gives none.

    Of implements that ask as much of the region for the same load, the first that reaches as far stands for all.
    """
    if "equipment" not in case.levers or case.now.hold is not None or lifts_the_body(case.now.exercise):
        return
    heaviest: dict[float, float] = {}
    for implement in case.own_implements:
        if implement == "body_weight":
            yield from _with_the_body_alone(case)
            continue
        held = replace(case.now, implement=implement)
        asked, said = _asked(case, held), _said(case, held)
        no_less = said == "higher" or (asked is None and said != "lower")
        if no_less and not (case.excluded or _nothing_lighter(case)):
            yield RuledOut(_LEVER, "not_said_to_ask_less", held)
            continue
        trial = _started(case, held, asked)
        if isinstance(trial, RuledOut) or asked is None:
            yield trial
        elif trial.intended is not None and trial.intended > heaviest.get(round(asked, 2), 0.0):
            heaviest[round(asked, 2)] = trial.intended
            yield trial


def _with_the_body_alone(case: Case) -> Iterator[Trial]:
    """Nothing lifted but the body, where a load is lifted now and nothing that is there meets the target with less."""
    too_much = case.own_implements == ("body_weight",) if case.excluded else _nothing_lighter(case)
    if case.now.load > 0 >= case.lightest and too_much:
        yield Trial(_LEVER, replace(case.now, implement="body_weight", load=0.0), likeness="equipment")


def _nothing_lighter(case: Case) -> bool:
    """Whether no load of the present implement is looked at with which the target is met."""
    if _asked(case, case.now) is not None:
        return _tolerated(case, case.now) is None
    now = case.now
    load = case.round_down(now.exercise, case.target * now.load, now.implement)
    return load is None or load < case.lightest


def _started(case: Case, held: Prescription, asked: float | None) -> Trial | RuledOut:
    """The lift held otherwise at its start load.

    held: with the present load, of which asked is what it asks of the region against now [1], None where not known.
    """
    exercise, heaviest = held.exercise, case.round_down(held.exercise, held.load, held.implement)
    if held.load == 0:
        return RuledOut(_LEVER, "no_load_to_form_one_from", facts={"exercise": exercise})
    if asked is not None and asked > 1 + RATIO_TOLERANCE and not case.excluded:
        return RuledOut(_LEVER, "asks_more_for_its_load", facts={"exercise": exercise})
    if heaviest is None or (heaviest < _CHOICE.least_reach * case.target * held.load and not case.excluded):
        return RuledOut(_LEVER, "implement_too_light", facts={"exercise": exercise, "share": _CHOICE.least_reach})
    held = replace(held, load=heaviest)
    wanted = _start(case, held, computed=asked is not None)
    if wanted is None:
        return RuledOut(_LEVER, "no_load_meets_target", held, {"share": _CHOICE.lightest_share})
    load = case.round_down(exercise, wanted, held.implement)
    if load is None or load < case.lightest:
        return RuledOut(_LEVER, "start_load_below_implement", facts={"exercise": exercise, "load": wanted})
    return Trial(_LEVER, replace(held, load=load), None, "equipment", untested=True, intended=heaviest)


def _start(case: Case, held: Prescription, *, computed: bool) -> float | None:
    """The load to start with [kg]: a share of the one that meets the target if that is computed, else of the present.

    None where no load meets it.
    """
    if computed:
        tolerated = _tolerated(case, held)
        return None if tolerated is None else _CHOICE.untested_start.computed * tolerated
    return _CHOICE.untested_start.equipment * case.now.load


def _tolerated(case: Case, prescription: Prescription) -> float | None:
    """The load, not above the prescription's, with which the target is met [kg]; None where none does."""
    try:
        return load_for_target(case, prescription)
    except Refusal:
        return None


def _said(case: Case, held: Prescription) -> Difference | None:
    """What the implement itself does to the region: less load alone is had without another implement."""
    said = direction_of(held.exercise, case.now.held, held.held, case.region)
    return None if said is None else said.direction


def _asked(case: Case, held: Prescription) -> float | None:
    """What the region carries with the present load held so, against now [1]; None where that is not computed."""
    try:
        return region_ratio(case.present, held, case.region)
    except Refusal:
        return None
