"""Whatever is asked, the service calls no other machine, starts no program and writes no file (OWASP API7, API10)."""

from __future__ import annotations

import json
import os
import sys
from typing import Any, Final

from service.api.operations.registry import OPERATIONS
from tests.support.in_process import client

CALLS: Final = (
    "socket.connect",
    "socket.getaddrinfo",
    "socket.gethostbyname",
    "subprocess.Popen",
    "os.system",
    "os.exec",
)
WRITING: Final = os.O_WRONLY | os.O_RDWR | os.O_CREAT


class Watch:
    """Notes what leaves the process while it is on; the interpreter's own hook, which cannot be got round."""

    def __init__(self) -> None:
        self.on = False
        self.found: list[str] = []
        sys.addaudithook(self._hook)

    def _hook(self, event: str, arguments: tuple[Any, ...]) -> None:
        if not self.on:
            return
        if event in CALLS or (event == "open" and isinstance(arguments[2], int) and arguments[2] & WRITING):
            self.found.append(f"{event} {arguments!r}")


def test_nothing_leaves_the_process() -> None:
    watch = Watch()
    with client() as asking:
        watch.on = True
        for operation in OPERATIONS:
            for example in operation.examples:
                assert asking.post(operation.path, json=example.request).status_code == 200
                body = json.dumps(example.request).replace("kg", "http://192.0.2.1/")
                asking.post(operation.path, content=body, headers={"content-type": "application/json"})
        for path in (
            "/docs",
            "/docs.md",
            "/openapi.json",
            "/v1/sources",
            "/v1/evidence",
            "/readyz",
            "/version",
            "/problems/invalid",
        ):
            assert asking.get(path).status_code == 200
        assert asking.get("/v1/tempo?tempo=file:///etc/passwd").status_code == 422
        watch.on = False
    assert watch.found == []


def test_the_watch_sees() -> None:
    watch = Watch()
    watch.on = True
    with open(os.devnull, "w", encoding="utf-8"):  # noqa: PTH123 - the call that is watched
        pass
    watch.on = False
    assert any(found.startswith("open ") for found in watch.found)
