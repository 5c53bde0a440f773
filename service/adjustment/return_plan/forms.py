"""The forms of the lift between the adjusted and the original one, each part of it by grades.

Grades stand on fixed marks between the two ends, so that whoever has come to one of them has the same way on as before.
Another exercise is left for the original in one change, with as much range as there was, and the rest follows in the
original exercise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec.structs import replace

from service.adjustment.prescription import Prescription, body_moved, lifts_the_body, total_load
from service.adjustment.return_plan.budget import Budget
from service.adjustment.return_plan.grades import (
    DEPTH_TOLERANCE,
    cue_grades,
    depth_at,
    depth_grades,
    has_thigh,
    hold_grades,
    is_raised,
    partial_depths,
    technique_grades,
)
from service.adjustment.return_plan.lift import LOAD_TOLERANCE, Lift, Loads
from service.adjustment.return_plan.problem import TOLERANCE, ReturnCase, maximum
from service.adjustment.return_plan.states import Form, Rung
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.setups import Depth, Technique


class Last(NamedTuple):
    """Positions of the last grades.

    Attributes:
        depth: of the depths [count]
        technique: of the techniques [count]
        cues: of the cues [count]
        hold: of the holds [count]
    """

    depth: int
    technique: int
    cues: int
    hold: int


class Grades(NamedTuple):
    """The values that one exercise goes through on the way, the last of them those with which it is left.

    Attributes:
        depths: its depths, None for the usual one
        reached: how far down each of them goes, greater is deeper [rad or m], None where it is not known
        techniques: its techniques, None for the usual one
        cues: ids of its cues
        holds: lengths of a static repetition [s], None for repetitions that move
    """

    depths: tuple[Depth | None, ...]
    reached: tuple[float | None, ...]
    techniques: tuple[Technique | None, ...]
    cues: tuple[tuple[str, ...], ...]
    holds: tuple[float | None, ...]

    @property
    def last(self) -> Last:
        """Positions of the last of each."""
        return Last(len(self.depths) - 1, len(self.techniques) - 1, len(self.cues) - 1, len(self.holds) - 1)


class Forms:
    """The forms of one return; solves each of them once, when it is first asked for.

    Attributes:
        case: the return
        budget: of postures
        original: grades of the original's exercise
        adjusted: grades of the adjusted one's, the same where it is the same exercise
        start: the adjusted form
        goal: the original one
    """

    def __init__(self, case: ReturnCase, budget: Budget) -> None:
        """Lays out the grades; raises Refusal where one of the two prescriptions cannot be had."""
        self.case = case
        self.budget = budget
        adjusted, original = case.adjusted, case.original
        self._lifts: dict[tuple[Form, bool], Lift | None] = {}
        self._one_tempo = adjusted.tempo == original.tempo
        self._loads: dict[tuple[str, str], Loads] = {}
        same = adjusted.exercise == original.exercise
        if same:
            depths, reached = depth_grades(case, adjusted, original)
            techniques = technique_grades(case, adjusted, original)
            cues = cue_grades(adjusted.cues, original.cues)
            holds = hold_grades(adjusted.hold, original.hold)
            self.original = self.adjusted = Grades(depths, reached, techniques, cues, holds)
        else:
            self.original = _entered(case)
            self.adjusted = _left(case)
        one_kit = (adjusted.implement, adjusted.side) == (original.implement, original.side)
        self.kits = 1 if one_kit or not same else 2
        self.goal = Form(original=True, **self.original.last._asdict(), kit=self.kits - 1)
        self.start = Form(same)

    def grades(self, form: Form) -> Grades:
        """The grades of a form's exercise."""
        return self.original if form.original else self.adjusted

    def reached(self, form: Form) -> float | None:
        """How far down a form goes [rad or m], None where it is not known."""
        return self.grades(form).reached[form.depth]

    def hold(self, form: Form) -> float | None:
        """Length of a form's static repetition [s], None where it moves."""
        return self.grades(form).holds[form.hold]

    def lift(self, form: Form, *, original_tempo: bool) -> Lift:
        """The lift of a form that can be had, at the original's tempo or the adjusted one's."""
        lift = self._solved(form, original_tempo=original_tempo)
        if lift is None:
            raise KeyError(form)
        return lift

    def can_be_had(self, form: Form) -> bool:
        """Whether this lifter gets there in balance with a load that can be put on; the two ends always can."""
        return form in (self.start, self.goal) or self._solved(form, original_tempo=False) is not None

    def changes(self, form: Form) -> Iterator[tuple[Form, Rung]]:
        """The forms that one change leads to: deeper, one grade of another kind, or the original exercise."""
        depths, techniques, cues, holds = self.grades(form).last
        if form.hold < holds:
            longer = self._had([form._replace(hold=form.hold + 1)], form._replace(hold=holds))
            yield from ((new, Rung.HOLD) for new in longer)
            return
        ahead = range(form.depth + 1, min(depths, form.depth + CHOICES.return_plan.most_depth_steps) + 1)
        deeper = list(self._had([form._replace(depth=depth) for depth in ahead], form._replace(depth=depths)))
        yield from ((new, Rung.RANGE) for new in deeper)
        if form.technique < techniques:
            others = [form._replace(technique=form.technique + 1)]
            yield from ((new, Rung.TECHNIQUE) for new in self._had(others, form._replace(technique=techniques)))
        if (form.depth, form.technique) == (depths, techniques):
            if form.cues < cues:
                yield form._replace(cues=form.cues + 1), Rung.CUES
            elif form.original and form.kit < self.goal.kit:
                yield form._replace(kit=self.goal.kit), Rung.LIFT
        if not form.original and (not deeper or self._is_low(form)):
            yield from ((new, Rung.LIFT) for new in self._entries(form))

    def deepest_entry(self, form: Form) -> Form:
        """The original exercise with as much range as there is in another one, or the least of it that can be had."""
        return max(self._entries(form), key=lambda entry: entry.depth)

    def _had(self, forms: list[Form], last: Form) -> Iterator[Form]:
        """Those of some forms that can be had; where none can, the last of their kind."""
        had = [form for form in forms if self.can_be_had(form)]
        yield from had or ([last] if forms and self.can_be_had(last) else [])

    def _is_low(self, form: Form) -> bool:
        """Whether a bar on blocks is so low that the next grades would be the floor."""
        left = len(self.adjusted.depths) - form.depth
        return is_raised(self.case.adjusted) and left <= CHOICES.return_plan.most_depth_steps

    def _entries(self, form: Form) -> Iterator[Form]:
        """The original exercise no deeper than the range so far."""
        before, last = self.reached(form), self.goal
        for depth, reached in enumerate(self.original.reached):
            entry = last._replace(depth=depth)
            partial = entry != last
            if partial and not self.can_be_had(entry):
                continue
            if before is None or reached is None or not self._shares_depth or reached <= before + DEPTH_TOLERANCE:
                yield entry

    @property
    def _shares_depth(self) -> bool:
        return len(self.adjusted.depths) > 1 and not is_raised(self.case.adjusted)

    def _solved(self, form: Form, *, original_tempo: bool) -> Lift | None:
        key = form, original_tempo or self._one_tempo
        if key not in self._lifts:
            prescription, tempo = self.prescription(form), (self.case.original if key[1] else self.case.adjusted).tempo
            if prescription.tempo != tempo:
                prescription = replace(prescription, tempo=tempo)
            self._lifts[key] = self._solve(form, prescription)
        return self._lifts[key]

    def _solve(self, form: Form, prescription: Prescription) -> Lift | None:
        kit = prescription.exercise, prescription.held
        loads = self._loads.get(kit)
        if loads is None:
            loads = self._loads[kit] = _loads(self.case, prescription)
        try:
            return Lift(self.case, self.budget, prescription, loads) if loads else None
        except Refusal:
            if form in (self.start, self.goal):
                raise
            return None

    def prescription(self, form: Form) -> Prescription:
        """The form as a prescription, whatever its load and dose."""
        case, grades = self.case, self.grades(form)
        if form == self.goal:
            return case.original
        if form == self.start:
            return case.adjusted
        kit = case.original if form.original and form.kit == self.goal.kit else case.adjusted
        return replace(
            case.original if form.original else case.adjusted,
            depth=grades.depths[form.depth],
            technique=grades.techniques[form.technique],
            cues=grades.cues[form.cues],
            hold=grades.holds[form.hold],
            implement=kit.implement,
            side=kit.side,
        )


