"""How often the intervals of load-for-reps, reps-for-load, estimated-max and rep-targets hold what they are about.

Drawn lifters do a set at each share of the maximum with each reserve said to be left; the service is asked, and its
intervals are held against what those lifters can do. The service sees 100 kg for the load and whole repetitions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import cache
from math import isclose
from typing import Any, Final

import msgspec
import numpy as np
from numpy.random import Generator, default_rng

from service.errors import Refusal
from tests.science.calibration.lifters import Lifters, Numbers, day_error, drawn, truly_left
from tests.support.asking import Answered, ask, kg

SEED: Final = 68
LOAD: Final = 100.0
LIFTS: Final = {"general": None, "bench_press": "bench_press"}
SHARES: Final = (0.95, 0.90, 0.85, 0.80, 0.75, 0.70, 0.65)
RESERVES: Final = (0.0, 1.0, 2.0, 3.0, 4.0)
TARGETS: Final = (2, 3, 5, 8, 10, 12, 15)
LOADS: Final = (0.85, 0.90, 0.95, 1.0, 1.05, 1.10)
"""Loads asked about over the load done [1]."""
OWN_SHARES: Final = {2: (0.90, 0.75), 3: (0.90, 0.80, 0.70), 5: (0.90, 0.85, 0.80, 0.75, 0.70)}
"""Shares of the maximum of the sets of an own curve, by their number [1]."""
TEST_REPEATS: Final = 0.042
STATED: Final = "68 %"
"""The words by which `interval` states a coverage."""
ENOUGH: Final = 150
"""Fewest answers of a cell by which its coverage is judged."""


class Coverage(msgspec.Struct, frozen=True):
    """How often the intervals of one estimate held, in one cell of the grid.

    Attributes:
        estimate: operation and field
        cell: lift, share of the maximum, reserve said, and what was asked
        held: of each lifter, whether the interval held
        below: of each, whether what it is about lay below
        widened: of each, whether a bound that `interval` names set an end of the interval
        stated: whether `interval` states a coverage
    """

    estimate: str
    cell: tuple[str, ...]
    held: Numbers
    below: Numbers
    widened: Numbers
    stated: bool

    @property
    def count(self) -> int:
        """Answers."""
        return len(self.held)

    @property
    def share(self) -> float:
        """How often the intervals held [1]."""
        return float(np.mean(self.held))


class Done(msgspec.Struct, frozen=True):
    """One set of each of many lifters.

    Attributes:
        lift: name of its curve
        share: of the maximum [1]
        said: repetitions said to be left [count]
        lifters: who did it
        reps: whole repetitions done, nil where not even one was possible [count]
        draw: where the numbers come from
    """

    lift: str
    share: float
    said: float
    lifters: Lifters
    reps: Numbers
    draw: Generator


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate in every cell, so many lifters in each."""
    return tuple(_all(count))


def _all(count: int) -> Iterator[Coverage]:
    draw = default_rng(SEED)
    for lift in LIFTS:
        for share in SHARES:
            for said in RESERVES:
                done = _done(lift, share, said, count, draw)
                yield from _loads(done)
                yield from _maxima(done)
                yield from _repetitions(done)
                yield from _effort(done)
    for number, shares in OWN_SHARES.items():
        yield from _own_curves(number, shares, count, draw)


def _done(lift: str, share: float, said: float, count: int, draw: Generator) -> Done:
    lifters = drawn(lift, count, draw)
    shares = np.full(count, share)
    possible = lifters.reps_at(shares) + draw.normal(0, day_error(shares))
    reps = np.rint(possible - truly_left(said, draw, count))
    return Done(lift, share, said, lifters, np.maximum(reps, 0.0), draw)


def _set(reps: float, said: float, load: float = LOAD) -> dict[str, Any]:
    return {"load": kg(float(load)), "reps": float(reps), "reps_in_reserve": float(said)}


def _lift(name: str) -> dict[str, Any]:
    return {} if LIFTS[name] is None else {"exercise": LIFTS[name]}


