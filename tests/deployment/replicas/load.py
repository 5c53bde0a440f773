"""Clients that ask one question again as soon as it is answered, and count; nothing is timed, nothing asked twice."""

from __future__ import annotations

import http.client
import json
import threading
from typing import TYPE_CHECKING, Final, Self

from service.api.operations.registry import OPERATIONS
from tests.support.programs import wait_for

if TYPE_CHECKING:
    from types import TracebackType

CLIENTS: Final = 8
JSON: Final = {"Content-Type": "application/json"}
# The longest computation there is: each replica has a request in hand nearly all the time.
QUESTION: Final = next(operation for operation in OPERATIONS if operation.name == "adjustments")
PATH: Final = QUESTION.path
BODY: Final = json.dumps(QUESTION.examples[0].request).encode()


def ask(port: int, path: str = PATH, body: bytes | None = BODY) -> tuple[int, dict[str, str], bytes]:
    """One request on a connection of its own: status, headers by lower-case names, body."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        connection.request("GET" if body is None else "POST", path, body, {} if body is None else JSON)
        answer = connection.getresponse()
        return answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
    finally:
        connection.close()


class Load:
    """Asks while it is entered; `failures` says of each request that was not answered as before what came instead.

    `cut_short` holds apart the answers that ended after their first bytes: those no proxy can ask for again.
    """

    def __init__(self, port: int) -> None:
        self.failures: list[str] = []
        self.cut_short: list[str] = []
        self._port = port
        self._counts = [0] * CLIENTS
        self._over = threading.Event()
        self._threads = [threading.Thread(target=self._client, args=(number,)) for number in range(CLIENTS)]
        status, _, self._expected = ask(port)
        assert status == 200, self._expected

    def _client(self, number: int) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=30)
        while not self._over.is_set():
            try:
                connection.request("POST", PATH, BODY, JSON)
                answer = connection.getresponse()
                found = answer.read()
            except http.client.IncompleteRead as error:
                self.cut_short.append(repr(error))
                connection.close()
            except (OSError, http.client.HTTPException) as error:
                self.failures.append(repr(error))
                connection.close()
            else:
                if answer.status == 200 and found == self._expected:
                    self._counts[number] += 1
                else:
                    self.failures.append(f"{answer.status}: {found[:200]!r}")
        connection.close()

    @property
    def answered(self) -> int:
        """How many requests were answered as before."""
        return sum(self._counts)

    def go_on(self, requests: int) -> None:
        """Wait until as many requests more were answered; fail if there is no end to it."""
        goal = self.answered + requests
        wait_for(f"{requests} answers more; failed: {self.failures[:3]}", lambda: self.answered >= goal)

    def __enter__(self) -> Self:
        for thread in self._threads:
            thread.start()
        return self

    def __exit__(self, _: type[BaseException] | None, __: BaseException | None, ___: TracebackType | None) -> None:
        self._over.set()
        for thread in self._threads:
            thread.join()
