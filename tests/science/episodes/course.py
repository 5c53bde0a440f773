"""One lifter day by day: how tolerance, strength and pain answer to what is done.

Three response models share recovery, harm and strength, and differ in what hurts and when:

- threshold: pain when the hardest repetition exceeds what the region tolerates, in the session;
- cumulative: pain when what it has carried in the last days exceeds it, in the session and after;
- morning_lag: peak and sum together, little felt in the session and all of it on the next morning.

The state is a value: each function gives the next one. Chance depends on the lifter and the day alone, so that two
policies meet the same good and bad days.
"""

from __future__ import annotations

from math import sqrt

import msgspec
from msgspec.structs import replace

from tests.science.episodes.body import Asked, Body, decayed
from tests.science.episodes.constants import CONSTANTS, clamped
from tests.science.episodes.prescribed import Json, days_a_week
from tests.science.episodes.strength import a_day_later

_T = CONSTANTS.tolerance
_P = CONSTANTS.pain
WORST = 10.0


class State(msgspec.Struct, frozen=True):
    """The lifter on the morning of a day.

    Attributes:
        day: since the start [days]
        tolerance: demand that does not hurt, against the original's [1]
        recovered: tolerance after recovery, as the loading of the last weeks keeps it [1]
        dose: of the last weeks against the original's [1]
        stimulus: of the last weeks against the original's [1]
        strength: against that at the start [1]
        carried: what a cumulative region still carries, in sessions of the original [1]
        helps: share of the best recovery that the last session gives [1]
        since: days since the last session
    """

    day: int
    tolerance: float
    recovered: float
    dose: float
    stimulus: float
    strength: float
    carried: float
    helps: float
    since: int


class Report(msgspec.Struct, frozen=True):
    """What the lifter says of a session; None where nothing is said."""

    pain_in_session: int
    pain_next_morning: int | None
    usual_pain: int
    reps_done: tuple[int, ...] | None
    reps_in_reserve: float | None


class Session(msgspec.Struct, frozen=True):
    """A session as it was.

    Attributes:
        day: since the start [days]
        prescription: what was done
        asked: of the sore region and of the muscle
        pain: felt in the session [0 to 10]
        morning: felt on the next morning [0 to 10]
        usual: felt before it [0 to 10]
        stimulus: against a session of the original at the start [1]
        report: what the lifter says of it
    """

    day: int
    prescription: Json
    asked: Asked
    pain: float
    morning: float
    usual: float
    stimulus: float
    report: Report


def start(body: Body) -> State:
    """The lifter who has done the original until now."""
    lifter = body.lifter
    return State(
        day=0,
        tolerance=lifter.first_tolerance,
        recovered=lifter.recovered,
        dose=1.0,
        stimulus=1.0,
        strength=1.0,
        carried=_carried_by_the_original(body) - 1.0,
        helps=helpfulness(1 / lifter.first_tolerance),
        since=0,
    )


def _carried_by_the_original(body: Body) -> float:
    """What is carried just after a session of the original that has long been done [sessions of it]."""
    return 1 / (1 - decayed(7 / days_a_week(body.original), body.lifter.carried_over))


def helpfulness(excess: float) -> float:
    """Share of the best recovery that a session with this demand against the tolerance gives [1]."""
    rising = excess / _T.best_from
    falling = (_T.harms_from - excess) / (_T.harms_from - _T.best_to)
    return clamped(min(rising, falling), 0.0, 1.0)


def rested(body: Body, state: State, days: int = 1) -> State:
    """The state some days later, without a session."""
    for _ in range(days):
        state = _a_day_later(body, state)
    return state


