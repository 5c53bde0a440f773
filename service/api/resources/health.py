"""The state of the service, for whoever watches over it: GET /livez, /readyz and /version."""

from __future__ import annotations

from functools import cache
from hashlib import sha256
from typing import Final

import msgspec
from litestar import Response, Router, route
from litestar.datastructures import State

from service import __version__
from service.api.models.service_state import Alive, Ready, Version
from service.api.openapi.document import rendered
from service.api.replies import GET_AND_HEAD, NO_STORE, check_plain_request, reply
from service.http.problems import HttpProblem
from service.http.shutdown import STOPPING
from service.selfcheck import check


@route("/livez", http_method=GET_AND_HEAD)
async def live() -> Response[bytes]:
    """Liveness: the process answers; nothing else is touched."""
    return reply(msgspec.json.encode(Alive("alive")), NO_STORE)


@route("/readyz", http_method=GET_AND_HEAD)
async def ready(state: State) -> Response[bytes]:
    """Readiness: a published example is recomputed. A quota store that is down is named and does not make it unready."""
    if STOPPING.is_set():
        raise HttpProblem("stopping", "The service was told to stop; send new requests elsewhere.")
    check()
    return reply(msgspec.json.encode(Ready("ready", __version__, state.counters.mode)), NO_STORE)


@route("/version", http_method=GET_AND_HEAD)
async def version() -> Response[bytes]:
    """Which release answers, and by which description."""
    return reply(msgspec.json.encode(Version(__version__, _checksum())), NO_STORE)


@cache
def _checksum() -> str:
    return sha256(rendered()).hexdigest()


HEALTH: Final = Router("/", before_request=check_plain_request, route_handlers=[live, ready, version])
