"""Composition root: settings to the ASGI application. The only module that knows every other."""

from __future__ import annotations

import secrets
from pathlib import Path
from typing import Final

import msgspec
from litestar import Litestar
from litestar.datastructures import State

from service import __version__
from service.api.bulk.batch import mounted_batch
from service.api.bulk.streaming import Bounds
from service.api.bulk.tables import mounted_table
from service.api.catalogue.routes import CATALOGUE
from service.api.docs.routes import DOCS, DOCS_PATHS, docs_text
from service.api.error_handlers import HANDLERS
from service.api.evidence.models import PATH as EVIDENCE
from service.api.evidence.routes import evidence_of_quantities
from service.api.models.service_state import HEALTH_PATHS
from service.api.openapi.index import PATH as INDEX
from service.api.openapi.routes import description
from service.api.operations.registry import OPERATIONS
from service.api.resources.health import HEALTH
from service.api.resources.index import index, root
from service.api.resources.problem_pages import problem_page
from service.api.routes import mounted
from service.api.spoken import has_sentences
from service.http.background import Background
from service.http.body import BodiesInHand
from service.http.middleware.access_log import AccessLog
from service.http.middleware.api_keys import KeyRing, keys_from_text
from service.http.middleware.authentication import Authentication
from service.http.middleware.compression import Compression
from service.http.middleware.cors import CrossOrigin
from service.http.middleware.etag import ConditionalRequests
from service.http.middleware.language import Languages
from service.http.middleware.load_shedding import LoadShedding
from service.http.middleware.rate_limit_store import Counters, MemoryCounters, RedisCounters, connected
from service.http.middleware.rate_limiting import RateLimiting, policies_from_text
from service.http.problems import KINDS
from service.http.types import ASGIApp
from service.knowledge.languages import LANGUAGES
from service.messages import speaking
from service.observability.event_loop_lag import LoopLag
from service.observability.logging import configure_log, standard_output
from service.observability.metrics import BUILD, LOOP_LAG
from service.observability.tracing import Tracer
from service.settings import Settings, from_environment

OPEN_PATHS: Final = frozenset(
    {
        "/",
        *DOCS_PATHS,
        "/openapi.json",
        INDEX,
        EVIDENCE,
        *(f"/problems/{kind}" for kind in KINDS),
    }
)
"""What anybody may read without a key, to know how to ask and what answers are worth; counted, since it is long."""


def create_app(
    settings: Settings,
    counters: Counters | None = None,
    tracer: Tracer | None = None,
    background: Background | None = None,
) -> Litestar:
    """The routes and error handling, for these settings."""
    counters = counters or MemoryCounters()
    background = background or Background(settings.most_at_once)
    in_hand = BodiesInHand(max(settings.max_bulk_body, settings.max_bulk_bodies))
    bulk = Bounds(settings.max_bulk_body, settings.most_cost, in_hand, background)
    lag = LoopLag(LOOP_LAG)
    store = [counters.close] if isinstance(counters, RedisCounters) else []
    return Litestar(
        route_handlers=[
            *(mounted(operation, settings.max_body, background) for operation in OPERATIONS),
            *(mounted_table(operation, bulk) for operation in OPERATIONS),
            mounted_batch(bulk, settings.max_body),
            CATALOGUE,
            evidence_of_quantities,
            description,
            DOCS,
            docs_text,
            root,
            index,
            HEALTH,
            problem_page,
        ],
        exception_handlers=HANDLERS,
        openapi_config=None,
        request_max_body_size=settings.max_body,
        logging_config=None,
        on_startup=[lag.start],
        on_shutdown=[lag.stop, background.close, *store, *([tracer.close] if tracer else [])],
        state=State({"counters": counters}),
    )


def create_asgi(settings: Settings | None = None) -> ASGIApp:
    """What is served, by default for the settings of the environment (uvicorn --factory service.app:create_asgi).

    The routes; around them how answers travel, who may ask and how much, how much at once, and what is noted of it.
    Raises ValueError, OSError or msgspec.ValidationError where the settings cannot be used.
    """
    settings = settings or from_environment()
    configure_log(settings.log_level, standard_output())
    BUILD.info({"version": __version__})
    ring = key_ring(settings)
    policies = policies_from_text(settings.quotas)
    counters: Counters = connected(settings.redis_url) if settings.redis_url else MemoryCounters()
    tracer = Tracer() if settings.otel_exporter_otlp_endpoint else None
    # the other half is for short questions, which are answered while long ones wait
    background = Background(max(1, settings.most_at_once // 2))
    routes = create_app(settings, counters, tracer, background)
    app: ASGIApp = Languages(routes, tuple(LANGUAGES), speaking, has_sentences)
    app = ConditionalRequests(Compression(app), __version__)
    if policies:
        secret = settings.quota_secret.encode()[:64] or secrets.token_bytes(32)
        app = RateLimiting(app, policies, counters, secret, HEALTH_PATHS)
    if ring is not None:
        app = Authentication(app, ring, HEALTH_PATHS, OPEN_PATHS)
    app = LoadShedding(app, settings.most_at_once, settings.request_seconds, HEALTH_PATHS, background)
    if settings.allowed_origins:
        app = CrossOrigin(app, settings.allowed_origins)
    return AccessLog(app, frozenset(route.path for route in routes.routes), HEALTH_PATHS, tracer)


def key_ring(settings: Settings) -> KeyRing | None:
    """The keys that are asked for, None where everyone may ask.

    Raises ValueError where other machines can reach a service that has neither keys nor leave to do without, and
    where the keys cannot be read.
    """
    path = Path(settings.api_keys_file) if settings.api_keys_file else None
    fixed = keys_from_text(settings.api_keys)
    if fixed or path:
        try:
            return KeyRing(fixed, path, settings.api_keys_grace_seconds)
        except (OSError, ValueError, msgspec.ValidationError) as error:
            raise ValueError(f"API_KEYS_FILE is not usable: {error}") from None
    if settings.beyond_loopback and not settings.open_access:
        raise ValueError(
            f"HOST {settings.host} can be reached by other machines: set API_KEYS_FILE or API_KEYS, or OPEN_ACCESS=true"
        )
    return None
