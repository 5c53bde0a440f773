"""The most expensive legitimate request for an operation, sought and not listed.

The examples, and what long searches found before, are changed at random, what costs most is kept and changed again: a
search by evolution with a seed, so it finds the same on every machine. What a request costs is counted in calls of
functions, not timed; a question that the operation refuses after reading it costs as well.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import cached_property, partial
from pathlib import Path
from random import Random
from typing import Any, Final, Literal, TypeAlias

import msgspec

from service.api.models.operation import COST_OF_REPORT, Operation
from service.api.models.report import AUDIENCES
from service.api.operations.registry import OPERATIONS
from service.api.reports.writing import page
from service.api.routes import ENCODER
from service.api.serialization.json import Reader
from service.charts.elements.layout import Sheet
from service.errors import Refusal
from tests.support.changing import Changing
from tests.support.work import calls

Form: TypeAlias = Literal["json", "svg", "html"]

KEPT: Final = 6  # of the most expensive so far, which are changed further most of the time, any other sometimes
SEED: Final = 7
UNITS: Final = 12_000  # of published cost to be spent on one search; the number of requests tried follows
FEWEST, MOST = 80, 800  # requests tried
FEWEST_OF_REPORTS: Final = 10  # whose answers and pictures are sought for by themselves
FOUND_BEFORE: Final = Path(__file__).parents[1] / "live" / "hostile" / "expensive.jsonl"


class Target:
    """What is sought for: an operation's answer as JSON, its picture, or its report as a page with pictures."""

    def __init__(self, operation: Operation, form: Form = "json") -> None:
        self.operation = operation
        self.form: Final = form
        self.name: Final = operation.name + ("" if form == "json" else f".{form}")
        self.cost: Final = {
            "json": operation.cost,
            "svg": operation.picture_cost,
            "html": operation.cost + operation.picture_cost + COST_OF_REPORT,
        }[form]
        self._reader: Final[Reader[Any]] = Reader(operation.request)

    @cached_property
    def _compute(self) -> Callable[[Any], bytes]:
        report = self.operation.report
        if self.form == "svg":
            return lambda request: max(self.pages(request), key=lambda one: one.width * one.height).svg().encode()
        if self.form == "html" and report is not None:
            return lambda request: page(report(request), AUDIENCES[0], self.pages(request)).encode()
        return lambda request: ENCODER.encode(self.operation.compute(request))

    def read(self, body: bytes) -> object:
        """The question in a body. Raises Refusal where it does not fit its shape."""
        return self._reader.read(body, brief=True)

    def pages(self, request: object) -> Sequence[Sheet]:
        """The pages of the picture, none where there is none."""
        return () if self.operation.picture is None else self.operation.picture(request)

    def answer(self, body: bytes) -> bytes | None:
        """The answer, None where the operation refuses. Raises Refusal for a question that does not fit its shape."""
        request = self.read(body)
        with suppress(Refusal):
            return self._compute(request)
        return None

    def work(self, body: bytes) -> int:
        """Calls for one answer, with nothing remembered from other requests."""
        forget()
        return calls(partial(self.answer, body))


class Kept(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A request that a long search found, and its operation."""

    operation: str
    request: dict[str, Any]


class Found(msgspec.Struct, frozen=True):
    """A request, and the calls that its answer takes."""

    calls: int
    body: bytes


TARGETS: Final = {
    target.name: target
    for operation in OPERATIONS
    for target in (
        Target(operation),
        *([Target(operation, "svg")] if operation.picture else []),
        *([Target(operation, "html")] if operation.report else []),
    )
}


def forget() -> None:
    """Empty what the service remembers by values of requests; what follows from its data files may stay."""
    for cache in bounded_caches():
        cache.cache_clear()


def bounded_caches() -> list[Any]:
    """The caches of the service's functions that hold a limited number of results."""
    found = {
        id(value): value
        for name, module in sys.modules.items()
        if name.startswith("service")
        for value in vars(module).values()
        if hasattr(value, "cache_parameters") and value.cache_parameters()["maxsize"] is not None
    }
    return list(found.values())


def tries(target: Target, effort: float) -> int:
    """How many requests are tried, by what one costs; effort: 1 is that of every day."""
    fewest = FEWEST_OF_REPORTS if target.form == "html" else FEWEST
    return round(effort * min(MOST, max(fewest, UNITS // target.cost)))


def examples(target: Target) -> list[Found]:
    """The operation's own examples."""
    return _counted(target, [example.request for example in target.operation.examples])


def found_before(target: Target) -> list[Found]:
    """What long searches found for the operation."""
    lines = FOUND_BEFORE.read_bytes().splitlines()
    kept = [msgspec.json.decode(line, type=Kept) for line in lines]
    return _counted(target, [one.request for one in kept if one.operation == target.operation.name])


def _counted(target: Target, questions: list[dict[str, Any]]) -> list[Found]:
    bodies = [msgspec.json.encode(question) for question in questions]
    return sorted((Found(_settled(target, body, 0), body) for body in bodies), key=_calls)


def worst(target: Target, effort: float = 1.0, seed: int = SEED) -> Found:
    """The most expensive request that so many tries find.

    Of requests with the same fields the most expensive is kept: a field that costs nothing by itself may lead on.
    """
    random = Random(seed)  # noqa: S311 - repeatable on purpose
    changing = Changing(random, target.operation.request)
    begin = sorted([*examples(target), *found_before(target)], key=_calls)
    best = {fields(msgspec.json.decode(found.body)): found for found in begin}
    for _ in range(tries(target, effort)):
        parents = list(best.values())
        if random.random() < 0.7:
            parents = sorted(parents, key=_calls)[-KEPT:]
        question = changing.changed(msgspec.json.decode(random.choice(parents).body))
        body, niche = msgspec.json.encode(question), fields(question)
        least = best[niche].calls if niche in best else 0
        with suppress(Refusal):
            cost = _settled(target, body, least)
            if cost > least:
                best[niche] = Found(cost, body)
    return max(best.values(), key=_calls)


def fields(question: Any) -> frozenset[str]:  # noqa: ANN401 - any JSON
    """The names of all the fields that a question has."""
    if isinstance(question, list):
        return frozenset().union(*map(fields, question))
    if isinstance(question, dict):
        return frozenset(question).union(*map(fields, question.values()))
    return frozenset()


def _calls(found: Found) -> int:
    return found.calls


def _settled(target: Target, body: bytes, least: int) -> int:
    """The calls for a request once all that follows from the data files is known; not looked at again up to `least`."""
    first = target.work(body)
    return target.work(body) if first > least else first
