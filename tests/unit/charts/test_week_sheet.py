"""The sheet of a week: bars to one scale, heavy days by frame and word, muscles at their floors; nothing overlaps.

All derived.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.demand_bars import Row
from service.charts.week.change_sheet import NewWeekPart, change_sheets
from service.charts.week.demand_sheet import RegionPart, demand_sheets
from service.charts.week.grid import WEIGHTING_WORDS, WIDTH, Cell, Grid, LiftRow
from service.charts.week.muscle_bars import MuscleRow
from service.intervals import Interval, exactly
from service.vocabulary import WEIGHTINGS, Weighting
from tests.support.drawn import (
    SVG,
    assert_title_and_alternative,
    box,
    colourless,
    description,
    ends,
    outside,
    overlapping,
    read,
    texts,
    whole,
    words,
)

HOSTILE: Final = '<script>alert("1")</script> & ]]> \x00\n\u202e\ud800' * 3


def demand_sheet(
    title: str, regions: Sequence[RegionPart], muscles: Sequence[MuscleRow], footnotes: Sequence[str]
) -> str:
    return whole(demand_sheets(title, regions, muscles, footnotes))


def change_sheet(
    title: str, introduction: Sequence[str], weeks: Sequence[NewWeekPart], footnotes: Sequence[str]
) -> str:
    return whole(change_sheets(title, introduction, weeks, footnotes))


def cell(*shares: float, spread: float = 0.0, before: float | None = None, notes: tuple[str, ...] = ()) -> Cell:
    return Cell(
        {
            weighting: Interval(share, max(0.0, share - spread), min(1.0, share + spread))
            for weighting, share in zip(WEIGHTINGS, shares, strict=True)
        },
        None if before is None else dict.fromkeys(WEIGHTINGS, before),
        notes,
    )


def days(**shares: float) -> dict[int, dict[Weighting, float]]:
    return {int(day[1]): dict.fromkeys(WEIGHTINGS, share) for day, share in shares.items()}


TWO_LIFTS: Final = Grid(
    [
        LiftRow("Front squat", {1: cell(0.3, 0.2, 0.001, spread=0.0005), 4: cell(0.2, 0.1, 0.0)}),
        LiftRow("Deadlift", {4: cell(0.5, 0.7, 0.999, spread=0.001)}),
    ],
    {
        1: dict(zip(WEIGHTINGS, (0.3, 0.2, 0.001), strict=True)),
        4: dict(zip(WEIGHTINGS, (0.7, 0.8, 0.999), strict=True)),
    },
    frozenset({1, 4, 6}),
    [4],
)
EVERY_DAY: Final = Grid(
    [
        LiftRow(f"Lift of a rather long name {n}", {day: cell(1, 1, 1, spread=1) for day in range(1, 8)})
        for n in range(9)
    ],
    days(d1=1.0, d2=1.0, d3=1.0, d4=1.0, d5=1.0, d6=1.0, d7=1.0),
    frozenset(range(1, 8)),
    list(range(1, 8)),
)
CHANGED: Final = Grid(
    [
        LiftRow("Front squat", {1: cell(0.2, 0.2, 0.1, before=0.4, notes=("less load",))}),
        LiftRow("Deadlift", {3: Cell(None, notes=("taken out",))}),
    ],
    days(d1=0.2),
    frozenset({1, 3}),
    [],
    before=days(d1=0.4, d3=0.6),
)
MUSCLES: Final = [
    MuscleRow("Quadriceps", Interval(8.25, 7, 9.5), 4, under_floor=False),
    MuscleRow("Calves", Interval(1.75, 0, 1.75), 4, under_floor=True, before=3.5),
    MuscleRow("Chest", exactly(6), None, under_floor=False),
    MuscleRow("Forearm", Interval(4.5, 2, 6.5), 4, under_floor=True, steadied=1.25),
    MuscleRow("Biceps", Interval(4.5, 2, 6.5), 4, under_floor=False),
]
SHEETS: Final[dict[str, Callable[[], str]]] = {
    "two lifts": lambda: demand_sheet(
        "A week", [RegionPart("Low back", ["One leads."], TWO_LIFTS)], MUSCLES, ["Mind."]
    ),
    "every day": lambda: demand_sheet("A week", [RegionPart("Knee", [], EVERY_DAY)], [], []),
    "changed": lambda: demand_sheet("A week", [RegionPart("Knee", [], CHANGED)], MUSCLES, []),
    "nothing known": lambda: demand_sheet("A week", [RegionPart("Knee", ["In no share."], None)], MUSCLES, []),
    "muscles alone": lambda: demand_sheet("A week", [], MUSCLES, []),
    "hostile": lambda: demand_sheet(
        HOSTILE,
        [RegionPart(HOSTILE, [HOSTILE], Grid([LiftRow(HOSTILE, {7: cell(1, 1, 1)})], days(d7=1), frozenset({7}), [7]))],
        [MuscleRow(HOSTILE, exactly(0), 0, under_floor=False)],
        [HOSTILE],
    ),
}
NAMES: Final = sorted(SHEETS)


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_has_a_title_and_a_text_alternative(name: str) -> None:
    assert_title_and_alternative(SHEETS[name]())


@pytest.mark.parametrize("name", NAMES)
def test_texts_are_large_enough_inside_and_do_not_overlap(name: str) -> None:
    svg = SHEETS[name]()
    assert float(read(svg).attrib["width"]) == WIDTH <= 1200
    assert min(float(element.attrib["font-size"]) for element in texts(svg)) >= 12
    assert overlapping(svg) == []
    assert outside(svg) == []


@pytest.mark.parametrize("name", NAMES)
def test_marks_carry_their_colours(name: str) -> None:
    assert colourless(SHEETS[name]()) == []


def test_a_strange_text_stays_text() -> None:
    assert "<script" not in SHEETS["hostile"]()
    assert '<script>alert("1")</script> & ]]>' in description(SHEETS["hostile"]())


def test_shares_are_drawn_to_one_scale_beside_their_numbers_and_named_without_colour() -> None:
    svg = SHEETS["two lifts"]()
    bars = [rect.attrib for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-share")]
    assert len(bars) == 3 * 5
    longest = max(float(bar["width"]) for bar in bars)
    for bar in bars:
        assert float(bar["width"]) == pytest.approx(longest * float(bar["data-share"]) / 0.999, abs=0.02)
        level = float(bar["y"]) + float(bar["height"]) / 2
        beside = {one.text for one in texts(svg) if box(one)[1] < level < box(one)[3]}
        assert beside & {words for weighting, words in WEIGHTING_WORDS.items() if weighting == bar["data-weighting"]}
    assert {"30 %", "20 %", "< 1 %", "0 %", "100 %", "The whole day"} <= set(words(svg))


def test_spans_are_as_wide_as_they_are() -> None:
    svg = SHEETS["two lifts"]()
    bars = [rect.attrib for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-share") == "0.999"]
    pixels = float(bars[0]["width"]) / 0.999
    lines = [ends(path) for path in read(svg).iter(f"{SVG}path") if path.get("class") == "whisker"]
    [level] = {float(bar["y"]) + float(bar["height"]) / 2 for bar in bars[:1]}
    [(left, right)] = [sorted(x for x, _ in line) for line in lines if len(line) == 2 and line[0][1] == level]
    assert (left, right) == pytest.approx(
        (float(bars[0]["x"]) + 0.998 * pixels, float(bars[0]["x"]) + 1.0 * pixels), abs=0.02
    )


def test_a_heavy_day_is_framed_and_named_and_a_day_of_rest_too() -> None:
    svg = SHEETS["two lifts"]()
    frames = [rect.attrib for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-heavy")]
    assert [frame["data-heavy"] for frame in frames] == ["4"]
    left, right = float(frames[0]["x"]), float(frames[0]["x"]) + float(frames[0]["width"])
    [heavy] = [box(one) for one in texts(svg) if one.text == "heavy"]
    assert left <= heavy[0] < heavy[2] <= right
    assert words(svg).count("rest") == 4
    assert "rest" not in words(SHEETS["every day"]())


def test_what_was_before_stands_behind_and_what_changed_is_said_in_words() -> None:
    svg = SHEETS["changed"]()
    before = [rect.attrib for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-before") == "0.4"]
    now = [rect.attrib for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-share") == "0.2"]
    assert float(before[0]["width"]) == pytest.approx(2 * float(now[0]["width"]), abs=0.02)
    assert {"less load", "taken out"} <= set(words(svg))
    assert "Front squat, day 1: all alike 20 %, before 40 %; heavier more 20 %" in description(svg)
    assert "Deadlift, day 3: taken out." in description(svg)


def test_muscles_stand_to_scale_with_their_spans_at_their_floors() -> None:
    svg = SHEETS["changed"]()
    root = read(svg)
    bars = {float(one.attrib["data-sets"]): one.attrib for one in root.iter(f"{SVG}rect") if one.get("data-sets")}
    pixels = float(bars[8.25]["width"]) / 8.25
    start = float(bars[8.25]["x"])
    assert {sets: float(bar["width"]) for sets, bar in bars.items()} == {
        sets: pytest.approx(sets * pixels, abs=0.02) for sets in (8.25, 1.75, 6, 4.5)
    }
    floors = [ends(path)[0][0] for path in root.iter(f"{SVG}path") if path.get("data-floor")]
    assert floors == [pytest.approx(start + 4 * pixels, abs=0.02)] * 4
    shown = words(svg)
    assert {"8.2 sets (7 to 9.5), floor 4", "1.8 sets (0 to 1.8), before 3.5, under the 4", "6 sets"} <= set(shown)
    assert {"4.5 sets (2 to 6.5), under the 4, 1.2 steadying", "4.5 sets (2 to 6.5), floor 4"} <= set(shown)
    assert all(text in description(svg) for text in shown if text[0].isdigit() and " sets" in text)


shares = st.tuples(*[st.floats(0, 1)] * 3)


@given(
    st.lists(st.dictionaries(st.integers(1, 7), shares, min_size=1), min_size=1, max_size=12),
    st.lists(st.tuples(st.floats(0, 60), st.none() | st.floats(0, 40)), max_size=15),
)
def test_whatever_the_week_everything_is_readable(
    lifts: list[dict[int, tuple[float, float, float]]], muscles: list[tuple[float, float | None]]
) -> None:
    trained = frozenset(day for lift in lifts for day in lift)
    grid = Grid(
        [
            LiftRow(f"Lift {n}", {day: cell(*three, spread=0.1) for day, three in lift.items()})
            for n, lift in enumerate(lifts)
        ],
        {day: dict.fromkeys(WEIGHTINGS, 0.5) for day in sorted(trained)},
        trained,
        sorted(trained)[:2],
    )
    rows = [
        MuscleRow("Chest", Interval(sets, sets / 2, 2 * sets), floor, under_floor=floor is not None and sets < floor)
        for sets, floor in muscles
    ]
    svg = demand_sheet("A week", [RegionPart("Knee", [], grid)], rows, [])
    assert overlapping(svg) == []
    assert outside(svg) == []


def test_nothing_to_draw_is_said() -> None:
    with pytest.raises(ValueError, match="no region and no muscle"):
        demand_sheet("A week", [], [], [])


CHANGE: Final = NewWeekPart(
    "1. Less",
    ["Changed: Day 1: front squat."],
    ["It is less."],
    [Row("Knee, as it is", Interval(0.8, 0.7, 0.9), "lower", 0.9), Row("Hip, squared", exactly(1.1), "higher")],
    CHANGED,
    MUSCLES,
)


def test_new_weeks_stand_under_each_other_with_the_numbers_of_each() -> None:
    svg = change_sheet("The week", ["Why."], [CHANGE, CHANGE], ["Mind."])
    assert_title_and_alternative(svg)
    assert overlapping(svg) == []
    assert outside(svg) == []
    assert words(svg).count("Changed: Day 1: front squat.") == words(svg).count("less load") == 2
    assert (
        description(svg).count("Against now: Knee, as it is 80 % (70 to 90), lower; Hip, squared 110 %, higher.") == 2
    )
    assert description(svg).startswith("The week. Why. 1. Less. Changed: Day 1: front squat. It is less. Against now: ")


def test_no_new_week_is_no_sheet() -> None:
    with pytest.raises(ValueError, match="no new week"):
        change_sheet("The week", [], [], [])
