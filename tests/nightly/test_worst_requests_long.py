"""The search for the most expensive requests, from other seeds and twenty times as long, against the same budgets."""

from __future__ import annotations

import pytest

from tests.hostile.test_worst_requests import BUDGETS
from tests.hostile.worst import TARGETS, worst


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("name", TARGETS)
def test_most_expensive_request_of_a_longer_search(name: str, seed: int) -> None:
    found = worst(TARGETS[name], 5.0, seed)
    assert found.calls <= BUDGETS[name].calls, found.body.decode()
