"""Everything that is not an answer: problem details (RFC 9457) in one shape from every layer; nothing leaks."""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterator
from itertools import repeat
from typing import Any, Final

import pytest

from service.settings import Settings
from tests.support.live import JSON, Live, Reply

MAX_BODY: Final = Settings().max_body
STATUSES: Final = {
    "unreadable": 400,
    "unknown-parameter": 400,
    "not-found": 404,
    "method-not-allowed": 405,
    "not-acceptable": 406,
    "too-large": 413,
    "uri-too-long": 414,
    "unsupported-media-type": 415,
    "invalid": 422,
    "internal": 500,
}
COMPUTATION: Final = "/v1/load-for-reps"
QUESTION: Final = {
    "set": {"load": {"value": 62.5, "unit": "kg"}, "reps": 6, "reps_in_reserve": 2},
    "target": {"reps": 9},
}
CATALOGUE: Final = tuple(
    f"/v1/{name}" for name in ("exercises", "relations", "regions", "muscles", "signs", "sources", "messages")
)
RESOURCES: Final = (
    *CATALOGUE,
    "/v1/exercises/front_squat",
    "/v1/evidence",
    "/v1",
    "/openapi.json",
    "/readyz",
    "/",
    "/docs",
    "/docs.md",
    "/problems/invalid",
)
BULK: Final = ("/v1/batch", "/v1/tables/load-for-reps")
LEAKS: Final = re.compile(
    r"Traceback|File \"|\.py\b|/work|/tmp|site-packages|msgspec|litestar|0x[0-9a-f]{6}", re.IGNORECASE
)


def expect(reply: Reply, kind: str) -> dict[str, Any]:
    """The problem, after checking all that holds for every problem."""
    status = STATUSES[kind]
    assert reply.status == status, reply.body[:500]
    assert reply.headers["content-type"] == "application/problem+json"
    assert reply.headers["cache-control"] == "no-store"
    assert reply.headers["x-content-type-options"] == "nosniff"
    assert reply.headers["x-request-id"]
    assert int(reply.headers["content-length"]) == len(reply.body)
    assert not LEAKS.search(reply.body.decode())
    found: dict[str, Any] = reply.json()
    assert set(found) <= {"type", "title", "status", "detail", "errors", "did_you_mean"}
    assert (found["type"], found["status"]) == (f"/problems/{kind}", status)
    assert found["title"]
    assert found["detail"]
    return found


def faults(reply: Reply) -> dict[str, dict[str, str]]:
    """The faults of a request that does not fit, by their pointers; no fault twice."""
    found = expect(reply, "invalid")["errors"]
    parts = {"pointer", "detail", "allowed", "example", "did_you_mean"}
    assert all(set(fault) <= parts and fault["detail"] for fault in found)
    told = [(fault["pointer"], fault["detail"]) for fault in found]
    assert len(set(told)) == len(told), told
    return {fault["pointer"]: fault for fault in found}


def question(**changes: object) -> dict[str, Any]:
    return QUESTION | changes


def done(**changes: object) -> dict[str, Any]:
    return question(set={"load": {"value": 62.5, "unit": "kg"}, "reps": 6, **changes})


# --- no such place ---------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "path",
    ["/nowhere", "/v1/nowhere", "/v2/exercises", "/v1/load-for-reps/1", "/%2e%2e/pyproject.toml", "/docs/x"],
)
def test_unknown_route(path: str, served: Live) -> None:
    for method in ("GET", "POST", "DELETE"):
        expect(served.ask(method, path), "not-found")


@pytest.mark.parametrize("path", [*CATALOGUE, "/problems"])
@pytest.mark.parametrize("identifier", ["nowhere", "Front_Squat", "%00", "%F0%9F%8F%8B", "a" * 300, "..%2f..", "null"])
def test_unknown_id(path: str, identifier: str, served: Live) -> None:
    expect(served.ask("GET", f"{path}/{identifier}"), "not-found")


def test_a_problem_page_for_each_kind(served: Live) -> None:
    """The `type` of a problem leads to a page that explains it."""
    for kind, status in STATUSES.items():
        reply = served.ask("GET", f"/problems/{kind}")
        assert reply.status == 200
        assert reply.headers["content-type"] == "text/plain; charset=utf-8"
        assert str(status) in reply.body.decode()


