"""The picture of a return shows the steps of its answer, with the numbers that the answer gives. All derived."""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest

from service.api.operations.return_plan.chart import return_plan_chart
from service.api.operations.return_plan.examples import EXAMPLES
from service.api.operations.return_plan.handler import return_plan
from service.api.operations.return_plan.models import ReturnPlan, ReturnPlanAnswer
from service.api.serialization.json import Reader
from service.messages.citations import cited
from tests.support.drawn import SVG, description, ends, outside, overlapping, read, whole, words

READER: Final = Reader(ReturnPlan)
FROM_SAFETY_BAR, FROM_BELT_SQUAT, AFTER_WEEKS_OFF, IN_ITS_WEEK = (example.request for example in EXAMPLES)
BENCH: Final = {
    "exercise": "bench_press",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": {"value": 220, "unit": "lb"},
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
FROM_FLOOR_PRESS: Final = {
    "lifter": FROM_SAFETY_BAR["lifter"],
    "original": BENCH,
    "adjusted": {**BENCH, "exercise": "floor_press", "sets": 2, "load": {"value": 130, "unit": "lb"}},
    "region": "shoulder",
}
CASES: Final = {
    "safety bar": FROM_SAFETY_BAR,
    "belt squat": FROM_BELT_SQUAT,
    "weeks off": AFTER_WEEKS_OFF,
    "in its week": IN_ITS_WEEK,
    "floor press": FROM_FLOOR_PRESS,
}


def pictured(request: dict[str, Any]) -> tuple[ReturnPlanAnswer, str]:
    asked = READER.read(msgspec.json.encode(request))
    answer = return_plan(asked)
    return answer, whole(return_plan_chart(asked))


@pytest.mark.parametrize("name", list(CASES))
def test_every_step_stands_at_the_demand_that_the_answer_gives(name: str) -> None:
    answer, svg = pictured(CASES[name])
    shown = {int(path.attrib["data-week"]): path for path in read(svg).iter(f"{SVG}path") if path.get("data-week")}
    assert set(shown) - {0} == {step.week for step in answer.steps}
    for step in answer.steps:
        if step.evidence == "direction_only":
            assert shown[step.week].get("class") == "untold"
        else:
            drawn = float(shown[step.week].attrib["data-ratio"])
            assert drawn == pytest.approx(step.demand[answer.region].value, abs=1e-5)
    assert ends(shown[answer.steps[-1].week])[0][1] == min(ends(path)[0][1] for path in shown.values())
    assert overlapping(svg) == []
    assert outside(svg) == []


@pytest.mark.parametrize("name", list(CASES))
def test_gates_fallbacks_and_cautions_are_told(name: str) -> None:
    answer, svg = pictured(CASES[name])
    said, shown = description(svg), " ".join(words(svg))
    assert answer.weeks is not None
    assert f"{answer.weeks.low} to {answer.weeks.high} weeks" in shown
    for gate in {step.gate.text[0].text for step in answer.steps}:
        assert gate in said
    for step in answer.steps:
        assert (f"back to week {step.fallback}." if step.fallback else "back to the adjusted prescription.") in said
        assert step.test_first is None or all(line.text in said for line in step.test_first.text)
    assert any(step.test_first for step in answer.steps) == (name not in ("safety bar", "in its week"))
    for caution in answer.cautions:
        assert cited(caution.text) in shown


def test_the_way_starts_at_the_adjusted_prescription_unless_there_was_a_break() -> None:
    assert "As adjusted: Safety-bar squat" in description(pictured(FROM_SAFETY_BAR)[1])
    assert "As adjusted" not in description(pictured(AFTER_WEEKS_OFF)[1])


def test_loads_are_told_in_the_unit_asked_about() -> None:
    shown = " ".join(words(pictured(FROM_FLOOR_PRESS)[1]))
    assert "130 lb" in shown
    assert "220 lb" in shown
    assert " kg" not in shown
