"""What may be kept and by whom, 304, compression, and pages of other origins."""

from __future__ import annotations

import gzip
import re
import sys
from pathlib import Path
from typing import Final

import pytest

from tests.support.in_process import client
from tests.support.live import Live
from tests.support.programs import running

app: Final = client()
QUESTION: Final = "/v1/load-for-reps?load=61.73kg&reps=5&target_reps=8"
KEPT: Final = {
    QUESTION: "private, no-cache",
    f"{QUESTION}&as=csv": "private, no-cache",
    "/v1/exercises": "public, max-age=3600",
    "/v1/signs/bladder_change": "public, max-age=3600",
    "/v1/evidence": "public, max-age=3600",
    "/v1": "public, no-cache",
    "/problems/invalid": "public, max-age=3600",
    "/openapi.json": "public, no-cache",
    "/docs": "public, no-cache",
    "/docs.md": "public, no-cache",
    "/": "public, no-cache",
}
PLAIN: Final = {"accept-encoding": "identity"}
each_kept = pytest.mark.parametrize("path", KEPT)


# --- entity tags -----------------------------------------------------------------------------------------------------
@each_kept
def test_strong_tag_of_what_may_be_kept(path: str) -> None:
    first, again = app.get(path), app.get(path)
    assert re.fullmatch(r'"[0-9a-f]{24}"', first.headers["etag"])
    assert first.headers["etag"] == again.headers["etag"]
    assert first.headers["cache-control"] == KEPT[path]
    assert "accept-encoding" in first.headers["vary"]


@each_kept
@pytest.mark.parametrize("condition", ["{}", "W/{}", '"other", {}', "*", '"other",W/{} , "more"'])
def test_not_modified(path: str, condition: str) -> None:
    got = app.get(path)
    reply = app.get(path, headers={"if-none-match": condition.format(got.headers["etag"])})
    assert (reply.status_code, reply.content) == (304, b"")
    for name in ("etag", "cache-control", "vary"):
        assert reply.headers[name] == got.headers[name]
    assert not {"content-type", "content-length", "content-encoding"} & set(reply.headers)
    head = app.head(path, headers={"if-none-match": condition.format(got.headers["etag"])})
    assert head.status_code == 304


@each_kept
@pytest.mark.parametrize("condition", ['"other"', "other", "", 'W/"other"'])
def test_modified(path: str, condition: str) -> None:
    assert app.get(path, headers={"if-none-match": condition}).status_code == 200


def test_each_form_and_coding_has_a_tag_of_its_own() -> None:
    tags = [
        app.get(f"{QUESTION}{form}").headers["etag"]
        for form in ("", "&as=csv", "&as=svg", "&as=png", "&as=text&select=/load/unit")
    ]
    tags += [app.get(QUESTION, headers=PLAIN).headers["etag"], app.get(f"{QUESTION}&reps_in_reserve=1").headers["etag"]]
    assert len(set(tags)) == len(tags)


def test_another_release_has_other_tags(monkeypatch: pytest.MonkeyPatch) -> None:
    before = app.get(QUESTION).headers["etag"]
    monkeypatch.setattr("service.app.__version__", "9.9.9")
    renewed = client()
    assert renewed.get(QUESTION).headers["etag"] != before
    assert renewed.get(QUESTION, headers={"if-none-match": before}).status_code == 200


@pytest.mark.parametrize("path", ["/readyz", "/nowhere", "/v1/load-for-reps?x=1", "/v1/exercises/nothing"])
def test_what_is_not_kept_has_no_tag(path: str) -> None:
    reply = app.get(path, headers={"if-none-match": "*"})
    assert reply.status_code != 304
    assert "etag" not in reply.headers
    assert reply.headers["cache-control"] == "no-store"


def test_answers_to_post_are_not_kept() -> None:
    body = {"tempo": "4-1-X-0", "reps": {"low": 4, "high": 5}}
    reply = app.post("/v1/tempo", json=body, headers={"if-none-match": "*"})
    assert (reply.status_code, reply.headers["cache-control"]) == (200, "no-store")
    assert "etag" not in reply.headers


# --- compression -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("taken", ["gzip", "gzip, deflate, br", "GZIP;q=0.5", "*", "identity;q=0.1, gzip"])
@pytest.mark.parametrize("path", [QUESTION, "/v1/exercises", "/openapi.json"])
def test_compressed_for_who_takes_it(path: str, taken: str) -> None:
    with app.stream("GET", path, headers={"accept-encoding": taken}) as reply:
        packed = b"".join(reply.iter_raw())
    assert reply.headers["content-encoding"] == "gzip"
    assert int(reply.headers["content-length"]) == len(packed)
    plain = app.get(path, headers=PLAIN)
    assert "content-encoding" not in plain.headers
    assert gzip.decompress(packed) == plain.content
    assert len(packed) < len(plain.content)