# --- methods ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "TRACE", "QUERY"])
def test_wrong_method_on_a_computation(method: str, served: Live) -> None:
    reply = served.ask(method, COMPUTATION)
    expect(reply, "method-not-allowed")
    assert reply.headers["allow"] == "GET, HEAD, POST, OPTIONS"


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "DELETE"])
@pytest.mark.parametrize("path", BULK)
def test_wrong_method_on_many_at_once(path: str, method: str, served: Live) -> None:
    reply = served.ask(method, path)
    assert (reply.status, reply.headers["allow"]) == (405, "POST, OPTIONS")
    assert method != "HEAD" or reply.body == b""


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "TRACE"])
@pytest.mark.parametrize("path", RESOURCES)
def test_wrong_method_on_a_resource(path: str, method: str, served: Live) -> None:
    reply = served.ask(method, path)
    expect(reply, "method-not-allowed")
    assert {name.strip() for name in reply.headers["allow"].split(",")} == {"GET", "HEAD", "OPTIONS"}


@pytest.mark.parametrize("path", RESOURCES)
def test_head_is_get_without_its_body(path: str, served: Live) -> None:
    """RFC 9110 section 9.3.2."""
    got, head = served.ask("GET", path), served.ask("HEAD", path)
    assert (got.status, head.status) == (200, 200)
    assert (head.body, len(got.body)) == (b"", int(got.headers["content-length"]))
    varying = {"x-request-id", "date"}
    assert {k: v for k, v in got.headers.items() if k not in varying} == {
        k: v for k, v in head.headers.items() if k not in varying
    }


@pytest.mark.parametrize(
    ("path", "methods"),
    [(COMPUTATION, {"GET", "HEAD", "POST", "OPTIONS"})]
    + [(path, {"POST", "OPTIONS"}) for path in BULK]
    + [(path, {"GET", "HEAD", "OPTIONS"}) for path in RESOURCES],
)
def test_options(path: str, methods: set[str], served: Live) -> None:
    reply = served.ask("OPTIONS", path)
    assert (reply.status, reply.body) == (204, b"")
    assert {name.strip() for name in reply.headers["allow"].split(",")} == methods


# --- media types -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "accept",
    ["text/html", "text/plain, audio/*", "application/xml;q=0.9", "application/json;q=0", "*/*;q=0", "nonsense"],
)
def test_accept_that_excludes_json(accept: str, served: Live) -> None:
    expect(served.post(COMPUTATION, QUESTION, Accept=accept), "not-acceptable")
    for path in (*CATALOGUE, "/v1/exercises/front_squat", "/openapi.json"):
        expect(served.ask("GET", path, headers={"Accept": accept}), "not-acceptable")


@pytest.mark.parametrize("accept", ["text/html", "application/xml;q=0.9", "*/*;q=0", "nonsense"])
def test_accept_that_excludes_every_form_of_a_question(accept: str, served: Live) -> None:
    expect(served.ask("GET", COMPUTATION, headers={"Accept": accept}), "not-acceptable")


@pytest.mark.parametrize(
    "accept",
    [
        "*/*",
        "application/*",
        "application/json",
        "text/html, application/json;q=0.1",
        "text/html;q=1, */*;q=0.2",
        "Application/JSON",
    ],
)
def test_accept_that_includes_json(accept: str, served: Live) -> None:
    assert served.post(COMPUTATION, QUESTION, Accept=accept).status == 200
    assert served.ask("GET", "/v1/exercises", headers={"Accept": accept}).status == 200


@pytest.mark.parametrize(
    "content_type",
    [
        None,
        "",
        "text/plain",
        "application/xml",
        "application/x-www-form-urlencoded",
        "application/problem+json",
        "application/json; charset=latin-1",
        "application/json; charset=utf-16",
        "json",
    ],
)
def test_content_type_that_is_not_taken(content_type: str | None, served: Live) -> None:
    headers = {} if content_type is None else {"Content-Type": content_type}
    reply = served.ask("POST", COMPUTATION, json.dumps(QUESTION).encode(), headers)
    expect(reply, "unsupported-media-type")
    assert reply.headers["accept"] == "application/json"


@pytest.mark.parametrize(
    "content_type",
    ["application/json", "Application/JSON", "application/json; charset=utf-8", 'application/json;charset="UTF-8"'],
)
def test_content_type_that_is_taken(content_type: str, served: Live) -> None:
    reply = served.ask("POST", COMPUTATION, json.dumps(QUESTION).encode(), {"Content-Type": content_type})
    assert (reply.status, reply.headers["content-type"]) == (200, "application/json")


BODIES: Final = {
    COMPUTATION: ("application/json", json.dumps(QUESTION).encode()),
    "/v1/batch": ("application/json", json.dumps({"requests": [{"operation": "tempo", "body": {}}]}).encode()),
    "/v1/tables/load-for-reps": ("text/csv", b"load,reps,target_reps\r\n62.5kg,6,9\r\n"),
}


