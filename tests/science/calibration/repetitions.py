"""How often the intervals of load-for-reps, reps-for-load, estimated-max and rep-targets hold what they are about.

Lifters are drawn, each does a set at some share of the maximum with some reserve stated, the service is asked about it,
and its intervals are held against what the same lifters can do on another day. The load is 100 kg for all, whose maxima
differ, so that a question is asked once for all who did as many repetitions.
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
from tests.science.calibration.lifters import Lifters, Numbers, drawn, truly_left
from tests.support.asking import Answered, ask, kg

SEED: Final = 68
LOAD: Final = 100.0
LIFTS: Final = ("general", "bench_press")
SHARES: Final = (0.95, 0.90, 0.85, 0.80, 0.75, 0.70, 0.65)
WIDTH: Final = 0.05
"""Of the shares about each of SHARES at which lifters do their sets [1]."""
RESERVES: Final = (0.0, 1.0, 2.0, 3.0, 4.0)
TARGETS: Final = (2, 3, 5, 8, 10, 12, 15)
LOADS: Final = (0.85, 0.90, 0.95, 1.0, 1.05, 1.10)
"""Loads that are asked about, over the load done [1]."""
OWN_SHARES: Final = {2: (0.90, 0.75), 3: (0.90, 0.80, 0.70), 5: (0.90, 0.85, 0.80, 0.75, 0.70)}
"""Shares of the maximum of the sets of an own curve, by their number [1]."""
OWN_TARGETS: Final = (3, 5, 8, 12)
OWN_LOADS: Final = (0.95, 0.85, 0.75)
TEST_REPEATS: Final = 0.042
ANSWERED: Final = 0.9
"""Part of the lifters of a cell who must be able to do its set and be answered: others are a choice of people."""
ROUNDING: Final = 1e-5

Bound = Callable[[Answered], bool]


class Coverage(msgspec.Struct, frozen=True):
    """How often the intervals of one estimate held, in one cell of the grid.

    Attributes:
        estimate: operation and field
        lift: name of the curve, or the exercise
        share: of the maximum at which the set was done, or the number of own sets; of mechanics the lifter
        reserve: as stated; of mechanics the joint
        asked: repetitions or load asked about; of mechanics the load and the change
        meaning: what `interval` says
        lifters: who were in the cell [count]
        below: of each who was answered, whether what the interval is about lay below it
        above: of each, whether it lay above
        bounded: of each, whether an end is one that `interval` names: what was lifted, or how a test repeats
    """

    estimate: str
    lift: str
    share: str
    reserve: str
    asked: str
    meaning: str
    lifters: int
    below: Numbers
    above: Numbers
    bounded: Numbers

    @property
    def whole(self) -> bool:
        """Whether nearly all lifters of the cell were answered."""
        return len(self.below) >= ANSWERED * self.lifters


class Done(msgspec.Struct, frozen=True):
    """One set of each of many lifters.

    Attributes:
        lift: name of its curve
        about: share of the maximum of the cell [1]
        share: each one's share of the maximum [1]
        reserve: as stated [count]
        lifters: who did it
        reps: whole repetitions done, less than one where not even one was possible [count]
    """

    lift: str
    about: float
    share: Numbers
    reserve: float
    lifters: Lifters
    reps: Numbers

    def ask(self, name: str, question: Callable[[float], dict[str, Any]]) -> list[Answered | None]:
        """Each one's answer to a question made of the repetitions done; None where there is none."""
        lift = {} if self.lift == "general" else {"exercise": self.lift}
        return [asked(name, question(float(reps)) | lift) if reps >= 1 else None for reps in self.reps]

    def covered(
        self,
        estimate: str,
        question: object,
        answers: Sequence[Answered | None],
        truths: Numbers,
        field: Callable[[Answered], Answered],
        bounded: Bound = lambda _: False,
    ) -> Iterator[Coverage]:
        """How often one field of the answers held."""
        cell = (self.lift, f"{self.about:.2f}", f"{self.reserve:g}", str(question))
        yield from covered(estimate, cell, answers, truths, field, bounded)


@cache
def _asked(name: str, question: bytes) -> Answered | None:
    try:
        return ask(name, msgspec.json.decode(question))
    except Refusal:
        return None


