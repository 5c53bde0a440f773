"""What a live service tells those who run it: log lines, figures, health and version."""

from __future__ import annotations

import hashlib
import json
import re
import socket
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Final, TypeAlias

import pytest
from prometheus_client.parser import text_string_to_metric_families

from service import __version__
from service.api.catalogue.resources import RESOURCES
from tests.support.connections import connected, raw
from tests.support.live import BODIES, BODY, JSON, PATH, Live, live
from tests.support.programs import eventually, free_port, running

TRACE: Final = "0af7651916cd43dd8448eb211c80319c"  # the example of W3C Trace Context §3.2
PARENT: Final = f"00-{TRACE}-b7ad6b7169203331-01"
Figures: TypeAlias = dict[tuple[str, frozenset[tuple[str, str]]], float]


class Observed(Live):
    """A live service with a port for its figures."""

    def __init__(self, folder: Path, label: str = "service", environment: dict[str, str] | None = None) -> None:
        super().__init__(folder, label, environment)
        self.metrics = free_port()
        self.environment["METRICS_PORT"] = str(self.metrics)

    def figures(self) -> Figures:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.metrics}/metrics", timeout=10) as answer:
            families = text_string_to_metric_families(answer.read().decode())
            return {
                (sample.name, frozenset(sample.labels.items())): sample.value
                for family in families
                for sample in family.samples
            }


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Observed]:
    with running(Observed(tmp_path_factory.mktemp("service"))) as observed:
        yield observed


def labelled(name: str, **labels: str) -> tuple[str, frozenset[tuple[str, str]]]:
    return name, frozenset(labels.items())


@pytest.mark.parametrize(
    ("given", "kept"),
    [("gym.42-a_B", True), ("a" * 64, True), ("a" * 65, False), ("two words", False), ('"}{"', False), ("", False)],
)
def test_request_id(service: Observed, given: str, kept: bool) -> None:  # noqa: FBT001 - a column
    reply = service.compute(x_request_id=given)
    found = reply.headers["x-request-id"]
    assert (found == given) is kept
    assert eventually(lambda: found in {line["request_id"] for line in service.requests()})


def test_fresh_ids_differ(service: Observed) -> None:
    assert len({service.compute().headers["x-request-id"] for _ in range(20)}) == 20


def test_log_line(service: Observed) -> None:
    reply = service.compute(traceparent=PARENT)
    number = reply.headers["x-request-id"]
    assert eventually(lambda: any(line["request_id"] == number for line in service.requests()))
    (line,) = [line for line in service.requests() if line["request_id"] == number]
    assert set(line) == {"event", "level", "timestamp", "request_id", "trace_id", "method", "route", "status", "ms"}
    assert line["trace_id"] == TRACE
    assert (line["method"], line["route"], line["status"], line["level"]) == ("POST", PATH, 200, "info")
    assert 0 < line["ms"] < 60_000


@pytest.mark.parametrize(
    "parent",
    [
        "",
        "00-0-0-00",
        PARENT.upper(),
        PARENT.replace("00-", "ff-", 1),
        f"00-{'0' * 32}-b7ad6b7169203331-01",
        PARENT + "-x",
    ],
)
def test_trace_context_that_is_none(service: Observed, parent: str) -> None:
    """W3C Trace Context §3.2.2: what is not valid is ignored."""
    number = service.compute(traceparent=parent).headers["x-request-id"]
    assert eventually(lambda: any(line["request_id"] == number for line in service.requests()))
    assert all("trace_id" not in line for line in service.requests() if line["request_id"] == number)


def test_figures(service: Observed) -> None:
    counted = labelled("requests_total", route=PATH, method="POST", status="200")
    invalid = labelled("requests_total", route=PATH, method="POST", status="422")
    candidates = labelled("consultation_candidates_count")
    before = service.figures()
    for _ in range(3):
        assert service.compute().status == 200
    assert service.ask("POST", PATH, b"{}", JSON).status == 422
    consultation = json.dumps(BODIES["/v1/adjustments"]).encode()
    assert service.ask("POST", "/v1/adjustments", consultation, JSON).status == 200
    after = service.figures()
    assert after[counted] - before.get(counted, 0) == 3
    assert after[invalid] - before.get(invalid, 0) == 1
    assert after[candidates] - before.get(candidates, 0) == 1
    assert after[labelled("consultation_candidates_sum")] > before.get(labelled("consultation_candidates_sum"), 0)
    seconds = labelled("request_seconds_count", route=PATH)
    assert after[seconds] - before.get(seconds, 0) == 4
    assert 0 < after[labelled("request_seconds_sum", route=PATH)] < 60
    assert after[labelled("requests_in_flight")] == 0
    assert after[labelled("build_info", version=__version__)] == 1