@cache
def _answer(name: str, question: bytes) -> Answered | None:
    try:
        return ask(name, msgspec.json.decode(question))
    except Refusal:
        return None


def asked(name: str, question: dict[str, Any]) -> Answered | None:
    """The answer, the same question being asked once; None where it is refused."""
    return _answer(name, msgspec.json.encode(question))


def _held(
    estimate: str,
    cell: Sequence[object],
    answers: Sequence[Answered | None],
    truths: Numbers,
    field: Callable[[Answered], Answered],
    widened: Callable[[Answered], bool] = lambda _: False,
) -> Iterator[Coverage]:
    """Coverage of one field over the lifters who were answered; answers and truths are in the same units."""
    answered = [(field(answer), truth) for answer, truth in zip(answers, truths, strict=True) if answer is not None]
    pairs = [(found, truth) for found, truth in answered if found is not None]
    if not pairs:
        return
    low, high = (np.array([getattr(found, end) for found, _ in pairs]) for end in ("low", "high"))
    truth = np.array([one for _, one in pairs])
    near = 1e-5 * np.abs(truth)  # answers have six digits
    yield Coverage(
        estimate,
        tuple(map(str, cell)),
        (low - near <= truth) & (truth <= high + near),
        truth < low - near,
        np.array([widened(found) for found, _ in pairs]),
        all(STATED in found.interval for found, _ in pairs),
    )


def _of_a_test(found: Answered) -> bool:
    """Whether an end of a maximum is set by what was lifted or by how a test repeats."""
    ends = (found.value * (1 + TEST_REPEATS), found.value * (1 - TEST_REPEATS), LOAD)
    return any(isclose(found.high, end, rel_tol=1e-5) or isclose(found.low, end, rel_tol=1e-5) for end in ends)


def _of_a_share(found: Answered) -> bool:
    """The same of a load over the maximum."""
    ends = (found.value / (1 + TEST_REPEATS), found.value / (1 - TEST_REPEATS), found.value)
    return any(isclose(found.high, end, rel_tol=1e-5) or isclose(found.low, end, rel_tol=1e-5) for end in ends)


def _loads(done: Done) -> Iterator[Coverage]:
    for target in TARGETS:
        answers = [
            asked("load-for-reps", {"set": _set(reps, done.said), "target": {"reps": target}} | _lift(done.lift))
            if reps
            else None
            for reps in done.reps
        ]
        usual = done.lifters.share_for(np.full(len(answers), float(target)))
        wanted = done.lifters.share_for(target - done.draw.normal(0, day_error(usual)))  # on another day
        cell = (done.lift, done.share, done.said, f"{target} repetitions")
        yield from _held("load-for-reps load", cell, answers, LOAD * wanted / done.share, lambda one: one.load)
        yield from _held("load-for-reps percent_of_max", cell, answers, 100 * wanted, lambda one: one.percent_of_max)


def _maxima(done: Done) -> Iterator[Coverage]:
    answers = [
        asked("estimated-max", {"sets": [_set(reps, done.said)]} | _lift(done.lift)) if reps else None
        for reps in done.reps
    ]
    truths = np.full(len(answers), LOAD / done.share)
    cell = (done.lift, done.share, done.said, "")
    yield from _held("estimated-max estimated_max", cell, answers, truths, lambda one: one.estimated_max, _of_a_test)


def _repetitions(done: Done) -> Iterator[Coverage]:
    for ratio in LOADS:
        answers = [
            asked(
                "reps-for-load",
                {"set": _set(reps, done.said), "target": {"load": kg(ratio * LOAD)}} | _lift(done.lift),
            )
            if reps
            else None
            for reps in done.reps
        ]
        share = done.share * ratio
        if share > 1:
            continue
        shares = np.full(len(answers), share)
        possible = done.lifters.reps_at(shares) + done.draw.normal(0, day_error(shares))  # on another day
        cell = (done.lift, done.share, done.said, f"{ratio} of the load")
        yield from _held("reps-for-load reps", cell, answers, possible, lambda one: one.reps)
        yield from _held(
            "reps-for-load percent_of_max", cell, answers, 100 * shares, lambda one: one.percent_of_max, _of_a_share
        )


