"""The staircase of a return: every step named, placed to scale, with its gate; nothing overlaps. All derived."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.layout import WIDTH
from service.charts.staircase.chart import staircase as stair_sheets
from service.charts.staircase.stairs import Step
from service.intervals import Interval
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

GATE = "Pain up to 2 of 10 in the session, and 2 repetitions in reserve."
OTHER = "Pain up to 2 of 10 in the session, next morning as usual, and 3 repetitions in reserve."
HOSTILE = '<script>alert("1")</script> & ]]> \x00\n\u202e\ud800'


def staircase(title: str, region: str, steps: Sequence[Step], footnotes: Sequence[str] = ()) -> str:
    return whole(stair_sheets(title, region, steps, footnotes))


def at(value: float, spread: float = 0.0) -> Interval:
    return Interval(value, value - spread, value + spread)


STEPS = [
    Step(0, at(0.72, 0.06), "Goblet squat with 30 kg", "", GATE),
    Step(1, at(0.8, 0.05), "Front squat with 45 kg", "variation and load", GATE),
    Step(3, at(0.9, 0.04), "Front squat with 55 kg", "load", GATE),
    Step(4, at(1.0), "Front squat with 62.5 kg", "load"),
]
MIXED = [
    Step(0, None, "Pin press", "", GATE),
    Step(2, at(0.7), "Floor press with 70 kg", "exercise", GATE),
    Step(3, None, "Paused press", "technique", OTHER),
    Step(4, at(0.9), "Bench press with 90 kg", "exercise and load", OTHER),
    Step(5, at(1.0), "Bench press with 100 kg", "load"),
]
TOLD = [Step(week, None, f"Bench press, stage {week}", "range of motion", GATE) for week in range(4)]
LONG = [Step(week, at(0.3 + 0.014 * week, 0.03), f"Step {week}", "load", (GATE, OTHER)[week % 2]) for week in range(51)]
STAIRS: dict[str, Callable[[], str]] = {
    "four steps": lambda: staircase("Back to the front squat", "low back", STEPS, ["A caution."]),
    "mixed": lambda: staircase("Back to the bench press", "shoulder", MIXED),
    "directions only": lambda: staircase("Back to the bench press", "shoulder", TOLD),
    "fifty-one steps": lambda: staircase("Back to the front squat", "low back", LONG),
    "all there is": lambda: staircase(
        "Back",
        "knee",
        [Step(1, None, "a", "", GATE), Step(2, at(0.8, 0.1), "b", "load", OTHER, "back to week 1", 0.5), STEPS[3]],
    ),
    "one step": lambda: staircase("Back to the front squat", "low back", STEPS[-1:]),
    "above the original": lambda: staircase("t", "knee", [Step(1, at(1.3, 0.2), "a", "", GATE), Step(2, at(1.0), "b")]),
    "hostile": lambda: staircase(HOSTILE, HOSTILE, [Step(1, None, HOSTILE, HOSTILE, HOSTILE)], [HOSTILE]),
}
NAMES = sorted(STAIRS)


def treads(svg: str) -> list[ET.Element]:
    return [path for path in read(svg).iter(f"{SVG}path") if path.get("data-week")]


@pytest.mark.parametrize("name", NAMES)
def test_a_staircase_has_a_title_and_a_text_alternative(name: str) -> None:
    assert_title_and_alternative(STAIRS[name]())


@pytest.mark.parametrize("name", NAMES)
def test_texts_are_large_enough_inside_and_do_not_overlap(name: str) -> None:
    svg = STAIRS[name]()
    assert float(read(svg).attrib["width"]) == WIDTH
    assert min(float(element.attrib["font-size"]) for element in texts(svg)) >= 12
    assert overlapping(svg) == []
    assert outside(svg) == []


@pytest.mark.parametrize("name", NAMES)
def test_marks_carry_their_colours(name: str) -> None:
    assert colourless(STAIRS[name]()) == []


def test_a_strange_text_stays_text() -> None:
    svg = STAIRS["hostile"]()
    assert "<script" not in svg
    assert '<script>alert("1")</script> & ]]>' in description(svg)


def test_every_step_is_named_with_what_changed_and_its_gate() -> None:
    svg = STAIRS["four steps"]()
    shown = words(svg)
    for text in ("Week 0: 72 % (66 to 78) of the original", "Week 4: 100 % of the original", "Changed: load."):
        assert text in shown
    assert [text for text in shown if text in {step.label for step in STEPS}] == [step.label for step in STEPS]
    assert [text for text in shown if re.fullmatch(r"\d+ %", text) and shown.count(text) == 1]
    assert {"72 %", "80 %", "90 %", "100 %", "original", "gate", "span", "A caution."} <= set(shown)
    assert description(svg) == (
        "Back to the front squat. Demand of the low back, a repetition, in per cent of the original. "
        "At a gate the next one is taken only if this one went well. "
        f"Gate of every step: {GATE} "
        f"Week 0: 72 % (66 to 78) of the original. Goblet squat with 30 kg. "
        f"Week 1: 80 % (75 to 85) of the original. Front squat with 45 kg. Changed: variation and load. "
        "Week 3: 90 % (86 to 94) of the original. Front squat with 55 kg. Changed: load. "
        "Week 4: 100 % of the original. Front squat with 62.5 kg. Changed: load. A caution."
    )


def test_gates_are_drawn_only_where_they_leave_the_treads_to_be_seen() -> None:
    def sheet(weeks: int) -> str:
        return staircase("Back", "knee", [Step(week, at(0.5 + week / 80), "a", gate=GATE) for week in range(weeks)])

    few, many = sheet(6), sheet(38)
    gates = [[one for one in read(svg).iter() if one.get("class") == "gate"] for svg in (few, many)]
    assert (len(gates[0]), len(gates[1])) == (1 + 6, 0)  # with that of the key
    assert "gate" not in words(many)
    assert "At the end of each step the next one is taken only if this one went well." in description(many)


def test_a_step_tells_its_session_and_where_to_go_back_to() -> None:
    steps = [STEPS[0], Step(2, at(0.8), "b", "sets", GATE, "back to week 0", 0.64)]
    shown = words(staircase("Back", "knee", steps))
    assert {"Week 2: 80 % of the original, a session 64 %", "If it goes wrong: back to week 0.", "a session"} <= set(
        shown
    )


def test_sessions_are_drawn_to_the_same_scale_where_they_differ() -> None:
    steps = [Step(week, at(0.6 + 0.1 * week), "a", session=0.2 + 0.2 * week) for week in range(5)]
    svg = staircase("Back", "knee", steps)
    ys = {float(path.attrib["data-ratio"]): ends(path)[0][1] for path in treads(svg)}
    pixels = (ys[0.6] - ys[1.0]) / 0.4
    found = [path for path in read(svg).iter(f"{SVG}path") if path.get("data-session")]
    wanted = [ys[1.0] + (1 - float(path.attrib["data-session"])) * pixels for path in found]
    assert [ends(path)[0][1] for path in found] == pytest.approx(wanted, abs=0.05)
    assert len(found) == len(steps)
    same = [Step(week, at(0.6 + 0.1 * week), "a", session=0.6 + 0.1 * week) for week in range(5)]
    assert "a session" not in words(staircase("Back", "knee", same))


def test_one_gate_for_all_steps_is_said_once() -> None:
    shown = words(STAIRS["four steps"]())
    assert shown.count("Gate of every step") == 1
    assert shown.count(GATE) == 1


def test_gates_that_differ_are_said_where_they_change() -> None:
    shown = " ".join(words(STAIRS["mixed"]()))
    assert shown.count("in reserve.") == 2
    assert shown.count("Gate as before.") == 2


def test_a_gate_stands_at_the_end_of_every_tread_that_has_one() -> None:
    svg = STAIRS["mixed"]()
    marks = [ends(path) for path in read(svg).iter(f"{SVG}path") if path.get("class") == "gate"][1:]  # after the key's
    middles = [((mark[1][0] + mark[3][0]) / 2, (mark[0][1] + mark[2][1]) / 2) for mark in marks]
    wanted = [ends(path)[1] for path in treads(svg)][:-1]
    assert middles == [pytest.approx(place, abs=0.02) for place in wanted]


@pytest.mark.parametrize("name", ["four steps", "fifty-one steps", "above the original"])
def test_treads_stand_to_scale_in_weeks_and_in_demand(name: str) -> None:
    svg = STAIRS[name]()
    found = [(int(path.attrib["data-week"]), float(path.attrib["data-ratio"]), ends(path)) for path in treads(svg)]
    (first, low, [(left, bottom), _]), (last, high, [(right, top), _]) = found[0], found[-1]
    for week, ratio, [(start, y), (end, level)] in found:
        assert y == level
        assert start == pytest.approx(left + (week - first) / (last - first) * (right - left), abs=0.05)
        assert y == pytest.approx(bottom + (ratio - low) / (high - low) * (top - bottom), abs=0.05)
        assert end > start
    for earlier, later in pairwise(found):
        assert earlier[2][1][0] == pytest.approx(later[2][0][0], abs=0.02)


def test_the_band_is_as_high_as_the_span() -> None:
    svg = STAIRS["four steps"]()
    ys = {float(path.attrib["data-ratio"]): ends(path)[0][1] for path in treads(svg)}
    pixels = (ys[0.72] - ys[1.0]) / 0.28
    bands = [rect for rect in read(svg).iter(f"{SVG}rect") if rect.get("class") == "band"][1:]  # after the key's
    assert [float(band.attrib["height"]) for band in bands] == pytest.approx(
        [2 * spread * pixels for spread in (0.06, 0.05, 0.04)], abs=0.05
    )


def test_the_original_is_the_line_at_the_top() -> None:
    svg = STAIRS["four steps"]()
    original = [ends(path) for path in read(svg).iter(f"{SVG}path") if path.get("class") == "one"][-1]
    assert original[0][1] == ends(treads(svg)[-1])[0][1] == min(ends(path)[0][1] for path in treads(svg))


def test_without_numbers_all_rises_are_alike_and_no_scale_is_shown() -> None:
    svg = STAIRS["directions only"]()
    ys = [ends(path)[0][1] for path in treads(svg)]
    rises = [earlier - later for earlier, later in pairwise(ys)]
    assert rises == pytest.approx([rises[0]] * 3)
    assert rises[0] > 0
    assert not [text for text in words(svg) if "%" in text]
    assert "no number is known" in description(svg)
    assert not [path for path in treads(svg) if path.get("data-ratio")]


def test_a_step_without_number_stands_between_its_neighbours_and_looks_it() -> None:
    svg = STAIRS["mixed"]()
    start, floor_press, paused, bench, _ = (ends(path)[0][1] for path in treads(svg))
    assert start == floor_press
    assert paused == pytest.approx((floor_press + bench) / 2)
    assert [path.get("class") for path in treads(svg)] == ["untold", "tread", "untold", "tread", "tread"]
    assert "no number known" in words(svg)


@given(
    st.lists(
        st.tuples(st.integers(1, 4), st.none() | st.tuples(st.floats(-0.5, 1.5), st.floats(0.0, 0.4))),
        min_size=1,
        max_size=20,
    )
)
def test_whatever_the_steps_everything_is_readable(drawn: list[tuple[int, tuple[float, float] | None]]) -> None:
    week, steps = 0, []
    for weeks, demand in drawn:
        steps.append(Step(week, None if demand is None else at(*demand), f"Step in week {week}", "load", GATE))
        week += weeks
    svg = staircase("Back", "knee", steps)
    assert overlapping(svg) == []
    assert outside(svg) == []
    assert len(treads(svg)) == len(steps)


@pytest.mark.parametrize("steps", [[], [STEPS[0], STEPS[0]], [STEPS[1], STEPS[0]]])
def test_what_is_no_staircase_is_said(steps: list[Step]) -> None:
    with pytest.raises(ValueError, match=r"no step to draw|later week"):
        staircase("Back", "knee", steps)


def test_values_stand_over_their_treads() -> None:
    svg = STAIRS["four steps"]()
    middle = [element for element in texts(svg) if element.attrib["text-anchor"] == "middle"]
    over = {element.text: box(element) for element in middle}
    for path in treads(svg):
        (start, y), (end, _) = ends(path)
        left, _, right, bottom = over[f"{100 * float(path.attrib['data-ratio']):.0f} %"]
        assert start <= left
        assert right <= end
        assert bottom < y
