"""The commands: python -m service serve | openapi | demo | key. Each loads only what it needs."""

from __future__ import annotations

import argparse
import gc
import signal
import socket
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import msgspec

from service import __version__
from service.knowledge.choice_kinds import UnusableChoices
from service.knowledge.loader import UnusableData

if TYPE_CHECKING:
    from service.http.types import ASGIApp
    from service.settings import Settings

SWITCH_INTERVAL: Final = 0.001
"""How soon the thread of long computations gives way to the event loop [s]; Python's own 5 ms are too long for it."""
SHUTDOWN_SECONDS: Final = 10
"""How long what is in flight may take to finish when the server stops [s]."""
NOT_SERVING: Final = 1
UNUSABLE: Final = 2


class StartFailure(Exception):
    """Why the service does not start, in one line, with the exit code."""

    def __init__(self, reason: str, code: int) -> None:
        super().__init__(reason)
        self.code = code


def serve() -> int:
    """Serve the API on HOST and PORT until stopped."""
    settings = _settings()
    _check_address(settings.host, settings.port)
    app = _application(settings)
    _serve_metrics(settings)
    _announce(settings)
    return _run(app, settings)


def openapi() -> int:
    """Print the OpenAPI description."""
    from service.api.openapi.document import rendered  # noqa: PLC0415

    sys.stdout.buffer.write(rendered())
    return 0


def demo() -> int:
    """Print one course of care on a page, from the first adjustment to the full program, and the same lifter's week."""
    from service.demo import course_page  # noqa: PLC0415

    sys.stdout.write(course_page())
    return 0


def key() -> int:
    """Print a new API key for a client, and the hash of it that the service keeps."""
    from service.http.middleware.api_keys import new_key  # noqa: PLC0415

    text, digest = new_key()
    sys.stdout.write(f'key, for the client alone: {text}\nfor API_KEYS_FILE:           sha256 = "{digest}"\n')
    return 0


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command that the arguments name, those of the process by default, or print the help; returns the code."""
    parser = _parser()
    command = parser.parse_args(arguments).command
    if command is None:
        parser.print_help()
        return 0
    try:
        code: int = command()
    except StartFailure as failure:
        sys.stderr.write(f"{failure}\n")
        return failure.code
    except UnusableChoices as error:  # read as soon as a command loads what it needs
        sys.stderr.write(f"DESIGN_CHOICES is not usable: {error}\n")
        return UNUSABLE
    except UnusableData as error:
        sys.stderr.write(f"Cannot start: {error}\n")
        return UNUSABLE
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m service",
        description="Finds the smallest change to a lifting program that takes demand off a sore region.",
        epilog="Settings come from the environment; service/settings.py lists them.",
    )
    parser.add_argument("--version", action="version", version=f"program-adjustment-service {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    parser.set_defaults(command=None)
    for command in (serve, openapi, demo, key):
        words = str(command.__doc__)
        commands.add_parser(command.__name__, help=words, description=words).set_defaults(command=command)
    return parser


# --- serve -----------------------------------------------------------------------------------------------------------
def _settings() -> Settings:
    from service.settings import from_environment  # noqa: PLC0415

    try:
        return from_environment()
    except msgspec.ValidationError as error:
        fault, _, field = str(error).partition(" - at `$.")
        name = field.rstrip("`").upper() or "A setting"
        raise StartFailure(f"{name} is not usable: {fault}", UNUSABLE) from None


def _check_address(host: str, port: int) -> None:
    """See that the address can be listened on, before the time is spent to load what is to be served there."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
    except OSError as error:
        raise _cannot_listen(host, port, error) from None


def _cannot_listen(host: str, port: int, error: OSError, settings: str = "") -> StartFailure:
    """settings: the beginning of the names of the settings that say where to listen."""
    instead = f"{settings}PORT=… and {settings}HOST=… say where else."
    return StartFailure(f"Cannot listen on {host}:{port}: {error.strerror}. {instead}", NOT_SERVING)


def _application(settings: Settings) -> ASGIApp:
    from service.app import create_asgi  # noqa: PLC0415

    try:
        return create_asgi(settings)
    except (ValueError, OSError, msgspec.ValidationError) as error:
        raise StartFailure(f"Cannot serve: {error}", UNUSABLE) from None


def _serve_metrics(settings: Settings) -> None:
    from service.observability import metrics  # noqa: PLC0415

    if settings.metrics_port is not None:
        try:
            metrics.serve(settings.metrics_host, settings.metrics_port)
        except OSError as error:
            raise _cannot_listen(settings.metrics_host, settings.metrics_port, error, "METRICS_") from None


def _announce(settings: Settings) -> None:
    """Say where the page is, and the main job by its address to try."""
    from service.api.operations.registry import OPERATIONS  # noqa: PLC0415
    from service.api.serialization.json import Reader  # noqa: PLC0415
    from service.api.serialization.query import QueryForm  # noqa: PLC0415

    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    address = f"http://{host}:{settings.port}"
    operation = next(operation for operation in OPERATIONS if operation.name == "adjustments")
    reader: Reader[Any] = Reader(operation.request)
    query = QueryForm(operation, reader).query(reader.fit(operation.examples[0].request))
    sys.stdout.write(
        f"Docs: {address}/docs\nTry:  curl -s '{address}{operation.path}?{query}&as=markdown&for=lifter'\n"
    )
    sys.stdout.flush()


def _run(app: ASGIApp, settings: Settings) -> int:
    """Serve until stopped; returns the exit code."""
    import uvicorn  # noqa: PLC0415

    from service.http.server.draining import Server  # noqa: PLC0415
    from service.http.server.protocol import protocol_with  # noqa: PLC0415

    server = Server(
        uvicorn.Config(
            app,
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
            timeout_graceful_shutdown=SHUTDOWN_SECONDS,
        ),
        settings.drain_seconds,
    )
    # uvicorn raises the signal again once it has finished what was in flight: being stopped is no failure
    for stop in (signal.SIGTERM, signal.SIGINT):
        signal.signal(stop, lambda *_: sys.exit(0))
    # what was read at start lives as long as the process: the collector need not look through it again and again
    gc.collect()
    gc.freeze()
    sys.setswitchinterval(SWITCH_INTERVAL)
    server.run()
    return 0 if server.started else NOT_SERVING