def _effort(done: Done) -> Iterator[Coverage]:
    for ratio in LOADS:
        share = done.share * ratio
        if share > 1:
            continue
        answers = [
            asked(
                "rep-targets",
                {
                    "current": {
                        "sets": 3,
                        "reps": {"low": float(reps), "high": float(reps)},
                        "load": kg(LOAD),
                        "reps_in_reserve": done.said,
                    },
                    "new_load": kg(ratio * LOAD),
                }
                | _lift(done.lift),
            )
            if reps
            else None
            for reps in done.reps
        ]
        shares = np.full(len(answers), share)
        possible = done.lifters.reps_at(shares) + done.draw.normal(0, day_error(shares))  # on another day
        new = np.array([one.equal_volume.reps.high if one else 0 for one in answers])
        cell = (done.lift, done.share, done.said, f"{ratio} of the load")
        yield from _held(
            "rep-targets effort.new", cell, answers, possible - new, lambda one: one.effort.new if one.effort else None
        )


def _own_curves(number: int, shares: Sequence[float], count: int, draw: Generator) -> Iterator[Coverage]:
    """Several sets, each on its own day with 0 to 2 said to be left, and the curve through them."""
    lifters = drawn("general", count, draw)
    said = draw.integers(0, 3, (number, count)).astype(float)
    done = []
    for share, left in zip(shares, said, strict=True):
        at = np.full(count, share)
        possible = lifters.reps_at(at) + draw.normal(0, day_error(at))
        truly = np.array([truly_left(one, draw, 1)[0] for one in left])
        done.append(np.maximum(np.rint(possible - truly), 0.0))
    sets = [
        [_set(reps[at], left[at], LOAD * share) for share, reps, left in zip(shares, done, said, strict=True)]
        if all(reps[at] for reps in done)
        else None
        for at in range(count)
    ]
    cell = ("general", f"{number} own sets", "0 to 2")
    maxima = [ask("estimated-max", {"sets": one}) if one else None for one in sets]
    maxima = [one if one is not None and one.own_curve is not None else None for one in maxima]
    tops = np.full(count, LOAD)

    def of_a_test(found: Answered) -> bool:
        ends = (found.value * (1 + TEST_REPEATS), found.value * (1 - TEST_REPEATS), LOAD * shares[0])
        return any(isclose(found.high, end, rel_tol=1e-5) or isclose(found.low, end, rel_tol=1e-5) for end in ends)

    yield from _held("own curve estimated_max", (*cell, ""), maxima, tops, lambda one: one.estimated_max, of_a_test)
    for target in (3, 5, 8, 12):
        asks = [
            asked("load-for-reps", {"set": one[0], "own_sets": one[1:], "target": {"reps": target}}) if one else None
            for one in sets
        ]
        usual = lifters.share_for(np.full(count, float(target)))
        wanted = lifters.share_for(target - draw.normal(0, day_error(usual)))
        yield from _held("own curve load", (*cell, f"{target} repetitions"), asks, LOAD * wanted, lambda one: one.load)
        yield from _held(
            "own curve percent_of_max",
            (*cell, f"{target} repetitions"),
            asks,
            100 * wanted,
            lambda one: one.percent_of_max,
        )
    for share in (0.95, 0.85, 0.75):
        at = np.full(count, share)
        possible = lifters.reps_at(at) + draw.normal(0, day_error(at))
        asks = [
            asked("reps-for-load", {"set": one[0], "own_sets": one[1:], "target": {"load": kg(LOAD * share)}})
            if one
            else None
            for one in sets
        ]
        yield from _held("own curve reps", (*cell, f"{share}"), asks, possible, lambda one: one.reps)
