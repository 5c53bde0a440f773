"""API keys on a live service: who is let in, keys renewed while it serves, and nothing secret in what it writes."""

from __future__ import annotations

import json
import re
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest

from service.http.middleware.api_keys import hashed
from tests.live.http.requests import key_entry, keys_written
from tests.support.live import BODIES, BODY, JSON, PATH, Live, live
from tests.support.programs import eventually, free_port

FIRST: Final = "first-key-of-the-gym"
SECOND: Final = "second-key-of-the-gym"
OVER: Final = "key-that-has-run-out"


@pytest.fixture(scope="module")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("keys") / "keys.toml"
    keys_written(path, key_entry("gym", FIRST) + key_entry("old", OVER, "2001-01-01"))
    return path


@pytest.fixture(scope="module")
def service(keys: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Live]:
    with live(tmp_path_factory.mktemp("service"), API_KEYS_FILE=str(keys), LOG_LEVEL="debug") as found:
        yield found


@pytest.mark.parametrize(
    ("key", "status", "kind"),
    [
        ("", 401, "key-required"),
        ("Bearer wrong", 401, "key-required"),
        (f"Basic {FIRST}", 401, "key-required"),
        (f"Bearer {OVER}", 403, "key-expired"),
        (f"Bearer {FIRST}", 200, ""),
    ],
)
def test_who_is_let_in(service: Live, key: str, status: int, kind: str) -> None:
    reply = service.compute(authorization=key)
    assert reply.status == status
    if kind:
        assert reply.headers["content-type"] == "application/problem+json"
        assert reply.json()["type"] == f"/problems/{kind}"
        assert key.rsplit(" ", maxsplit=1)[-1] == "" or key.rsplit(" ", maxsplit=1)[-1] not in reply.body.decode()
        # its explanation can be read without a key
        assert service.ask("GET", reply.json()["type"]).status == 200
    if status == 401:
        assert reply.headers["www-authenticate"].startswith("Bearer")  # RFC 6750 §3


@pytest.mark.parametrize("method", ["GET", "HEAD", "PUT", "PROPFIND"])
def test_every_path_and_method_but_the_open_ones_asks_for_a_key(service: Live, method: str) -> None:
    paths = [
        *BODIES,
        "/v1/batch",
        "/v1/tables/tempo",
        "/v1/exercises",
        "/v1/exercises/front_squat",
        "/nowhere",
        "//docs",
    ]
    assert {path: service.ask(method, path).status for path in paths} == dict.fromkeys(paths, 401)


@pytest.mark.parametrize(
    "path", ["/", "/docs", "/docs.md", "/openapi.json", "/v1", "/v1/evidence", "/livez", "/readyz", "/version"]
)
def test_open_paths_need_no_key(service: Live, path: str) -> None:
    assert service.ask("GET", path).status == 200


def test_keys_are_renewed_while_it_serves(service: Live, keys: Path) -> None:
    """The new one first beside the old one, then alone; a file that cannot be read changes nothing."""
    keys_written(keys, key_entry("gym", FIRST) + key_entry("gym_new", SECOND) + key_entry("old", OVER, "2001-01-01"))
    assert eventually(lambda: service.compute(authorization=f"Bearer {SECOND}").status == 200)
    assert service.compute(authorization=f"Bearer {FIRST}").status == 200
    keys_written(keys, key_entry("gym_new", SECOND))
    assert eventually(lambda: service.compute(authorization=f"Bearer {FIRST}").status == 401)
    assert service.compute(authorization=f"Bearer {SECOND}").status == 200
    keys_written(keys, '[gym]\nsha256 = "none"\n')
    assert eventually(
        lambda: (
            service.compute(authorization=f"Bearer {SECOND}").status == 200
            and "key file unreadable, keys kept" in service.words()
        )
    )
    keys_written(keys, key_entry("gym", FIRST) + key_entry("old", OVER, "2001-01-01"))
    assert eventually(lambda: service.compute(authorization=f"Bearer {FIRST}").status == 200)


