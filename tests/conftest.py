"""How many examples a property is tried with: few on every day, at least a thousand in the group nightly."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import pytest
from hypothesis import is_hypothesis_test, settings

NIGHTLY: Final = "nightly"
FOLDER: Final = Path(__file__).parent / NIGHTLY
AT_LEAST: Final = 1000
SETTINGS: Final = "_hypothesis_internal_use_settings"  # where hypothesis keeps what a test was decorated with

settings.register_profile(NIGHTLY, parent=settings.get_profile("ci"), max_examples=AT_LEAST)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """In the profile nightly: every property with at least so many examples; beside them only that folder's tests."""
    if settings.get_current_profile_name() != NIGHTLY:
        return
    kept: list[pytest.Item] = []
    left_out: list[pytest.Item] = []
    for item in items:
        function: Any = getattr(item, "obj", None)
        if is_hypothesis_test(function):
            _try_more(function)
            kept.append(item)
        else:
            (kept if FOLDER in item.path.parents else left_out).append(item)
    config.hook.pytest_deselected(items=left_out)
    items[:] = kept


def _try_more(function: Callable[..., Any]) -> None:
    decorated: settings = getattr(function, SETTINGS)
    if decorated.max_examples < AT_LEAST:
        setattr(function, SETTINGS, settings(decorated, max_examples=AT_LEAST))
