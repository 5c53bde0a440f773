"""Batches: each question answered as by itself, in order; one bad question spoils no other."""

from __future__ import annotations

import json
from typing import Any, Final

import pytest
from httpx import Response
from hypothesis import given, settings
from hypothesis import strategies as st

from service.api.bulk.batch import MOST_ITEMS
from service.settings import Settings
from tests.support.in_process import EXAMPLES, client

app: Final = client()
PATH: Final = "/v1/batch"
GOOD: Final = [{"operation": operation.name, "body": example.request} for operation, example in EXAMPLES]
TEMPO: Final = {"operation": "tempo", "body": {"tempo": "4-1-X-0", "reps": {"low": 4, "high": 5}}}
# an item, its status, and the pointers of its faults
BAD: Final[list[tuple[Any, int, set[str]]]] = [
    ({"operation": "nothing", "body": {}}, 422, {"/operation"}),
    ({"body": {}}, 422, {"/operation"}),
    ({"operation": 5}, 422, {"/operation"}),
    (5, 422, {"/operation"}),
    (None, 422, {"/operation"}),
    ([], 422, {"/operation"}),
    ({"operation": "tempo"}, 422, {"/body"}),
    ({"operation": "tempo", "body": None}, 422, {"/body"}),
    ({"operation": "tempo", "body": {"tempo": "x", "reps": 4}}, 422, {"/body/tempo", "/body/reps"}),
    (TEMPO | {"colour": "red"}, 422, {"/colour"}),
    (TEMPO | {"id": ""}, 422, {"/id"}),
    (TEMPO | {"id": 5}, 422, {"/id"}),
    (TEMPO | {"body": {"tempo": "4-1-X-0", "reps": {"low": 5, "high": 4}}}, 422, {"/body/reps"}),
]


def send(requests: Any) -> Response:  # noqa: ANN401 - any JSON value
    return app.post(PATH, json={"requests": requests})


def raw(body: bytes, **headers: str) -> Response:
    return app.post(PATH, content=body, headers={"content-type": "application/json"} | headers)


def results(reply: Response) -> list[dict[str, Any]]:
    assert (reply.status_code, reply.headers["content-type"]) == (200, "application/json"), reply.text
    found: list[dict[str, Any]] = reply.json()["results"]
    return found


def alone(item: dict[str, Any]) -> Any:  # noqa: ANN401 - any JSON value
    return app.post(f"/v1/{item['operation']}", json=item["body"]).json()


def test_every_operation_is_answered_as_by_itself_and_in_order() -> None:
    found = results(send([item | {"id": f"item {row}"} for row, item in enumerate(GOOD)]))
    assert [result["id"] for result in found] == [f"item {row}" for row in range(len(GOOD))]
    for item, result in zip(GOOD, found, strict=True):
        assert (result["result"], result["status"]) == (item["operation"], 200)
        assert result["answer"] == alone(item)


@pytest.mark.parametrize(("item", "status", "pointers"), BAD)
def test_a_bad_item_is_its_own_answer(item: Any, status: int, pointers: set[str]) -> None:  # noqa: ANN401 - any JSON value
    before, bad, after = results(send([TEMPO, item, TEMPO]))
    assert before == after == {"result": "tempo", "status": 200, "answer": alone(TEMPO)}
    assert (bad["result"], bad["status"], bad["problem"]["status"]) == ("problem", status, status)
    assert {fault["pointer"] for fault in bad["problem"]["errors"]} == pointers


def test_id_comes_back_with_a_problem_as_well() -> None:
    found = results(send([{"operation": "nothing", "id": "a"}, TEMPO | {"body": {}, "id": "b"}, TEMPO | {"id": "é"}]))
    assert [result["id"] for result in found] == ["a", "b", "é"]


def test_a_name_twice_in_an_item_spoils_that_item_alone() -> None:
    twice = b'{"operation":"tempo","body":{"tempo":"4-1-X-0","tempo":"4-1-X-0","reps":{"low":4,"high":5}}}'
    good = json.dumps(TEMPO).encode()
    found = results(raw(b'{"requests":[%b,%b,%b]}' % (good, twice, good)))
    assert [result["status"] for result in found] == [200, 400, 200]


@settings(max_examples=30)
@given(
    st.lists(
        st.one_of(st.sampled_from(GOOD[1:]), st.sampled_from([item for item, _, _ in BAD])), min_size=1, max_size=12
    )
)
def test_results_depend_on_their_own_item_alone(items: list[Any]) -> None:
    assert results(send(items)) == [results(send([item]))[0] for item in items]


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b"", 400),
        (b"[", 400),
        (b'{"requests": [1}', 400),
        (b'{"requests": [%b' % (b"[" * 50_000), 400),
        (b'{"requests": [1], "requests": [2]}', 400),
        (b'{"requests": []}', 422),
        (b'{"requests": {}}', 422),
        (b'{"requests": 5}', 422),
        (b"{}", 422),
        (b"[]", 422),
        (b'{"requests": [1], "more": 2}', 422),
    ],
)
def test_a_body_that_is_no_batch(body: bytes, status: int) -> None:
    reply = raw(body)
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.status_code == status, reply.text


def test_deep_and_odd_items() -> None:
    for item in (
        b"[" * 900 + b"]" * 900,
        b'{"operation":' + b"[" * 900 + b"]" * 900 + b"}",
        b'"\\ud800"',
        b"1e999",
        b'{"operation":"\xff"}',
    ):
        reply = raw(b'{"requests":[%b]}' % item)
        assert reply.status_code in (200, 400)
        if reply.status_code == 200:
            assert reply.json()["results"][0]["status"] in (400, 422)


def test_most_items() -> None:
    assert len(results(send([5] * MOST_ITEMS))) == MOST_ITEMS
    assert send([5] * (MOST_ITEMS + 1)).status_code == 422


def test_body_has_a_limit_of_its_own() -> None:
    body = json.dumps({"requests": [TEMPO] * 2000}).encode()
    assert Settings().max_body < len(body) < Settings().max_bulk_body
    assert len(results(raw(body))) == 2000
    small = client(max_bulk_body=2048)
    assert small.post(PATH, content=body, headers={"content-type": "application/json"}).status_code == 413


def test_media_types() -> None:
    body = json.dumps({"requests": [TEMPO]}).encode()
    assert raw(body, accept="text/csv").status_code == 406
    assert app.post(PATH, content=body, headers={"content-type": "text/csv"}).status_code == 415
    assert app.post(f"{PATH}?as=json", json={"requests": [TEMPO]}).status_code == 400
