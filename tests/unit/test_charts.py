"""What must hold for every figure: readable XML without anything foreign, to scale, and true to the numbers given.

Contrast after the Web Content Accessibility Guidelines 2.1 (4.5 for text, 3 for graphics); everything else is derived.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from math import cos, degrees, hypot, isclose, isfinite, radians, sin, sqrt
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charts.elements import layout
from service.charts.elements.axes import Scale, ticks
from service.charts.elements.palette import PALETTE, stylesheet
from service.charts.elements.text_layout import clean, number, trimmed, width_of, wrapped
from service.charts.load_repetition import BandPoint, CurvePoint, Mark
from service.charts.load_repetition import load_curve as load_sheets
from service.charts.posture.figure import ARM_JOINTS, Panel, panel_for
from service.charts.posture.side_view import side_view as lifters
from service.charts.ratio_bars import BARS_WIDTH, Bar, BarGroup, verdict
from service.charts.ratio_bars import comparison_bars as bar_blocks
from service.intervals import Interval
from service.knowledge.posture_rules import EXERCISE_RULES
from service.mechanics.body import build_body
from service.mechanics.demand import JOINTS, Demand, setup_demand
from service.mechanics.setups import Technique
from service.mechanics.uncertainty.comparison import Comparison, compare
from service.mechanics.uncertainty.propagation import uncertain_demand
from service.training.load_repetition import person_curve
from tests.support.drawn import colourless, whole

SVG = "{http://www.w3.org/2000/svg}"
BODY = build_body(64.0, 1.68, "female")
STIFF = Technique(ankle_dorsiflexion=radians(27.0))
LIFTED = Technique(ankle_dorsiflexion=radians(27.0), heel_lift=0.018)
SETUPS: tuple[tuple[str, str, float, Technique | None], ...] = (
    ("high bar", "back_squat_high_bar", 62.5, None),
    ("front, flat", "front_squat", 62.5, STIFF),
    ("front, heel lift", "front_squat", 62.5, LIFTED),
    ("split squat", "split_squat", 30.0, None),
    ("belt squat", "belt_squat", 62.5, None),
)
HOSTILE = '<script>alert("1")</script> & ]]> \x00\n\u202e\ud800'


def side_view(shown: Sequence[Panel]) -> str:
    view = lifters(shown)
    return whole(layout.sheets("Side view", [view.blocks], view.width))


def comparison_bars(title: str, shown: Sequence[BarGroup]) -> str:
    return whole(layout.sheets(title, [bar_blocks(title, shown)], BARS_WIDTH))


def load_curve(points: Sequence[CurvePoint], band: Sequence[BandPoint], marks: Sequence[Mark], unit: str) -> str:
    return whole(load_sheets(points, band, marks, unit))


@cache
def panels() -> tuple[Panel, ...]:
    return tuple(
        panel_for(label, BODY, setup_demand(BODY, exercise, load, None, technique))
        for label, exercise, load, technique in SETUPS
    )


@cache
def groups() -> tuple[BarGroup, ...]:
    uncertain = [
        (label, uncertain_demand(BODY, exercise, load, None, technique)) for label, exercise, load, technique in SETUPS
    ]
    against = [(label, compare(one, uncertain[0][1])) for label, one in uncertain]
    return tuple(
        BarGroup(joint, [bar(label, found[joint]) for label, found in against])
        for joint in ("ankle", "knee", "hip", "lumbosacral")
    )


def bar(label: str, found: Comparison) -> Bar:
    return Bar(label, None if found.ratio is None else found.ratio.one, found.difference)


@cache
def curve(load: float = 62.5, reps: float = 8.0, target: float = 11.0, label: str = "done", unit: str = "kg") -> str:
    def at(count: float) -> Interval:
        below, mean, above = (
            load * one.share_at(count) / one.share_at(reps)
            for one in (person_curve("front_squat", place) for place in (-1, 0, 1))
        )
        return Interval(mean, min(below, mean, above), max(below, mean, above))

    found = [(count, at(count)) for count in range(1, 20)]
    wanted = at(target)
    return load_curve(
        [CurvePoint(count, one.value) for count, one in found],
        [BandPoint(count, one.low, one.high) for count, one in found],
        [Mark(label, reps, load), Mark("target", target, wanted.value, "target", wanted)],
        unit,
    )


def every_exercise() -> list[Panel]:
    return [panel_for(name, BODY, setup_demand(BODY, name, 50.0)) for name in sorted(EXERCISE_RULES)]


ODD_BARS = BarGroup(
    "odd ones",
    [
        Bar("none", None),
        Bar("none but lower", None, "lower"),
        Bar("a label as long as a label may be, which is sixty characters", Interval(3.0, 2.0, 9.0)),
        Bar("flexors", Interval(-0.5, -0.9, -0.1)),
    ],
)
FIGURES: dict[str, Callable[[], str]] = {
    "one lifter": lambda: side_view(panels()[:1]),
    "flat and lifted": lambda: side_view(panels()[1:3]),
    "five setups": lambda: side_view(panels()),
    "ten setups": lambda: side_view(every_exercise()[:10]),
    "the other setups": lambda: side_view(every_exercise()[10:]),
    "bars": lambda: comparison_bars("Peak moments", groups()),
    "odd bars": lambda: comparison_bars("Odd ratios", [ODD_BARS]),
    "curve": curve,
    "curve, marks at its right end": lambda: curve(62.5, 18.0, 19.0),
    "curve, marks at its left end": lambda: curve(100.0, 2.0, 1.0),
    "hostile lifter": lambda: side_view([panel_for(HOSTILE, BODY, setup_demand(BODY, "front_squat", 50.0))]),
    "hostile bars": lambda: comparison_bars(HOSTILE, [BarGroup(HOSTILE, [Bar(HOSTILE, None)])]),
    "hostile curve": lambda: curve(label=HOSTILE, unit="<b>"),
}
FIGURE_NAMES = sorted(FIGURES)


def read(svg: str) -> ET.Element:
    return ET.fromstring(svg.encode())  # noqa: S314 - made here, by the code under test


def description(svg: str) -> str:
    return read(svg).findtext(f"{SVG}desc") or ""


def coordinates(element: ET.Element) -> Iterator[tuple[float, float]]:
    """The corners of the room that an element takes, without its line width."""
    named = {name: float(value) for name, value in element.attrib.items() if re.fullmatch(r"-?[\d.]+", value)}
    if element.tag == f"{SVG}circle":
        for sign in (-1, 1):
            yield named["cx"] + sign * named["r"], named["cy"] + sign * named["r"]
    elif element.tag == f"{SVG}rect":
        yield named["x"], named["y"]
        yield named["x"] + named["width"], named["y"] + named["height"]
    elif element.tag == f"{SVG}text":
        left, top, right, bottom = text_box(element)
        yield left, top
        yield right, bottom
    elif element.tag == f"{SVG}path":
        yield from path_points(element)


def path_points(element: ET.Element) -> list[tuple[float, float]]:
    """The ends of a path's steps: the last two numbers of each."""
    steps = re.findall(r"[MLA]([^MLAZ]*)", element.attrib["d"])
    points = [tuple(float(value) for value in step.strip().split(",")[-2:]) for step in steps]
    return [(x, y) for x, y in points]


