"""What the service remembers from one request to the next is bounded in bytes; every cache is listed here."""

from __future__ import annotations

import asyncio
import importlib
import pkgutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from random import Random
from typing import Any, Final

import msgspec
import pytest

import service
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.errors import Refusal
from service.http.middleware import rate_limit_store
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.knowledge.evidence import QUANTITIES
from service.knowledge.loader import DATA
from service.knowledge.studies import REST
from service.training.plate_loading import HEAVIEST, Plates
from tests.support.changing import Changing
from tests.support.work import memory

LIFTS: Final = len(EXERCISES) + 1  # or none
RESTS: Final = 2 * len({row.rest_seconds for row in REST})
# Keyed by numbers of requests: the bytes that each may keep, and the arguments that make its largest entries.
BY_VALUES: Final[dict[str, tuple[float, Callable[[Random], tuple[Any, ...]]]]] = {
    "service.training.plate_loading.sums": (11e6, lambda random: (twelve_kinds(random),)),
    "service.training.repetition_maximum.people_at": (2e6, lambda random: ("front_squat", random.uniform(1, 30))),
    "service.training.repetition_maximum.shares_behind": (
        4e6,
        lambda random: ("front_squat", random.randint(1, 15), random.uniform(0, 4)),
    ),
    "service.training.repetition_maximum.spread_of_share": (2e6, lambda random: (None, random.uniform(1, 19))),
    "service.training.repetition_maximum.spread_of_maximum": (
        3e6,
        lambda random: ("front_squat", random.randint(1, 15), random.uniform(0, 4)),
    ),
    "service.training.repetition_maximum.spread_of_load": (
        7e6,  # with the sets behind the loads, which are kept too
        lambda random: ("front_squat", random.randint(1, 15), random.uniform(0, 4), random.uniform(1, 19)),
    ),
    "service.training.load_repetition.shares_at": (8e6, lambda random: (None, random.uniform(2, 10))),
    "service.api.operations._repetition_maximum._disagreement": (0.4e6, lambda random: (random.uniform(1, 30),)),
}
# Keyed by what the data files list, or by nothing: the most entries that there can be.
BY_IDS: Final[dict[str, int]] = {
    "service.api.evidence.models.evidence": len(QUANTITIES) + 1,  # or all of them
    "service.api.evidence.page.page": len(QUANTITIES) + 1,
    "service.api.evidence.routes._encoded": len(QUANTITIES) + 1,
    "service.api.openapi.document.document": 1,
    "service.api.openapi.document.rendered": 1,
    "service.api.docs.as_text.documentation": 1,
    "service.api.docs.contents.contents": 1,
    "service.api.docs.guide.mistakes.mistakes": 1,  # asked at one address by the service itself
    "service.api.docs.guide.steps._consultation": 1,
    "service.api.docs.guide.steps.guide": 1,
    "service.api.docs.page.page": 1,
    "service.api.docs.search_index.search_index": 1,
    "service.api.serialization.csv._flat_form": 10,  # the shapes of an answer that one cell can hold
    "service.api.serialization.suggestions._by_name": 100,  # the lists of values that are chosen from
    "service.api.resources.health._checksum": 1,
    "service.api.operations.joint_demand.handler._published": LIFTS**2,
    "service.observability.metrics.answered": 10_000,  # route, method and status, all from closed lists
    "service.observability.metrics.seconds_of": 200,
    "service.adjustment.meanwhile.asking_noticeably": 13,  # regions
    "service.messages.citations.citation": len(SOURCES),
    "service.knowledge.loader.read_toml": len([*DATA.rglob("*.toml")]),
    "service.knowledge.loader._files_of_ids": 140,  # the structs that they are read into
    "service.knowledge.substitutions.directions": LIFTS**2,
    "service.knowledge.substitutions.ratio_between": LIFTS**2,
    "service.mechanics.arm.segments.arm_fractions": 3,
    "service.mechanics.body.segment_fractions": 3,
    "service.mechanics.pulls.shoulder_ahead": LIFTS,
    "service.training.load_repetition.curves_for": LIFTS,
    "service.training.load_repetition.person_curve": 3 * LIFTS,
    "service.training.load_repetition.lifters_for": LIFTS,
    "service.training.load_repetition.relation_for": LIFTS,
    "service.training.load_repetition.shown_for": LIFTS,
    "service.training.rest._total_ratio": RESTS**2 * LIFTS,
}


def twelve_kinds(random: Random) -> Plates:
    """An inventory with no common step whose sums fill the integer that holds them."""
    return Plates(0, tuple((plate, 10) for plate in sorted(random.sample(range(HEAVIEST // 30, HEAVIEST // 25), 12))))


def caches() -> Iterator[tuple[str, Any]]:
    """Every function of the service that remembers its results, by its full name."""
    for module in pkgutil.walk_packages(service.__path__, "service."):
        if module.name.endswith("__main__"):
            continue
        for value in vars(importlib.import_module(module.name)).values():
            if hasattr(value, "cache_parameters") and value.__module__ == module.name:
                yield f"{module.name}.{value.__name__}", value


CACHES: Final = dict(caches())


def test_every_cache_is_listed_with_its_bound() -> None:
    bounded = {name for name, cache in CACHES.items() if cache.cache_parameters()["maxsize"] is not None}
    assert bounded == set(BY_VALUES)
    assert set(CACHES) - bounded == set(BY_IDS)


@pytest.mark.parametrize("name", BY_VALUES)
def test_what_is_kept_by_values_of_requests_is_bounded_in_bytes(name: str) -> None:
    most, arguments = BY_VALUES[name]
    cache, random = CACHES[name], Random(11)  # noqa: S311 - repeatable on purpose
    size = cache.cache_parameters()["maxsize"]
    cache(*arguments(random))
    cache.cache_clear()

    def fill() -> None:
        for _ in range(size + size // 2):
            cache(*arguments(random))

    left, _ = memory(fill)
    cache.cache_clear()
    assert most / 4 < left < most, "more than it may, or a bound that says little"


def test_counters_of_any_number_of_clients_are_bounded_in_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    """A counter is a client's name, shortened to a hash by its caller, and three numbers."""
    most = rate_limit_store.MOST_COUNTERS
    monkeypatch.setattr(rate_limit_store, "MOST_COUNTERS", 4_000)
    policies = (rate_limit_store.Policy("burst", 10, 60),)
    counters = rate_limit_store.MemoryCounters()

    async def fill() -> None:
        for client in range(20_000):
            await counters.charge(f"{client:032x}", 1, policies, 1e9 + client)

    left, _ = memory(lambda: asyncio.run(fill()))
    assert left < 600 * 4_000
    assert most * left / 4_000 < 50e6


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.name)
def test_what_is_kept_by_ids_does_not_grow_with_other_questions(operation: Any) -> None:  # noqa: ANN401
    """Each question is asked again with other numbers: no cache without a limit may keep more of it."""
    reader: Reader[Any] = Reader(operation.request)
    changing = Changing(Random(12), operation.request)  # noqa: S311 - repeatable on purpose
    for _ in range(60):
        question = changing.changed(operation.examples[0].request)
        with suppress(Refusal):
            operation.compute(reader.read(msgspec.json.encode(question), brief=True))
    for name, most in BY_IDS.items():
        assert CACHES[name].cache_info().currsize <= most, name
