"""The pictures of joint-demand, spinal-load and load-for-reps show the numbers of their answers, in words and to scale.

The numbers are those of the JSON answer to the same question; words, bars and marks are read out of the picture. All
derived.
"""

from __future__ import annotations

import re
from statistics import linear_regression
from typing import Any, Final
from xml.etree import ElementTree as ET

import msgspec
import pytest

from service.api.models.lifter import DEMO_LIFTER
from service.api.serialization.json import Reader
from service.charts.posture.side_view import JOINT_NAMES
from tests.support.asking import BY_NAME, Answered, ask, kg
from tests.support.drawn import SVG, ends, lean_of, read, whole, words

SQUATS: Final[dict[str, Any]] = {
    "lifter": DEMO_LIFTER,
    "setups": [
        {"label": "front", "exercise": "front_squat", "load": kg(60)},
        {"label": "high", "exercise": "back_squat_high_bar", "load": kg(70)},
        {"label": "belt", "exercise": "belt_squat", "load": kg(55)},
        {"label": "split", "exercise": "split_squat", "load": kg(30)},
    ],
}
JOINTS: Final = ("ankle", "knee", "hip", "lumbosacral")
SET: Final[dict[str, Any]] = {
    "set": {"load": kg(70), "reps": 5, "reps_in_reserve": 2},
    "target": {"reps": 10, "reps_in_reserve": 1},
    "exercise": "front_squat",
}
OWN_SETS: Final = {"own_sets": [{"load": kg(76), "reps": 3, "reps_in_reserve": 1}]}


def pictured(name: str, request: dict[str, Any]) -> tuple[Answered, str]:
    operation = BY_NAME[name]
    assert operation.picture is not None
    return ask(name, request), whole(operation.picture(Reader(operation.request).read(msgspec.json.encode(request))))


def told(svg: str) -> str:
    """The text alternatives of a picture, one after the other."""
    return " ".join(element.text or "" for element in read(svg).iter(f"{SVG}desc"))


def group(svg: str, name: str) -> dict[str, str]:
    """What the text alternative says of each setup in one group of bars; labels are one word each."""
    said = re.search(rf"\. {name}: (.*?)\.(?: |$)", told(svg))
    assert said is not None, name
    return dict(part.split(" ", 1) for part in said[1].split("; "))


def verdict(ratio: Answered, difference: str) -> str:
    """A ratio of an answer as a picture says it."""
    if ratio.low == ratio.high == 1:
        return "1.00, as the reference"
    value, low, high = (f"{one:.2f}".replace("-", "−") for one in (ratio.value, ratio.low, ratio.high))
    return f"{value} ({low} to {high}), {difference.replace('_', ' ')}"


