"""serve · openapi · demo · key."""

from __future__ import annotations

import gc
import json
import signal
import socket
import sys

import msgspec

from service.knowledge.choice_tables import UnusableChoices

SWITCH_INTERVAL = 0.001  # [s]
USAGE = "usage: python -m service serve | openapi | demo | key"


def serve() -> int:
    """Serve the API on HOST and PORT until told to stop."""
    from service.settings import from_environment  # noqa: PLC0415 - each command loads only what it needs

    try:
        settings = from_environment()
    except msgspec.ValidationError as error:
        what, _, field = str(error).partition(" - at `$.")
        sys.stderr.write(f"{field.rstrip('`').upper() or 'A setting'} is not usable: {what}\n")
        return 2
    family = socket.AF_INET6 if ":" in settings.host else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((settings.host, settings.port))
    except OSError as error:
        sys.stderr.write(f"Cannot listen on {settings.host}:{settings.port}: {error.strerror}\n")
        return 1
    import uvicorn  # noqa: PLC0415

    from service.api.operations.registry import OPERATIONS  # noqa: PLC0415
    from service.http.server.draining import Server  # noqa: PLC0415
    from service.http.server.protocol import protocol_with  # noqa: PLC0415
    from service.observability import metrics  # noqa: PLC0415

    try:
        from service.app import application  # noqa: PLC0415
    except (ValueError, OSError, msgspec.ValidationError) as error:
        sys.stderr.write(f"Cannot serve: {error}\n")
        return 2
    if settings.metrics_port is not None:
        try:
            metrics.serve(settings.metrics_host, settings.metrics_port)
        except OSError as error:
            sys.stderr.write(f"Cannot listen on {settings.metrics_host}:{settings.metrics_port}: {error.strerror}\n")
            return 1

    address = (
        f"http://[{settings.host}]:{settings.port}"
        if ":" in settings.host
        else f"http://{settings.host}:{settings.port}"
    )
    example = next(operation for operation in OPERATIONS if operation.name == "load-for-reps")
    body = json.dumps(example.examples[0].request)
    sys.stdout.write(
        f"Docs: {address}/docs\nTry:  curl -s {address}{example.path} -H 'content-type: application/json' -d '{body}'\n"
    )
    sys.stdout.flush()
    server = Server(
        uvicorn.Config(
            application,
            host=settings.host,
            port=settings.port,
            log_config=None,  # as all else is logged
            log_level="warning",
            access_log=False,  # its lines would repeat queries
            server_header=False,
            http=protocol_with(settings.max_head, settings.head_seconds),
            ws="none",
            # who asks decides about quotas: only a named proxy is believed about it
            proxy_headers=bool(settings.trusted_proxies),
            forwarded_allow_ips=list(settings.trusted_proxies),
            lifespan="on",
            timeout_graceful_shutdown=10,
        ),
        settings.drain_seconds,
    )
    # uvicorn raises the signal again once it has finished what was in flight: being told to stop is no failure
    for stop in (signal.SIGTERM, signal.SIGINT):
        signal.signal(stop, lambda *_: sys.exit(0))
    # what was read at start lives as long as the process: the collector need not look through it again and again
    gc.collect()
    gc.freeze()
    # the thread of long computations gives way to the event loop this soon, not after 5 ms
    sys.setswitchinterval(SWITCH_INTERVAL)
    server.run()
    return 0 if server.started else 1


def openapi() -> int:
    """Print the OpenAPI description."""
    from service.api.openapi.document import rendered  # noqa: PLC0415

    sys.stdout.buffer.write(rendered())
    return 0


def demo() -> int:
    """Print the demo scenario's whole answer as text."""
    from service.demo import report  # noqa: PLC0415

    sys.stdout.write(report())
    return 0


def key() -> int:
    """Print a new API key for a client, and the hash of it that the service keeps."""
    from service.http.middleware.api_keys import new_key  # noqa: PLC0415

    text, digest = new_key()
    sys.stdout.write(f'key, for the client alone: {text}\nfor API_KEYS_FILE:           sha256 = "{digest}"\n')
    return 0


def main(arguments: list[str]) -> int:
    """Run one command."""
    commands = {"serve": serve, "openapi": openapi, "demo": demo, "key": key}
    if len(arguments) != 1 or arguments[0] not in commands:
        sys.stderr.write(USAGE + "\n")
        return 2
    try:
        return commands[arguments[0]]()
    except UnusableChoices as error:  # read as soon as a command loads what it needs
        sys.stderr.write(f"DESIGN_CHOICES is not usable: {error}\n")
        return 2
