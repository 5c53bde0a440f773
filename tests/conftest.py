"""The live service, how many examples a property is tried with, and what runs only in the group nightly."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

import pytest
from hypothesis import is_hypothesis_test, settings

pytest_plugins: Final = ("tests.support.live",)

NIGHTLY: Final = "nightly"  # the profile of hypothesis, and the mark of tests that take too long for every day
AT_LEAST: Final = 1000
SETTINGS: Final = "_hypothesis_internal_use_settings"  # where hypothesis keeps what a test was decorated with

settings.register_profile(NIGHTLY, parent=settings.get_profile("ci"), max_examples=AT_LEAST)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """By day all but the marked tests; in the profile nightly these, and every property with many examples."""
    nightly = settings.get_current_profile_name() == NIGHTLY
    kept: list[pytest.Item] = []
    left_out: list[pytest.Item] = []
    for item in items:
        function: Any = getattr(item, "obj", None)
        marked = item.get_closest_marker(NIGHTLY) is not None
        if nightly and is_hypothesis_test(function):
            _try_more(function)
            kept.append(item)
        else:
            (kept if marked == nightly else left_out).append(item)
    config.hook.pytest_deselected(items=left_out)
    items[:] = kept


def _try_more(function: Callable[..., Any]) -> None:
    decorated: settings = getattr(function, SETTINGS)
    if decorated.max_examples < AT_LEAST:
        setattr(function, SETTINGS, settings(decorated, max_examples=AT_LEAST))
