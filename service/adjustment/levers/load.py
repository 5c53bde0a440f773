"""Less load: the heaviest that meets the target.

For one lift demand rises with load nearly in a straight line, from which the posture departs as it goes with the load;
the load that meets the target is solved for by false position and then rounded down to what the implement can hold: the
smallest change that does it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.demand import effect_on, region_ratio
from service.adjustment.evaluation import RATIO_TOLERANCE, assess
from service.adjustment.prescription import Prescription, body_moved, lifts_the_body, total_load
from service.adjustment.region_effect import Effect
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES

_HALVINGS: Final = 4
_STEPS: Final = 5
_CLOSE: Final = 5e-4
"""How near to the target a solved load is, as a share of the present demand [1]."""
_SURELY: Final = 1e-3
"""How much less than now is surely less [1]."""
_LESS: Final = 1e-3
"""How much lighter than a load the next one tried is at the least [kg]."""


def load_for_target(case: Case, prescription: Prescription) -> float | None:
    """The heaviest load the implement can hold, not above the prescription's, at which the target is met [kg].

    None where no load does it, or nothing is computed for the region. Raises Refusal for a posture that cannot be had.
    """
    if case.present.asks_more_at_rest(prescription, case.region) is not None or (
        effect_on(case.present, prescription, case.region).highest is not None
    ):
        return _load_surely_lower(case, prescription)
    body = body_moved(prescription.exercise, case.present.body.mass)
    low = max(case.lightest, CHOICES.adjustments.lightest_share * (prescription.load + body) - body)
    top = _ratio_at(case, prescription, prescription.load)
    if top is None or low > prescription.load:
        return None
    low, bottom = _lightest(case, prescription, low)
    if bottom is None:
        return None
    if top <= case.target:
        solved = prescription.load
    elif bottom > case.target or top <= bottom:
        return None
    else:
        solved = _meeting(case, prescription, (low, bottom), (prescription.load, top))
    return _loadable(case, prescription, solved, low)


def surely_lower_load(case: Case, effect: Effect, prescription: Prescription) -> float:
    """The load of a lift of the arms at which its relief is as much as wanted, and sure [kg].

    What an arm holds rises in a straight line with what is lifted, from what it holds of itself.

    Args:
        case: the consultation
        effect: of the prescription on the sore region, by the model of the arm
        prescription: with a load
    """
    ratio, highest = effect.ratio or 0.0, effect.highest or 0.0
    return _load_with(case, prescription, min(case.target / ratio, (1.0 - _SURELY) / highest))


def _load_with(case: Case, prescription: Prescription, share: float) -> float:
    """The load with which the arm holds a share of what it holds with the prescription's [kg]."""
    body = body_moved(prescription.exercise, case.present.body.mass)
    whole, arms = prescription.load + body, case.present.arms
    half = replace(prescription, load=whole / 2 - body)
    of_itself = 0.0 if arms is None else arms.own_share(prescription, half, case.region)
    return whole * (share - of_itself) / (1.0 - of_itself) - body


def _load_surely_lower(case: Case, prescription: Prescription) -> float | None:
    """The heaviest load of a lift of the arms at which its relief is as much as wanted, and sure [kg]."""
    body, load = body_moved(prescription.exercise, case.present.body.mass), prescription.load
    more = case.present.asks_more_at_rest(prescription, case.region)
    if more is not None:
        nearer = case.round_down(
            prescription.exercise, _load_with(case, prescription, case.target / more), prescription.implement
        )
        if nearer is None:
            return None
        load = min(load, nearer)
    least = max(case.lightest, CHOICES.adjustments.lightest_share * (load + body) - body)
    for _ in range(_STEPS):
        effect = effect_on(case.present, replace(prescription, load=load), case.region)
        if effect.ratio is None or effect.highest is None or load < least:
            return None
        if effect.ratio <= case.target + RATIO_TOLERANCE and not effect.unsure:
            return load
        wanted = min(surely_lower_load(case, effect, replace(prescription, load=load)), load - _LESS)
        lower = case.round_down(prescription.exercise, wanted, prescription.implement)
        if lower is None or lower >= load or lower < least:
            return None
        load = lower
    return None


