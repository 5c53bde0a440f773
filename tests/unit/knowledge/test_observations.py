"""Findings about lifts, and strength ratios in either direction."""

from __future__ import annotations

import pytest

from service.knowledge.catalogue import RATIOS
from service.knowledge.observations import FINDINGS, findings, published_ratio


def test_findings_of_a_pair_speak_of_both_lifts() -> None:
    both = findings("deadlift_trap_bar", "deadlift_conventional")
    assert both
    assert all({"deadlift_trap_bar", "deadlift_conventional"} <= set(finding.exercises) for finding in both)


def test_without_a_finding_on_the_pair_those_on_the_lift_are_taken() -> None:
    alone = findings("deadlift_trap_bar", "deadlift_trap_bar")
    assert findings("deadlift_trap_bar", "pull_up") == alone
    assert alone == [finding for finding in FINDINGS if "deadlift_trap_bar" in finding.exercises]


@pytest.mark.parametrize("pair", RATIOS, ids=" to ".join)
def test_ratio_turned_round_is_its_inverse(pair: tuple[str, str]) -> None:
    there, back = published_ratio(*pair), published_ratio(*reversed(pair))
    assert there is RATIOS[pair]
    assert back is not None
    if pair[::-1] not in RATIOS:
        assert there.ratio * back.ratio == pytest.approx(1)