@pytest.mark.parametrize("taken", ["identity", "", "br", "gzip;q=0", "*;q=0", "gzip;q=0, *", "gzip;q=x"])
def test_plain_for_who_does_not(taken: str) -> None:
    reply = app.get("/v1/exercises", headers={"accept-encoding": taken})
    assert "content-encoding" not in reply.headers
    assert "accept-encoding" in reply.headers["vary"]


def test_a_picture_in_pixels_is_compressed_already() -> None:
    taken = {"accept-encoding": "gzip"}
    svg, png = (app.get(f"{QUESTION}&as={form}", headers=taken) for form in ("svg", "png"))
    assert svg.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in png.headers


def test_posted_and_streamed_answers_are_compressed_too() -> None:
    item = {"operation": "tempo", "body": {"tempo": "4-1-X-0", "reps": {"low": 4, "high": 5}}}
    for path, body in (("/v1/tempo", item["body"]), ("/v1/batch", {"requests": [item] * 300})):
        packed = app.post(path, json=body, headers={"accept-encoding": "gzip"})
        assert packed.headers["content-encoding"] == "gzip"
        assert packed.content == app.post(path, json=body, headers=PLAIN).content


def test_a_short_answer_is_not_worth_it() -> None:
    assert "content-encoding" not in app.get("/readyz", headers={"accept-encoding": "gzip"}).headers


# --- other origins ---------------------------------------------------------------------------------------------------
GYM: Final = "https://gym.example"
PREFLIGHT: Final = {
    "origin": GYM,
    "access-control-request-method": "POST",
    "access-control-request-headers": "content-type",
}


def test_no_other_origin_by_default() -> None:
    for reply in (app.get(QUESTION, headers={"origin": GYM}), app.options("/v1/tempo", headers=PREFLIGHT)):
        assert not [name for name in reply.headers if name.startswith("access-control")]


def test_origins_of_the_settings_may_ask() -> None:
    page = client(allowed_origins=(GYM,))
    preflight = page.options("/v1/tempo", headers=PREFLIGHT)
    assert preflight.status_code == 204
    assert preflight.headers["access-control-allow-origin"] == GYM
    assert "POST" in preflight.headers["access-control-allow-methods"]
    assert "content-type" in preflight.headers["access-control-allow-headers"].lower()
    got = page.get(QUESTION, headers={"origin": GYM})
    assert got.headers["access-control-allow-origin"] == GYM
    assert "etag" in got.headers["access-control-expose-headers"].lower()
    assert "content-language" in got.headers["access-control-expose-headers"].lower()
    assert "accept-language" in preflight.headers["access-control-allow-headers"].lower()
    assert got.headers["vary"] == "accept, accept-language, accept-encoding, origin"
    assert "access-control-allow-credentials" not in got.headers
    again = page.get(QUESTION, headers={"origin": GYM, "if-none-match": got.headers["etag"]})
    assert (again.status_code, again.headers["access-control-allow-origin"]) == (304, GYM)


@pytest.mark.parametrize(
    "origin", ["https://other.example", "http://gym.example", "https://gym.example.evil", "null", ""]
)
def test_other_origins_may_not(origin: str) -> None:
    page = client(allowed_origins=(GYM,))
    for reply in (
        page.get(QUESTION, headers={"origin": origin}),
        page.options("/v1/tempo", headers=PREFLIGHT | {"origin": origin}),
    ):
        assert "access-control-allow-origin" not in reply.headers
        assert "origin" in reply.headers["vary"]


def test_every_origin() -> None:
    page = client(allowed_origins=("*",))
    assert page.get(QUESTION, headers={"origin": "https://any.example"}).headers["access-control-allow-origin"] == "*"
    assert "access-control-allow-origin" not in page.get(QUESTION).headers


# --- queries hold data on somebody's health --------------------------------------------------------------------------
class WithoutItsCommand(Live):
    """The application as its server serves it by itself, with all that this may say."""

    def command(self) -> list[str]:
        server = [sys.executable, "-m", "uvicorn", "--factory", "service.app:create_asgi"]
        return [*server, "--port", str(self.port), "--log-level", "debug"]


def test_no_log_holds_a_query(tmp_path: Path) -> None:
    """Not even the server's own access log, where the application is served without this service's own command."""
    with running(WithoutItsCommand(tmp_path, environment={"LOG_LEVEL": "debug"})) as service:
        assert service.ask("GET", QUESTION).json()["load"]["unit"] == "kg"
        service.stop()
        written = service.words()
    assert '"route":"/v1/load-for-reps"' in written
    assert "61.73" not in written
    assert "target_reps" not in written