def text_box(element: ET.Element) -> tuple[float, float, float, float]:
    """About the room of a line of text: left, top, right, bottom."""
    size = float(element.attrib["font-size"])
    width = width_of(element.text or "", size)
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.attrib["text-anchor"]] * width
    return left, y - 0.8 * size, left + width, y + 0.2 * size


def lengths(svg: str, attribute: str, name: str) -> list[float]:
    found = []
    for element in read(svg).iter(f"{SVG}path"):
        if element.get(attribute) == name:
            (x1, y1), (x2, y2) = path_points(element)
            found.append(hypot(x2 - x1, y2 - y1))
    return found


def pixels_per_metre(svg: str) -> float:
    [bar] = lengths(svg, "data-scale-bar", "0.2")
    return bar / 0.2


@pytest.mark.parametrize("name", FIGURE_NAMES)
def test_a_figure_has_a_title_and_a_text_alternative(name: str) -> None:
    root = read(FIGURES[name]())
    assert root.get("role") == "img"
    named = {element.get("id"): element.text for element in root if element.tag in {f"{SVG}title", f"{SVG}desc"}}
    assert (root.get("aria-labelledby") or "").split() == list(named)
    assert len(named) == 2
    assert all(named.values())


@pytest.mark.parametrize("name", FIGURE_NAMES)
def test_a_figure_refers_to_nothing_and_runs_nothing(name: str) -> None:
    svg = FIGURES[name]()
    root = read(svg)
    drawn = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert drawn <= {"svg", "style", "defs", "title", "desc", "rect", "path", "circle", "text"}
    names = {attribute.split("}")[-1] for element in root.iter() for attribute in element.attrib}
    assert not {attribute for attribute in names if attribute.startswith("on") or attribute in {"href", "src", "style"}}
    style = root.findtext(f"{SVG}style") or ""
    assert not re.search(r"url\(|@import|https?:", style)