def _left(case: ReturnCase) -> Grades:
    """The adjusted exercise, left for another one: its range grows to the original's, all else stays as it is."""
    adjusted, original = case.adjusted, case.original
    depths: tuple[Depth | None, ...] = (adjusted.depth,)
    reached: tuple[float | None, ...] = (depth_at(case, adjusted),)
    squats = all(has_thigh(one) and EXERCISES[one.exercise].family == "squat" for one in (adjusted, original))
    if (squats and adjusted.depth is not None) or (is_raised(adjusted) and original.exercise in EXERCISE_RULES):
        depths, reached = depth_grades(case, adjusted, original)
    holds = (adjusted.hold,) if adjusted.hold is None else (adjusted.hold, None)
    return Grades(depths, reached, (adjusted.technique,), (adjusted.cues,), holds)


def _entered(case: ReturnCase) -> Grades:
    """The original exercise, entered from another one: squats may begin with less range than they will have."""
    adjusted, original = case.adjusted, case.original
    end = depth_at(case, original)
    depths: tuple[Depth | None, ...] = (original.depth,)
    reached: tuple[float | None, ...] = (end,)
    if end is not None and all(
        has_thigh(one) and EXERCISES[one.exercise].family == "squat" for one in (adjusted, original)
    ):
        partial = partial_depths(end)
        depths = (*(Depth(thigh_below_horizontal=depth) for depth in partial), original.depth)
        reached = (*partial, end)
    return Grades(depths, reached, (original.technique,), (original.cues,), (original.hold,))


