"""A live service that is told to stop finishes what it has in hand, exports its traces, and ends well."""

from __future__ import annotations

import json
import signal
import threading
import time
from contextlib import ExitStack
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pytest
from opentelemetry.proto.collector.trace.v1.trace_service_pb2 import ExportTraceServiceRequest

from tests.live.http.requests import WITHHELD
from tests.support.connections import connected, head_of, until_closed
from tests.support.live import BODIES, BODY, live
from tests.support.programs import eventually, status_of

TRACE = "0af7651916cd43dd8448eb211c80319c"  # the example of W3C Trace Context §3.2, as is the parent
PARENT = f"00-{TRACE}-b7ad6b7169203331-01"


@pytest.mark.parametrize("told", ["terminate", "interrupt"])
def test_what_is_in_hand_is_finished(tmp_path: Path, told: str) -> None:
    with live(tmp_path) as service, connected(service.port) as connection, connected(service.port) as idle:
        connection.sendall(WITHHELD)
        assert connection.recv(100).startswith(b"HTTP/1.1 100 ")
        if told == "terminate":
            service.process.terminate()
        else:
            service.process.send_signal(2)
        assert eventually(lambda: status_of(service.port, "/livez") is None)
        assert until_closed(idle) == b""
        connection.sendall(BODY)
        status, headers, body = head_of(until_closed(connection))
        assert (status, headers["connection"]) == (200, "close")
        assert b'"estimated_max"' in body
        assert service.process.wait(timeout=30) == 0
        assert [line["status"] for line in service.requests()] == [200]
        assert "Traceback" not in service.words()


def test_what_does_not_end_is_cut_off(tmp_path: Path) -> None:
    with live(tmp_path) as service, connected(service.port, timeout=60) as connection:
        connection.sendall(WITHHELD)
        assert connection.recv(100).startswith(b"HTTP/1.1 100 ")
        began = time.monotonic()
        service.process.terminate()
        until_closed(connection)
        assert service.process.wait(timeout=60) == 0
        assert time.monotonic() - began > 5  # it was given time
        assert "Traceback" not in service.words()


def test_told_to_stop_it_says_so_and_serves_on(tmp_path: Path) -> None:
    with live(tmp_path, DRAIN_SECONDS="2") as service:
        assert service.ask("GET", "/readyz").status == 200
        service.process.terminate()
        assert eventually(lambda: status_of(service.port, "/readyz") == 503)
        refused = service.ask("GET", "/readyz").json()
        assert refused["type"] == "/problems/stopping"
        assert service.compute().status == 200
        assert service.ask("GET", "/livez").status == 200
        assert service.process.wait(timeout=60) == 0


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_told_again_it_stops_at_once(tmp_path: Path, number: signal.Signals) -> None:
    with live(tmp_path, DRAIN_SECONDS="3600") as service:
        service.process.terminate()
        assert eventually(lambda: status_of(service.port, "/readyz") == 503)
        time.sleep(1)  # ten times as long as the server takes to see that it is to stop
        assert service.compute().status == 200
        service.process.send_signal(number)
        assert service.process.wait(timeout=60) == 0


def test_interrupted_by_hand_it_stops_at_once(tmp_path: Path) -> None:
    with live(tmp_path, DRAIN_SECONDS="3600") as service:
        service.process.send_signal(signal.SIGINT)
        assert service.process.wait(timeout=60) == 0


def test_traces_reach_a_collector(tmp_path: Path) -> None:
    received: list[bytes] = []

    class Collector(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            received.append(self.rfile.read(int(self.headers["content-length"])))
            self.send_response(200)
            self.end_headers()

        def log_message(self, *_: object) -> None:
            """Nothing."""

    collector = HTTPServer(("127.0.0.1", 0), Collector)
    thread = threading.Thread(target=collector.serve_forever)
    thread.start()
    try:
        with live(tmp_path, OTEL_EXPORTER_OTLP_ENDPOINT=f"http://127.0.0.1:{collector.server_port}") as service:
            assert service.compute(traceparent=PARENT).status == 200
            assert service.ask("GET", "/nowhere?mark=1").status == 404
            assert service.stop() == 0
    finally:
        collector.shutdown()
        thread.join()
        collector.server_close()
    spans = [
        span
        for body in received
        for group in ExportTraceServiceRequest.FromString(body).resource_spans
        for scope in group.scope_spans
        for span in scope.spans
    ]
    assert {span.name for span in spans} == {"POST /v1/load-for-reps", "GET other"}
    assert TRACE in {span.trace_id.hex() for span in spans}
    assert b"mark" not in b"".join(received)


def test_long_computations_that_wait_do_not_keep_it_from_ending(tmp_path: Path) -> None:
    """More work than the time for an orderly end allows: what is not done by then is broken off, as a client sees."""
    item = json.dumps({"operation": "adjustments", "body": BODIES["/v1/adjustments"]}).encode()
    body = b'{"requests":[%b]}' % b",".join([item] * 1000)
    head = (
        f"POST /v1/batch HTTP/1.1\r\nhost: a\r\ncontent-type: application/json\r\ncontent-length: {len(body)}\r\n\r\n"
    )
    with live(tmp_path) as service, ExitStack() as stack:
        clients = [stack.enter_context(connected(service.port, timeout=60)) for _ in range(16)]
        for client in clients:
            client.sendall(head.encode() + body)
        assert all(client.recv(15) == b"HTTP/1.1 200 OK" for client in clients)
        service.process.terminate()
        ends = [until_closed(client)[-7:] for client in clients]
        assert service.process.wait(timeout=60) == 0
        assert any(end != b"\r\n0\r\n\r\n" for end in ends)
        assert "Traceback" not in service.words()
