"""The environment, read once into one frozen struct."""

from __future__ import annotations

import os
from ipaddress import ip_address
from typing import Annotated, Any, Final

import msgspec
from msgspec import Meta

Positive = Annotated[float, Meta(gt=0, le=3600)]
Count = Annotated[int, Meta(ge=1, le=100_000)]
Port = Annotated[int, Meta(ge=1, le=65535)]
Names = tuple[str, ...]


class Settings(msgspec.Struct, frozen=True):
    """Everything that can be set, each by the environment variable of its name in capitals.

    host, port: to listen on; log_level: of the log lines.
    max_body, max_bulk_body: largest body of a single question, and of a batch or table [bytes]; max_head: largest
    request line with header fields [bytes]; head_seconds, request_seconds: in which a head, and a whole request, has to
    be done [s]; most_at_once: requests in flight, above which they are shed, half of it for long computations;
    most_cost: of the questions of one batch or table together [units of work, each 0.1 ms]; drain_seconds: for which
    the service, told to stop, says that it is not ready and serves on [s], to be longer than a proxy takes to notice.
    allowed_origins: whose pages may call the service (CORS), such as https://example.org, * for every one.
    api_keys: as name=hash,name=hash; api_keys_file: TOML with a table a name, read again when it changes;
    api_keys_grace_seconds: for how long its keys stay good while it is gone or cannot be read [s]; open_access:
    serve everyone without a key even beyond the loopback interface.
    quotas: as burst=600/60,day=100000/86400 (units of work/seconds); redis_url: of the store that replicas share;
    quota_secret: with which clients' addresses are hashed, to be the same in all replicas.
    trusted_proxies: addresses whose Forwarded headers count.
    metrics_host, metrics_port: where the figures are served, nowhere if the port is None.
    """

    host: str = "127.0.0.1"
    port: Port = 8000
    log_level: str = "info"
    max_body: Annotated[int, Meta(ge=1024, le=16_777_216)] = 65_536
    max_bulk_body: Annotated[int, Meta(ge=1024, le=67_108_864)] = 4_194_304
    max_head: Annotated[int, Meta(ge=4096, le=1_048_576)] = 16_384
    head_seconds: Positive = 10.0
    request_seconds: Positive = 30.0
    most_at_once: Count = 256
    most_cost: Annotated[int, Meta(ge=1000, le=1_000_000)] = 50_000
    drain_seconds: Annotated[float, Meta(ge=0, le=3600)] = 0.0
    allowed_origins: tuple[Annotated[str, Meta(pattern=r"^(?:\*|https?://[^/\s,]+)\Z")], ...] = ()
    api_keys: str = ""
    api_keys_file: str = ""
    api_keys_grace_seconds: Annotated[float, Meta(ge=0, le=86_400)] = 3600.0
    open_access: bool = False
    quotas: str = ""
    redis_url: Annotated[str, Meta(pattern=r"^(?:|rediss?://\S+)\Z")] = ""
    quota_secret: str = ""
    trusted_proxies: Names = ()
    metrics_host: str = "127.0.0.1"
    metrics_port: Port | None = None

    @property
    def beyond_loopback(self) -> bool:
        """Whether other machines can reach the service."""
        try:
            return not ip_address(self.host).is_loopback
        except ValueError:
            return self.host != "localhost"


VARIABLES: Final = {name: name.upper() for name in Settings.__struct_fields__}
LISTS: Final = ("allowed_origins", "trusted_proxies")


def from_environment() -> Settings:
    """Settings from the variables of their names; raises msgspec.ValidationError naming a bad one."""
    given: dict[str, Any] = {
        name: os.environ[variable] for name, variable in VARIABLES.items() if os.environ.get(variable)
    }
    for name in LISTS:
        if name in given:
            given[name] = [part.strip() for part in given[name].split(",") if part.strip()]
    return msgspec.convert(given, Settings, strict=False)
