"""The environment, read here alone: settings as one frozen struct, and the file of design choices."""

from __future__ import annotations

import os
from ipaddress import ip_address
from typing import Annotated, Any, Final, Literal

import msgspec
from msgspec import Meta

Positive = Annotated[float, Meta(gt=0, le=3600)]
Count = Annotated[int, Meta(ge=1, le=100_000)]
LogLevel = Literal["debug", "info", "warning", "error"]
Port = Annotated[int, Meta(ge=1, le=65535)]


class Settings(msgspec.Struct, frozen=True):
    """Everything that can be set, each by the environment variable of its name in capitals.

    Attributes:
        host: address to listen on
        port: port to listen on
        log_level: least level of the lines that are logged: debug, info, warning or error
        max_body: largest body of a single question [bytes]
        max_bulk_body: largest body of a batch or table [bytes]
        max_bulk_bodies: of all batches and tables that are being read or wait for their answer [bytes]
        max_head: largest request line with header fields [bytes]
        head_seconds: in which a head has to come [s]
        request_seconds: in which a whole request has to be answered [s]
        most_at_once: requests in flight above which they are shed, half of it for long computations
        most_cost: cost of the questions of one batch or table together [units of work, each 0.1 ms]
        drain_seconds: how long the service, told to stop, says that it is not ready and serves on, to be longer than a
            proxy takes to notice [s]
        allowed_origins: whose pages may call the service (CORS), such as https://example.org, * for every one
        api_keys: keys as name=hash,name=hash
        api_keys_file: TOML file of keys with a table a name, read again when it changes
        api_keys_grace_seconds: how long the keys of the file stay good while it is gone or cannot be read [s]
        open_access: serve everyone without a key even beyond the loopback interface
        quotas: policies such as burst=600/60,day=100000/86400 (units of work/seconds)
        redis_url: of the store that replicas share, redis:// or rediss://
        quota_secret: with which clients' addresses are hashed, to be the same in all replicas
        trusted_proxies: addresses whose Forwarded headers count
        metrics_host: address on which the metrics are served
        metrics_port: port of the metrics; None: they are not served
        otel_exporter_otlp_endpoint: turns traces on; the exporter reads it again by itself, with the other standard
            variables of OpenTelemetry
    """

    host: str = "127.0.0.1"
    port: Port = 8000
    log_level: LogLevel = "info"
    max_body: Annotated[int, Meta(ge=1024, le=16_777_216)] = 65_536
    max_bulk_body: Annotated[int, Meta(ge=1024, le=67_108_864)] = 4_194_304
    max_bulk_bodies: Annotated[int, Meta(ge=1024, le=4_294_967_296)] = 33_554_432
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
    trusted_proxies: tuple[str, ...] = ()
    metrics_host: str = "127.0.0.1"
    metrics_port: Port | None = None
    otel_exporter_otlp_endpoint: str = ""

    @property
    def beyond_loopback(self) -> bool:
        """Whether other machines can reach the service."""
        try:
            return not ip_address(self.host).is_loopback
        except ValueError:
            return self.host != "localhost"


VARIABLES: Final = {name: name.upper() for name in Settings.__struct_fields__}
DESIGN_CHOICES: Final = "DESIGN_CHOICES"
LISTS: Final = ("allowed_origins", "trusted_proxies")


def from_environment() -> Settings:
    """Settings from the variables of their names; raises msgspec.ValidationError naming a bad one."""
    values: dict[str, Any] = {
        name: os.environ[variable] for name, variable in VARIABLES.items() if os.environ.get(variable)
    }
    for name in LISTS:
        if name in values:
            values[name] = [part.strip() for part in values[name].split(",") if part.strip()]
    return msgspec.convert(values, Settings, strict=False)


def design_choices_file() -> str | None:
    """A TOML file whose values replace those of service/knowledge/data/design_choices.toml, if one is named.

    No field of Settings: the choices are data like those beside them, read when service.knowledge is imported, and
    other constants are derived from them at once. An application made for other Settings could not have others.
    """
    return os.environ.get(DESIGN_CHOICES) or None