@pytest.mark.parametrize("path", BODIES)
@pytest.mark.parametrize(
    ("coding", "status"),
    [("gzip", 415), ("br", 415), ("identity, gzip", 415), ("nonsense", 415), ("identity", 200), ("Identity", 200)],
)
def test_content_coding(path: str, coding: str, status: int, served: Live) -> None:
    """RFC 9110 §8.4: a coding that is not taken is refused as such, and not as a body that cannot be read."""
    media_type, body = BODIES[path]
    sent = gzip.compress(body) if "gzip" in coding else body
    reply = served.ask("POST", path, sent, {"Content-Type": media_type, "Content-Encoding": coding})
    assert reply.status == status
    if status == 415:
        expect(reply, "unsupported-media-type")
        assert reply.headers["accept-encoding"] == "identity"  # RFC 9110 §12.5.3


# --- bodies that cannot be read --------------------------------------------------------------------------------------
READABLE: Final = json.dumps(QUESTION).encode()
UNREADABLE: Final = {
    "empty": b"",
    "space": b"  \n ",
    "half": READABLE[:-1],
    "two": READABLE + READABLE,
    "comma": b'{"set": 1,}',
    "single quotes": b"{'set': 1}",
    "deep arrays": b"[" * 50_000,
    "deep objects": b'{"set":' * 9_000,
    "deep and closed": b'{"set":' + b"[" * 20_000 + b"]" * 20_000 + b"}",
    "not UTF-8": b'{"set": "\xff"}',
    "not UTF-8 behind a fault": b'{"other": 1, "set": "\xff\xfe"}',
    "UTF-16": json.dumps(QUESTION).encode("utf-16"),
    "byte order mark": b"\xef\xbb\xbf" + READABLE,
    "repeated name": READABLE.replace(b'"reps": 9', b'"reps": 9, "reps": 9'),
    "repeated name behind a fault": b'{"other": 1, "other": 1}',
    "repeated name in another spelling": b'{"target": {"reps": 5, "r\\u0065ps": 5}, "set": 1}',
    "control character": b'{"set": "\x01"}',
}


@pytest.mark.parametrize("name", UNREADABLE)
def test_body_that_cannot_be_read(name: str, served: Live) -> None:
    problem = expect(served.post(COMPUTATION, UNREADABLE[name]), "unreadable")
    (fault,) = problem["errors"]
    assert (fault["pointer"], fault["detail"]) == ("", problem["detail"])
    assert served.post(COMPUTATION, fault["example"]).status == 200


@pytest.mark.parametrize(
    "number", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999", "1" * 5_000, "0x10", "08", "+5", ".5"]
)
@pytest.mark.parametrize("template", ['{{"set": {}, "target": 1}}', '{{"target": {{"reps": {}}}}}', '{{"other": {}}}'])
def test_number_that_json_or_a_bound_does_not_allow(number: str, template: str, served: Live) -> None:
    reply = served.post(COMPUTATION, template.format(number).encode())
    expect(reply, "unreadable" if reply.status == 400 else "invalid")


@pytest.mark.parametrize("depth", [10, 100, 200, 300, 500, 900, 1_000, 5_000])
def test_nesting_of_any_depth(depth: int, served: Live) -> None:
    for value in ("[" * depth + "]" * depth, '{"a":' * depth + "1" + "}" * depth):
        for body in (value, f'{{"set": {value}}}', f'{{"other": {value}}}'):
            reply = served.post(COMPUTATION, body.encode())
            expect(reply, "unreadable" if reply.status == 400 else "invalid")


@pytest.mark.parametrize(
    "text", ['"\\ud800"', '"\\udfff\\ud800"', '"\\u0000"', '"\U0001f3cb"', '"' + "x" * 20_000 + '"']
)
def test_any_text_as_value_and_as_name(text: str, served: Live) -> None:
    for body in (f'{{"exercise": {text}}}', f"{{{text}: 1}}", f'{{"set": {{{text}: {text}}}}}'):
        reply = served.post(COMPUTATION, body.encode())
        expect(reply, "unreadable" if reply.status == 400 else "invalid")


# --- size ------------------------------------------------------------------------------------------------------------
def test_largest_body_is_read(served: Live) -> None:
    assert served.post(COMPUTATION, READABLE + b" " * (MAX_BODY - len(READABLE))).status == 200


