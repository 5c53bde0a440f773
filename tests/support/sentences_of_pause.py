"""The sentences of a paused region, read for a consultation and for a review alike."""

from __future__ import annotations

from typing import Any, Final, Protocol

from service.knowledge.catalogue import EXERCISES, REGIONS
from tests.support.asking import Answered
from tests.support.sentences import SentenceReader

BY_NAME: Final = {region.yours: region.id for region in REGIONS.values()}
GREEN, AMBER, RED, AT_REST = 2, 5, 7, 5
"""thomee_1997 (from memory) for 2 and 5; 7 and the limit at rest are our own choice."""
LOOK_AGAIN, PROFESSIONAL_WITHIN = 3, 7
"""Our own choice."""
MOMENTS: Final = {
    "in the session": "pain_in_session",
    "at rest": "pain_at_rest",
    "the next morning": "pain_next_morning",
}
MOMENT: Final = "(in the session|at rest|the next morning)"


class Paused(Protocol):
    """What sentences are held against."""

    @property
    def answer(self) -> Answered: ...

    @property
    def region(self) -> str: ...

    @property
    def felt(self) -> dict[str, Any]: ...


def score(told: Paused, moment: str) -> float:
    """The score of a moment, which has to be stated."""
    return float(told.felt[MOMENTS[moment]])


def highest(told: Paused) -> float:
    """The highest score that is stated."""
    return max(float(told.felt[name]) for name in MOMENTS.values() if name in told.felt)


def register(reader: SentenceReader) -> None:
    """Add the sentences of a pause to a reader."""

    @reader.pattern(
        rf"Pain of # of 10 {MOMENT} is above # ?(again, after an adjustment)?: nothing that loads (.+) is .+\."
    )
    def why_paused(told: Paused, pain: str, moment: str, limit: str, again: str | None, region: str) -> None:
        assert BY_NAME[region] == told.region == told.answer.pause.region
        assert score(told, moment) == float(pain) > float(limit)
        rule = told.answer.pause.rule
        assert (rule == "above_again") == (again is not None)
        assert float(limit) == {"above_again": AMBER, "severe_pain": RED, "pain_at_rest": AT_REST}[rule]
        assert float(pain) == (told.felt["pain_at_rest"] if rule == "pain_at_rest" else highest(told))

    @reader.pattern(r"Stop this lift today, and leave out whatever loads (.+)\. Do not test .+ to train on\.")
    def stop(told: Paused, region: str) -> None:
        assert BY_NAME[region] == told.region

    @reader.pattern(r"What loads (.+) not at all, as far as is known, may be trained: begin light .+\.")
    def something_else(told: Paused, region: str) -> None:
        assert BY_NAME[region] == told.region
        trained = [one for group in told.answer.meanwhile for one in group.exercises]
        assert trained
        assert all(told.region not in EXERCISES[one].regions for one in trained)

    @reader.pattern(r"Nothing that may be used here is known to leave (.+) unloaded: rest from lifting .+\.")
    def nothing_else(told: Paused, region: str) -> None:
        assert BY_NAME[region] == told.region
        assert not told.answer.meanwhile

    @reader.pattern(r"Look again after # days? \(our own choice, no study gives a number\): ask with .+\.")
    def look_again(told: Paused, days: str) -> None:
        first = told.answer.pause.professional.required_first
        assert float(days) == told.answer.pause.look_again.days == (PROFESSIONAL_WITHIN if first else LOOK_AGAIN)

    @reader.pattern(r"A doctor or physical therapist has to look at it within # days?, and before anything loads .+\.")
    def professional_first(told: Paused, days: str) -> None:
        assert told.answer.pause.professional.required_first
        assert told.answer.pause.rule in ("above_again", "pain_at_rest")
        assert float(days) == PROFESSIONAL_WITHIN

    @reader.pattern(
        r"A doctor or physical therapist has to look at it if it is still above # after # days?, above # at rest, or "
        r"growing\."
    )
    def professional_if(told: Paused, above: str, days: str, at_rest: str) -> None:
        assert not told.answer.pause.professional.required_first
        assert (float(above), float(days), float(at_rest)) == (AMBER, PROFESSIONAL_WITHIN, AT_REST)

    @reader.pattern(r"At any red flag do at once what it asks for, whatever the days\.")
    def red_flags(told: Paused) -> None:
        assert told.answer.decision == "pause_and_review"


PAUSE_CHECKS: Final = ("why_paused", "stop", "look_again", "red_flags")
"""Each of them once in a pause."""