def _loads(case: ReturnCase, prescription: Prescription) -> Loads:
    """The loads that may be used in a lift with its implement; the two prescriptions' own loads belong to them."""
    original, adjusted = case.original, case.adjusted
    kit = prescription.exercise, prescription.held
    own = [one.load for one in (original, adjusted) if (one.exercise, one.held) == kit]
    top = original.load if prescription.exercise == original.exercise else _most_in_substitute(case, prescription)
    top = max([top, *own])
    least = CHOICES.adjustments.lightest_share * total_load(original, case.body_mass)
    least -= body_moved(prescription.exercise, case.body_mass)
    lightest = least if lifts_the_body(prescription.exercise) else TOLERANCE
    apart_by = max(LOAD_TOLERANCE, (top - lightest) / CHOICES.return_plan.most_loads)
    loads: list[float] = []
    load = case.round_down(prescription.exercise, top, prescription.implement)
    while load is not None and load >= lightest:
        loads.append(load)
        below = case.round_down(prescription.exercise, load - apart_by, prescription.implement)
        load = None if below is None or below >= load else below
    others = [load for load in loads if all(abs(load - mine) > LOAD_TOLERANCE for mine in own)]
    return tuple(sorted([*others, *dict.fromkeys(own)]))


def _most_in_substitute(case: ReturnCase, prescription: Prescription) -> float:
    """The share of the load that would match the original to which a substitute is taken [kg]."""
    most, known = maximum(case, prescription), maximum(case, case.original)
    if most == float("inf") or not known:
        return case.adjusted.load
    matching = most / known * total_load(case.original, case.body_mass)
    body = body_moved(prescription.exercise, case.body_mass)
    return CHOICES.return_plan.load_before_change * matching - body
