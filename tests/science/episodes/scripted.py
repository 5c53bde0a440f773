"""Lifters who follow a script instead of a body: one to whom all goes well, and one who gets worse each morning."""

from __future__ import annotations

from math import ceil, floor

from tests.science.episodes.course import Report
from tests.science.episodes.prescribed import Json
from tests.science.episodes.strength import repetitions

GOOD_PAIN = 1
WORST = 10


def _all_done(prescription: Json) -> tuple[int, ...]:
    return (floor(repetitions(prescription)),) * int(prescription["sets"])


def _as_prescribed(prescription: Json) -> float | None:
    reserve = prescription.get("reps_in_reserve")
    return None if reserve is None else ceil(2 * reserve) / 2


class AllGoesWell:
    """Every session is green, done in full with the prescribed reserve, and the next morning is as usual."""

    def session(self, _day: int, prescription: Json) -> Report | None:
        """What is reported of a session."""
        return Report(GOOD_PAIN, GOOD_PAIN, GOOD_PAIN, _all_done(prescription), _as_prescribed(prescription))


class WorseEachMorning:
    """Bearable in the session, and each next morning a point worse than the one before."""

    def __init__(self, pain: int = 2) -> None:
        """Start with a pain in the session, which stays."""
        self.pain = pain
        self.morning = GOOD_PAIN

    def session(self, _day: int, prescription: Json) -> Report | None:
        """What is reported of a session."""
        self.morning = min(WORST, self.morning + 1)
        return Report(self.pain, self.morning, GOOD_PAIN, _all_done(prescription), _as_prescribed(prescription))