def test_figures_of_the_process(service: Observed) -> None:
    def seen() -> tuple[float, ...]:
        found = service.figures()
        lag = "event_loop_lag_seconds_count"
        return tuple(found[labelled(name)] for name in ("process_cpu_seconds_total", "process_open_fds", lag))

    seconds, files, looks = seen()
    memory = service.figures()[labelled("process_resident_memory_bytes")]
    status = Path(f"/proc/{service.process.pid}/status").read_text(encoding="ascii")
    (kilobytes,) = [int(line.split()[1]) for line in status.splitlines() if line.startswith("VmRSS")]
    assert memory == pytest.approx(1024 * kilobytes, rel=0.1)
    with connected(service.port), connected(service.port):
        assert eventually(lambda: seen()[1] >= files + 2)
    for _ in range(50):
        assert service.compute().status == 200
    assert eventually(lambda: seen()[0] > seconds)
    assert eventually(lambda: seen()[2] > looks)
    assert {"process_max_fds", "process_start_time_seconds", "python_gc_collections_total"} <= {
        name for name, _ in service.figures()
    }


def test_no_label_comes_from_a_request(service: Observed) -> None:
    for path in ("/mark", "/v1/mark", "/v1/exercises/mark", "/v1/exercises/mark/mark", "/%6dark", f"{PATH}?mark=1"):
        assert service.ask("GET", path).status in (404, 422)
    assert raw(service.port, b"MARK / HTTP/1.1\r\n\r\n").startswith(b"HTTP/1.1 400 ")
    assert service.ask("PROPFIND", PATH).status == 405
    assert service.compute(x_request_id="mark", traceparent="mark", host="mark").status == 200
    entries = {f"/v1/{resource.name}/{{entry_id:str}}" for resource in RESOURCES}
    known = {*service.ask("GET", "/openapi.json").json()["paths"], *entries, "/openapi.json", "other"}
    found = service.figures()
    labels = {label for _, pairs in found for label in pairs}
    assert "mark" not in str(labels)
    assert {value for name, value in labels if name == "route"} <= known
    methods = {"GET", "HEAD", "POST", "OPTIONS", "PUT", "PATCH", "DELETE", "other"}
    assert {value for name, value in labels if name == "method"} <= methods
    assert labelled("requests_total", route="/v1/exercises/{entry_id:str}", method="GET", status="404") in found
    assert labelled("requests_total", route=PATH, method="other", status="405") in found
    assert found[labelled("requests_refused_total", reason="Bad Request")] >= 1


def test_libraries_log_as_the_service_does(tmp_path: Path) -> None:
    """What else is written would stand between the lines, and its writer would wait for the reader of the log."""
    with socket.socket() as silent:
        silent.bind(("127.0.0.1", 0))  # and does not listen
        with live(tmp_path, OTEL_EXPORTER_OTLP_ENDPOINT=f"http://127.0.0.1:{silent.getsockname()[1]}") as service:
            assert service.compute().status == 200
            assert raw(service.port, b"garbage\r\n\r\n").startswith(b"HTTP/1.1 400 ")
            assert service.stop() == 0
            greeting, example, *rest = service.words().splitlines()
            assert greeting.startswith("Docs: ")
            assert greeting.endswith("/docs")
            assert re.fullmatch(r"Try:  curl -s 'http://\S+/v1/adjustments\?\S+'", example)
            named = {json.loads(line).get("logger", "").partition(".")[0] for line in rest}
    assert named == {"", "uvicorn", "opentelemetry"}


def test_figures_are_not_served_to_clients(service: Observed) -> None:
    assert service.ask("GET", "/metrics").status == 404


def test_health(service: Observed) -> None:
    before = len(service.requests())
    assert service.ask("GET", "/livez").json() == {"status": "alive"}
    assert service.ask("GET", "/readyz").json() == {"status": "ready", "version": __version__, "quotas": "own"}
    version = service.ask("GET", "/version")
    assert version.json() == {
        "version": __version__,
        "description_sha256": hashlib.sha256(service.ask("GET", "/openapi.json").body).hexdigest(),
    }
    assert version.headers["cache-control"] == "no-store"
    assert service.compute().status == 200
    assert eventually(lambda: len(service.requests()) > before)
    assert not {"/livez", "/readyz", "/version"} & {line["route"] for line in service.requests()}
    assert not any("readyz" in str(labels) for _, labels in service.figures())


def test_body_is_nowhere(service: Observed) -> None:
    """A question whose numbers are found nowhere else."""
    question = json.loads(BODY)
    question["set"]["load"]["value"] = 87.654321
    assert service.ask("POST", PATH, json.dumps(question).encode(), JSON).status == 200
    assert service.compute().status == 200
    assert "87.654" not in service.words()
