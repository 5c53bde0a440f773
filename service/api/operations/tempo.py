"""tempo: seconds under tension, and what slow repetitions were measured to cost."""

from __future__ import annotations

from typing import Final

from service.api.models.base import ResponseModel
from service.api.models.common import Basis, Estimate, RepRange, SetCount, cautions, estimate
from service.api.models.operation import Example, Operation
from service.api.models.prescription import RestOfPrescription, TempoText, reps_of
from service.errors import Refusal
from service.intervals import Interval
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.training import tempo as pace
from service.units import duration


class LiftingTempo(RestOfPrescription, kw_only=True, frozen=True):
    """A tempo with the repetitions and sets done at it, or a whole prescription that states one.

    Attributes:
        tempo: The trade's four figures in seconds: lowering, bottom, lifting, top, such as 3-1-X-1; X is as fast as
            possible.
        reps: Repetitions of a set. Null or left out: only with a hold.
        sets: Sets of the session.
    """

    tempo: TempoText | None
    reps: RepRange | None = None
    sets: SetCount = 1


class Phases(ResponseModel, kw_only=True, frozen=True):
    """Seconds of each phase; an X is a span.

    Attributes:
        lowering: On the way down.
        bottom: Held at the bottom.
        lifting: On the way up.
        top: Held at the top.
    """

    lowering: Estimate
    bottom: Estimate
    lifting: Estimate
    top: Estimate


class TensionTime(ResponseModel, kw_only=True, frozen=True):
    """Time under tension in seconds.

    Attributes:
        low: At the fewest repetitions.
        high: At the most repetitions.
    """

    low: Estimate
    high: Estimate


class MeasuredCost(ResponseModel, kw_only=True, frozen=True):
    """One measured result.

    Attributes:
        exercise: Id of the exercise.
        seconds_per_rep: Seconds of a repetition at the slower pace.
        fraction_kept: Share of own-pace repetitions that was still done at it.
        source: Id of the source, see GET /v1/sources.
    """

    exercise: str
    seconds_per_rep: float
    fraction_kept: float
    source: str


class RepCost(ResponseModel, kw_only=True, frozen=True):
    """What slow repetitions cost.

    Attributes:
        fraction_kept: Share of own-pace repetitions that is kept, between the measured results at the nearest slower
            and faster paces.
        reps_left: The repetitions left of the range.
        measured: The results that bracket it.
    """

    fraction_kept: Estimate
    reps_left: RepRange
    measured: list[MeasuredCost]


class TempoAnswer(ResponseModel, kw_only=True, frozen=True):
    """Seconds a repetition, a set and a session, and the expected cost in repetitions.

    Attributes:
        phases: Seconds of each phase.
        seconds_per_rep: Seconds of a repetition.
        time_under_tension_per_set: Seconds of a set.
        time_under_tension_total: Seconds of all sets.
        cost_in_reps: What it costs in repetitions; null above 10 s a repetition, where nothing is measured.
        basis: Where the numbers come from.
        cautions: What to mind.
    """

    phases: Phases
    seconds_per_rep: Estimate
    time_under_tension_per_set: TensionTime
    time_under_tension_total: TensionTime
    cost_in_reps: RepCost | None
    basis: Basis
    cautions: list[Message]


EXACT = "the sum of the figures; a phase X is taken as 0.5 to 1.5 s"


def _seconds(interval: Interval, times: float = 1.0) -> Estimate:
    return estimate(interval.scaled(times), EXACT, "s")


def tempo(request: LiftingTempo) -> TempoAnswer:
    """Times and the measured bracket of the cost of a tempo."""
    reps = reps_of(request.reps, request.hold)
    if request.tempo is None:
        raise Refusal.one("tempo", "Without a tempo nothing is known of the seconds.", "four figures, such as 3-1-X-1")
    phases = pace.phase_seconds(request.tempo)
    one = pace.seconds_per_rep(phases)
    kept = pace.reps_kept(one.value)
    cost = None
    if kept:
        fraction, measured = kept
        cost = RepCost(
            fraction_kept=estimate(fraction, "between the measured results at the nearest slower and faster paces"),
            reps_left=RepRange(low=max(1, int(reps.low * fraction.low)), high=max(1, int(reps.high * fraction.high))),
            measured=[
                MeasuredCost(exercise=r.exercise, seconds_per_rep=r.seconds, fraction_kept=r.fraction, source=r.source)
                for r in measured
            ],
        )
    sets = int(request.sets)
    sources = list(dict.fromkeys(r.source for r in (kept[1] if kept else ())))
    return TempoAnswer(
        phases=Phases(**{name: _seconds(phase) for name, phase in zip(pace.PHASES, phases, strict=True)}),
        seconds_per_rep=_seconds(one),
        time_under_tension_per_set=TensionTime(low=_seconds(one, reps.low), high=_seconds(one, reps.high)),
        time_under_tension_total=TensionTime(low=_seconds(one, sets * reps.low), high=_seconds(one, sets * reps.high)),
        cost_in_reps=cost,
        basis=Basis(
            method=message("method_time_under_tension"),
            sources=["wilk_2018", *sources, "design_choice"],
            assumptions=[message("assumed_fast_phase"), message("assumed_range_at_own_pace")],
            evidence="published" if cost else "computed",
        ),
        cautions=cautions(
            "tempo_changes_max",
            "tempo_wide" if cost else message("too_slow_to_convert", limit=duration(CHOICES.tempo.convert_up_to, "s")),
        ),
    )


OPERATION: Final = Operation(
    name="tempo",
    tag="Tempo",
    summary="Time under tension and what slow repetitions cost",
    description="Seconds a repetition, a set and in all for a tempo of four figures, and the fraction of own-pace repetitions kept, bracketed by measured "
    "results: there is no published formula. Above 10 s a repetition nothing is converted. Phases 0 to 59 s or X.",
    request=LiftingTempo,
    answer=TempoAnswer,
    compute=tempo,
    examples=(
        Example(
            "slow-lowering",
            "Front squats lowered in 4 s",
            {"tempo": "4-1-X-0", "reps": {"low": 5, "high": 6}, "sets": 4},
        ),
    ),
)