def test_one_byte_more_is_too_large(served: Live) -> None:
    expect(served.post(COMPUTATION, READABLE + b" " * (MAX_BODY - len(READABLE) + 1)), "too-large")


def test_too_large_without_a_stated_length(served: Live) -> None:
    pieces = repeat(b" " * 8_192, MAX_BODY // 8_192 + 1)
    expect(served.ask("POST", COMPUTATION, pieces, JSON), "too-large")


def test_pieces_are_put_together(served: Live) -> None:
    pieces = (READABLE[start : start + 7] for start in range(0, len(READABLE), 7))
    assert served.ask("POST", COMPUTATION, pieces, JSON).status == 200


# --- query parameters ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("query", ["unit=kg", "x", "a=1&a=2", "%00=1", "limit=5"])
def test_unknown_query_parameter(query: str, served: Live) -> None:
    expect(served.ask("POST", f"{COMPUTATION}?{query}", READABLE, JSON), "unknown-parameter")
    for path in (*CATALOGUE, "/v1/exercises/front_squat", "/openapi.json"):
        expect(served.ask("GET", f"{path}?{query}"), "unknown-parameter")


# --- requests that do not fit ----------------------------------------------------------------------------------------
def test_all_faults_at_once_each_with_its_pointer_and_what_is_allowed(served: Live) -> None:
    request = {
        "set": {"load": {"value": "62.5", "unit": "stone"}, "reps": 0, "reps_in_reserve": 4.5, "rpe": 8},
        "target": {"reps": 5.5, "reps_in_reserve": None},
        "exercise": "handstand",
        "own_sets": [{"load": {"value": 60, "unit": "kg"}, "reps": 6}, {"load": {"value": -1, "unit": "kg"}}],
        "bar": {"bar": {"value": 20, "unit": "kg"}, "plates": []},
        "note": "x",
    }
    found = faults(served.post(COMPUTATION, request))
    assert set(found) == {
        "/set/load/value",
        "/set/load/unit",
        "/set/reps",
        "/set/reps_in_reserve",
        "/set/rpe",
        "/target/reps",
        "/target/reps_in_reserve",
        "/exercise",
        "/own_sets/1/load/value",
        "/own_sets/1/reps",
        "/bar/plates",
        "/note",
    }
    allowed = {pointer: fault.get("allowed", "") for pointer, fault in found.items()}
    assert allowed["/set/load/value"] == allowed["/own_sets/1/load/value"] == "0 to 2500 kg"
    assert allowed["/set/load/unit"] == "one of: kg, lb"
    assert allowed["/set/reps"] == allowed["/target/reps"] == "a whole number 1 to 100"
    assert allowed["/set/reps_in_reserve"] == "0 to 4"
    assert allowed["/target/reps_in_reserve"] == "0 to 10"
    assert allowed["/bar/plates"] == "a list of 1 to 12 items"
    assert "front_squat" in allowed["/exercise"]
    assert {"load", "reps", "reps_in_reserve"} <= set(re.findall(r"\w+", allowed["/set/rpe"]))
    assert {"set", "target", "bar"} <= set(re.findall(r"\w+", allowed["/note"]))


def test_missing_fields(served: Live) -> None:
    assert set(faults(served.post(COMPUTATION, {}))) == {"/set", "/target"}
    assert set(faults(served.post(COMPUTATION, {"set": {"load": {}}, "target": {}}))) == {
        "/set/load/value",
        "/set/load/unit",
        "/set/reps",
        "/target/reps",
    }


def test_pointers_are_escaped(served: Live) -> None:
    """RFC 6901: ~ becomes ~0 and / becomes ~1."""
    found = faults(served.post(COMPUTATION, question(**{"a/b": 1, "m~n": 1, "~1": 1, "": 1, "ü": 1})))
    assert set(found) == {"/a~1b", "/m~0n", "/~01", "/", "/ü"}


@pytest.mark.parametrize("body", [[], "text", 5, None, True, [QUESTION]])
def test_a_body_that_is_no_object(body: object, served: Live) -> None:
    assert set(faults(served.post(COMPUTATION, body))) == {""}


def test_only_so_many_faults_are_listed(served: Live) -> None:
    assert len(faults(served.post(COMPUTATION, {f"field{index}": 1 for index in range(500)}))) == 50


@pytest.mark.parametrize("value", ["6", "6.0", "", "six", True, None, [6], {"value": 6}])
def test_text_and_other_types_for_a_number(value: object, served: Live) -> None:
    assert faults(served.post(COMPUTATION, done(reps=value)))["/set/reps"]["allowed"] == "a whole number 1 to 100"
    load = {"value": value, "unit": "kg"}
    assert faults(served.post(COMPUTATION, done(load=load)))["/set/load/value"]["allowed"] == "0 to 2500 kg"


@pytest.mark.parametrize("number", ["5", "5.0", "5.00", "5e0", "0.5e1"])
def test_whole_numbers_in_any_spelling(number: str, served: Live) -> None:
    """JSON does not tell 5 and 5.0 apart (RFC 8259 section 6)."""
    template = '{{"set": {{"load": {{"value": 60, "unit": "kg"}}, "reps": {}}}, "target": {{"reps": 3}}}}'
    reply = served.post(COMPUTATION, template.format(number).encode())
    assert reply.status == 200
    assert reply.json() == served.post(COMPUTATION, template.format(5).encode()).json()


@pytest.mark.parametrize("number", [5.5, 4.999999999, 0, 0.5, 101, -5, 1e300])
def test_what_is_not_a_whole_number_in_the_bounds(number: float, served: Live) -> None:
    assert set(faults(served.post(COMPUTATION, done(reps=number)))) == {"/set/reps"}


def test_outside_the_published_range(served: Live) -> None:
    """A rule of the method and not of the schema gives the same problem, with its pointer and range."""
    (found,) = faults(served.post(COMPUTATION, done(reps=60))).values()
    assert found["pointer"] == "/set/reps"
    assert found["allowed"]


# --- what goes back and what stays here ------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("method", "path"),
    [("POST", COMPUTATION), ("GET", "/v1/exercises"), ("GET", "/nowhere"), ("DELETE", "/"), ("GET", "/docs")],
)
def test_request_id_is_given_back(method: str, path: str, served: Live) -> None:
    given = served.ask(method, path, headers={"X-Request-Id": "visit-7.b_2"})
    assert given.headers["x-request-id"] == "visit-7.b_2"
    made = {served.ask(method, path).headers["x-request-id"] for _ in range(3)}
    assert len(made) == 3
    for unusable in ("a b", "<b>", "x" * 65, '"}', ""):
        found = served.ask(method, path, headers={"X-Request-Id": unusable}).headers["x-request-id"]
        assert found != unusable
        assert re.fullmatch(r"[A-Za-z0-9._-]{8,64}", found)


