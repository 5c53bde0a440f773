"""Long computations beside the event loop: others are answered meanwhile, and nothing is computed in vain.

Told by the order in which things happen. A computation that stood in the way of the event loop would wait here for
something that can only happen after it, and give up after `PATIENCE`.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Awaitable, Callable, Iterator
from typing import Any, Final

import msgspec
import pytest

from service.api.bulk import streaming
from service.api.bulk.streaming import Bounds, Questions, mounted_stream, without_query
from service.api.models.operation import Operation
from service.api.operations.registry import OPERATIONS
from service.api.routes import mounted
from service.charts.elements.layout import Sheet
from service.http.background import Background
from service.http.body import BodiesInHand
from service.http.cost import CHARGE, LONG
from service.http.middleware.load_shedding import LoadShedding
from service.http.problems import HttpProblem

PATIENCE: Final = 20.0  # [s]
TEMPO: Final = next(operation for operation in OPERATIONS if operation.name == "tempo")
BODY: Final = msgspec.json.encode(TEMPO.examples[0].request)
HEADERS: Final = [(b"content-type", b"application/json")]
Handle = Callable[..., Awaitable[None]]


class Gate:
    """A computation that waits until it is let through, and counts how often it was begun."""

    def __init__(self) -> None:
        self.begun = 0
        self.open = threading.Event()

    def __call__(self, request: Any) -> Any:  # noqa: ANN401 - an operation's shapes
        self.begun += 1
        assert self.open.wait(PATIENCE), "nothing else was answered meanwhile"
        return TEMPO.compute(request)


def operation(**changes: Any) -> Operation:  # noqa: ANN401 - fields of an operation
    return msgspec.structs.replace(TEMPO, **changes)


def app_of(handler: Any) -> Handle:  # noqa: ANN401 - a Litestar handler
    handle: Handle = handler.fn
    return handle


async def ask(handle: Handle, body: bytes = BODY, charging: object = None) -> tuple[int, bytes]:
    """Status and body of the answer; the client stays until it is complete."""
    sent: list[Any] = []
    messages = [{"type": "http.request", "body": body, "more_body": False}]

    async def receive() -> Any:  # noqa: ANN401 - an ASGI message
        if messages:
            return messages.pop()
        return await asyncio.Event().wait()

    async def send(message: Any) -> None:  # noqa: ANN401 - an ASGI message
        sent.append(message)

    scope = {"type": "http", "method": "POST", "path": "/", "headers": HEADERS, "query_string": b""}
    await handle(scope | ({CHARGE: charging} if charging else {}), receive, send)
    return sent[0]["status"], b"".join(message["body"] for message in sent[1:])


async def until(happened: Callable[[], bool]) -> None:
    end = asyncio.get_running_loop().time() + PATIENCE
    while not happened() and asyncio.get_running_loop().time() < end:  # noqa: ASYNC110 - it happens in a thread
        await asyncio.sleep(0.001)
    assert happened()


@pytest.mark.parametrize("form", ["answer", "picture"])
def test_short_questions_are_answered_while_a_long_one_is_computed(form: str) -> None:
    gate = Gate()
    pictured = operation(picture=lambda request: [_sheet(gate(request))], picture_cost=LONG)
    slow = pictured if form == "picture" else operation(compute=gate, cost=LONG)

    async def run() -> list[int]:
        background = Background(8)
        handle = app_of(mounted(slow, 65_536, background))
        first = asyncio.create_task(_as_picture(handle) if form == "picture" else ask(handle))
        await until(lambda: gate.begun == 1)
        meanwhile = await ask(app_of(mounted(TEMPO, 65_536, background)))
        gate.open.set()
        found = [meanwhile[0], (await first)[0]]
        await background.close()
        return found

    assert asyncio.run(run()) == [200, 200]


def _sheet(answer: object) -> Sheet:
    return Sheet("picture", str(answer), 10.0, 10.0, lambda _: ())


async def _as_picture(handle: Handle) -> tuple[int, bytes]:
    async def asking(scope: dict[str, Any], receive: Any, send: Any) -> None:  # noqa: ANN401
        await handle(scope | {"query_string": b"as=svg"}, receive, send)

    return await ask(asking)


def test_what_is_long_is_what_costs_much() -> None:
    """The main job, the way back, weeks, many arms, every picture; a short one loses more by the way than it takes."""
    long = {one.name for one in OPERATIONS if one.cost >= LONG}
    assert long == {"adjustments", "joint-demand", "return-plan", "session-review", "week-demand", "week-adjustments"}
    assert all(one.picture_cost >= LONG for one in OPERATIONS if one.picture)


def test_a_question_that_asks_for_less_is_short_and_charged_for_that_alone() -> None:
    review = next(one for one in OPERATIONS if one.name == "session-review")
    with_original, in_a_week = (
        next(one for one in review.examples if part in one.request) for part in ("original", "week")
    )
    charged: list[int] = []

    async def charge(cost: int) -> None:
        charged.append(cost)

    async def run() -> list[int]:
        background = Background(0)  # nobody is let in
        handle = app_of(mounted(review, 65_536, background))
        questions = (review.examples[0], with_original, in_a_week)
        found = [await ask(handle, msgspec.json.encode(one.request), charge) for one in questions]
        await background.close()
        return [status for status, _ in found]

    assert asyncio.run(run()) == [200, 503, 503]
    assert charged[0] < LONG <= charged[1] < charged[2] == review.cost


def test_what_nobody_waits_for_any_more_is_never_begun() -> None:
    gate = Gate()

    async def run() -> None:
        background = Background(8)
        handle = app_of(mounted(operation(compute=gate, cost=LONG), 65_536, background))
        first = asyncio.create_task(ask(handle))
        await until(lambda: gate.begun == 1)
        given_up = asyncio.create_task(ask(handle))
        await asyncio.sleep(0)
        given_up.cancel()
        await asyncio.gather(given_up, return_exceptions=True)
        last = asyncio.create_task(ask(handle))
        gate.open.set()
        assert [(await first)[0], (await last)[0]] == [200, 200]
        await background.close()

    asyncio.run(run())
    assert gate.begun == 2


def test_long_computations_that_wait_are_bounded_and_short_questions_go_on() -> None:
    gate = Gate()

    async def run() -> list[tuple[int, bytes]]:
        background = Background(1)
        long = app_of(mounted(operation(compute=gate, cost=LONG), 65_536, background))
        bounds = Bounds(99, 9, BodiesInHand(99), background)
        stream = app_of(mounted_stream("/", b"application/json", frozenset(), bounds, without_query(_no_questions)))
        first = asyncio.create_task(ask(long))
        await until(lambda: gate.begun == 1)
        found = [await ask(long), await ask(stream, b"{}"), await ask(app_of(mounted(TEMPO, 65_536, background)))]
        gate.open.set()
        found += [await first, await ask(long)]
        await background.close()
        return found

    found = asyncio.run(run())
    assert [status for status, _ in found] == [503, 503, 200, 200, 200]
    assert b"overloaded" in found[0][1]


def _no_questions(_: bytes) -> Questions:
    return Questions((), iter(()))


def test_a_stream_that_is_given_up_computes_no_more_than_the_slice_in_hand(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(streaming, "SLICE", 0.0)  # a piece
    gate = Gate()
    made: list[int] = []

    def pieces() -> Iterator[bytes]:
        for number in range(1000):
            made.append(number)
            gate(msgspec.json.decode(BODY, type=TEMPO.request))
            yield b"x" * 10

    async def run() -> int:
        background = Background(8)
        bounds = Bounds(99, 9, BodiesInHand(99), background)
        handle = app_of(
            mounted_stream(
                "/", b"application/json", frozenset(), bounds, without_query(lambda _: Questions([1], pieces()))
            )
        )
        stream = asyncio.create_task(ask(handle, b"{}"))
        await until(lambda: gate.begun == 1)
        stream.cancel()
        await asyncio.gather(stream, return_exceptions=True)
        gate.open.set()
        await background.run(lambda: None)  # behind whatever the stream has left
        await background.close()
        return len(made)

    assert asyncio.run(run()) == 1


def test_nothing_is_computed_that_is_too_much_or_not_paid_for() -> None:
    computed: list[object] = []

    def compute(request: Any) -> Any:  # noqa: ANN401 - an operation's shapes
        computed.append(request)
        return TEMPO.compute(request)

    async def refuse(_: int) -> None:
        raise HttpProblem("quota-exceeded", "None is left.")

    def read(_: bytes) -> Questions:
        return Questions([10], (bytes(compute(None)) for _ in range(3)))

    async def run() -> list[int]:
        background = Background(8)
        single = app_of(mounted(operation(compute=compute, cost=2), 65_536, background))
        small, large = (
            app_of(mounted_stream("/", b"application/json", frozenset(), bounds, without_query(read)))
            for bounds in (Bounds(99, cost, BodiesInHand(99), background) for cost in (9, 10))
        )
        found = [await ask(single, charging=refuse), await ask(large, b"{}", refuse), await ask(small, b"{}")]
        await background.close()
        return [status for status, _ in found]

    assert asyncio.run(run()) == [429, 429, 413]
    assert computed == []


def test_an_answer_that_is_not_ready_in_time_is_the_services_fault_and_says_so() -> None:
    """408 would tell a client that it was slow; see test_limits for one that is."""
    gate = Gate()

    async def run() -> tuple[int, bytes]:
        background = Background(8)
        handle = app_of(mounted(operation(compute=gate, cost=LONG), 65_536, background))
        found = await ask(LoadShedding(handle, 8, 0.05, frozenset(), background))
        gate.open.set()
        await background.close()
        return found

    status, body = asyncio.run(run())
    assert status == 503
    assert b"not ready within 0.05 s" in body


def test_an_application_that_is_begun_anew_computes_again() -> None:
    async def run() -> list[int]:
        background = Background(8)
        handle = app_of(mounted(operation(cost=LONG), 65_536, background))
        found = []
        for _ in range(2):
            found.append((await ask(handle))[0])
            await background.close()
        return found

    assert asyncio.run(run()) == [200, 200]
