"""What is done in the trade without a service, on the same lifters: three practices, stated before they were compared.

Loads go to what is in every gym: 2.5 kg or 5 lb. The rules are our own wording of what is commonly done.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import floor
from typing import Final

from tests.science.episodes.body import Body
from tests.science.episodes.course import Session, is_missed, rested, start, trained
from tests.science.episodes.measures import FLARE_UP, HORIZON
from tests.science.episodes.prescribed import Json, days_a_week
from tests.science.episodes.schedule import days_to_the_next

REST_DAYS: Final = 14
CUT, ADDED_A_WEEK = 0.10, 0.05
STEPS: Final = {"kg": 2.5, "lb": 5.0}

Practice = Callable[[Body, Sequence[Session], int], Json | None]
"""What to do on a day after the sessions so far; None for rest."""


def keep_the_program(body: Body, _sessions: Sequence[Session], _day: int) -> Json | None:
    """The original, whatever it feels like."""
    return body.original


def rest_and_resume(body: Body, sessions: Sequence[Session], day: int) -> Json | None:
    """Two weeks without the lift, then the original; two weeks again after pain above 5 in a session."""
    last = sessions[-1] if sessions else None
    if last is None:
        return body.original if day >= REST_DAYS else None
    flared = last.report.pain_in_session > FLARE_UP
    return None if flared and day < last.day + REST_DAYS else body.original


def cut_and_add(body: Body, sessions: Sequence[Session], day: int) -> Json | None:
    """Ten per cent off, then 5 % of the original's load more each week until it is back; after pain above 5 anew."""
    base, since = 1 - CUT, 0
    for session in sessions:
        if session.report.pain_in_session > FLARE_UP:
            base, since = (1 - CUT) * _share_on(session.day, base, since), session.day
    return _with_share(body.original, _share_on(day, base, since))


def _share_on(day: int, base: float, since: int) -> float:
    return min(1.0, base + ADDED_A_WEEK * ((day - since) // 7))


def _with_share(original: Json, share: float) -> Json:
    """The original with a share of its load; of a lift with assistance, or without load, with fewer repetitions."""
    load, unit = original["load"]["value"], original["load"]["unit"]
    if share >= 1:
        return original
    if load <= 0 or original.get("assistance"):
        reps = original["reps"]
        return {**original, "reps": {end: max(1, floor(count * share)) for end, count in reps.items()}}
    return {
        **original,
        "load": {"value": max(STEPS[unit], floor(load * share / STEPS[unit]) * STEPS[unit]), "unit": unit},
    }


PRACTICES: Final[dict[str, Practice]] = {
    "rest two weeks and resume": rest_and_resume,
    "cut 10 % and add 5 % a week": cut_and_add,
    "keep the program": keep_the_program,
}


def practised(body: Body, practice: Practice) -> list[Session]:
    """The sessions of a lifter who follows a practice for the whole time that is looked at."""
    state, sessions, gaps = start(body), list[Session](), days_to_the_next(days_a_week(body.original))
    while state.day < HORIZON:
        prescription = practice(body, sessions, state.day)
        if prescription is not None and not is_missed(body, state.day):
            state, session = trained(body, state, prescription)
            sessions.append(session)
        state = rested(body, state, next(gaps))
    return sessions