@pytest.mark.parametrize("name", FIGURE_NAMES)
def test_everything_is_inside_the_view_box(name: str) -> None:
    root = read(FIGURES[name]())
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    assert (float(root.attrib["width"]), float(root.attrib["height"])) == (width, height)
    corners = [(element, corner) for element in root.iter() for corner in coordinates(element)]
    assert len(corners) > 10
    outside = [
        (element.attrib, x, y)
        for element, (x, y) in corners
        if not (isfinite(x) and isfinite(y) and left <= x <= left + width and top <= y <= top + height)
    ]
    assert outside == []


@pytest.mark.parametrize("name", FIGURE_NAMES)
def test_texts_are_large_enough_and_do_not_overlap(name: str) -> None:
    texts = list(read(FIGURES[name]()).iter(f"{SVG}text"))
    assert min(float(element.attrib["font-size"]) for element in texts) >= 12
    boxes = [(element.text, text_box(element)) for element in texts]
    overlapping = [
        (one, other)
        for number_, (one, a) in enumerate(boxes)
        for other, b in boxes[:number_]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]
    assert overlapping == []


@pytest.mark.parametrize("name", ["hostile lifter", "hostile bars", "hostile curve"])
def test_a_callers_text_stays_text(name: str) -> None:
    svg = FIGURES[name]()
    assert "<script" not in svg
    assert "&lt;script&gt;" in svg
    assert '<script>alert("1")</script> & ]]>' in description(svg)


def test_a_long_label_of_a_mark_leaves_its_values_readable() -> None:
    shown = [element.text or "" for element in read(curve(label=60 * "W")).iter(f"{SVG}text")]
    assert [text for text in shown if text.endswith("…: 8 repetitions, 62.5 kg")]


def seen_from_the_side(demand: Demand, segment: str) -> float:
    """Length of a segment as it is seen, of legs that are turned out [m]."""
    length: float = getattr(demand.body, segment)
    if segment == "trunk":
        return length
    ahead: float = getattr(demand.setup.stance, f"{segment}_ahead")
    posture = demand.posture
    across = cos(posture.thigh_angle) if segment == "thigh" else sin(posture.shin_angle)
    return length * hypot(across * ahead, sqrt(1.0 - across * across))


@pytest.mark.parametrize("segment", ["shank", "thigh", "trunk"])
def test_segments_are_to_scale(segment: str) -> None:
    svg = side_view(panels())
    drawn = lengths(svg, "data-segment", segment)
    assert len(drawn) == len(panels())
    for length, (_, exercise, load, technique) in zip(drawn, SETUPS, strict=True):
        demand = setup_demand(BODY, exercise, load, None, technique)
        assert isclose(length, pixels_per_metre(svg) * seen_from_the_side(demand, segment), abs_tol=0.02)


def test_a_longer_thigh_is_drawn_longer_at_the_same_scale() -> None:
    longer = build_body(64.0, 1.90, "female")
    svg = side_view([*panels()[:1], panel_for("tall", longer, setup_demand(longer, "front_squat", 50.0))])
    short, long = lengths(svg, "data-segment", "thigh")
    usual = seen_from_the_side(setup_demand(BODY, SETUPS[0][1], SETUPS[0][2]), "thigh")
    tall = seen_from_the_side(setup_demand(longer, "front_squat", 50.0), "thigh")
    assert isclose(long / short, tall / usual, rel_tol=1e-3)