def _a_day_later(body: Body, state: State) -> State:
    lifter = body.lifter
    helps = state.helps if state.since < _T.works_for else 0.0
    gap = state.recovered - state.tolerance
    rate = (lifter.at_rest + (1 - lifter.at_rest) * helps) / lifter.recovery if gap > 0 else 1 / _T.deconditions_over
    event = lifter.random("event", state.day).random() < _T.event_a_week / 7
    tolerance = (state.tolerance + gap * rate) * (1 - _T.event_takes if event else 1.0)
    kept = _T.unloaded + (1 - _T.unloaded) * min(1.0, state.dose / _T.kept_above)
    return State(
        day=state.day + 1,
        tolerance=max(_T.floor, tolerance),
        recovered=state.recovered + (lifter.recovered * kept - state.recovered) / _T.deconditions_over,
        dose=state.dose * decayed(1, _T.dose_memory),
        stimulus=state.stimulus * decayed(1, CONSTANTS.strength.memory),
        strength=a_day_later(lifter, state.strength, state.stimulus),
        carried=state.carried * decayed(1, lifter.carried_over),
        helps=state.helps,
        since=state.since + 1,
    )


def trained(body: Body, state: State, prescription: Json) -> tuple[State, Session]:
    """A session on the day of the state, the night after it, and the state before that night."""
    lifter, asked = body.lifter, body.asked(prescription, state.strength, state.day)
    carried = state.carried + asked.dose
    driver = {
        "threshold": asked.peak,
        "cumulative": carried / _carried_by_the_original(body),
        "morning_lag": sqrt(asked.peak * asked.dose),
    }[lifter.model]
    excess = driver / state.tolerance
    today = excess * lifter.random("pain", state.day).lognormvariate(0.0, _P.day_to_day)
    pain, morning, usual = felt(body, state, today)
    lost = min(_T.lost_at_most, _T.lost * max(0.0, excess - _T.harms_from))
    weekly = days_a_week(body.original) / 7
    stimulus = asked.done.stimulus / body.stimulus if body.stimulus else 1.0
    after = replace(
        state,
        tolerance=max(_T.floor, state.tolerance * (1 - lost)),
        dose=state.dose + (1 - decayed(1, _T.dose_memory)) * asked.dose / weekly,
        stimulus=state.stimulus + (1 - decayed(1, CONSTANTS.strength.memory)) * stimulus / weekly,
        carried=carried,
        helps=helpfulness(excess),
        since=0,
    )
    report = reported(body, state.day, pain, morning, usual, asked)
    return after, Session(state.day, prescription, asked, pain, morning, usual, stimulus, report)


def felt(body: Body, state: State, excess: float) -> tuple[float, float, float]:
    """Pain in the session, on the next morning and before both [0 to 10], at a demand against the tolerance [1]."""
    lifter, shares = body.lifter, _P.felt[body.lifter.model]
    gap = 1 - lifter.first_tolerance
    usual = lifter.usual_pain * clamped((1 - state.tolerance) / gap, 0.0, 1.5) if gap > 0 else 0.0
    above = lifter.slope * max(0.0, excess - 1)
    return min(WORST, usual + shares.session * above), min(WORST, usual + shares.morning * above), usual


def reported(body: Body, day: int, pain: float, morning: float, usual: float, asked: Asked) -> Report:
    """What the lifter says: whole numbers, off by up to a point, and not everything every time."""
    random, diary = body.lifter.random("report", day), CONSTANTS.diary
    scores = []
    for value in (pain, morning, usual):
        error = clamped(random.gauss(0.0, _P.report_error), -_P.report_error_at_most, _P.report_error_at_most)
        scores.append(round(clamped(value + error, 0.0, WORST)))
    reserve = max(0.0, asked.done.reserve + random.gauss(0.0, CONSTANTS.strength.reserve_error))
    morning_missing, reps_missing = random.random() < diary.morning_missing, random.random() < diary.reps_missing
    return Report(
        scores[0],
        None if morning_missing else scores[1],
        scores[2],
        None if reps_missing else asked.done.reps,
        None if reps_missing else round(2 * reserve) / 2,
    )


def is_missed(body: Body, day: int) -> bool:
    """Whether the session of a day does not take place."""
    return body.lifter.random("missed", day).random() < CONSTANTS.diary.session_missed
