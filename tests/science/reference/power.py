"""What the published comparisons would notice: each figure of the model made wrong by itself, and which rows then fail.

A comparison notices a fault if it agrees with the service as it stands and no longer does with the fault in it. One
that begins to agree is no help: it is counted apart. What the fault is, and by how much, stands in
data/perturbations.toml.
"""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from functools import cache, partial
from itertools import product
from multiprocessing import get_context
from tempfile import TemporaryDirectory
from typing import Final, TypeAlias

import msgspec

from tests.science.reference.answers import SETUPS, Answer
from tests.science.reference.comparisons import Comparison, rows_computed
from tests.science.reference.perturbations import PERTURBATIONS, Answered, Figures
from tests.science.reference.worlds import AS_IT_STANDS, Question, World, answers, changes_of, keep_compiled, leaning

Answers: TypeAlias = dict[tuple[str, str], Answer]
"""By names of lifter and setup."""

AT_ONCE: Final = 2
MOMENT_WRONG_BY: Final = 0.15
LEAN_WRONG_BY: Final = 5.0
"""[deg]"""
SQUARED_OVER: Final = 100.0
"""A squared moment is taken over so much, to be of a moment's size [N·m, N]."""
REGIONS: Final = {
    "ankle": ("ankle",),
    "knee": ("knee",),
    "hip": ("hip",),
    "low_back": ("lumbosacral", "spine_moment", "spine_compression"),
    "shoulder": ("shoulder_net", "horizontal", "lowering"),
    "elbow": ("elbow",),
}


class Noticed(msgspec.Struct, frozen=True):
    """What came of one fault.

    Attributes:
        what: that is wrong
        change: by how much
        lift: of which lift alone; empty for all
        fails: rows that agreed and no longer do
        begins: rows that did not agree and now do
        would: rows that agree neither way, but would notice if they agreed: the fault moves what is computed by more
            than half of what is accepted
    """

    what: str
    change: str
    lift: str
    fails: tuple[Comparison, ...]
    begins: tuple[Comparison, ...]
    would: tuple[Comparison, ...]

    def ids(self, split: str) -> list[str]:
        """The rows of one half that fail."""
        return [row.id for row in self.fails if row.split == split]


class Measured(msgspec.Struct, frozen=True):
    """All that came of asking.

    Attributes:
        matrix: every fault of data/perturbations.toml
        by_lift: for each lift and region the moment too large and too small, and the lean, by the amounts above
    """

    matrix: list[Noticed]
    by_lift: list[Noticed]


def _questions(rows: Iterable[Comparison]) -> list[Question]:
    operations: dict[tuple[str, str], set[str]] = {}
    for row in rows:
        for lifter, setup in product(SETUPS.groups[row.group], row.setups):
            operations.setdefault((lifter, setup), set()).update(row.operations())
    return [(lifter, setup, tuple(sorted(asked))) for (lifter, setup), asked in operations.items()]


def _worlds() -> dict[tuple[Figures | None, str, str], World]:
    """Every service that has to be asked, by what is wrong in it and by how much."""
    named: dict[tuple[Figures | None, str, str], World] = {
        (figures, figures.name, change): World({figures.file: dict.fromkeys(figures.keys, change)})
        for figures in PERTURBATIONS.figures
        for change in figures.changes
    }
    for asked in PERTURBATIONS.asked:
        named |= {(None, asked.name, f"* {factor:g}"): World({}, load=factor) for factor in asked.load}
        named |= {(None, asked.name, f"* {factor:g}"): World({}, body_mass=factor) for factor in asked.body_mass}
        named |= {(None, asked.name, f"+ {more:g}"): World({}, outward=more) for more in asked.outward}
        named |= {(None, asked.name, f"+ {more:g}"): World({}, touch=more) for more in asked.touch}
    return named


def _plain() -> list[Question]:
    """What is asked of every service."""
    return [question for question in _questions(rows_computed()) if SETUPS.setups[question[1]].askable]


@contextmanager
def _processes() -> Iterator[ProcessPoolExecutor]:
    """Processes in which services can be made that know something else."""
    with (
        TemporaryDirectory() as folder,
        ProcessPoolExecutor(AT_ONCE, get_context("spawn"), keep_compiled, (folder,)) as pool,
    ):
        yield pool


@cache
def computed() -> dict[str, float | None]:
    """By row, the number that the answers of the service as it stands come to."""
    rows, plain = rows_computed(), _plain()
    special = [question for question in _questions(rows) if question not in plain]
    own = [World(changes_of(SETUPS.setups[setup])) for _, setup, _ in special]
    with _processes() as pool:
        asked = pool.map(answers, [AS_IT_STANDS, *own], [plain, *([one] for one in special)])
        stands, *told = list(asked)
    found = _by_name(plain, stands) | _by_name(special, [answer for [answer] in told])
    return {row.id: row.computed(found) for row in rows}


def answers_in(worlds: Sequence[World]) -> list[Answers]:
    """What services answer that know something else, one after the other.

    Args:
        worlds: what each of them knows
    """
    plain = _plain()
    with _processes() as pool:
        return [_by_name(plain, found) for found in pool.map(answers, worlds, [plain] * len(worlds))]


