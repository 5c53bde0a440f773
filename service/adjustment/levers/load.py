"""Less load: the heaviest that meets the target.

For one lift demand rises with load nearly in a straight line, from which the posture departs as it goes with the load;
the load that meets the target is solved for by false position among those that the implement can hold: the smallest
change that does it.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, NamedTuple

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.demand import effect_on, region_ratio
from service.adjustment.evaluation import RATIO_TOLERANCE, assess
from service.adjustment.prescription import Prescription, body_moved, lifts_the_body, total_load
from service.adjustment.region_effect import Effect
from service.errors import Refusal
from service.knowledge.design_choices import CHOICES

_HALVINGS: Final = 4
_STEPS: Final = 8
_CLOSE: Final = 1e-2
"""How far beyond where a straight line meets the target the next load is still tried, as a share of the line [1]."""
_SURELY: Final = 1e-3
"""How much less than now is surely less [1]."""
_LESS: Final = 1e-3
"""How much lighter than a load that asks too much the next one tried is at the least [kg]."""


class _Tried(NamedTuple):
    """A load [kg] and what the region carries with it against the present [1]."""

    load: float
    ratio: float

    def line(self, other: _Tried, target: float) -> float:
        """The load [kg] at which a straight line through both meets the target [1]."""
        return self.load + (other.load - self.load) * (target - self.ratio) / (other.ratio - self.ratio)


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
    load, top = prescription.load, _ratio_at(case, prescription, prescription.load)
    if top is not None and top <= case.target:
        heaviest = _loadable(case, prescription, load)
        if heaviest is None or heaviest < low - RATIO_TOLERANCE:
            return None
        load, top = heaviest, _ratio_at(case, prescription, heaviest)
        if top is not None and top <= case.target + RATIO_TOLERANCE:
            return load
    if top is None or low > load:
        return None
    low, bottom = _lightest(case, prescription, low)
    if bottom is None or bottom > case.target or top <= bottom:
        return None
    return _heaviest(case, prescription, _Tried(low, bottom), _Tried(load, top))


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


def _heaviest(case: Case, prescription: Prescription, below: _Tried, above: _Tried) -> float | None:
    """The heaviest load that can be held and meets the target [kg], None where none does.

    What is tried next is the heaviest load up to where a straight line meets the target: the one from a load that meets
    it to one that does not, or the one through two that do, whichever goes further. Of a curve that bends one way the
    one says too much and the other too little, so that nothing heavier is left out.

    Args:
        case: the consultation
        prescription: with any load
        below: with a load that meets the target
        above: with a heavier one that does not
    """
    lightest = _loadable(case, prescription, below.load + RATIO_TOLERANCE)
    met = lightest if lightest is not None and lightest >= below.load - RATIO_TOLERANCE else None
    before: _Tried | None = None
    for step in range(_STEPS):
        wanted = below.line(above, case.target)
        if before is not None and before.ratio < below.ratio:
            wanted = max(wanted, before.line(below, case.target))
        near = _CLOSE * (above.load - below.load)
        held = (_loadable(case, prescription, min(one, above.load - _LESS)) for one in (wanted, wanted + near))
        load = next((one for one in held if one is not None and one > below.load + RATIO_TOLERANCE), None)
        if load is None and step:
            break
        tried = wanted if load is None else load  # at first the line is far too long to go by it alone
        ratio = _ratio_at(case, prescription, tried)
        if ratio is None:
            break
        if ratio <= case.target + RATIO_TOLERANCE:
            before, below = below, _Tried(tried, ratio)
            met = met if load is None else load
        else:
            before, above = None, _Tried(tried, ratio)
    return met


def _loadable(case: Case, prescription: Prescription, load: float) -> float | None:
    """The heaviest load that the implement can hold, not above a load [kg]."""
    return case.round_down(prescription.exercise, load, prescription.implement)


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