@pytest.mark.parametrize("joint", ARM_JOINTS)
def test_moment_arms_are_to_scale(joint: str) -> None:
    shown = every_exercise()
    svg = side_view(shown)
    wanted = [pixels_per_metre(svg) * abs(panel.moment_arms[joint]) for panel in shown]
    assert lengths(svg, "data-arm", joint) == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize("joint", ["knee", "hip"])
def test_arms_of_knee_and_hip_end_on_the_plumb_line(joint: str) -> None:
    root = read(side_view(every_exercise()))
    plumbs = [path_points(path)[0][0] for path in root.iter(f"{SVG}path") if path.get("class") == "plumb"]
    ends = [path_points(path)[1][0] for path in root.iter(f"{SVG}path") if path.get("data-arm") == joint]
    assert len(ends) == len(EXERCISE_RULES)
    assert ends == pytest.approx(plumbs, abs=0.02)


@pytest.mark.parametrize("exercise", sorted(EXERCISE_RULES))
def test_a_disc_stands_where_the_load_acts(exercise: str) -> None:
    demand = setup_demand(BODY, exercise, 50.0)
    svg = side_view([panel_for("one", BODY, demand)])
    root = read(svg)
    discs = [circle for circle in root.iter(f"{SVG}circle") if circle.get("class") == "load"]
    belts = [path for path in root.iter(f"{SVG}path") if path.get("class") == "belt"]
    if demand.setup.carry.kind == "pelvis":
        assert (len(discs), len(belts)) == (0, 1)
        return
    assert (len(discs), len(belts)) == (1, 0)
    [plumb] = [path_points(path)[0][0] for path in root.iter(f"{SVG}path") if path.get("class") == "plumb"]
    ahead = demand.posture.load_point.x - demand.posture.balance_point
    assert float(discs[0].attrib["cx"]) - plumb == pytest.approx(pixels_per_metre(svg) * ahead, abs=0.02)


def test_no_load_is_drawn_without_one() -> None:
    root = read(side_view([panel_for("body mass", BODY, setup_demand(BODY, "front_squat", 0.0))]))
    assert not [circle for circle in root.iter(f"{SVG}circle") if circle.get("class") == "load"]


def test_only_a_lifted_heel_is_called_so() -> None:
    flat, lifted = (description(side_view([panel])) for panel in panels()[1:3])
    assert "heel lift" not in flat.removeprefix("front, flat")
    assert "heel lift 1.8 cm" in lifted


@pytest.mark.parametrize("index", range(len(SETUPS)))
def test_the_side_view_says_the_numbers_given(index: int) -> None:
    panel = panels()[index]
    said = description(side_view([panel])).removeprefix(f"{panel.label}: ")
    numbers = [float(text.replace("−", "-")) for text in re.findall(r"−?\d+(?:\.\d+)?", said)]
    posture = panel.posture
    wanted: list[float] = [
        round(degrees(angle)) for angle in (posture.trunk_lean, posture.shin_angle, posture.knee_flexion)
    ]
    wanted += [round(100 * panel.moment_arms[joint], 1) for joint in ARM_JOINTS]
    wanted += [1.8] if panel.label == "front, heel lift" else []
    assert numbers == wanted


def test_what_stands_in_the_side_view_stands_in_its_text_alternative() -> None:
    svg = side_view(panels())
    shown = [element.text or "" for element in read(svg).iter(f"{SVG}text")]
    values = [text for text in shown if re.search(r"\d (cm)$|\d°$", text) and text != "20 cm"]
    assert len(values) == 4 * len(SETUPS) + 1
    assert [text for text in values if text not in description(svg)] == []


