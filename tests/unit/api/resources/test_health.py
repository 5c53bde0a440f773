"""The state of the service: which paths say it."""

from __future__ import annotations

from service.api.models.service_state import HEALTH_PATHS
from service.api.resources.health import HEALTH


def test_what_is_exempt_from_limits_is_what_says_the_state() -> None:
    assert {route.path for route in HEALTH.routes} == HEALTH_PATHS