def test_nothing_secret_is_written_or_answered(service: Live) -> None:
    """Marks in every part of a request; none of them is in any log line, or in what other clients can see."""
    pain = json.loads(json.dumps(BODIES["/v1/adjustments"]))
    pain["complaint"]["pain_in_session"] = 4.0625
    marks = {"authorization": "Bearer mark-key", "cookie": "mark-cookie", "x-forwarded-for": "203.0.113.77"}
    marks |= {"user-agent": "mark-agent", "referer": "http://mark-referer/", "x-request-id": "mark with spaces"}
    answers = [
        service.ask("POST", f"{PATH}?mark_query=1", BODY, JSON | marks),
        service.ask("GET", "/mark_path/mark_more", None, marks),
        service.ask("POST", PATH, b'{"mark_body": 1}', JSON | {"authorization": f"Bearer {FIRST}"}),
        service.ask("POST", PATH, b'{"set": "mark_body', JSON | {"authorization": f"Bearer {FIRST}"}),
        service.ask("POST", "/v1/adjustments", json.dumps(pain).encode(), JSON | {"authorization": f"Bearer {FIRST}"}),
        service.ask("GET", f"{PATH}?mark_query=1", None, {"authorization": f"Bearer {FIRST}"}),
    ]
    assert [answer.status for answer in answers] == [401, 401, 422, 400, 200, 422]
    assert eventually(lambda: len(service.requests()) >= len(answers))
    written = service.words()
    assert '"client":"gym"' in written  # the name of a key is no secret, and tells whose requests fail
    assert not re.search(r"mark[-_ ]", written)
    for kept_back in (FIRST, SECOND, OVER, *(hashed(key.encode()) for key in (FIRST, SECOND, OVER))):
        assert kept_back not in written
        assert all(kept_back not in answer.body.decode() for answer in answers)
    for private in ("127.0.0.1", "203.0.113", "4.0625", "?"):
        assert private not in "\n".join(line for line in written.splitlines() if line.startswith("{"))


def test_file_that_is_gone_closes_access_after_a_stated_time(tmp_path: Path) -> None:
    """Loudly: an error in the log and a metric; keys of the environment stay good, and it opens again by itself."""
    path = tmp_path / "keys.toml"
    keys_written(path, key_entry("gym", FIRST))
    metrics = free_port()
    settings = {"API_KEYS": f"own={hashed(SECOND.encode())}", "METRICS_PORT": str(metrics)}

    def unread() -> float:
        with urllib.request.urlopen(f"http://127.0.0.1:{metrics}/metrics", timeout=10) as answer:
            lines = answer.read().decode().splitlines()
        return float(next(line for line in lines if line.startswith("key_file_unread_seconds ")).split()[1])

    with live(tmp_path, API_KEYS_FILE=str(path), API_KEYS_GRACE_SECONDS="3", **settings) as service:
        assert (service.compute(authorization=f"Bearer {FIRST}").status, unread()) == (200, 0)
        path.unlink()
        assert eventually(lambda: unread() > 0)
        assert service.compute(authorization=f"Bearer {FIRST}").status == 200
        assert eventually(lambda: service.compute(authorization=f"Bearer {FIRST}").status == 503)
        assert unread() >= 3
        reply = service.compute(authorization=f"Bearer {FIRST}")
        assert (reply.json()["type"], int(reply.headers["retry-after"]) > 0) == ("/problems/keys-unavailable", True)
        assert service.ask("GET", reply.json()["type"]).status == 200
        assert service.compute(authorization=f"Bearer {SECOND}").status == 200
        assert service.compute().status == 401
        expected = ["key file unreadable, keys kept", "key file unreadable, its keys are refused"]
        assert eventually(lambda: [one["event"] for one in service.lines() if one["level"] == "error"] == expected)
        keys_written(path, key_entry("gym", FIRST))
        assert eventually(lambda: service.compute(authorization=f"Bearer {FIRST}").status == 200)
        assert unread() == 0
