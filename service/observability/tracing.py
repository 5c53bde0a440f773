"""Traces for OpenTelemetry, where an exporter is configured (OTEL_EXPORTER_OTLP_ENDPOINT); else nothing is loaded.

One span a request, made when the request has been answered. Its attributes are route, method and status: never a value
of a request.
"""

from __future__ import annotations

import time
from typing import Any, Final

from service import __version__

NAME: Final = "program-adjustment-service"


class Tracer:
    """Exports spans in the background."""

    def __init__(self, exporter: Any = None) -> None:  # noqa: ANN401 - loaded only where it is configured
        from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter  # noqa: PLC0415
        from opentelemetry.sdk.resources import Resource  # noqa: PLC0415
        from opentelemetry.sdk.trace import TracerProvider  # noqa: PLC0415
        from opentelemetry.sdk.trace.export import BatchSpanProcessor  # noqa: PLC0415
        from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator  # noqa: PLC0415

        resource = Resource.create({"service.name": NAME, "service.version": __version__})
        self._provider = TracerProvider(resource=resource)
        self._provider.add_span_processor(BatchSpanProcessor(exporter or OTLPSpanExporter()))
        self._tracer = self._provider.get_tracer(NAME, __version__)
        self._propagator = TraceContextTextMapPropagator()

    def span(self, name: str, parent: str, seconds: float, attributes: dict[str, str | int]) -> None:
        """One finished request.

        name: of the span; parent: W3C traceparent, empty where there was none; seconds: its duration [s].
        """
        from opentelemetry.trace import SpanKind, StatusCode  # noqa: PLC0415

        context = self._propagator.extract({"traceparent": parent}) if parent else None
        end = time.time_ns()
        span = self._tracer.start_span(
            name,
            context=context,
            kind=SpanKind.SERVER,
            attributes=attributes,
            start_time=end - round(seconds * 1e9),
        )
        if int(attributes["http.response.status_code"]) >= 500:  # noqa: PLR2004 - faults of ours
            span.set_status(StatusCode.ERROR)
        span.end(end)

    def close(self) -> None:
        """Export the remaining spans."""
        self._provider.shutdown()
