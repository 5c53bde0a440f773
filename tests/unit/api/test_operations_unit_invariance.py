"""The same question in pounds and in kilograms has the same answer, each in the unit of its question."""

from __future__ import annotations

import re
from typing import Any, Final, get_args

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import Refusal
from service.units import SI
from service.vocabulary import Implement
from tests.support.asking import BY_NAME, ask, kg

EXAMPLES: Final = settings(max_examples=60, deadline=None, derandomize=True)
BAR: Final = {"bar": {"bar": {"value": 20, "unit": "kg"}, "plates": [{"plate": {"value": 1.25, "unit": "kg"}}]}}
ROUNDED: Final = 1.01e-4  # plain ratios are given to four decimals
MASSES: Final = {"kg", "lb"}
MASS_IN_WORDS: Final = re.compile(r"(\d[\d.]*) (?:kg|lb)\b")


def in_pounds_and_inches(node: Any) -> Any:  # noqa: ANN401 - any JSON
    if isinstance(node, dict):
        if node.get("unit") == "kg":
            return {"value": node["value"] / SI["lb"], "unit": "lb"}
        if node.get("unit") == "cm":
            return {"value": node["value"] / 2.54, "unit": "in"}
        return {key: in_pounds_and_inches(value) if key != "bar" else value for key, value in node.items()}
    return [in_pounds_and_inches(value) for value in node] if isinstance(node, list) else node


def compare(metric: Any, pounds: Any, where: str = "") -> int:  # noqa: ANN401 - any JSON
    """Checks two answers against each other; returns how many masses were compared."""
    if isinstance(metric, dict):
        assert metric.keys() == pounds.keys(), where
        if metric.get("unit") in MASSES:
            assert (metric["unit"], pounds["unit"]) == ("kg", "lb"), where
            for key in metric.keys() & {"value", "low", "high"}:
                assert pounds[key] * SI["lb"] == pytest.approx(metric[key], rel=1.01e-5, abs=1e-9), f"{where}/{key}"
            return 1
        return sum(compare(metric[key], pounds[key], f"{where}/{key}") for key in metric)
    if isinstance(metric, list):
        assert len(metric) == len(pounds), where
        pairs = enumerate(zip(metric, pounds, strict=True))
        return sum(compare(one, other, f"{where}/{n}") for n, (one, other) in pairs)
    if isinstance(metric, float):
        assert pounds == pytest.approx(metric, rel=1e-5, abs=ROUNDED), where
    elif isinstance(metric, str):
        return compare_words(metric, pounds, where)
    else:
        assert pounds == metric, where
    return 0


def compare_words(metric: str, pounds: str, where: str) -> int:
    assert MASS_IN_WORDS.sub("", pounds) == MASS_IN_WORDS.sub("", metric), where
    masses = [float(number) * SI["lb"] for number in MASS_IN_WORDS.findall(pounds)]
    assert masses == pytest.approx([*map(float, MASS_IN_WORDS.findall(metric))], rel=1.01e-5), where
    return len(masses)


def answer_or_pointers(name: str, request: dict[str, Any]) -> Any:  # noqa: ANN401 - any JSON
    """The answer as JSON, or the pointers of the faults for which it is refused."""
    try:
        return msgspec.to_builtins(ask(name, request))
    except Refusal as refusal:
        return [fault.pointer for fault in refusal.faults]


def same_in_both(name: str, request: dict[str, Any]) -> None:
    metric, pounds = answer_or_pointers(name, request), answer_or_pointers(name, in_pounds_and_inches(request))
    masses = compare(metric, pounds)
    assert masses > 0 or isinstance(metric, list)


loads = st.integers(20, 480).map(lambda n: kg(n / 2))
reps = st.integers(1, 12)
reserves = st.sampled_from([0, 1, 2.5, 4])
sets = st.fixed_dictionaries({"load": loads, "reps": reps, "reps_in_reserve": reserves})
exercise = {"exercise": st.sampled_from(["front_squat", "bench_press", "leg_press"])}
own_sets = {"own_sets": st.lists(sets, max_size=3)}
targets = st.fixed_dictionaries({"reps": reps, "reps_in_reserve": reserves})
loads_wanted = st.fixed_dictionaries({"load": loads, "reps_in_reserve": reserves})
ranges = st.tuples(st.integers(1, 10), st.integers(0, 4)).map(lambda pair: {"low": pair[0], "high": sum(pair)})


@EXAMPLES
@given(st.fixed_dictionaries({"set": sets, "target": targets}, optional={**exercise, **own_sets}))
def test_load_for_reps(request: dict[str, Any]) -> None:
    same_in_both("load-for-reps", {**request, **BAR})


@EXAMPLES
@given(st.fixed_dictionaries({"set": sets, "target": loads_wanted}, optional={**exercise, **own_sets}))
def test_reps_for_load(request: dict[str, Any]) -> None:
    same_in_both("reps-for-load", request)


@EXAMPLES
@given(st.fixed_dictionaries({"sets": st.lists(sets, min_size=1, max_size=4)}, optional=exercise))
def test_estimated_max(request: dict[str, Any]) -> None:
    same_in_both("estimated-max", request)


current = st.fixed_dictionaries(
    {"sets": st.integers(1, 8), "reps": ranges, "load": loads}, optional={"reps_in_reserve": reserves}
)


