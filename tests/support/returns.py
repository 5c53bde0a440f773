"""Random ways back for `return-plan`, as requests and as the search sees them."""

from __future__ import annotations

import json
from typing import Any, Final

from hypothesis import reject
from hypothesis import strategies as st

from service.adjustment.return_plan.problem import ReturnCase
from service.api.operations.return_plan.models import ReturnPlan
from service.api.operations.return_plan.planning import return_case
from service.api.serialization.json import Reader
from service.errors import Refusal
from service.knowledge.cues import CUES
from tests.support.asking import kg
from tests.support.consultations import lifters

READER: Final = Reader(ReturnPlan)
BAR: Final = {"bar": kg(15), "plates": [{"plate": kg(plate)} for plate in (1.25, 2.5, 5, 10, 20)]}
SQUATS: Final = ("front_squat", "back_squat_high_bar", "back_squat_low_bar", "safety_bar_squat")
WAY: Final[dict[str, tuple[str, ...]]] = {
    **dict.fromkeys(SQUATS, (*SQUATS, "belt_squat", "split_squat", "leg_press")),
    "deadlift_conventional": ("deadlift_conventional", "deadlift_trap_bar", "romanian_deadlift"),
    "bench_press": ("bench_press", "bench_press_dumbbell", "floor_press"),
    "barbell_row": ("barbell_row", "chest_supported_row"),
}
REGIONS: Final = {
    "bench_press": ("shoulder", "elbow"),
    "barbell_row": ("low_back", "elbow"),
    "deadlift_conventional": ("low_back", "hip"),
}
WITH_DEPTH: Final = frozenset(SQUATS)


@st.composite
def returns(draw: st.DrawFn, *, coarse: bool = False) -> dict[str, Any]:
    """A return as a request; coarse: with few plates and little dose, so that every way can be tried."""
    exercise = draw(st.sampled_from(list(WAY)))
    sets, low, more = draw(st.integers(1, 3 if coarse else 6)), draw(st.integers(1, 8)), draw(st.integers(0, 2))
    load = draw(st.integers(12, 56)) * 2.5
    days = draw(st.sampled_from([None, 1, 2, 3]))
    original: dict[str, Any] = {
        "exercise": exercise, "sets": sets, "reps": {"low": low, "high": low + more}, "load": kg(load),
        "reps_in_reserve": draw(st.sampled_from([0, 1, 2.5])),
    }  # fmt: skip
    substitute = draw(st.sampled_from(WAY[exercise]))
    fewer = draw(st.integers(0, 2))
    adjusted: dict[str, Any] = {
        **original,
        "exercise": substitute,
        "sets": max(1, sets - draw(st.integers(0, 2))),
        "reps": {"low": max(1, low - fewer), "high": max(1, low + more - fewer)},
        "load": kg(max(15.0, round(load * draw(st.sampled_from([0.5, 0.7, 0.8, 0.9, 1.0])) / 2.5) * 2.5)),
        "reps_in_reserve": draw(st.sampled_from([1, 2.5, 4])),
    }
    if days is not None:
        original["days_per_week"] = days
        adjusted["days_per_week"] = draw(st.integers(1, 4))
    if substitute in WITH_DEPTH and draw(st.booleans()):
        adjusted["depth"] = {"thigh_below_horizontal": {"value": draw(st.sampled_from([-30, -17, -10])), "unit": "deg"}}
    if draw(st.booleans()):
        adjusted["tempo"] = "3-0-3-0"
    bar = {"bar": kg(20), "plates": [{"plate": kg(5)}, {"plate": kg(10)}, {"plate": kg(20)}]} if coarse else BAR
    return {
        "lifter": draw(lifters),
        "original": original,
        "adjusted": adjusted,
        "region": draw(st.sampled_from(REGIONS.get(exercise, ("low_back", "knee", "hip")))),
        "step": draw(st.sampled_from([0.05, 0.1, 0.17, 0.3])),
        "bar": bar,
        "increment": kg(10 if coarse else 2),
    }


@st.composite
def far_apart(draw: st.DrawFn) -> dict[str, Any]:
    """A return between prescriptions as far apart as may be stated, in any part of them."""
    request = draw(returns())
    for name, most in (("original", 10), ("adjusted", 100)):
        prescription = request[name]
        low, high = sorted((draw(st.integers(1, most)), draw(st.sampled_from([1, 5, most]))))
        prescription |= {"sets": draw(st.sampled_from([1, 2, 4, 25, 50])), "reps": {"low": low, "high": high}}
        prescription["load"] = kg(draw(st.sampled_from([15, 20, 60, 150])))
        if draw(st.booleans()):
            prescription["days_per_week"] = draw(st.integers(1, 7))
        prescription["cues"] = draw(st.lists(st.sampled_from(list(CUES)), max_size=20, unique=True))
        if draw(st.booleans()):
            prescription["hold"] = {"value": draw(st.sampled_from([1, 45, 300])), "unit": "s"}
        if draw(st.booleans()):
            prescription["depth"] = {"knee_flexion": {"value": draw(st.sampled_from([30, 60, 100])), "unit": "deg"}}
    kept = draw(st.sampled_from(["original", "adjusted"]))
    if draw(st.booleans()):
        request["adjusted" if kept == "original" else "original"]["exercise"] = request[kept]["exercise"]
    return request | {
        "step": draw(st.sampled_from([0.02, 0.1, 0.5])),
        "weeks_off": draw(st.sampled_from([0, 1, 12, 52])),
    }


def case_of(request: dict[str, Any]) -> ReturnCase:
    """The case of a request; another example where the model does not cover the lifter or the prescriptions."""
    try:
        return return_case(READER.read(json.dumps(request).encode()))
    except Refusal:
        reject()
