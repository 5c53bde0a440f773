"""Numbers and lengths read out of every picture, whoever asks: bars, spans and marks on their axes, treads, postures.

An axis is read from the numbers written beside it, not from the code that drew it; what is measured in the drawing is
held against the JSON answer to the same request. All derived.
"""

from __future__ import annotations

import re
from math import atan, cos, degrees, radians, tan
from statistics import linear_regression
from typing import Any, Final
from xml.etree import ElementTree as ET

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.knowledge.catalogue import REGIONS
from service.knowledge.posture_rules import EXERCISE_RULES
from tests.support.asking import BY_NAME, Answered, ask_drawn, decoded, in_full, kg
from tests.support.consultations import consultations, lifters
from tests.support.drawn import SVG, description, ends, lean_of, read, whole, words
from tests.support.returns import returns
from tests.support.sentences import shows

Shape = dict[str, Any]
Span = tuple[float, float, float]
WEEKS: Final = ("week-demand", "week-adjustments")
"""Read in operations/test_week_demand_chart.py and test_week_adjustments_chart.py."""
JOINTS: Final = ("ankle", "knee", "hip", "lumbosacral")
KEPT: Final = "Training effect kept "
EXAMPLES: Final = settings(max_examples=25, deadline=None)
LEAST_SPAN: Final = 1e-4  # answers have six digits: a narrower span may be none in the answer and be drawn
PIXEL: Final = 0.06  # places are rounded to two decimals


def pictured(name: str, request: Shape) -> tuple[Answered, str]:
    """An answer and its picture; another example where there is none."""
    operation = BY_NAME[name]
    assert operation.picture is not None
    return ask_drawn(name, request), whole(operation.picture(decoded(name, request)))


def number_of(text: str) -> float:
    return float(text.replace("−", "-"))


class Axis:
    """A straight axis, from places [px] and the numbers written at them."""

    def __init__(self, marks: list[tuple[float, float]]) -> None:
        assert len({place for place, _ in marks}) > 1
        self.slope, self.start = linear_regression(*zip(*marks, strict=True))
        for place, value in marks:
            assert self(place) == pytest.approx(value, abs=0.01 * max(1.0, abs(value)))

    def __call__(self, place: float) -> float:
        return self.slope * place + self.start

    @property
    def fine(self) -> float:
        """What a pixel's rounding makes out."""
        return abs(self.slope) * PIXEL


def numbers_at(svg: str, pattern: str, anchor: str, side: str) -> list[tuple[float, float, float]]:
    """Place along the axis, across it, and the number, of each text that is a number of an axis."""
    across = {"x": "y", "y": "x"}[side]
    return [
        (float(one.attrib[side]), float(one.attrib[across]), number_of(match[1]))
        for one in read(svg).iter(f"{SVG}text")
        if one.get("text-anchor") == anchor and (match := re.fullmatch(pattern, one.text or ""))
    ]


def below(marks: list[tuple[float, float, float]], y: float) -> Axis:
    """The axis of the row of numbers next below a height [px]."""
    row = min(at for _, at, _ in marks if at > y)
    return Axis([(x, value) for x, at, value in marks if at == row])


