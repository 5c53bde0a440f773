"""What cannot be answered costs no more than its size: memory, work and the answer, counted and not timed."""

from __future__ import annotations

import json
from contextlib import suppress
from functools import partial
from typing import Any, Final

import msgspec
import pytest
from httpx import Response

from service.api.bulk.batch import MOST_EXPLAINED as MOST_IN_BATCH
from service.api.bulk.batch import MOST_ITEMS, read_items
from service.api.bulk.dialects import LONGEST_ROW, MOST_ROWS
from service.api.bulk.tables import MOST_EXPLAINED, Tables
from service.api.operations.registry import OPERATIONS
from service.api.serialization.field_faults import SchemaFaults
from service.api.serialization.json import Reader, without_repeats
from service.api.serialization.unreadable import Unreadable
from service.errors import Refusal
from service.http.negotiation import negotiated
from service.http.problems import MOST_FAULTS, HttpProblem
from service.settings import Settings
from tests.support.in_process import client
from tests.support.work import calls, memory

app: Final = client()
BODY: Final = Settings().max_body
BULK: Final = Settings().max_bulk_body
LONGEST_ANSWER: Final = 30_000  # bytes, of one problem
BY_NAME: Final = {operation.name: operation for operation in OPERATIONS}
NAMES: Final = sorted(BY_NAME)
WRONG: Final = ("0", "{}", '""', "[0]", '{"a":0}', "2.5")


def post(path: str, body: bytes, media_type: str = "application/json") -> Response:
    return app.post(path, content=body, headers={"content-type": media_type})