@cache
def measured() -> Measured:
    """Ask the service as it stands and every wrong one; some ten seconds of processor time, once a process."""
    rows, plain, worlds = rows_computed(), _plain(), _worlds()
    with _processes() as pool:
        asked = pool.map(answers, [AS_IT_STANDS, *worlds.values()], [plain] * (1 + len(worlds)))
        stands, *wrong = [_by_name(plain, found) for found in asked]
        leans = pool.submit(leaning, _leans_to_ask(plain, stands)).result()
    judge = Judge([row for row in rows if row.askable], stands)
    matrix = [each for (what, found) in zip(worlds, wrong, strict=True) for each in _of_world(judge, *what, found)]
    matrix += [each for answered in PERTURBATIONS.answered for each in _of_answers(judge, answered)]
    lifts = sorted({lift for row in rows for lift in row.lifts})
    by_lift = [each for lift in lifts for each in _of_lift(judge, lift, leans)]
    return Measured(matrix, by_lift)


def _by_name(questions: Sequence[Question], found: Sequence[Answer]) -> Answers:
    return {(lifter, setup): answer for (lifter, setup, _), answer in zip(questions, found, strict=True)}


def _leans_to_ask(questions: Sequence[Question], stands: Answers) -> list[tuple[str, str, float, float]]:
    return [
        (lifter, setup, stands[lifter, setup]["lean"], more)
        for lifter, setup, _ in questions
        if "lean" in stands[lifter, setup]
        for more in (-LEAN_WRONG_BY, LEAN_WRONG_BY)
    ]


class Judge:
    """Says which rows notice that answers are others than those of the service as it stands."""

    def __init__(self, rows: Sequence[Comparison], stands: Answers) -> None:
        """Judge by these rows, against the answers of the service as it stands."""
        self.rows = rows
        self.stands = stands
        self._agreed = {row.id: row.agrees(row.computed(stands)) for row in rows}

    def noticed(self, what: str, change: str, wrong: Answers, lift: str = "") -> Noticed:
        """Which rows notice.

        Args:
            what: that is wrong
            change: by how much
            wrong: the answers that differ; the others are as they stand
            lift: of which lift alone
        """
        found = self.stands | wrong
        touched = [row for row in self.rows if any(key in wrong for key in _keys(row))]
        turned = [row for row in touched if row.agrees(row.computed(found)) != self._agreed[row.id]]
        return Noticed(
            what,
            change,
            lift,
            fails=tuple(row for row in turned if self._agreed[row.id]),
            begins=tuple(row for row in turned if not self._agreed[row.id]),
            would=tuple(row for row in touched if not self._agreed[row.id] and self._moved_out(row, found)),
        )

    def _moved_out(self, row: Comparison, found: Answers) -> bool:
        low, high = row.accepted()
        before, after = row.computed(self.stands), row.computed(found)
        return before is not None and after is not None and abs(after - before) > (high - low) / 2

    def of_lift(self, lift: str) -> Answers:
        """The answers about one lift."""
        return {key: answer for key, answer in self.stands.items() if SETUPS.setups[key[1]].subject == lift}


def _keys(row: Comparison) -> list[tuple[str, str]]:
    return list(product(SETUPS.groups[row.group], row.setups))


def _of_world(judge: Judge, figures: Figures | None, name: str, change: str, found: Answers) -> Iterator[Noticed]:
    differing = {key: answer for key, answer in found.items() if answer != judge.stands[key]}
    if figures is None or not figures.by_lift:
        yield judge.noticed(name, change, differing)
        return
    lifts = sorted({SETUPS.setups[setup].subject for _, setup in differing})
    for lift in lifts:
        of_lift = {key: answer for key, answer in differing.items() if SETUPS.setups[key[1]].subject == lift}
        yield judge.noticed(name, change, of_lift, lift)


def _times(answers_: Answers, quantities: Sequence[str], change: Callable[[float], float]) -> Answers:
    return {
        key: answer | {name: change(answer[name]) for name in quantities if name in answer}
        for key, answer in answers_.items()
        if any(name in answer for name in quantities)
    }


def _of_answers(judge: Judge, answered: Answered) -> Iterator[Noticed]:
    for factor in answered.by:
        wrong = _times(judge.stands, answered.quantities, partial(operator.mul, factor))
        yield judge.noticed(answered.name, f"* {factor:g}", wrong)
    if answered.squared:
        wrong = _times(judge.stands, answered.quantities, lambda value: value * value / SQUARED_OVER)
        yield judge.noticed(answered.name, "squared", wrong)


def _of_lift(judge: Judge, lift: str, leans: Mapping[tuple[str, str, float], float | None]) -> Iterator[Noticed]:
    """The lift's moment of each region wrong by the amount above, and its lean, with what the lean does to the back."""
    answered = judge.of_lift(lift)
    for region, quantities in REGIONS.items():
        for by in (-MOMENT_WRONG_BY, MOMENT_WRONG_BY):
            wrong = _times(answered, quantities, partial(operator.mul, 1.0 + by))
            yield judge.noticed(region, f"{100 * by:+.0f} %", wrong, lift)
    for more in (-LEAN_WRONG_BY, LEAN_WRONG_BY):
        wrong = {
            key: _leaning(answer, more, leans.get((*key, more)) or 1.0)
            for key, answer in answered.items()
            if "lean" in answer
        }
        yield judge.noticed("lean", f"{more:+.0f} deg", wrong, lift)


def _leaning(answer: Answer, more: float, factor: float) -> Answer:
    angles = {name: answer[name] + more for name in ("lean", "hip_flexion")}
    return answer | angles | {name: answer[name] * factor for name in REGIONS["low_back"] if name in answer}