def bars(svg: str) -> list[ET.Element]:
    return [rect for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-ratio")]


def middle(bar: ET.Element) -> float:
    return float(bar.attrib["y"]) + float(bar.attrib["height"]) / 2


def paths(svg: str, style: str) -> list[ET.Element]:
    return [path for path in read(svg).iter(f"{SVG}path") if path.get("class") == style]


def whisker(svg: str, y: float) -> tuple[float, float] | None:
    """Ends of the level line of a span at a height [px], from left to right."""
    for path in paths(svg, "whisker"):
        points = ends(path)
        if len(points) == 2 and all(abs(at - y) < PIXEL for _, at in points):
            left, right = sorted(x for x, _ in points)
            return left, right
    return None


def span_of(found: Answered) -> Span:
    if isinstance(found, float | int):
        return (float(found),) * 3
    return float(found.low), float(found.value), float(found.high)


def hold_bar(svg: str, bar: ET.Element, axis: Axis, wanted: Span, furthest: tuple[float, float]) -> None:
    """A bar reaches from nought to its value on the axis beside it, and its whisker over the span, cut at the axis."""
    low, value, high = wanted
    left, right = float(bar.attrib["x"]), float(bar.attrib["x"]) + float(bar.attrib["width"])
    cut = max(furthest[0], min(value, furthest[1]))
    assert axis(left) == pytest.approx(min(0.0, cut), abs=2 * axis.fine)
    assert axis(right) == pytest.approx(max(0.0, cut), abs=2 * axis.fine)
    drawn = whisker(svg, middle(bar))
    if high - low > LEAST_SPAN:
        assert drawn is not None
        for place, end in zip(drawn, (low, high), strict=True):
            assert axis(place) == pytest.approx(max(furthest[0], min(end, furthest[1])), abs=2 * axis.fine)


# --- adjustments ------------------------------------------------------------------------------------------------------


@EXAMPLES
@given(consultations)
def test_bars_spans_and_targets_of_a_consultation_are_the_answers(request: Shape) -> None:
    answer, svg = pictured("adjustments", in_full(request))
    assume(answer.options)
    wanted: list[Span] = []
    targets = 0
    for option in answer.options:
        regions = list(dict.fromkeys((answer.target.region, *option.direction)))
        by_session = option.meets_by == "session_exposure"
        if by_session:
            new, now = option.prescription, request["prescription"]
            repetitions = new.sets * (new.reps.low + new.reps.high) / (now["sets"] * sum(now["reps"].values()))
            session = option.session_exposure
            wanted.append(span_of(repetitions if session is None else session))
        if option.meets_by == "week_exposure":
            wanted.append(span_of(option.prescription.days_per_week / request["prescription"]["days_per_week"]))
        wanted += [span_of(option.demand[region]) for region in regions if region in option.demand]
        wanted.append(span_of(option.stimulus.kept.value))  # an index, shown without its span
        targets += by_session or option.meets_by == "week_exposure" or answer.target.region in option.demand
    marks = [(x, y, value / 100) for x, y, value in numbers_at(svg, r"(−?\d+) %", "middle", "x")]
    found = bars(svg)
    assert [float(bar.attrib["data-ratio"]) for bar in found] == pytest.approx([one[1] for one in wanted], abs=1e-4)
    for bar, span in zip(found, wanted, strict=True):
        hold_bar(svg, bar, below(marks, middle(bar)), span, (-0.5, 2.0))
    lines = [path for path in paths(svg, "goal") if path.get("data-target")]
    assert len(lines) == targets
    for line in lines:
        (x, y), _ = ends(line)
        axis = below(marks, y)
        assert axis(x) == pytest.approx(answer.target.ratio, abs=2 * axis.fine)


@EXAMPLES
@given(consultations)
def test_words_of_a_consultations_picture_are_the_answers(request: Shape) -> None:
    answer, svg = pictured("adjustments", in_full(request))
    assume(answer.options)
    said = description(svg).split("Against now: ")[1:]
    assert len(said) == len(answer.options)
    by_name = {region.name: region.id for region in REGIONS.values()}
    for option, text in zip(answer.options, said, strict=True):
        told = set()
        for part in text.split(". ")[0].rstrip(".").split("; "):
            if ", a session " in part or ", a week " in part:
                continue
            if part.startswith(KEPT):
                shows(part.removeprefix(KEPT).removesuffix(" %"), 100 * option.stimulus.kept.value)
                continue
            name = next(one for one in by_name if part.startswith(f"{one} "))
            told.add(by_name[name])
            hold_row(option, by_name[name], part.removeprefix(f"{name} "))
        assert set(option.direction) <= told


def hold_percent(value: str | None, low: str | None, high: str | None, wanted: Span) -> None:
    for text, number in zip((low or value, value, high or value), wanted, strict=True):
        shows(str(text).replace("−", "-"), 100 * number)


def hold_row(option: Answered, region: str, said: str) -> None:
    """100 % and its span, and the verdict: lower, higher, no clear difference, or what is not known."""
    direction = option.direction[region]
    verdict = {"no_clear_difference": "no clear difference", "unknown": "not known"}.get(direction, direction)
    if region not in option.demand:
        assert said == (verdict if direction == "unknown" else f"{verdict}, no number known")
        return
    wanted = span_of(option.demand[region])
    match = re.fullmatch(r"(−?\d+) %(?: \((−?\d+) to (−?\d+)\))?, (.+)", said)
    assert match is not None, said
    hold_percent(match[1], match[2], match[3], wanted)
    assert match[4] == ("as now" if wanted == (1, 1, 1) else verdict)


# --- return-plan ------------------------------------------------------------------------------------------------------


@EXAMPLES
@given(returns(), st.sampled_from([0, 0, 2]))
def test_treads_of_a_way_back_stand_at_the_answers_weeks_and_demand(request: Shape, weeks_off: int) -> None:
    answer, svg = pictured("return-plan", {**request, "weeks_off": weeks_off})
    shown = {int(path.attrib["data-week"]): path for path in read(svg).iter(f"{SVG}path") if path.get("data-week")}
    weeks = numbers_at(svg, r"(\d+)", "middle", "x")
    across = Axis([(x, value) for x, _, value in weeks]) if len(weeks) > 1 else None
    percents = numbers_at(svg, r"(−?\d+) %", "end", "y")
    upwards = Axis([(y - 4, value / 100) for y, _, value in percents]) if percents else None
    ends_of = [*(step.week for step in answer.steps[1:]), answer.steps[-1].week + 1]
    for step, end in zip(answer.steps, ends_of, strict=True):
        (x1, y1), (x2, y2) = ends(shown[step.week])
        assert y1 == y2
        if across is not None:
            assert (across(x1), across(x2)) == pytest.approx((step.week, end), abs=0.01)
        if answer.region in step.demand:
            assert upwards is not None
            assert upwards(y1) == pytest.approx(step.demand[answer.region].value, abs=2 * upwards.fine)
    bands = [
        rect for rect in read(svg).iter(f"{SVG}rect") if rect.get("class") == "band" and rect.get("height") != "12"
    ]
    spans = [
        (step.week, one)
        for step in answer.steps
        if (one := step.demand.get(answer.region)) is not None and one.low < one.high
    ]
    assert len(bands) == len(spans)
    for band, (week, one) in zip(bands, spans, strict=True):
        assert upwards is not None
        top, high = float(band.attrib["y"]), float(band.attrib["height"])
        assert upwards(top) == pytest.approx(one.high, abs=2 * upwards.fine)
        assert upwards(top + high) == pytest.approx(one.low, abs=3 * upwards.fine)
        assert float(band.attrib["x"]) == pytest.approx(ends(shown[week])[0][0], abs=PIXEL)
    if upwards is not None and answer.region in answer.steps[-1].demand:
        [original] = [path for path in paths(svg, "one") if abs(ends(path)[0][0] - ends(path)[1][0]) > 100]
        assert upwards(ends(original)[0][1]) == pytest.approx(1, abs=2 * upwards.fine)
    hold_headings(answer, svg)
    for path in paths(svg, "session"):
        if path.get("data-session"):
            assert upwards is not None
            assert upwards(ends(path)[0][1]) == pytest.approx(float(path.attrib["data-session"]), abs=2 * upwards.fine)


def hold_headings(answer: Answered, svg: str) -> None:
    """Week, demand with its span, and the session's, as in the answer."""
    headings = [text for text in words(svg) if re.match(r"Week \d+: ", text)]
    for step in answer.steps:
        [heading] = [text for text in headings if text.startswith(f"Week {step.week}: ")]
        one = step.demand.get(answer.region)
        if one is None:
            assert heading.endswith("demand not known in numbers")
            continue
        match = re.fullmatch(
            r"Week \d+: (−?\d+) %(?: \((−?\d+) to (−?\d+)\))? of the original(?:, a session (\d+) %)?", heading
        )
        assert match is not None, heading
        hold_percent(match[1], match[2], match[3], span_of(one))
        shows(str(match[4]), 100 * step.sore_region.session)


# --- joint-demand and spinal-load -------------------------------------------------------------------------------------

LIFTS: Final = ("front_squat", "back_squat_high_bar", "back_squat_low_bar", "safety_bar_squat", "belt_squat", "lunge")
setups = st.lists(
    st.tuples(st.sampled_from(LIFTS), st.integers(8, 40).map(lambda n: 2.5 * n), st.sampled_from([0, 1, 3])),
    min_size=2,
    max_size=4,
)


def requested(lifter: Shape, lifts: list[tuple[str, float, int]]) -> Shape:
    return {
        "lifter": lifter,
        "setups": [
            {
                "label": f"setup{number}",
                "exercise": exercise,
                "load": kg(load),
                "technique": {"heel_lift": {"value": lift, "unit": "cm"}},
            }
            for number, (exercise, load, lift) in enumerate(lifts)
        ],
    }


@EXAMPLES
@given(lifters, setups)
def test_bars_spans_and_postures_of_joint_demand_are_the_answers(
    lifter: Shape, lifts: list[tuple[str, float, int]]
) -> None:
    answer, svg = pictured("joint-demand", requested(lifter, lifts))
    wanted = [getattr(one.relative, joint) for joint in JOINTS for one in answer.setups[1:]]
    hold_ratio_bars(svg, [one for one in wanted if one is not None])
    hold_side_views(svg, answer)


@EXAMPLES
@given(lifters, setups)
def test_bars_and_spans_of_spinal_load_are_the_answers(lifter: Shape, lifts: list[tuple[str, float, int]]) -> None:
    request = requested(lifter, lifts)
    for setup in request["setups"]:
        del setup["technique"]
    answer, svg = pictured("spinal-load", request)
    names = ("load_through_spine", "moment", "compression")
    wanted = [getattr(one.relative, name) for name in names for one in answer.setups[1:]]
    hold_ratio_bars(svg, [one for one in wanted if one is not None])


def hold_ratio_bars(svg: str, wanted: list[Answered]) -> None:
    found = bars(svg)
    spans = [span_of(one) for one in wanted]
    assert [float(bar.attrib["data-ratio"]) for bar in found] == pytest.approx([one[1] for one in spans], rel=1e-4)
    lowest = max((middle(bar) for bar in found), default=0.0)
    marks = [mark for mark in numbers_at(svg, r"(−?[\d.]+)", "middle", "x") if mark[1] > lowest]
    if not found:
        return
    axis = below(marks, lowest)
    for bar, span in zip(found, spans, strict=True):
        hold_bar(svg, bar, axis, span, (-FURTHEST, FURTHEST))


FURTHEST: Final = 4.0


def hold_side_views(svg: str, answer: Answered) -> None:
    """Lean, shin and knee as drawn and as told, and the moment arms as told."""
    trunks, shanks = (limbs(svg, name) for name in ("trunk", "shank"))
    assert len(trunks) == len(shanks) == len(answer.setups)
    for setup, trunk, shank in zip(answer.setups, trunks, shanks, strict=True):
        posture = setup.posture
        assert lean_of(trunk) == pytest.approx(abs(posture.trunk_lean.value), abs=0.3)
        turned = 0.0 if setup.legs_turned_out is None else radians(setup.legs_turned_out.shank.value)
        seen = degrees(atan(tan(radians(posture.shin_angle.value)) * cos(turned)))
        assert lean_of(shank) == pytest.approx(abs(seen), abs=0.3)
        told = re.search(rf"{setup.label}: (trunk lean .*?)\.(?: |$)(?!\d)", told_of(svg))
        assert told is not None
        for name in ("trunk_lean", "shin_angle", "knee_flexion"):
            match = re.search(rf"{name.replace('_', ' ')} (−?\d+)°", told[1])
            assert match is not None
            shows(match[1].replace("−", "-"), getattr(posture, name).value)
        for joint, name in (("knee", "knee"), ("hip", "hip"), ("lumbosacral", "lower back")):
            match = re.search(rf"{name} (−?[\d.]+) cm", told[1])
            assert match is not None
            shows(match[1].replace("−", "-"), 100 * getattr(setup.moment_arms, joint).value)


def limbs(svg: str, segment: str) -> list[ET.Element]:
    return [path for path in read(svg).iter(f"{SVG}path") if path.get("data-segment") == segment]


def told_of(svg: str) -> str:
    return " ".join(element.text or "" for element in read(svg).iter(f"{SVG}desc"))


# --- load-for-reps ----------------------------------------------------------------------------------------------------


@EXAMPLES
@given(
    st.integers(8, 60).map(lambda n: 2.5 * n),
    st.integers(1, 10),
    st.sampled_from([0, 1, 2]),
    st.integers(1, 12),
    st.sampled_from(["kg", "lb"]),
)
def test_marks_of_load_for_reps_are_the_set_done_and_the_answers_load(
    load: float, reps: int, left: int, target: int, unit: str
) -> None:
    request = {
        "set": {"load": {"value": load, "unit": unit}, "reps": reps, "reps_in_reserve": left},
        "target": {"reps": target, "reps_in_reserve": left},
    }
    answer, svg = pictured("load-for-reps", request)
    across = Axis([(x, value) for x, _, value in numbers_at(svg, r"([\d.]+)", "middle", "x")])
    upwards = Axis([(y - 4, value) for y, _, value in numbers_at(svg, r"([\d.]+)", "end", "y")])
    [done] = [one for one in read(svg).iter(f"{SVG}circle") if one.get("class") == "done"]
    [wanted] = [ends(one)[:4] for one in paths(svg, "target")]
    middle_of = (sum(x for x, _ in wanted) / 4, sum(y for _, y in wanted) / 4)
    for (x, y), count, value in (
        ((float(done.attrib["cx"]), float(done.attrib["cy"])), reps + left, load),
        (middle_of, target + left, answer.load.value),
    ):
        assert across(x) == pytest.approx(count, abs=3 * across.fine)
        assert upwards(y) == pytest.approx(value, abs=4 * upwards.fine)
    spans = [sorted(upwards(y) for _, y in ends(one)) for one in paths(svg, "error") if upright(ends(one))]
    narrow = answer.load.high - answer.load.low <= 4 * upwards.fine
    assert narrow or spans == [pytest.approx([answer.load.low, answer.load.high], abs=4 * upwards.fine)]
    assert answer.load.unit == unit
    said = re.search(
        r"wanted: (\d+) repetitions?( and \d left)?, ([\d.]+) (kg|lb) \(([\d.]+) to ([\d.]+)\)\.", told_of(svg)
    )
    assert said is not None
    assert (int(said[1]), said[2], said[4]) == (target, f" and {left} left" if left else None, unit)
    for text, value in zip((said[5], said[3], said[6]), span_of(answer.load), strict=True):
        shows(text, value)


def upright(points: list[tuple[float, float]]) -> bool:
    return abs(points[0][0] - points[1][0]) < PIXEL < abs(points[0][1] - points[1][1])


def test_every_picture_is_read_here() -> None:
    drawn = {operation.name for operation in BY_NAME.values() if operation.picture is not None}
    assert drawn == {"adjustments", "return-plan", "joint-demand", "spinal-load", "load-for-reps", *WEEKS}
    assert set(LIFTS) <= set(EXERCISE_RULES)