def bars(svg: str) -> list[ET.Element]:
    return [rect for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-ratio")]


def assert_to_scale(found: list[ET.Element], ratios: list[float]) -> None:
    """Each bar is as long as its ratio, all to one scale."""
    assert [float(bar.attrib["data-ratio"]) for bar in found] == pytest.approx(ratios, rel=1e-4, abs=1e-6)
    lengths, longest = [float(bar.attrib["width"]) for bar in found], max(map(abs, ratios))
    assert lengths == pytest.approx([max(lengths) * abs(ratio) / longest for ratio in ratios], abs=0.03)


# --- joint moments ----------------------------------------------------------------------------------------------------


def test_bars_of_joint_moments_are_the_answers_ratios_to_the_first_setup() -> None:
    answer, svg = pictured("joint-demand", SQUATS)
    others = answer.setups[1:]
    for joint in JOINTS:
        wanted = {one.label: verdict(getattr(one.relative, joint), getattr(one.difference, joint)) for one in others}
        assert group(svg, JOINT_NAMES.get(joint, joint)) == wanted
        assert set(wanted.values()) <= set(words(svg))
    # the setups differ in every joint, so that no other comparison has the same numbers
    ratios = [getattr(one.relative, joint).value for joint in JOINTS for one in others]
    assert len({round(ratio, 2) for ratio in ratios}) > len(ratios) / 2
    assert_to_scale(bars(svg), ratios)


def test_lifters_of_joint_moments_stand_as_the_answer_says() -> None:
    answer, svg = pictured("joint-demand", SQUATS)
    trunks = [path for path in read(svg).iter(f"{SVG}path") if path.get("data-segment") == "trunk"]
    assert len(trunks) == len(answer.setups)
    for setup, trunk in zip(answer.setups, trunks, strict=True):
        lean = setup.posture.trunk_lean.value
        assert lean_of(trunk) == pytest.approx(lean, abs=0.1)
        said = re.search(rf"{setup.label}: trunk lean (\d+)°.*?hip (−?[\d.]+) cm", told(svg))
        assert said is not None
        assert float(said[1]) == round(lean)
        assert float(said[2].replace("−", "-")) == pytest.approx(100 * setup.moment_arms.hip.value, abs=0.051)


# --- the spine --------------------------------------------------------------------------------------------------------


def test_bars_of_the_spine_are_the_answers_load_moment_and_compression() -> None:
    answer, svg = pictured("spinal-load", SQUATS)
    others = answer.setups[1:]
    through = {one.label: f"{one.relative.load_through_spine:.2f}" for one in others}
    assert {label: re.split("[ ,]", said)[0] for label, said in group(svg, "load through the spine").items()} == through
    moments, compressions = group(svg, "moment"), group(svg, "compression")
    for one in others:
        # one verdict in the answer, where those of the two bars agree
        verdicts = [said[one.label].split(", ")[-1].replace(" ", "_") for said in (moments, compressions)]
        assert one.difference == (verdicts[0] if len(set(verdicts)) == 1 else "no_clear_difference")
        assert moments[one.label] == verdict(one.relative.moment, verdicts[0])
        assert compressions[one.label] == verdict(one.relative.compression, verdicts[1])
    wanted = [one.relative.load_through_spine for one in others]
    wanted += [one.relative.moment.value for one in others] + [one.relative.compression.value for one in others]
    assert wanted[3:6] != pytest.approx(wanted[6:], rel=0.01)
    assert_to_scale(bars(svg), wanted)


# --- load and repetitions ---------------------------------------------------------------------------------------------


def axes(svg: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Slope and intercept from places [px] to repetitions and to loads, from the numbers beside the axes."""
    numbers = [one for one in read(svg).iter(f"{SVG}text") if re.fullmatch(r"[\d.]+", one.text or "")]
    across = [(float(one.attrib["x"]), float(one.text or "")) for one in numbers if one.get("text-anchor") == "middle"]
    up = [(float(one.attrib["y"]) - 4, float(one.text or "")) for one in numbers if one.get("text-anchor") == "end"]
    assert min(len(across), len(up)) > 2
    return fitted(across), fitted(up)


def fitted(points: list[tuple[float, float]]) -> tuple[float, float]:
    slope, intercept = linear_regression(*zip(*points, strict=True))
    return slope, intercept


@pytest.mark.parametrize("own", [{}, OWN_SETS], ids=["published", "own_curve"])
def test_marks_of_the_curve_are_the_set_done_and_the_answers_load(own: dict[str, Any]) -> None:
    answer, svg = pictured("load-for-reps", {**SET, **own})
    load = answer.load
    assert "done: 5 repetitions and 2 left, 70 kg." in told(svg)
    assert f"wanted: 10 repetitions and 1 left, {load.value:.1f} kg ({load.low:.1f} to {load.high:.1f})." in told(svg)
    (across, left), (up, bottom) = axes(svg)
    [done] = [one for one in read(svg).iter(f"{SVG}circle") if one.get("class") == "done"]
    [target] = [ends(one) for one in read(svg).iter(f"{SVG}path") if one.get("class") == "target"]
    middle = (sum(x for x, _ in target[:4]) / 4, sum(y for _, y in target[:4]) / 4)
    for (x, y), reps, kilograms in (
        ((float(done.attrib["cx"]), float(done.attrib["cy"])), 7, 70),
        (middle, 11, load.value),
    ):
        assert across * x + left == pytest.approx(reps, abs=0.05)
        assert up * y + bottom == pytest.approx(kilograms, abs=0.1)
    whiskers = [ends(one) for one in read(svg).iter(f"{SVG}path") if one.get("class") == "error"]
    spans = [(up * y1 + bottom, up * y2 + bottom) for (x1, y1), (x2, y2) in whiskers if x1 == x2]
    assert [sorted(span) for span in spans] == [pytest.approx([load.low, load.high], abs=0.1)]


@pytest.mark.parametrize("own", [{}, OWN_SETS], ids=["published", "own_curve"])
def test_the_curve_and_its_band_are_the_answers_for_other_targets(own: dict[str, Any]) -> None:
    _, svg = pictured("load-for-reps", {**SET, **own})
    (across, left), (up, bottom) = axes(svg)
    [curve] = [ends(one) for one in read(svg).iter(f"{SVG}path") if one.get("class") == "curve"]
    [band] = [ends(one) for one in read(svg).iter(f"{SVG}path") if one.get("class") == "band"]
    shown = [(across * x + left, up * y + bottom) for x, y in curve]
    outline = [(across * x + left, up * y + bottom) for x, y in band]
    upper, lower = outline[: len(outline) // 2], outline[len(outline) // 2 :][::-1]
    for reps in (3, 6, 9, 12):
        load = ask("load-for-reps", {**SET, **own, "target": {"reps": reps, "reps_in_reserve": 0}}).load
        assert between(shown, reps) == pytest.approx(load.value, rel=0.005)
        assert between(upper, reps) == pytest.approx(load.high, rel=0.005)
        assert between(lower, reps) == pytest.approx(load.low, rel=0.005)


def between(points: list[tuple[float, float]], reps: float) -> float:
    """Load at a number of repetitions, straight between the two points beside it."""
    place = next(index for index, (x, _) in enumerate(points) if x >= reps)
    (x1, y1), (x2, y2) = points[place - 1], points[place]
    return y1 + (y2 - y1) * (reps - x1) / (x2 - x1)


def test_a_title_of_many_long_labels_is_their_number() -> None:
    setups = [{**SQUATS["setups"][0], "label": f"{number} {'long ' * 9}"} for number in range(6)]
    for name, title in (("joint-demand", "Joint moments: 6 setups"), ("spinal-load", "Load of the spine: 6 setups")):
        _, svg = pictured(name, {"lifter": DEMO_LIFTER, "setups": setups})
        assert title in words(svg)


def test_a_setup_whose_lean_was_stated_is_said_not_to_be_drawn() -> None:
    stated = {**SQUATS["setups"][0], "trunk_lean": {"value": 30, "unit": "deg"}}
    _, svg = pictured("spinal-load", {"lifter": DEMO_LIFTER, "setups": [stated, SQUATS["setups"][1]]})
    assert "Not drawn, since the lean was stated: front." in words(svg)
    assert "Not drawn, since the lean was stated: front." in told(svg)


def test_the_knee_of_a_lift_that_bends_it_is_named_beside_its_arm() -> None:
    """In a good morning the label stood across the plumb line."""
    setups = [{"label": "good", "exercise": "good_morning", "load": kg(60)}, SQUATS["setups"][0]]
    _, svg = pictured("joint-demand", {"lifter": DEMO_LIFTER, "setups": setups})
    [arm, *_] = [one for one in read(svg).iter() if one.get("data-arm") == "knee"]
    [label, *_] = [one for one in read(svg).iter(f"{SVG}text") if (one.text or "").startswith("knee ")]
    assert (label.text or "").startswith("knee −")
    assert float(label.attrib["x"]) > max(x for x, _ in ends(arm)) + 5


def test_loads_below_body_mass_are_said_to_be_assistance() -> None:
    request = {**SET, "exercise": "pull_up", "body_mass": kg(72), "set": {"load": kg(10), "reps": 5}}
    assert "load [kg] added to body mass; below 0: assistance" in words(pictured("load-for-reps", request)[1])
    assert "load [kg]" in words(pictured("load-for-reps", SET)[1])