def asked(name: str, question: dict[str, Any]) -> Answered | None:
    """The answer, the same question being asked once; None where it is refused."""
    return _asked(name, msgspec.json.encode(question))


def covered(
    estimate: str,
    cell: tuple[str, str, str, str],
    answers: Sequence[Answered | None],
    truths: Numbers,
    field: Callable[[Answered], Answered],
    bounded: Bound = lambda _: False,
) -> Iterator[Coverage]:
    """How often one field of the answers held what is true, both in the same unit; nothing where nobody is answered."""
    found = [(field(answer), truth) for answer, truth in zip(answers, truths, strict=True) if answer is not None]
    pairs = [(interval, truth) for interval, truth in found if interval is not None]
    meanings = {interval.interval for interval, _ in pairs}
    if len(meanings) != 1:
        assert not meanings, "one estimate, one meaning"
        return
    truth = np.array([one for _, one in pairs])
    near = ROUNDING * np.abs(truth)
    yield Coverage(
        estimate,
        *cell,
        meanings.pop(),
        len(answers),
        truth < np.array([interval.low for interval, _ in pairs]) - near,
        truth > np.array([interval.high for interval, _ in pairs]) + near,
        np.array([bounded(interval) for interval, _ in pairs]),
    )


def done_set(reps: float, reserve: float, load: float = LOAD) -> dict[str, Any]:
    """A set as a request writes it."""
    return {"load": kg(load), "reps": reps, "reps_in_reserve": float(reserve)}


def of_a_maximum(lifted: float) -> Bound:
    """Whether an end of a maximum is the heaviest load lifted, or as far off as a test repeats."""

    def bounded(found: Answered) -> bool:
        ends = (1 + TEST_REPEATS) * found.value, (1 - TEST_REPEATS) * found.value, lifted
        return any(isclose(end, one, rel_tol=ROUNDING) for end in ends for one in (found.low, found.high))

    return bounded


def of_a_share(found: Answered) -> bool:
    """The same of a load as a share of the maximum."""
    ends = found.value / (1 + TEST_REPEATS), found.value / (1 - TEST_REPEATS)
    return any(isclose(end, one, rel_tol=ROUNDING) for end in ends for one in (found.low, found.high))


@cache
def coverages(count: int) -> tuple[Coverage, ...]:
    """Every estimate in every cell, so many lifters in each."""
    draw = default_rng(SEED)
    cells = [(lift, share, reserve) for lift in LIFTS for share in SHARES for reserve in RESERVES]
    sets = [set_of_each(*cell, count, draw) for cell in cells]
    of_one_set = [one for done in sets for part in (loads, maxima, repetitions, effort) for one in part(done, draw)]
    return (*of_one_set, *(one for number in OWN_SHARES for one in own_curves(number, count, draw)))


def set_of_each(lift: str, about: float, reserve: float, count: int, draw: Generator) -> Done:
    """The sets of the lifters of one cell."""
    lifters, share = drawn(lift, count, draw), draw.uniform(about - WIDTH / 2, about + WIDTH / 2, count)
    left = truly_left(np.full(count, reserve), draw)
    return Done(lift, about, share, reserve, lifters, np.rint(lifters.reps_on_a_day(share, draw) - left))


def loads(done: Done, draw: Generator) -> Iterator[Coverage]:
    """Loads for repetitions, and the share of the maximum that they are."""
    for target in TARGETS:

        def question(reps: float, target: int = target) -> dict[str, Any]:
            return {"set": done_set(reps, done.reserve), "target": {"reps": target}}

        answers, share = done.ask("load-for-reps", question), done.lifters.share_on_a_day(target, draw)
        about = f"{target} repetitions"
        yield from done.covered("load-for-reps: load", about, answers, LOAD * share / done.share, lambda one: one.load)
        yield from done.covered(
            "load-for-reps: percent_of_max", about, answers, 100 * share, lambda one: one.percent_of_max
        )


def maxima(done: Done, _: Generator) -> Iterator[Coverage]:
    """Maxima."""
    answers = done.ask("estimated-max", lambda reps: {"sets": [done_set(reps, done.reserve)]})
    yield from done.covered(
        "estimated-max: estimated_max",
        "",
        answers,
        LOAD / done.share,
        lambda one: one.estimated_max,
        of_a_maximum(LOAD),
    )


