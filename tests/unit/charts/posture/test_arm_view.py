"""The picture of presses and pulls shows the answer's moments in words, and the arm and its levers to scale."""

from __future__ import annotations

import re
from math import hypot
from typing import Any, Final
from xml.etree import ElementTree as ET

import msgspec
import pytest

from service.api.models.lifter import DEMO_LIFTER, Lifter, body_of
from service.api.serialization.json import Reader
from service.mechanics.arm.segments import arm_of
from tests.support.asking import BY_NAME, ask, kg
from tests.support.drawn import SVG, description, ends, outside, overlapping, read, whole, words

SCALE: Final = 230.0  # [px/m]
LIFTS: Final = {
    "bench": {"exercise": "bench_press", "load": kg(45)},
    "narrow": {
        "exercise": "bench_press",
        "load": kg(40),
        "technique": {"grip_width": {"value": 38, "unit": "cm"}, "wrist_bend": {"value": 30, "unit": "deg"}},
    },
    "incline": {"exercise": "incline_bench_press_dumbbell", "load": kg(30)},
    "row": {"exercise": "barbell_row", "load": kg(40)},
    "cable": {"exercise": "seated_row", "load": kg(30)},
    "pull-up": {"exercise": "pull_up", "load": kg(0)},
    "raise": {"exercise": "lateral_raise", "load": kg(10)},
}
ARM: Final = arm_of(body_of(msgspec.convert(DEMO_LIFTER, Lifter)))


def asked(*names: str) -> dict[str, Any]:
    return {"lifter": DEMO_LIFTER, "setups": [{"label": name, **LIFTS[name]} for name in names]}


def picture(*names: str) -> str:
    operation = BY_NAME["joint-demand"]
    assert operation.picture is not None
    return whole(operation.picture(Reader(operation.request).read(msgspec.json.encode(asked(*names)))))


def lines(svg: str, name: str) -> list[tuple[str, tuple[float, float]]]:
    """Across and up of the lines that carry a name [m], with it, as they are drawn."""
    return [(path.attrib[name], _ends(path)) for path in read(svg).iter(f"{SVG}path") if name in path.attrib]


@pytest.mark.parametrize("name", LIFTS)
def test_the_moments_that_are_said_are_the_answers(name: str) -> None:
    [answer] = ask("joint-demand", asked(name)).setups
    said = description(picture(name))
    for joint in ("shoulder", "elbow", "wrist"):
        if getattr(answer.moments, joint) is None:
            assert f"{joint} next to nothing; " in said
            continue
        found = re.search(rf"{joint} (−?[\d.]+) N·m", said)
        assert found is not None
        assert float(found[1]) == pytest.approx(getattr(answer.moments, joint).value, abs=0.051)
    assert f"{answer.arm.posture.behind_the_body.value:.0f}° behind" in said
    parts = said.partition(f"{name}: ")[2].rstrip(".").split("; ")
    written = " ".join(words(picture(name)))
    assert all(text in written for text in parts)
    free = answer.moments.elbow is None
    assert written.count(" N·m") == (1 if free else 3)


@pytest.mark.parametrize("name", LIFTS)
def test_levers_are_drawn_as_long_as_they_are_said_to_be(name: str) -> None:
    svg = picture(name)
    drawn = {lever: hypot(*across) for lever, across in lines(svg, "data-lever")}
    for joint in ("shoulder", "elbow"):
        levers = r"lever ([\d.]+) cm from the side, ([\d.]+) cm from the front"
        said = re.search(rf"{joint} (?:[\d.]+ N·m|next to nothing).*?{levers}", description(svg))
        assert said is not None
        for side, length in zip(("side", "front"), said.groups(), strict=True):
            assert drawn.get(f"{joint}-{side}", 0.0) * 100 == pytest.approx(float(length), abs=0.5)


def test_the_load_hangs_where_its_levers_say() -> None:
    """A weight's levers are level: the shoulder's are how far the hand is toward the feet and beside the joint."""
    levers = dict(lines(picture("incline"), "data-lever"))
    assert all(abs(up) < 1e-3 for _, up in levers.values())
    # a dumbbell is over the elbow, which has no lever
    assert set(levers) == {"shoulder-side", "shoulder-front"}
    assert levers["shoulder-side"][0] > 0.05
    assert levers["shoulder-front"][0] > 0.2


def test_a_cable_pulls_level_and_a_bar_holds_the_body_up() -> None:
    (forward, up), *_ = [across for _, across in lines(picture("cable"), "data-force")]
    assert forward > 0.1
    assert up == pytest.approx(0.0, abs=1e-3)
    (forward, up), *_ = [across for _, across in lines(picture("pull-up"), "data-force")]
    assert forward == pytest.approx(0.0, abs=1e-3)
    assert up > 0.1


@pytest.mark.parametrize("name", ["bench", "row", "pull-up"])
def test_the_bones_of_both_views_make_the_lifters_arm(name: str) -> None:
    side, front = _by_view(picture(name))
    for segment, length in (("upper_arm-0", ARM.upper_arm), ("forearm-0", ARM.forearm), ("hand-0", ARM.grip)):
        (forward, up), (aside, again) = side[segment], front[segment]
        assert up == pytest.approx(again, abs=1e-3)
        assert hypot(forward, up, aside) == pytest.approx(length, abs=2e-3)


def test_the_arms_of_the_front_view_mirror_each_other() -> None:
    _, front = _by_view(picture("narrow"))
    for segment in ("upper_arm", "forearm", "hand"):
        (one, up), (other, again) = front[f"{segment}-0"], front[f"{segment}-1"]
        assert (one, up) == pytest.approx((-other, again), abs=1e-3)
    out = 2 * (ARM.shoulder_offset + sum(front[f"{segment}-0"][0] for segment in ("upper_arm", "forearm", "hand")))
    assert out == pytest.approx(0.38, abs=2e-3)  # as far apart as the grip that is asked for


@pytest.mark.parametrize("names", [("bench",), ("bench", "narrow"), tuple(LIFTS)])
def test_nothing_lies_over_each_other_or_outside(names: tuple[str, ...]) -> None:
    operation = BY_NAME["joint-demand"]
    assert operation.picture is not None
    for name in names:
        assert overlapping(picture(name)) == []
        assert outside(picture(name)) == []


def test_a_row_stands_beside_a_squat_with_bars_of_what_both_have() -> None:
    request = asked("row")
    request["setups"] = [{"label": "deadlift", "exercise": "deadlift_conventional", "load": kg(80)}, *request["setups"]]
    operation = BY_NAME["joint-demand"]
    assert operation.picture is not None
    svg = whole(operation.picture(Reader(operation.request).read(msgspec.json.encode(request))))
    said = " ".join(element.text or "" for element in read(svg).iter(f"{SVG}desc"))
    assert "trunk lean" in said
    assert "mostly raising the arm" in said
    assert "lower back: row" in said
    assert "shoulder: row" not in said


def _by_view(svg: str) -> tuple[dict[str, tuple[float, float]], dict[str, tuple[float, float]]]:
    """The bones from the side, of one arm, and those from the front, of both."""
    bones = lines(svg, "data-segment")
    return dict(bones[:3]), dict(bones[3:])


def _ends(path: ET.Element) -> tuple[float, float]:
    """Across and up of a line [m]."""
    (x1, y1), (x2, y2) = ends(path)
    return (x2 - x1) / SCALE, (y1 - y2) / SCALE
