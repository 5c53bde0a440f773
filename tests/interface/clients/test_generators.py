"""Generators beside those of the two clients: what they make compiles, and a short consultation with it is the same."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.interface.clients import generators
from tests.support.live import Live

GENERATORS = (
    generators.java,
    generators.go,
    generators.kotlin,
    generators.msgspec_models,
    generators.pydantic_models,
    generators.orval,
)


@pytest.mark.parametrize("generator", GENERATORS, ids=[generator.__name__ for generator in GENERATORS])
def test_a_generated_client_consults(
    generator: Callable[[Path, str], str], short_consultation: dict[str, Any], served: Live, tmp_path: Path
) -> None:
    printed = generator(tmp_path, f"http://127.0.0.1:{served.port}")
    assert json.loads(printed) == short_consultation
