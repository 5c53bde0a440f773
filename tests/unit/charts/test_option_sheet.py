"""The sheet of a consultation's options, and the sheet of words: complete, to scale, and readable. All derived.

What must hold for every figure is checked here with the same means as for the other figures (test_charts.py).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import hypot, isclose, radians
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements.demand_bars import Row, in_words
from service.charts.elements.layout import WIDTH
from service.charts.elements.notice import Passage
from service.charts.elements.notice import notice as notice_sheets
from service.charts.option_sheet import Choice, Present, option_sheets
from service.charts.posture.figure import Panel, panel_for
from service.intervals import Interval
from service.mechanics.body import build_body
from service.mechanics.demand import setup_demand
from service.mechanics.setups import Technique
from service.vocabulary import Direction
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

BODY = build_body(64.0, 1.68, "female")
LONG = (
    "a cue as long as the longest of the catalogue, which tells at length how the bar is to be held and where it goes"
)
HOSTILE = '<script>alert("1")</script> & ]]> \x00\n\u202e\ud800'


def option_sheet(present: Present, choices: Sequence[Choice], footnotes: Sequence[str]) -> str:
    return whole(option_sheets(present, choices, footnotes))


def notice(title: str, passages: Sequence[Passage]) -> str:
    return whole(notice_sheets(title, passages))


def panel(label: str, exercise: str, load: float, technique: Technique | None = None) -> Panel:
    return panel_for(label, BODY, setup_demand(BODY, exercise, load, None, technique))


NOW = panel("now", "front_squat", 62.5)
LIFTED = panel("option 1", "front_squat", 60.0, Technique(ankle_dorsiflexion=radians(27.0), heel_lift=0.018))
SPLIT = panel("option 2", "split_squat", 30.0)
SQUAT = Present("Front squat, sore low back", "Front squat, 62.5 kg", "low back", 0.9, "First step.", NOW)
PRESS = Present("Bench press, sore shoulder", "Bench press, 100 kg", "shoulder", 0.85, "First step.", None)
ROWS = [
    Row("Low back", Interval(0.82, 0.71, 0.93), "lower", 0.9),
    Row("Hip", Interval(0.95, 0.85, 1.04), "no_clear_difference"),
    Row("Knee", Interval(1.31, 1.1, 1.6), "higher"),
    Row("Ankle", Interval(-0.4, -0.9, -0.1), "lower"),
    Row("Shoulder", None, "lower"),
    Row("Elbow", None, "unknown"),
    Row("Wrist", Interval(1.0, 1.0, 1.0), "no_clear_difference"),
]
FAR = [Row("Knee, a session", Interval(0.75, 0.75, 0.75), "lower", 0.9), Row("Hip", Interval(2.6, 1.7, 9.3), "higher")]
TOLD = [
    Row("Shoulder", None, "lower", 0.85),
    Row("Elbow", None, "higher"),
    Row("Wrist", None, "unknown"),
    Row("Low back", None, "no_clear_difference"),
    Row("Hip", None, "no_clear_difference"),
]


def choice(rank: int, demand: list[Row], drawn: Panel | None = None, notes: tuple[str, ...] = ()) -> Choice:
    remark = "" if drawn else "Posture as now."
    return Choice(f"{rank}. Change of load", f"Front squat with {rank} kg", notes, demand, 0.81, drawn, remark)


MANY = [choice(rank, (ROWS, FAR, TOLD)[rank % 3], LIFTED if rank % 2 else None, (LONG,)) for rank in range(1, 13)]
SHEETS: dict[str, Callable[[], str]] = {
    "one option": lambda: option_sheet(SQUAT, [choice(1, ROWS, LIFTED)], ["A caution."]),
    "split stance": lambda: option_sheet(SQUAT, [choice(1, ROWS, LIFTED), choice(2, ROWS, SPLIT)], []),
    "twelve options": lambda: option_sheet(SQUAT, MANY, [LONG, LONG]),
    "far ratios": lambda: option_sheet(SQUAT, [choice(1, FAR)], []),
    "directions only": lambda: option_sheet(PRESS, [choice(1, TOLD, None, (LONG,))], []),
    "hostile": lambda: option_sheet(
        Present(HOSTILE, HOSTILE, HOSTILE, 0.9, HOSTILE, NOW),
        [Choice(HOSTILE, HOSTILE, [HOSTILE], [Row(HOSTILE, None, "lower")], 0.5, LIFTED)],
        [HOSTILE],
    ),
    "words": lambda: notice("Stop and refer", [Passage("What to do now", [LONG, LONG]), Passage("Because of", ["x"])]),
    "hostile words": lambda: notice(HOSTILE, [Passage(HOSTILE, [HOSTILE, 200 * "W"])]),
}
NAMES = sorted(SHEETS)


def bars(svg: str) -> list[ET.Element]:
    return [element for element in read(svg).iter(f"{SVG}rect") if element.get("data-ratio")]


def one_line(svg: str) -> float:
    """Where 100 % stands in every chart of the sheet [px]."""
    upright = {ends(path)[0][0] for path in read(svg).iter(f"{SVG}path") if path.get("class") == "one"}
    [place] = {x for x in upright if x > 100}
    return place


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_has_a_title_and_a_text_alternative(name: str) -> None:
    assert_title_and_alternative(SHEETS[name]())


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_refers_to_nothing_and_runs_nothing(name: str) -> None:
    root = read(SHEETS[name]())
    drawn = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert drawn <= {"svg", "style", "defs", "title", "desc", "rect", "path", "circle", "text"}
    names = {attribute.split("}")[-1] for element in root.iter() for attribute in element.attrib}
    assert not {attribute for attribute in names if attribute.startswith("on") or attribute in {"href", "src", "style"}}


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_is_as_wide_as_a_phone_shows_and_holds_everything(name: str) -> None:
    svg = SHEETS[name]()
    assert float(read(svg).attrib["width"]) == WIDTH
    assert len(texts(svg)) > 3
    assert outside(svg) == []


@pytest.mark.parametrize("name", NAMES)
def test_texts_are_large_enough_and_do_not_overlap(name: str) -> None:
    svg = SHEETS[name]()
    assert min(float(element.attrib["font-size"]) for element in texts(svg)) >= 12
    assert overlapping(svg) == []


@pytest.mark.parametrize("name", NAMES)
def test_no_bar_covers_a_text(name: str) -> None:
    svg = SHEETS[name]()
    for bar in bars(svg):
        left, top, wide, high = (float(bar.attrib[side]) for side in ("x", "y", "width", "height"))
        for element in texts(svg):
            a, b, c, d = box(element)
            assert not (a < left + wide and left < c and b < top + high and top < d), element.text


@pytest.mark.parametrize("name", NAMES)
def test_marks_carry_their_colours(name: str) -> None:
    assert colourless(SHEETS[name]()) == []


@pytest.mark.parametrize("name", ["hostile", "hostile words"])
def test_a_strange_text_stays_text(name: str) -> None:
    svg = SHEETS[name]()
    assert "<script" not in svg
    assert '<script>alert("1")</script> & ]]>' in description(svg)


def test_every_label_is_on_the_sheet_and_in_its_text_alternative() -> None:
    svg = SHEETS["one option"]()
    shown, said = words(svg), description(svg)
    for text in ("1. Change of load", "Front squat with 1 kg.", "Low back", "Hip", "Knee", "Ankle", "Wrist"):
        assert text in shown
    for text in ("now", "option 1", "trunk lean", "knee arm", "hip arm", "lower back arm", "heel lift", "1.8 cm"):
        assert text in shown
    for text in ("82 % (71 to 93), lower", "131 % (110 to 160)", "100 %, as now", "81 %", "A caution."):
        assert text in shown
    assert {"Shoulder: lower", "Elbow: not known", "target, 90 %", "as now, 100 %"} <= set(shown)
    for text in ("Low back 82 % (71 to 93), lower", "Knee 131 % (110 to 160), higher", "Elbow not known"):
        assert text in said
    assert "Training effect kept 81 %" in said
    assert "heel lift 0.0 cm now, 1.8 cm then" in said


def test_bars_and_the_targets_line_stand_to_one_scale_from_nought() -> None:
    svg = SHEETS["twelve options"]()
    one = one_line(svg)
    found = bars(svg)
    nought = {round(float(bar.attrib["x"]), 1) for bar in found if 0 < float(bar.attrib["data-ratio"]) <= 1}
    assert len(nought) == 1
    [zero] = nought
    assert len(found) == sum(1 for entry in MANY for row in entry.demand if row.ratio is not None) + len(MANY)
    for bar in found:
        ratio = float(bar.attrib["data-ratio"])
        if -0.5 <= ratio <= 2.0:
            assert isclose(float(bar.attrib["width"]), abs(ratio) * (one - zero), abs_tol=0.2)
    targets = [path for path in read(svg).iter(f"{SVG}path") if path.get("data-target")]
    # every third option knows a direction only, so it has no bar that a target could be shown against
    assert len(targets) == 8
    for path in targets:
        [(x1, _), (x2, _)] = ends(path)
        assert x1 == x2 == pytest.approx(zero + 0.9 * (one - zero), abs=0.2)


def test_what_lies_beyond_the_axis_ends_in_an_arrow_and_a_span_that_tells_nothing_is_not_numbered() -> None:
    svg = SHEETS["far ratios"]()
    assert "hardly known, higher" in words(svg)
    assert "930" not in svg
    longest = max(bars(svg), key=lambda bar: float(bar.attrib["width"]))
    end = float(longest.attrib["x"]) + float(longest.attrib["width"])
    heads = [ends(path) for path in read(svg).iter(f"{SVG}path") if path.get("class") == "whisker"]
    assert [tip for tip in heads if len(tip) == 3 and tip[1][0] == pytest.approx(end) and tip[0][0] < tip[1][0]]


def test_a_direction_without_number_has_a_sign_and_words_but_no_bar() -> None:
    svg = SHEETS["directions only"]()
    assert [bar.attrib["data-ratio"] for bar in bars(svg)] == ["0.81"]  # the effect kept
    signs = [element.attrib["data-sign"] for element in read(svg).iter() if "data-sign" in element.attrib]
    in_key = ["lower", "higher", "no_clear_difference", "no_clear_difference", "unknown"]
    assert sorted(signs) == sorted(
        [*in_key, "lower", "higher", "unknown", *(4 * ["no_clear_difference"])]  # two strokes make that sign
    )
    assert {"lower, no number known", "Elbow: higher", "Wrist: not known"} <= set(words(svg))
    assert not [element for element in read(svg).iter() if element.get("data-segment")]


def test_postures_stand_beside_the_present_one_at_one_scale() -> None:
    svg = SHEETS["split stance"]()
    thighs = [path for path in read(svg).iter(f"{SVG}path") if path.get("data-segment") == "thigh"]
    lengths = [((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 for a, b in map(ends, thighs)]
    shown = (NOW, LIFTED, NOW, SPLIT)
    assert len(lengths) == len(shown)
    # seen from the side: legs turned out are shorter than those of the split stance
    seen = [hypot(one.hip.x - one.knee.x, one.hip.y - one.knee.y) for one in (at.posture for at in shown)]
    scale = lengths[0] / seen[0]
    assert lengths == pytest.approx([scale * length for length in seen], abs=0.05)
    assert seen[3] > 1.05 * seen[0]
    arms = [path for path in read(svg).iter(f"{SVG}path") if path.get("data-arm") == "hip"]
    wanted = [abs(one.moment_arms["hip"]) * scale for one in shown]
    assert [abs(a[0] - b[0]) for a, b in map(ends, arms)] == pytest.approx(wanted, abs=0.05)
    assert "lead leg" in words(svg)


def test_no_posture_is_said_in_words() -> None:
    assert "Posture as now." in words(SHEETS["far ratios"]())


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (Row("a", Interval(0.8, 0.7, 0.9), "lower"), "80 % (70 to 90), lower"),
        (Row("a", Interval(0.8, 0.8, 0.8), "lower"), "80 %, lower"),
        (Row("a", Interval(0.94, 0.9399, 0.9401), "lower"), "94 %, lower"),
        (Row("a", Interval(1.0, 1.0, 1.0), "no_clear_difference"), "100 %, as now"),
        (Row("a", Interval(1.0, 1.0, 1.0)), "100 %"),
        (Row("a", Interval(1.1, 0.9, 1.2), "no_clear_difference"), "110 % (90 to 120), no clear difference"),
        (Row("a", None, "higher"), "higher, no number known"),
        (Row("a", None, "unknown"), "not known"),
    ],
)
def test_a_row_says_its_verdict_in_words(row: Row, said: str) -> None:
    assert in_words(row) == said


@given(
    st.lists(
        st.tuples(
            st.floats(-3.0, 12.0),
            st.floats(0.0, 2.0),
            st.sampled_from(["lower", "higher", "no_clear_difference", "unknown"]),
            st.booleans(),
        ),
        min_size=1,
        max_size=7,
    )
)
def test_whatever_the_ratios_nothing_overlaps_or_leaves_the_plot(
    drawn: list[tuple[float, float, Direction, bool]],
) -> None:
    rows = [
        Row(f"Region {number}", Interval(value, value - span, value + span) if known else None, verdict, 0.9)
        for number, (value, span, verdict, known) in enumerate(drawn)
    ]
    svg = option_sheet(PRESS, [choice(1, rows)], [])
    assert overlapping(svg) == []
    assert outside(svg) == []


@pytest.mark.parametrize("draw", [lambda: option_sheet(SQUAT, [], []), lambda: notice("t", [])])
def test_nothing_to_draw_is_said(draw: Callable[[], str]) -> None:
    with pytest.raises(ValueError, match=r"no option|nothing to say"):
        draw()


def test_words_stand_on_the_sheet_and_in_its_text_alternative() -> None:
    svg = SHEETS["words"]()
    assert {"Stop and refer", "What to do now", "Because of", "x"} <= set(words(svg))
    assert description(svg) == f"Stop and refer. What to do now: {LONG} {LONG} Because of: x"
