"""One live service for the group, impatient so that what never ends is over soon."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from tests.support.live import Live, live


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    with live(tmp_path_factory.mktemp("hostile"), HEAD_SECONDS="0.5", REQUEST_SECONDS="2") as found:
        yield found