def repetitions(done: Done, draw: Generator) -> Iterator[Coverage]:
    """Repetitions at loads, and the share of the maximum that these are."""
    for ratio in LOADS:

        def question(reps: float, ratio: float = ratio) -> dict[str, Any]:
            return {"set": done_set(reps, done.reserve), "target": {"load": kg(ratio * LOAD)}}

        answers = _up_to_the_maximum(done, ratio, done.ask("reps-for-load", question))
        about, share = f"{ratio:.2f} of the load", done.share * ratio
        possible = done.lifters.reps_on_a_day(share, draw)
        yield from done.covered("reps-for-load: reps", about, answers, possible, lambda one: one.reps)
        yield from done.covered(
            "reps-for-load: percent_of_max", about, answers, 100 * share, lambda one: one.percent_of_max, of_a_share
        )


def effort(done: Done, draw: Generator) -> Iterator[Coverage]:
    """Repetitions left at equal volume."""
    for ratio in LOADS:

        def question(reps: float, ratio: float = ratio) -> dict[str, Any]:
            current = {
                "sets": 3,
                "reps": {"low": reps, "high": reps},
                "load": kg(LOAD),
                "reps_in_reserve": done.reserve,
            }
            return {"current": current, "new_load": kg(ratio * LOAD)}

        answers = _up_to_the_maximum(done, ratio, done.ask("rep-targets", question))
        new = np.array([one.equal_volume.reps.high if one else 0 for one in answers])
        left = done.lifters.reps_on_a_day(done.share * ratio, draw) - new
        yield from done.covered(
            "rep-targets: effort.new",
            f"{ratio:.2f} of the load",
            answers,
            left,
            lambda one: one.effort.new if one.effort else None,
        )


def _up_to_the_maximum(done: Done, ratio: float, answers: list[Answered | None]) -> list[Answered | None]:
    """The answers to those for whom a load is no more than the maximum."""
    return [one if share * ratio <= 1 else None for one, share in zip(answers, done.share, strict=True)]


def own_curves(number: int, count: int, draw: Generator) -> Iterator[Coverage]:
    """Several sets with 0 to 2 stated to be left, each on a day of its own, where they make a curve."""
    lifters, shares = drawn("general", count, draw), OWN_SHARES[number]
    reserves = draw.integers(0, 3, (number, count)).astype(float)
    reps = [
        np.rint(lifters.reps_on_a_day(np.full(count, share), draw) - truly_left(reserve, draw))
        for share, reserve in zip(shares, reserves, strict=True)
    ]
    sets = [
        [done_set(float(reps[at][who]), reserves[at][who], LOAD * shares[at]) for at in range(number)]
        if all(some[who] >= 1 for some in reps)
        else None
        for who in range(count)
    ]

    def put(name: str, **more: Any) -> list[Answered | None]:  # noqa: ANN401 - the rest of a question
        return [asked(name, {"set": one[0], "own_sets": one[1:], **more}) if one else None for one in sets]

    def held(estimate: str, about: str, *rest: Any) -> Iterator[Coverage]:  # noqa: ANN401 - as covered takes them
        return covered(f"own curve, {estimate}", ("general", f"{number} sets", "0 to 2", about), *rest)

    tops = [asked("estimated-max", {"sets": one}) if one else None for one in sets]
    by_curve = [one if one is not None and one.own_curve is not None else None for one in tops]
    heaviest = of_a_maximum(LOAD * shares[0])
    yield from held("estimated_max", "", by_curve, np.full(count, LOAD), lambda one: one.estimated_max, heaviest)
    for target in OWN_TARGETS:
        answers, share = put("load-for-reps", target={"reps": target}), lifters.share_on_a_day(target, draw)
        about = f"{target} repetitions"
        yield from held("load", about, answers, LOAD * share, lambda one: one.load)
        yield from held("percent_of_max", about, answers, 100 * share, lambda one: one.percent_of_max)
    for part in OWN_LOADS:
        answers = put("reps-for-load", target={"load": kg(LOAD * part)})
        possible = lifters.reps_on_a_day(np.full(count, part), draw)
        yield from held("reps", f"{part:.2f} of the maximum", answers, possible, lambda one: one.reps)