def test_bars_are_as_long_as_their_ratios() -> None:
    root = read(comparison_bars("Peak moments", groups()))
    bars = [rect for rect in root.iter(f"{SVG}rect") if rect.get("data-ratio")]
    assert len(bars) == len(JOINTS) * len(SETUPS)
    lengths_of_one = {
        round(float(rect.attrib["width"]) / abs(float(rect.attrib["data-ratio"])), 1)
        for rect in bars
        if float(rect.attrib["data-ratio"]) > 0.1
    }
    assert max(lengths_of_one) - min(lengths_of_one) <= 0.11
    [one] = [path_points(path)[0][0] for path in root.iter(f"{SVG}path") if path.get("class") == "one"]
    assert one - float(bars[0].attrib["x"]) == pytest.approx(max(lengths_of_one), abs=0.2)


@pytest.mark.parametrize(
    ("bar", "said", "style"),
    [
        (Bar("a", Interval(0.8, 0.7, 0.9)), "0.80 (0.70 to 0.90), lower", "lower"),
        (Bar("a", Interval(1.3, 1.1, 1.6)), "1.30 (1.10 to 1.60), higher", "higher"),
        (Bar("a", Interval(1.1, 0.9, 1.2)), "1.10 (0.90 to 1.20), no clear difference", "unclear"),
        (Bar("a", Interval(0.9, 0.8, 1.0)), "0.90 (0.80 to 1.00), no clear difference", "unclear"),
        (Bar("a", Interval(1.0, 1.0, 1.0)), "1.00, as the reference", "unclear"),
        (Bar("a", None), "no ratio", None),
        (Bar("a", None, "no_clear_difference"), "no ratio, no clear difference", None),
    ],
)
def test_a_bar_says_its_verdict_in_words(bar: Bar, said: str, style: str | None) -> None:
    svg = comparison_bars("Title", [BarGroup("knee", [bar])])
    root = read(svg)
    assert verdict(bar) == said
    assert said in [element.text for element in root.iter(f"{SVG}text")]
    assert description(svg) == f"Title. Title. Ratios to the reference. knee: a {said}."
    drawn = [rect.get("class") for rect in root.iter(f"{SVG}rect") if rect.get("data-ratio")]
    assert drawn == ([] if style is None else [style])


def test_the_verdicts_of_the_bars_are_those_of_the_comparison() -> None:
    for group in groups():
        for bar in group.bars:
            if bar.ratio is not None and bar.difference is not None and not bar.ratio.low == bar.ratio.high == 1.0:
                assert verdict(bar).endswith(bar.difference.replace("_", " "))


def test_the_curve_says_the_numbers_given() -> None:
    svg = load_curve(
        [CurvePoint(1.0, 80.0), CurvePoint(5.0, 70.25), CurvePoint(10.0, 60.5)],
        [BandPoint(1.0, 78.0, 82.5), BandPoint(10.0, 55.0, 64.0)],
        [Mark("done", 5.5, 61.25), Mark("target", 9.0, 62.34, "target", Interval(62.34, 60.1, 63.2))],
        "lb",
    )
    assert description(svg) == (
        "Load against repetitions to failure. done: 5.5 repetitions, 61.25 lb. "
        "target: 9 repetitions, 62.3 lb (60.1 to 63.2). "
        "Curve: 1 repetition 80.0 lb; 5 repetitions 70.2 lb; 10 repetitions 60.5 lb. "
        "Band: 1 repetition 78.0 to 82.5 lb; 10 repetitions 55.0 to 64.0 lb."
    )
    shown = [element.text for element in read(svg).iter(f"{SVG}text")]
    assert "done: 5.5 repetitions, 61.25 lb" in shown
    assert "target: 9 repetitions, 62.3 lb (60.1 to 63.2)" in shown


def test_the_curve_passes_through_its_marks() -> None:
    root = read(curve())
    [line] = [path_points(path) for path in root.iter(f"{SVG}path") if path.get("class") == "curve"]
    [done] = [circle.attrib for circle in root.iter(f"{SVG}circle") if circle.get("class") == "done"]
    assert min(hypot(x - float(done["cx"]), y - float(done["cy"])) for x, y in line) < 0.02


@pytest.mark.parametrize(
    "draw", [lambda: side_view([]), lambda: comparison_bars("t", []), lambda: load_curve([], [], [], "kg")]
)
def test_nothing_to_draw_is_said(draw: Callable[[], str]) -> None:
    with pytest.raises(ValueError, match=r"no lifter|nothing to compare|two points"):
        draw()


