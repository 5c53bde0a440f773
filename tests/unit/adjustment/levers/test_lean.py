"""A bent-over row more upright, for a sore low back."""

from __future__ import annotations

from math import degrees
from typing import Any

import pytest

from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.search import candidates
from service.mechanics.technique import asked_lean
from tests.support.asking import Answered, ask, in_full, kg
from tests.support.consultations import case_of

CUE = "row_more_upright"


def request(region: str = "low_back", lean: float | None = None, pain: float = 4, **told: Any) -> dict[str, Any]:  # noqa: ANN401
    row: dict[str, Any] = {"exercise": "barbell_row", "sets": 4, "reps": {"low": 8, "high": 10}, "load": kg(65)}
    if lean is not None:
        row["technique"] = {"trunk_lean": {"value": lean, "unit": "deg"}}
    return {
        "lifter": {"body_mass": kg(73), "stature": {"value": 175, "unit": "cm"}, "sex": "male"},
        "prescription": row | {"reps_in_reserve": 2, "days_per_week": 2},
        "complaint": {"region": region, "pain_in_session": pain, **told},
        "aim": "muscle_size",
    }


def upright(case: Case) -> list[Candidate]:
    found = (one for one in candidates(case) if isinstance(one, Candidate))
    return [one for one in found if "technique" in one.levers and asked_lean(one.prescription.technique) is not None]


def leans(case: Case) -> set[int]:
    return {round(degrees(asked_lean(one.prescription.technique) or 0.0)) for one in upright(case)}


def test_the_least_change_that_does_it_is_a_candidate_with_a_number() -> None:
    case = case_of(request())
    assert leans(case) == {50}
    assert all(one.meets_by == "peak" and one.effects["low_back"].ratio < case.target for one in upright(case))  # type: ignore[operator]


@pytest.mark.parametrize(("tolerated", "lean"), [(60, {50}), (52, {45}), (44, {40}), (38, set())])
def test_more_relief_takes_a_row_that_is_more_upright(tolerated: float, lean: set[int]) -> None:
    harder = request(tolerated={"load": kg(tolerated)}) | {"constraints": {"levers": ["technique"]}}
    assert leans(case_of(harder)) == lean


def test_it_starts_from_the_lean_that_is_stated_and_ends_where_it_is_no_row() -> None:
    assert leans(case_of(request(lean=48))) == {38}
    assert leans(case_of(request(lean=38))) == set()


@pytest.mark.parametrize("lean", [None, 48, 35])
def test_no_cue_says_what_is_computed(lean: float | None) -> None:
    cued = [one for one in candidates(case_of(request(lean=lean))) if isinstance(one, Candidate)]
    assert not any(CUE in one.prescription.cues for one in cued)


def test_a_hip_has_the_cue_and_no_number() -> None:
    found = [one for one in candidates(case_of(request("hip"))) if isinstance(one, Candidate)]
    assert any(CUE in one.prescription.cues for one in found)
    assert not upright(case_of(request("hip")))


@pytest.mark.parametrize("region", ["shoulder", "elbow", "wrist"])
def test_an_arm_has_neither(region: str) -> None:
    assert not upright(case_of(request(region)))


def answer(**told: Any) -> Answered:  # noqa: ANN401
    return ask("adjustments", in_full(request(**told)))


def test_what_it_costs_is_said_with_its_span() -> None:
    [option] = [one for one in answer().options if one.levers[0] == "technique"]
    assert "row_more_upright" in option.cautions
    assert option.demand["low_back"].low < option.demand["low_back"].value < option.demand["low_back"].high
    assert option.demand["shoulder"].value == pytest.approx(option.prescription.load.value / 65, abs=0.02)
    assert "Let the trunk lean 50 degrees forward at the bottom." in [one.text for one in option.why]


def test_less_load_has_the_span_that_joint_demand_has_on_average_or_less() -> None:
    [option] = [one for one in answer(pain=7).options if one.levers == ["load"]]
    of_row = {"label": "now", "exercise": "barbell_row", "load": kg(65)}
    lighter = of_row | {"label": "new", "load": kg(option.prescription.load.value)}
    asked = ask("joint-demand", {"lifter": request()["lifter"], "setups": [of_row, lighter]}).setups[1]
    low_back = option.demand["low_back"]
    assert (low_back.value, low_back.low, low_back.high) == pytest.approx(
        [getattr(asked.relative.lumbosacral, name) for name in ("value", "low", "high")], abs=6e-4
    )
