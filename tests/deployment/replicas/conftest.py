"""One deployment for the group; a test that ends a part of it starts that part again."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.deployment.replicas.deployment import Deployment, deployed

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture(scope="module")
def deployment(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Deployment]:
    """With the settings that every deployment has; tests of other settings call `deployed` themselves."""
    with deployed(tmp_path_factory.mktemp("replicas")) as found:
        yield found
