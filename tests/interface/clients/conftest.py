"""The running service, and both clients as their generators make them from the description, once for all tests."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.interface.clients.python_client import PythonClient
from tests.interface.clients.typescript_client import TypeScriptClient


@pytest.fixture(scope="session")
def python_client(tmp_path_factory: pytest.TempPathFactory) -> PythonClient:
    return PythonClient.generated(tmp_path_factory.mktemp("python"))


@pytest.fixture(scope="session")
def typescript_client(tmp_path_factory: pytest.TempPathFactory) -> TypeScriptClient:
    return TypeScriptClient.generated(tmp_path_factory.mktemp("typescript"))


@pytest.fixture(scope="session")
def compiled(typescript_client: TypeScriptClient) -> Path:
    """The folder of the compiled TypeScript programs."""
    return typescript_client.compiled()