@EXAMPLES
@given(
    st.fixed_dictionaries({"current": current, "new_load": loads}, optional={"new_sets": st.integers(1, 8), **exercise})
)
def test_rep_targets(request: dict[str, Any]) -> None:
    same_in_both("rep-targets", request)


@EXAMPLES
@given(st.integers(7, 30), ranges, loads, st.integers(1, 7))
def test_session_split(weekly: int, reps_: dict[str, int], load: dict[str, Any], days: int) -> None:
    weekly_sets = {"low": weekly, "high": weekly + 2}
    same_in_both("session-split", {"weekly_sets": weekly_sets, "days": days, "reps": reps_, "load": load})


stances = st.sampled_from(["bilateral", "split_squat", "lunge", "rear_foot_elevated_split_squat", "single_leg"])


@EXAMPLES
@given(stances, loads, loads, st.integers(40, 140).map(kg), stances)
def test_leg_distribution(
    stance: str, load: dict[str, Any], other_load: dict[str, Any], body: dict[str, Any], other: str
) -> None:
    match = {"stance": other, "load": other_load}
    same_in_both("leg-distribution", {"stance": stance, "load": load, "body_mass": body, "match": match})


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.lists(loads, min_size=2, max_size=3), st.integers(50, 120).map(kg))
def test_spinal_load(many: list[dict[str, Any]], body: dict[str, Any]) -> None:
    lean = {"value": 30, "unit": "deg"}
    setups = [
        {"label": str(n), "exercise": "front_squat", "load": load, "trunk_lean": lean} for n, load in enumerate(many)
    ]
    lifter = {"body_mass": body, "stature": {"value": 170, "unit": "cm"}}
    same_in_both("spinal-load", {"setups": setups, "lifter": lifter})


@EXAMPLES
@given(st.integers(40, 400), st.sampled_from(["nearest", "down", "up"]))
def test_bar_loading_of_a_kilogram_bar(halves: int, rounding: str) -> None:
    request = {"target": kg(halves / 2 + 0.3), "rounding": rounding, "bar": {"bar": kg(20)}}
    metric, pounds = ask("bar-loading", request), ask("bar-loading", in_pounds_and_inches(request))
    assert (metric.load, metric.per_side) == (pounds.load, pounds.per_side)
    assert pounds.difference * SI["lb"] == pytest.approx(metric.difference, abs=1e-3)


@EXAMPLES
@given(st.integers(1, 5), st.integers(8, 14), st.integers(60, 300), loads, st.sampled_from([0, 1, 2]))
def test_rest(sets_: int, first: int, rest: int, load: dict[str, Any], reserve: int) -> None:
    between = {"value": rest, "unit": "s"}
    request = {"sets": sets_, "reps": first, "rest": between, "load": load, "reps_in_reserve": reserve, **BAR}
    if first + reserve <= 12:  # the load drop was measured near ten repetitions
        same_in_both("rest", request)


lifts_of_legs = st.fixed_dictionaries(
    {
        "exercise": st.sampled_from(["front_squat", "deadlift_conventional", "romanian_deadlift", "leg_press"]),
        "sets": st.integers(1, 5),
        "reps": ranges,
        "load": st.integers(80, 240).map(lambda n: kg(n / 2)),
        "reps_in_reserve": reserves,
    }
)
weeks = st.lists(
    st.fixed_dictionaries({"day": st.integers(1, 7), "prescription": lifts_of_legs}), min_size=1, max_size=3
)
of_a_lifter = {
    "lifter": st.integers(50, 120).map(lambda n: {"body_mass": kg(n), "stature": {"value": 170, "unit": "cm"}}),
    "week": weeks,
    "aim": st.sampled_from(["strength", "muscle_size", "maintain"]),
}


@settings(max_examples=25, deadline=None, derandomize=True)
@given(st.fixed_dictionaries(of_a_lifter))
def test_week_demand(request: dict[str, Any]) -> None:
    metric, pounds = (
        answer_or_pointers("week-demand", request),
        answer_or_pointers("week-demand", in_pounds_and_inches(request)),
    )
    compare(metric, pounds)  # shares, moments and sets: no mass is answered


STEPLESS: Final = {"band", "body_weight"}
OTHERS: Final = [{"implement": one, "step": kg(2.5)} for one in get_args(Implement) if one not in STEPLESS]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.fixed_dictionaries(of_a_lifter), st.sampled_from(["low_back", "knee"]), st.integers(3, 6))
def test_week_adjustments(request: dict[str, Any], region: str, pain: int) -> None:
    """In a gym whose every step is stated: the usual steps are others in pounds, and with them the loads."""
    gym = {"gym": {**BAR, "implements": OTHERS}}
    sore = {"complaint": {"region": region, "pain_in_session": pain}, "constraints": gym}
    metric, pounds = (
        answer_or_pointers("week-adjustments", one) for one in (request | sore, in_pounds_and_inches(request | sore))
    )
    masses = compare(metric, pounds)
    assert masses > 0 or metric["options"] == []


def test_every_operation_that_takes_a_mass_is_compared() -> None:
    compared = {
        "load-for-reps", "reps-for-load", "estimated-max", "rep-targets", "session-split", "leg-distribution",
        "spinal-load", "bar-loading", "rest", "week-demand", "week-adjustments",
    }  # fmt: skip
    elsewhere = {
        "adjustments",
        "session-review",
        "return-plan",
        "joint-demand",
        "tempo",
    }  # tempo takes no mass; the others have tests of their own
    assert compared | elsewhere == set(BY_NAME)
