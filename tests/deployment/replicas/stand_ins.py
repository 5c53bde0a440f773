"""Stand-ins for replicas, which show what they were sent, and a proxy before them."""

from __future__ import annotations

import json
import threading
from contextlib import AbstractContextManager, contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import TYPE_CHECKING, ClassVar

from tests.deployment.replicas.processes import Proxy
from tests.support.programs import running

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


class StandIn(BaseHTTPRequestHandler):
    """Healthy; shows headers at /headers, is busy at /busy, and ends the connection without a word at /silent."""

    protocol_version = "HTTP/1.1"
    seen: ClassVar[list[tuple[str, int]]] = []

    def do_GET(self) -> None:
        self.reply(200, [(name.lower(), value) for name, value in self.headers.items()])

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.seen.append((self.path, len(body)))
        if self.path == "/busy":
            self.reply(503, {}, {"Retry-After": "7"})
        elif self.path == "/silent":
            self.close_connection = True
        else:
            self.reply(200, {"length": len(body)})

    def reply(self, status: int, content: object, headers: dict[str, str] | None = None) -> None:
        body = json.dumps(content).encode()
        self.send_response(status)
        for name, value in {"Content-Length": str(len(body)), **(headers or {})}.items():
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_: object) -> None:
        """Nothing."""


@contextmanager
def stand_in() -> Iterator[int]:
    """The port of one."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), StandIn)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield server.server_port
    finally:
        server.shutdown()
        server.server_close()


def proxy_before(folder: Path, *replicas: int, **environment: str) -> AbstractContextManager[Proxy]:
    """A proxy for these ports, until the block is left."""
    return running(Proxy(folder, *replicas, **environment))
