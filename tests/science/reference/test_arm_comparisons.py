"""The model of the arm against every published observation of presses and pulls.

The observations are rows of data/comparisons.csv, with the halves into which their hash deals them; what the arm is
asked for each of them, or why it is not, stands in data/arm_comparisons.csv. Whoever chose how the arms do each lift
had read these observations: an agreement of a default pose proves less than that of a moment.
"""

from __future__ import annotations

import csv
from typing import Final

import msgspec
import pytest
from msgspec.structs import replace

from tests.science.reference.answers import DATA
from tests.science.reference.arm_answers import ARM_SETUPS, NAMES, answer
from tests.science.reference.comparisons import (
    LETTERS,
    NOT_COMPUTED,
    Comparison,
    Expected,
    Mark,
    comparisons,
    dealt,
    value_of,
)

OBSERVATIONS: Final = 97
"""Published observations of presses and pulls whose ids begin with U."""


class Asked(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A row of data/arm_comparisons.csv, its columns those of data/comparisons.csv.

    Attributes:
        id: of the observation
        mark: fitted where the observation made a figure of the model
        expected: what a computed number has to be
        published: the figure
        sd: its standard deviation
        low: lower end of a range or bound
        high: upper end
        unit: of the measure
        setups: a, b, c … of the measure
        measure: arithmetic of the answers to the setups
        not_computed: why it is not computed, by its code
        remark: what to mind
        cause: physical cause of a disagreement
        fitted: figures of the model that were made from it
    """

    id: str
    mark: Mark = "hash"
    expected: Expected = ""
    published: float | None = None
    sd: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str = ""
    setups: tuple[str, ...] = ()
    measure: str = ""
    not_computed: str = ""
    remark: str = ""
    cause: str = ""
    fitted: str = ""


def _asked() -> list[Asked]:
    with (DATA / "arm_comparisons.csv").open(encoding="utf-8", newline="") as lines:
        rows = [{name: cell for name, cell in row.items() if cell} for row in csv.DictReader(lines, strict=True)]
    listed = [row | {"setups": str(row.get("setups", "")).split()} for row in rows]
    return [msgspec.convert(row, Asked, strict=False) for row in listed]


ASKED: Final = {row.id: row for row in _asked()}
PUBLISHED: Final = {row.id: row for row in comparisons()}
COMPUTED: Final = [row for row in ASKED.values() if row.measure]


def comparison(asked: Asked) -> Comparison:
    """The observation with what the arm is asked for it."""
    fields = {name: getattr(asked, name) for name in Asked.__struct_fields__ if name != "id"}
    split = "fit" if asked.mark == "fitted" else dealt(asked.id)
    return replace(PUBLISHED[asked.id], split=split, **fields)


def computed(asked: Asked) -> float:
    return value_of(asked.measure, dict(zip(LETTERS, map(answer, asked.setups), strict=False)))


def test_every_observation_has_a_comparison_or_a_reason() -> None:
    observed = {name for name in PUBLISHED if name.startswith("U")}
    assert len(observed) == OBSERVATIONS
    without = {name for name, row in PUBLISHED.items() if row.not_computed == "presses_and_pulls"}
    assert ASKED.keys() == without
    assert all(PUBLISHED[name].not_computed in NOT_COMPUTED for name in observed - ASKED.keys())


@pytest.mark.parametrize("row", ASKED.values(), ids=lambda row: row.id)
def test_a_row_is_computed_or_says_why_not(row: Asked) -> None:
    assert bool(row.measure) != bool(row.not_computed)
    assert (row.mark == "fitted") == bool(row.fitted)
    if row.not_computed:
        assert row.not_computed in NOT_COMPUTED.keys() - {"presses_and_pulls"}
        assert not any((row.setups, row.expected, row.unit, row.cause))
    else:
        assert all((row.setups, row.expected, row.unit))
        assert set(row.setups) <= ARM_SETUPS.setups.keys()
    if row.not_computed == "same_as":
        assert all(name in PUBLISHED for name in row.remark.split(" and "))


def test_every_setup_is_of_some_row_and_every_measure_of_answers() -> None:
    assert ARM_SETUPS.setups.keys() == {name for row in COMPUTED for name in row.setups}
    words = " ".join(row.measure for row in COMPUTED).replace("(", " ").replace(")", " ").split()
    assert {word.partition(".")[2] for word in words if word[0] in LETTERS} <= NAMES


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row.id)
def test_published_comparison(row: Asked) -> None:
    number, published = computed(row), comparison(row)
    if row.cause:
        assert not published.agrees(number), f"{number} now agrees: take the cause away"
    else:
        assert published.agrees(number), f"computed {number}, printed {published.printed}, {published.accepted()}"


@pytest.mark.parametrize("row", COMPUTED, ids=lambda row: row.id)
def test_the_opposite_would_not_agree(row: Asked) -> None:
    published = comparison(row)
    low, high = published.accepted()
    assert low < high
    if row.expected in {"higher", "lower"}:
        other_way = published.neutral + (-0.2 if row.expected == "higher" else 0.2)
        assert not published.agrees(other_way)
    else:
        assert not published.agrees(low - 0.1 * abs(low) - 0.01)
        assert not published.agrees(high + 0.1 * abs(high) + 0.01)