@pytest.mark.parametrize("scheme", [0, 1])
@pytest.mark.parametrize(
    ("name", "least"),
    [
        *((name, 4.5) for name in ("ink", "quiet", "knee", "hip", "lumbosacral")),
        *((name, 3.0) for name in ("bone", "load", "plumb", "lower", "higher", "unclear")),
    ],
)
def test_colours_stand_out_from_the_background(scheme: int, name: str, least: float) -> None:
    assert contrast(PALETTE[name][scheme], PALETTE["paper"][scheme]) >= least


@pytest.mark.parametrize("scheme", [0, 1])
@pytest.mark.parametrize("name", ["bone", "knee", "hip", "lumbosacral", "plumb", "load"])
def test_lines_stand_out_from_the_limbs_and_the_band(scheme: int, name: str) -> None:
    for ground in ("limb", "band"):
        assert contrast(PALETTE[name][scheme], PALETTE[ground][scheme]) >= 3.0


def test_contrast_is_that_of_the_guidelines() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    parts = [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("name", FIGURE_NAMES)
def test_marks_carry_their_colours(name: str) -> None:
    assert colourless(FIGURES[name]()) == []


def test_the_style_sheet_is_for_dark_schemes_alone_and_has_a_rule_for_every_look() -> None:
    style = stylesheet()
    scheme, *rules, end = style.splitlines()
    assert (scheme, end) == ("@media (prefers-color-scheme: dark) {", "}")
    assert set(re.findall(r"#[0-9a-f]{6}", style)) == {dark for _, dark in PALETTE.values()}
    ruled = {(match[1], match[2]) for rule in rules if (match := re.match(r"\.figure (text)?\[class~=(\w+)\]", rule))}
    for figure in FIGURES.values():
        for element in read(figure()).iter():
            for name in (element.get("class") or "figure").split():
                if name not in ("figure", "arm", "weight"):  # these two have a colour by the joint that follows
                    assert ("text" if element.tag == f"{SVG}text" else None, name) in ruled


@given(st.text(), st.floats(60.0, 400.0), st.integers(1, 4))
def test_wrapped_text_fits_and_loses_nothing_unsaid(text: str, width: float, most: int) -> None:
    lines = wrapped(text, width, 13.0, most)
    assert 1 <= len(lines) <= most
    assert all(width_of(line, 13.0) <= width for line in lines)
    if not lines[-1].endswith("…"):
        assert "".join(lines).replace(" ", "") == clean(text).replace(" ", "")


@given(st.text())
def test_clean_text_can_stand_in_xml(text: str) -> None:
    assert read(comparison_bars("t" + text, [BarGroup("g", [Bar("b", None)])])).findtext(f"{SVG}title") == clean(
        "t" + text
    )


@pytest.mark.parametrize(
    ("value", "decimals", "full", "short"),
    [(16.0, 1, "16.0", "16"), (-0.04, 1, "0.0", "0"), (-2.06, 1, "−2.1", "−2.1"), (61.25, 2, "61.25", "61.25")],
)
def test_numbers_are_written_alike_everywhere(value: float, decimals: int, full: str, short: str) -> None:
    assert number(value, decimals) == full
    assert trimmed(value, decimals) == short


@given(st.floats(-5.0, 100.0), st.floats(0.1, 200.0), st.integers(2, 12))
def test_ticks_are_evenly_spaced_and_inside_the_axis(low: float, span: float, about: int) -> None:
    marked = ticks(low, low + span, about)
    assert 1 <= len(marked) <= about + 1
    assert all(low - 1e-6 <= tick <= low + span + 1e-6 for tick in marked)
    gaps = [later - earlier for earlier, later in pairwise(marked)]
    assert all(isclose(gap, gaps[0], rel_tol=1e-6) for gap in gaps)


def test_a_value_beyond_the_axis_stands_at_its_end() -> None:
    scale = Scale(0.0, 2.0, 100.0, 300.0)
    assert [scale.at(value) for value in (-1.0, 0.5, 5.0)] == [100.0, 150.0, 300.0]
