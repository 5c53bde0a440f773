"""How a course went, by measures that are the same for every policy."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from tests.science.episodes.course import Session
from tests.science.episodes.prescribed import Json, is_the_original

FLARE_UP: Final = 5.0  # pain above it, in the session or on the next morning
GREEN: Final = 2.0
WORSE_MORNING: Final = 2.0  # from so much above the usual on, a morning is worse
IN_A_ROW: Final = 2
WEEKS_OF_EFFECT: Final = 12
HORIZON: Final = 26 * 7  # [days]


def went_well(session: Session) -> bool:
    return session.pain <= GREEN and session.morning - session.usual < WORSE_MORNING


def weeks_to_original(sessions: Sequence[Session], original: Json) -> float | None:
    """Weeks until the original was done twice in a row with pain felt in the green band; None if it never was."""
    good = 0
    for session in sessions:
        good = good + 1 if is_the_original(session.prescription, original) and went_well(session) else 0
        if good == IN_A_ROW:
            return session.day / 7
    return None


def flare_ups(sessions: Sequence[Session]) -> int:
    """Sessions with pain felt above 5 in them or on the next morning."""
    return sum(1 for session in sessions if max(session.pain, session.morning) > FLARE_UP)


def effect_kept(sessions: Sequence[Session], days_a_week: int) -> float:
    """Stimulus of the first twelve weeks against that of the original done on all its days [1]."""
    first = [session.stimulus for session in sessions if session.day < 7 * WEEKS_OF_EFFECT]
    return sum(first) / (WEEKS_OF_EFFECT * days_a_week)
