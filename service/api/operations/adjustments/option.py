"""One option as the answer shows it: what a reader needs to choose and to do it, and in full what stands behind it."""

from __future__ import annotations

from msgspec import UNSET

from service.adjustment.consultation import Case
from service.adjustment.kept import Kept
from service.adjustment.options.ramp import Ramp
from service.adjustment.options.result import Outcome
from service.adjustment.stimulus import Stimulus
from service.adjustment.text.option import option_words, reasons, reasons_in_short
from service.api.models.by_region import NO_DIRECTION, DemandByRegion, DirectionByRegion
from service.api.models.common import estimate, rounded
from service.api.models.prescription_shown import shown
from service.api.operations.adjustments.basis import (
    basis_of_option,
    cautions_of_option,
    meaning_of_span,
    sources_of_option,
)
from service.api.operations.adjustments.models import (
    KeptAnswer,
    KeptPartAnswer,
    KeptParts,
    LoadRange,
    Option,
    RampAnswer,
    StimulusAnswer,
)
from service.intervals import Interval
from service.units import MassUnit, mass


def option(rank: int, outcome: Outcome, case: Case, unit: MassUnit, *, full: bool) -> Option:
    """One option, its loads in the unit asked about."""
    candidate, stimulus = outcome.candidate, outcome.candidate.stimulus
    directions = {
        region: direction
        for region, direction in outcome.direction.items()
        if full or (region not in outcome.demand and (region == case.region or direction == "higher"))
    }
    return Option(
        rank=rank,
        levers=list(candidate.levers),
        program=candidate.trial.program,
        prescription=shown(candidate.prescription, unit),
        words=option_words(outcome, case, unit),
        demand=DemandByRegion(
            **{
                region: estimate(span, meaning_of_span(outcome, case, region))
                for region, span in outcome.demand.items()
            }
        ),
        direction=DirectionByRegion(**directions) if directions else NO_DIRECTION,
        session_exposure=rounded(candidate.exposure) if full else UNSET,
        meets_by=candidate.meets_by,
        ramp=None if outcome.ramp is None else _ramp(outcome.ramp, unit, full=full),
        stimulus=_stimulus(stimulus) if full else StimulusAnswer(kept=_kept(stimulus.kept, full=False)),
        why=reasons(outcome, case, unit) if full else reasons_in_short(outcome, case, unit),
        cautions=cautions_of_option(outcome, case, full=full),
        sources=sources_of_option(outcome),
        basis=basis_of_option(outcome, case) if full else UNSET,
    )


def _stimulus(stimulus: Stimulus) -> StimulusAnswer:
    seconds = stimulus.set_seconds
    return StimulusAnswer(
        kept=_kept(stimulus.kept, full=True),
        weekly_sets=round(stimulus.hard_sets, 4),
        volume_load=round(stimulus.volume_load, 4),
        relative_load=rounded(stimulus.relative_load),
        reps_in_reserve=round(stimulus.reserve, 1),
        muscle_moment=rounded(stimulus.muscle_moment),
        seconds_a_set=None
        if seconds is None
        else estimate(seconds, "an X counts as half to one and a half seconds", "s"),
    )


def _kept(kept: Kept, *, full: bool) -> KeptAnswer:
    value, low, high = _ends(kept.index)
    return KeptAnswer(
        value=value,
        low=low,
        high=high,
        parts=KeptParts(**{name: _part(part) for name, part in kept.parts.items()}) if full else UNSET,
        muscles={muscle: _part(part) for muscle, part in kept.muscles.items()} if full else UNSET,
    )


def _part(part: Interval) -> KeptPartAnswer:
    value, low, high = _ends(part)
    return KeptPartAnswer(value=value, low=low, high=high)


def _ends(part: Interval) -> tuple[float, float | None, float | None]:
    """A part with its span; what has none, such as a load that is computed, shows none."""
    value, low, high = (round(end, 4) for end in (part.value, part.low, part.high))
    return (value, low, high) if low < high else (value, None, None)


def _ramp(ramp: Ramp, unit: MassUnit, *, full: bool) -> RampAnswer:
    return RampAnswer(
        start=mass(ramp.start, unit),
        step=None if ramp.step is None else mass(ramp.step, unit),
        at_most=mass(ramp.at_most, unit),
        reps_in_reserve=ramp.reserve,
        expected=_load_range(ramp.expected, unit) if full else UNSET,
        sources=list(ramp.sources) if full else UNSET,
    )


def _load_range(loads: Interval | None, unit: MassUnit) -> LoadRange | None:
    return None if loads is None else LoadRange(low=mass(loads.low, unit), high=mass(loads.high, unit))