def _meeting(case: Case, prescription: Prescription, below: tuple[float, float], above: tuple[float, float]) -> float:
    """The load at which the region's demand is the target, or a little more [kg]; loads [kg] with their demand [1]."""
    load = above[0]
    for _ in range(_STEPS):
        (low, bottom), (high, top) = below, above
        load = low + (high - low) * (case.target - bottom) / (top - bottom)
        ratio = _ratio_at(case, prescription, load)
        if ratio is None or abs(ratio - case.target) < _CLOSE:
            break
        if ratio < case.target:
            below = load, ratio
        else:
            above = load, ratio
    return min(above[0], load + _CLOSE * above[0])


def _lightest(case: Case, prescription: Prescription, low: float) -> tuple[float, float | None]:
    """The load from which on a lifter can balance, not below `low` [kg], and the region's demand with it.

    Some squats are held up by the load: with less of it the lifter would tip. The gap to the present load is halved
    until the posture can be had.
    """
    for _ in range(_HALVINGS):
        try:
            return low, _ratio_at(case, prescription, low)
        except Refusal:
            low = (low + prescription.load) / 2
    return prescription.load, _ratio_at(case, prescription, prescription.load)


def _ratio_at(case: Case, prescription: Prescription, load: float) -> float | None:
    return region_ratio(case.present, replace(prescription, load=load), case.region)


def _loadable(case: Case, prescription: Prescription, solved: float, low: float) -> float | None:
    """The solved load rounded down, and further down while the straight line was a little wrong."""
    load = case.round_down(prescription.exercise, solved, prescription.implement)
    while load is not None and load >= low - RATIO_TOLERANCE:
        ratio = _ratio_at(case, prescription, load)
        if ratio is not None and ratio <= case.target + RATIO_TOLERANCE:
            return load
        lower = case.round_down(prescription.exercise, load - _LESS, prescription.implement)
        load = None if lower is None or lower >= load else lower
    return None


def with_less_load(case: Case, trial: Trial) -> Trial | None:
    """The trial with the load that meets the target; None where none does or the load is a lever already."""
    if "load" in trial.levers or "load" not in case.levers:
        return None
    load = load_for_target(case, trial.prescription)
    if load is None:
        return None
    return replace(trial, levers=(*trial.levers, "load"), prescription=replace(trial.prescription, load=load))


def lighter(case: Case) -> Iterator[Assessment]:
    """The load alone."""
    now = case.now
    if now.load == 0 and not lifts_the_body(now.exercise):
        yield RuledOut(("load",), "no_load_to_take_off")
        return
    load = load_for_target(case, now)
    if load is None and region_ratio(case.present, now, case.region) is None:
        load, otherwise = load_by_practice(case), RuledOut(("load",), "no_lighter_load")
    else:
        otherwise = RuledOut(("load",), "no_load_meets_target", facts={"share": CHOICES.adjustments.lightest_share})
    if load is None or load >= now.load or load < case.lightest:
        yield otherwise
        return
    yield assess(case, Trial(("load",), replace(now, load=load)))


def with_some_load_off(case: Case, trial: Trial) -> Trial | None:
    """The trial with the configured share of its load off, or the next that there is; None where there is none."""
    new, mass = trial.prescription, case.present.body.mass
    if "load" in trial.levers or "load" not in case.levers:
        return None
    share = CHOICES.adjustments.red_load_off if case.only_sure else CHOICES.adjustments.load_off
    wanted = new.load - share * total_load(new, mass)
    load = case.round_down(new.exercise, wanted, new.implement)
    if load is None or load >= new.load or load < case.lightest:
        return None
    return replace(trial, levers=(*trial.levers, "load"), prescription=replace(new, load=load))


def load_by_practice(case: Case) -> float | None:
    """A first step by practice [kg] where no demand is computed: less load asks less, nobody knows how much.

    None where the implement cannot hold as little.
    """
    body = body_moved(case.now.exercise, case.present.body.mass)
    return case.round_down(case.now.exercise, case.target * (case.now.load + body) - body, case.now.implement)
