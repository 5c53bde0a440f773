"""Whatever is asked, no page of a picture is larger than a sheet, lays text over text, or shows an id for words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any, Final

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from service.api.operations.registry import OPERATIONS
from service.charts.elements.layout import LARGEST, Sheet
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.posture_rules import EXERCISE_RULES
from tests.support.asking import BY_NAME, decoded, in_full
from tests.support.consultations import consultations, lifters, prescriptions
from tests.support.drawn import SVG, assert_title_and_alternative, colourless, outside, overlapping, read
from tests.support.returns import far_apart, returns

JOINED: Final = re.compile(r"[a-z]+(?:_[a-z0-9]+)+")
LABELS: Final = ("front squat", 57 * "W", "a label as long as a label may be, of some sixty letters")
EXAMPLES: Final = settings(max_examples=30)
Request = dict[str, Any]


@st.composite
def weeks(draw: st.DrawFn) -> Request:
    """Up to forty lifts of the catalogue on any days."""
    names = st.sampled_from(sorted(EXERCISES))
    count = draw(st.sampled_from([1, 3, 6, 12, 40]))
    week = []
    for _ in range(count):
        lift = draw(prescriptions(draw(names), "kg"))
        lift.pop("days_per_week", None)
        week.append({"day": draw(st.integers(1, 7)), "prescription": lift})
    return {"lifter": draw(lifters), "week": week}


@st.composite
def changed_weeks(draw: st.DrawFn) -> Request:
    complaint = {
        "region": draw(st.sampled_from(sorted(REGIONS))),
        "pain_in_session": draw(st.sampled_from([1, 4, 4, 4, 6, 9])),
    }
    return {**draw(weeks()), "complaint": complaint, "aim": draw(st.sampled_from(["muscle_size", "strength"]))}


@st.composite
def setups(draw: st.DrawFn, among: Sequence[str]) -> Request:
    """Up to ten setups with labels of any length."""
    exercises = draw(st.lists(st.sampled_from(among), min_size=2, max_size=10))
    return {
        "lifter": draw(lifters),
        "setups": [
            {
                "label": f"{draw(st.sampled_from(LABELS))} {number}",
                "exercise": exercise,
                "load": {"value": draw(st.integers(8, 40)) * 2.5, "unit": "kg"},
            }
            for number, exercise in enumerate(exercises)
        ],
    }


def pages_of(name: str, request: Request) -> list[Sheet]:
    """All pages of a picture; another example where the operation refuses the question."""
    picture = BY_NAME[name].picture
    assert picture is not None
    try:
        return list(picture(decoded(name, request)))
    except Refusal:
        reject()


def hold(pages: list[Sheet]) -> None:
    numbers = [re.findall(r"Page (\d+) of (\d+)", page.svg()) for page in pages]
    assert len(pages) == 1 or numbers == [[(str(number), str(len(pages)))] for number in range(1, len(pages) + 1)]
    for page in pages:
        svg = page.svg()
        root = read(svg)
        assert float(root.attrib["width"]) <= LARGEST
        assert float(root.attrib["height"]) <= LARGEST
        assert overlapping(svg) == []
        assert outside(svg) == []
        assert colourless(svg) == []
        said = [text for one in root.iter() if one.tag != f"{SVG}style" and (text := one.text)]
        assert len(said) > 3
        assert JOINED.findall(" ".join(said)) == []
        assert_title_and_alternative(svg)


@EXAMPLES
@given(consultations)
def test_pages_of_a_consultation(request: Request) -> None:
    hold(pages_of("adjustments", {**in_full(request), "limit": 20}))


@EXAMPLES
@given(st.one_of(returns(), far_apart()))
def test_pages_of_a_way_back(request: Request) -> None:
    hold(pages_of("return-plan", request))


@EXAMPLES
@given(weeks())
def test_pages_of_a_week(request: Request) -> None:
    hold(pages_of("week-demand", request))


@EXAMPLES
@given(changed_weeks())
def test_pages_of_new_weeks(request: Request) -> None:
    hold(pages_of("week-adjustments", request))


@EXAMPLES
@given(setups(sorted(EXERCISES)))
def test_pages_of_joint_moments(request: Request) -> None:
    hold(pages_of("joint-demand", request))


@EXAMPLES
@given(setups([*sorted(EXERCISE_RULES), "barbell_row"]))
def test_pages_of_the_spine(request: Request) -> None:
    hold(pages_of("spinal-load", request))


@pytest.mark.parametrize(
    ("operation", "example"),
    [(operation, example) for operation in OPERATIONS if operation.picture for example in operation.examples],
    ids=lambda one: one.name,
)
def test_pages_of_the_examples(operation: Any, example: Any) -> None:  # noqa: ANN401 - parametrized
    hold(pages_of(operation.name, example.request))
