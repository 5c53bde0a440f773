"""Regions to be spared are asked for no more, and relief is enough but not far too much, in plausible questions."""

from __future__ import annotations

from random import Random
from statistics import median
from typing import Any, Final

import pytest

from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES
from tests.science.judgement.measure import COUNT
from tests.science.judgement.plausible import FIRST_SEED, consultation
from tests.support.asking import Answered, ask, in_full

ROUNDING: Final = 1e-3
FAR: Final = 0.20
"""Relief beyond the target that is far too much [1]."""
FEW: Final = 0.10
"""Share of first ranks that may go so far [1]."""


def answer(request: dict[str, Any]) -> Answered | None:
    try:
        return ask("adjustments", in_full(request))
    except Refusal:
        return None


def sparing(seed: int) -> tuple[dict[str, Any], str]:
    """A consultation with one more region that the lift loads to be spared."""
    request = consultation(seed)
    others = [
        one for one in EXERCISES[request["prescription"]["exercise"]].regions if one != request["complaint"]["region"]
    ]
    region = Random(seed).choice(others or ["wrist"])  # noqa: S311 (nothing secret)
    limits = request.get("constraints", {}) | {"spare": [region]}
    return request | {"constraints": limits, "limit": 20}, region


def test_no_option_asks_more_of_a_region_that_is_spared() -> None:
    options = 0
    for seed in range(FIRST_SEED, FIRST_SEED + COUNT):
        request, spared = sparing(seed)
        found = answer(request)
        for option in [] if found is None else found.options:
            options += 1
            ratio = option.demand.get(spared)
            if ratio is not None:
                assert ratio.value <= 1 + ROUNDING, (seed, option.levers)
            else:
                assert option.direction.get(spared, "lower") in ("lower", "no_clear_difference"), (seed, option.levers)
    assert options > COUNT


@pytest.fixture(scope="module")
def beyond() -> list[float]:
    """Relief of a repetition beyond the target in first ranks, where a number is known [1]."""
    found = []
    for seed in range(FIRST_SEED, FIRST_SEED + COUNT):
        told = answer(consultation(seed))
        if told is not None and told.options and told.options[0].meets_by == "peak":
            found.append(told.target.ratio - told.options[0].demand[told.target.region].value)
    return found


def test_first_ranks_meet_the_target_and_few_go_far_beyond_it(beyond: list[float]) -> None:
    assert len(beyond) > 0.5 * COUNT
    assert min(beyond) >= -ROUNDING
    assert sum(one > FAR for one in beyond) < FEW * len(beyond)
    assert median(beyond) < FAR / 2