def objects(size: int, last: str) -> bytes:
    """An object of many names that nothing knows; last: what ends it."""
    return ("{" + ",".join(f'"{number:05d}":0' for number in range((size - 100) // 10)) + last + "}").encode()


def hostile_bodies(name: str, size: int, wrong: tuple[str, ...] = WRONG) -> list[bytes]:
    """Bodies of a size: lists of nothing but wrong items in any field and inside of it, and objects of many names."""
    found = [objects(size, ""), objects(size, ',"x":0,"x":0')]
    for field in msgspec.structs.fields(BY_NAME[name].request):
        for item in wrong:
            items = ",".join([item] * ((size - 200) // (len(item) + 1)))
            found.append(f'{{"{field.encode_name}":[{items}]}}'.encode())
    inner = f'{{"reps":[{",".join(["-1"] * 300)}],"set":[{",".join(["-1"] * 300)}]}}'
    inners = ",".join([inner] * (size // (len(inner) + 1)))
    return [*found, *(f'{{"{field}":[{inners}]}}'.encode() for field in ("sessions", "sets"))]


def refuse(reader: Reader[Any], body: bytes) -> None:
    with suppress(Refusal, Unreadable):
        reader.read(body)
        pytest.fail("this fits")


@pytest.mark.parametrize("name", NAMES)
def test_a_problem_is_short_and_lists_no_more_than_anyone_reads(name: str) -> None:
    for body in hostile_bodies(name, BODY):
        reply = post(f"/v1/{name}", body)
        assert reply.status_code in (400, 422)
        assert len(reply.content) < LONGEST_ANSWER
        assert len(reply.json().get("errors", [])) <= MOST_FAULTS


@pytest.mark.parametrize("path", [*(f"/v1/{name}" for name in NAMES), "/v1/batch"])
def test_names_and_texts_of_any_length_are_repeated_in_short(path: str) -> None:
    text = "n" * 30_000
    for body in ({text: 1}, {text: text}, {"operation": text}, {"set": {text: 1}}, {"complaint": {"region": text}}):
        reply = post(path, json.dumps(body).encode())
        assert reply.status_code == 422
        assert len(reply.content) < 4_000
    if path != "/v1/batch":
        reply = post(
            "/v1/batch", json.dumps({"requests": [{"operation": path[4:], "body": {text: 1}, text: 1}]}).encode()
        )
        assert len(reply.content) < 4_000


@pytest.mark.parametrize("name", NAMES)
def test_errors_drawn_from_the_validator_do_not_grow_with_the_body(name: str) -> None:
    explaining = SchemaFaults(BY_NAME[name].request)
    for small, large in zip(*(hostile_bodies(name, size, ("0", "{}")) for size in (BODY, 2 * BODY)), strict=True):
        drawn = [len(explaining.errors(json.loads(body))) for body in (small, large)]
        assert drawn[0] == drawn[1] < 1000


@pytest.mark.parametrize("name", NAMES)
def test_work_of_a_refusal_is_linear_in_the_body(name: str) -> None:
    reader: Reader[Any] = Reader(BY_NAME[name].request)
    refuse(reader, b"[]")  # the schema is made once
    size = BODY // 16
    for small, large in zip(*(hostile_bodies(name, length, ("0", "{}")) for length in (size, 2 * size)), strict=True):
        work = [calls(partial(refuse, reader, body)) for body in (small, large)]
        assert work[1] <= 2.2 * work[0]
        assert work[1] < 20_000


@pytest.mark.parametrize("name", ["session-review", "adjustments"])
def test_memory_of_a_refusal_is_a_few_times_the_body(name: str) -> None:
    reader: Reader[Any] = Reader(BY_NAME[name].request)
    refuse(reader, b"[]")
    for body in hostile_bodies(name, BODY, ("{}", "2.5"))[::4]:
        _, most = memory(partial(refuse, reader, body))
        assert most < 40 * BODY


class Compared(str):
    """A name that counts how often it is compared with another."""

    __slots__ = ()
    times: int = 0

    def __eq__(self, other: object) -> bool:
        type(self).times += 1
        return str(self) == str(other)

    def __hash__(self) -> int:
        return hash(str(self))


def test_a_name_that_is_there_twice_is_seen_with_few_comparisons() -> None:
    names: list[tuple[str, Any]] = [(Compared(number), 0) for number in range(3000)]
    Compared.times = 0
    with pytest.raises(Unreadable, match='"2999"'):
        without_repeats([*names, (Compared(2999), 0)])
    assert 1 <= Compared.times < 2 * len(names)
    assert without_repeats(names) == dict(names)


def wrong_item(name: str, size: int) -> bytes:
    """An item of a batch whose body is a list of wrong items in every field."""
    fields = [field.encode_name for field in msgspec.structs.fields(BY_NAME[name].request)]
    zeros = ",".join(["0"] * (size // 2 // len(fields) - 20))
    inside = ",".join(f'"{field}":[{zeros}]' for field in fields)
    return f'{{"operation":"{name}","body":{{{inside}}}}}'.encode()


@pytest.mark.parametrize("size", [200, 2_000, 20_000])
def test_a_batch_of_wrong_items_is_linear_in_work_memory_and_answer(size: int) -> None:
    item = wrong_item("rest", size)

    def batch(length: int) -> bytes:
        return b'{"requests":[%b]}' % b",".join([item] * min(MOST_ITEMS, length // (len(item) + 1)))

    reply = post("/v1/batch", batch(BULK))
    assert reply.status_code == 200
    results = reply.json()["results"]
    assert [result["status"] for result in results] == [422] * len(results)
    assert len(reply.content) < 2 * MOST_IN_BATCH + 500 * len(results)
    (fault,) = results[-1]["problem"]["errors"]
    assert results[-1]["problem"]["detail"] == f"{fault['pointer']}: {fault['detail']}"
    work = [calls(partial(post, "/v1/batch", batch(length))) for length in (BULK // 16, BULK // 8)]
    assert work[1] <= 2.1 * work[0]


def test_an_item_is_no_larger_than_a_question_by_itself() -> None:
    reply = post("/v1/batch", b'{"requests":[%b,%b]}' % (wrong_item("tempo", BODY + 1000), wrong_item("tempo", 300)))
    first, second = reply.json()["results"]
    assert (first["status"], first["problem"]["detail"]) == (413, f"The item is larger than {BODY} bytes.")
    assert second["status"] == 422


@pytest.mark.parametrize("item", WRONG)
def test_a_batch_of_too_many_items_is_refused_before_they_are_kept(item: str) -> None:
    items = ",".join([item] * (BULK // (len(item) + 1) - 20))
    body = f'{{"requests":[{items}]}}'.encode()

    def read() -> None:
        with pytest.raises(HttpProblem) as caught:
            read_items(body)
        assert caught.value.faults[0].pointer.startswith("/requests")
        assert f"length <= {MOST_ITEMS}" in caught.value.faults[0].detail

    _, most = memory(read)
    assert most < 6 * len(body)


@pytest.mark.parametrize("name", NAMES)
def test_a_header_of_any_columns_gets_a_short_problem(name: str) -> None:
    length = LONGEST_ROW - 10
    known = next(iter(client_columns(name)))
    for header in ("," * length, f"{known}," * (length // (len(known) + 1)), ",".join(map(str, range(length // 5)))):
        reply = post(f"/v1/tables/{name}", f"{header}\r\n1\r\n".encode(), "text/csv")
        assert reply.status_code == 422
        assert len(reply.content) < LONGEST_ANSWER
        assert len(reply.json()["errors"]) <= MOST_FAULTS


@pytest.mark.parametrize("name", NAMES)
def test_columns_of_the_answer_that_are_not_there_are_explained_up_to_as_many_as_anyone_reads(name: str) -> None:
    table = Tables(BY_NAME[name])

    def refuse(most: int) -> None:
        with pytest.raises(HttpProblem):
            table.reading(("columns=" + ",".join(f"/{number}" for number in range(most))).encode())

    work = [calls(partial(refuse, most)) for most in (100, 400)]
    assert work[1] - work[0] < 20 * 300  # each is looked at; what is like it is sought for the first alone


def client_columns(name: str) -> list[str]:
    """The columns that a table of an operation may have, as it says itself when it does not know one."""
    reply = post(f"/v1/tables/{name}", b"?\r\n1\r\n", "text/csv")
    columns: list[str] = reply.json()["errors"][0]["allowed"].partition(" and: ")[2].split(", ")
    return columns


@pytest.mark.parametrize("row", ["," * 60_000, '"' + "a\n" * 30_000 + '"', ",\r" * 3 + '"\n"' + "," * 17_000])
def test_a_row_that_is_too_long_is_refused_before_it_is_taken_apart(row: str) -> None:
    for table in (row, f"tempo\r\n{row}"):
        reply = post("/v1/tables/tempo", table.encode(), "text/csv")
        assert reply.status_code in (413, 422)
        assert len(reply.content) < LONGEST_ANSWER
    _, most = memory(lambda: post("/v1/tables/tempo", row.encode() * (BULK // len(row)), "text/csv"))
    assert most < 8 * BULK  # the text as a file is four bytes a character


@pytest.mark.parametrize("cells", ["," * 399, "ab," * 133, '"",' * 100])
def test_a_table_waits_for_its_turn_in_a_few_times_its_bytes(cells: str) -> None:
    body = ("tempo,sets\n" + f"{cells}\n" * (MOST_ROWS - 1)).encode()
    read = Tables(BY_NAME["tempo"]).read
    questions = []
    kept, most = memory(lambda: questions.append(read(body)))
    assert kept < len(body) / 10
    assert most < 3 * len(body)


def test_a_table_of_wrong_rows_is_answered_in_a_few_times_its_size() -> None:
    name = "adjustments"
    columns = client_columns(name)
    header, row = ",".join(columns), ",".join(["?"] * len(columns))
    reply = post(f"/v1/tables/{name}", "\r\n".join([header, *([row] * (MOST_ROWS // 10))]).encode(), "text/csv")
    assert reply.status_code == 200
    lines = reply.text.splitlines()
    assert len(lines) == MOST_ROWS // 10 + 1
    assert len(reply.content) < 2 * MOST_EXPLAINED + 1000 * len(lines)
    assert lines[1].count("Allowed") > 3
    assert "Allowed" not in lines[-1]


@pytest.mark.parametrize("name", NAMES)
def test_a_query_of_any_parameters_gets_a_short_problem(name: str) -> None:
    room = 2000 - len(name)
    known = client_columns(name)[0]
    for query in ("&" * room, "a&" * (room // 2), f"{known}&" * (room // (len(known) + 1)), known + "=" + "," * room):
        reply = app.get(f"/v1/{name}?{query}")
        assert reply.status_code in (400, 422)
        assert len(reply.content) < LONGEST_ANSWER
        assert len(reply.json().get("errors", [])) <= MOST_FAULTS


def test_preferences_of_any_length_are_read_with_bounded_work() -> None:
    offered = (b"application/json", b"image/svg+xml", b"text/csv")

    def choose(members: int) -> None:
        with suppress(HttpProblem):
            negotiated({"headers": [(b"accept", b"a/b;q=0.5," * members)]}, offered)

    assert calls(partial(choose, 1600)) == calls(partial(choose, 800)) < 3000