@pytest.mark.parametrize("path", ["/nowhere", COMPUTATION, *RESOURCES])
def test_no_answer_names_the_server_or_lacks_its_policy(path: str, served: Live) -> None:
    headers = served.ask("GET", path).headers
    assert "server" not in headers
    assert headers["referrer-policy"] == "no-referrer"
    assert "default-src 'none'" in headers["content-security-policy"]


@pytest.fixture
def marks() -> Iterator[str]:
    return iter(f"mark{number}of9173" for number in range(100))


def test_the_log_has_one_line_a_request_and_nothing_of_its_content(served: Live, marks: Iterator[str]) -> None:
    """Requests are about somebody's health: no value, text, name, query, header, address or unknown path is written."""
    before = served.logged()
    label, name, query, header, path, broken, identifier = (next(marks) for _ in range(7))
    setup = {"label": label, "exercise": "front_squat", "load": {"value": 61.73, "unit": "kg"}}
    other = {"label": "other", "exercise": "belt_squat", "load": {"value": 61.73, "unit": "kg"}}
    sent = [
        served.post("/v1/spinal-load", {"setups": [setup, other]}),
        served.post("/v1/spinal-load", {"setups": [setup, setup]}),
        served.post(COMPUTATION, question(**{name: 61.73})),
        served.post(COMPUTATION, f'{{"set": "{broken}'.encode()),
        served.post(COMPUTATION, QUESTION, Authorization=header, Cookie=header),
        served.ask("GET", f"/v1/exercises?{query}={query}"),
        served.ask("GET", f"/v1/exercises/{identifier}"),
        served.ask("GET", f"/{path}"),
    ]
    assert [reply.status for reply in sent] == [200, 422, 422, 400, 200, 400, 404, 404]
    written = served.log_lines(before, len(sent))
    lines = [json.loads(line) for line in written.splitlines()]
    assert [line["status"] for line in lines] == [reply.status for reply in sent]
    assert [line["request_id"] for line in lines] == [reply.headers["x-request-id"] for reply in sent]
    assert {field for line in lines for field in line} == {
        "event", "level", "timestamp", "request_id", "method", "route", "status", "ms",
    }  # fmt: skip
    assert "of9173" not in written
    assert "61.73" not in written
    assert "127.0.0.1" not in written
