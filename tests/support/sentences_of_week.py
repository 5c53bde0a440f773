"""What is said of a step in its week, read back against the two ratios of the answer and the lift that leads."""

from __future__ import annotations

from typing import Any, Final, Protocol

import pytest

from service.knowledge.catalogue import EXERCISES, REGIONS
from tests.support.sentences import SentenceReader

COUNTED: Final = {
    "all repetitions added up": "linear",
    "heavier repetitions counting more": "squared",
    "the heaviest repetitions counting most": "tenth_power",
}
NOW: Final = r"what it asks of (.+?) now"
HALF: Final = 0.5
"""Of what is said in whole percent: how far it may be from the answer [percentage points]."""


class InWeek(Protocol):
    """An answer about a step in its week."""

    @property
    def region(self) -> str:
        """The sore region."""

    @property
    def of_week(self) -> Any:  # noqa: ANN401 - of an answer
        """The ratios of the week."""

    @property
    def allowed(self) -> float:
        """The most that a week may rise [1]."""


def register(reader: SentenceReader) -> None:
    """Add the sentences of a step in its week to a reader."""

    @reader.pattern(
        rf"Of the lifts that are computed, and tempo aside, the whole week then asks # % of {NOW} by the plain sum of "
        r"the moments, and # % by that of their tenth powers; # % is allowed in a week\."
    )
    def week_with_step(told: InWeek, linear: str, region: str, tenth: str, most: str) -> None:
        assert region == REGIONS[told.region].yours
        assert float(linear) == pytest.approx(100 * told.of_week.linear, abs=HALF + 0.01)
        assert float(tenth) == pytest.approx(100 * told.of_week.tenth_power, abs=HALF + 0.01)
        assert float(most) == pytest.approx(100 * (1 + told.allowed), abs=HALF)

    @reader.pattern(r"That is more than # %, for want of a smaller change: the test before it decides\.")
    def week_step_over(told: InWeek, most: str) -> None:
        assert max(told.of_week.linear, told.of_week.tenth_power) > 1 + told.allowed
        assert float(most) == pytest.approx(100 * (1 + told.allowed), abs=HALF)

    @reader.pattern(rf"Most of it comes from the (.+): # % with ({'|'.join(COUNTED)})\.")
    def week_leading(told: InWeek, exercise: str, share: str, counted: str) -> None:
        assert 0 < float(share) <= 100
        if not told.of_week:  # nothing is done of what would have been too much
            return
        leading = told.of_week.leading
        assert exercise == EXERCISES[leading.exercise].in_a_sentence
        assert COUNTED[counted] == leading.weighting
        assert float(share) == pytest.approx(100 * leading.share, abs=HALF + 0.01)

    @reader.pattern(
        rf"By itself the lift would allow more: with that the whole week would ask # % of {NOW} with (.+), "
        r"and # % is allowed, so the step is smaller\."
    )
    def week_step_smaller(told: InWeek, asked: str, region: str, counted: str, most: str) -> None:
        _too_much(told, asked, region, counted, most)
        assert max(told.of_week.linear, told.of_week.tenth_power) <= 1 + told.allowed

    @reader.pattern(
        rf"With the smallest step on the whole week would ask # % of {NOW} with (.+), and # % is allowed: "
        r"no step this week\."
    )
    def week_step_held(told: InWeek, asked: str, region: str, counted: str, most: str) -> None:
        _too_much(told, asked, region, counted, most)
        assert told.of_week is None


def _too_much(told: InWeek, asked: str, region: str, counted: str, most: str) -> None:
    assert region == REGIONS[told.region].yours
    assert counted in COUNTED
    assert float(asked) >= float(most) == pytest.approx(100 * (1 + told.allowed), abs=HALF)
