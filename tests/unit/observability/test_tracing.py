"""Traces, taken by a collector's real protocol (OTLP over HTTP) on this machine."""

from __future__ import annotations

import threading
from http.server import BaseHTTPRequestHandler, HTTPServer

import pytest
from opentelemetry.proto.collector.trace.v1.trace_service_pb2 import ExportTraceServiceRequest

from service.observability.tracing import NAME, Tracer

TRACE = "0af7651916cd43dd8448eb211c80319c"  # the example of W3C Trace Context, as is the parent
PARENT = "b7ad6b7169203331"


def test_a_request_becomes_a_span_of_the_callers_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    received: list[bytes] = []

    class Collector(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            received.append(self.rfile.read(int(self.headers["content-length"])))
            self.send_response(200)
            self.end_headers()

        def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the base class names it so
            """Say nothing."""

    server = HTTPServer(("127.0.0.1", 0), Collector)
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    monkeypatch.setenv("OTEL_EXPORTER_OTLP_ENDPOINT", f"http://127.0.0.1:{server.server_port}")
    try:
        tracer = Tracer()
        attributes: dict[str, str | int] = {"http.route": "/v1/tempo", "http.response.status_code": 200}
        tracer.span("POST /v1/tempo", f"00-{TRACE}-{PARENT}-01", 0.25, attributes)
        tracer.span("POST /v1/tempo", "", 0.25, {**attributes, "http.response.status_code": 500})
        tracer.close()
    finally:
        server.shutdown()
        thread.join()
        server.server_close()
    spans = []
    for body in received:
        request = ExportTraceServiceRequest.FromString(body)
        for group in request.resource_spans:
            assert any(
                one.key == "service.name" and one.value.string_value == NAME for one in group.resource.attributes
            )
            spans += [span for scope in group.scope_spans for span in scope.spans]
    first, second = spans
    assert (first.trace_id.hex(), first.parent_span_id.hex()) == (TRACE, PARENT)
    assert (second.parent_span_id, second.status.code) == (b"", 2)  # 2: error
    assert first.end_time_unix_nano - first.start_time_unix_nano == 250_000_000
    assert {one.key for one in first.attributes} == {"http.route", "http.response.status_code"}
