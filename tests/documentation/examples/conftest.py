"""The running service that the examples ask."""

from __future__ import annotations

from tests.interface.contract.conftest import served as served  # noqa: PLC0414 - the same process as in the contract group
