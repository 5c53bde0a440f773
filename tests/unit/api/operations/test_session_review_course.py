"""A whole course of care: adjustments, then reviews to which `next` goes back as it came, until the original is back.

Five lifters who differ in everything, with good sessions; each with every option that was shown. And lifters who get
worse, who are never asked for more and end with a professional.
"""

from __future__ import annotations

from typing import Any, Final

import msgspec
import pytest

from service.adjustment.changes import changes_between
from service.api.models.lifter import Lifter
from service.api.models.prescription import Prescription, lifters_prescription
from tests.support.asking import Answered, ask, every_part, kg, lb


def quantity(value: float, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit}


def lifter(body_mass: dict[str, Any], metres: float, **more: object) -> dict[str, Any]:
    return {"body_mass": body_mass, "stature": quantity(metres, "m"), **more}


def complaint(region: str, pain: float, **more: object) -> dict[str, Any]:
    return {"region": region, "pain_in_session": pain, "pain_next_morning": 1, "usual_pain": 1, **more}


def lift(exercise: str, sets: int, low: int, high: int, load: dict[str, Any], **more: object) -> dict[str, Any]:
    return {"exercise": exercise, "sets": sets, "reps": {"low": low, "high": high}, "load": load, **more}


LIFTERS: Final[dict[str, dict[str, Any]]] = {
    "squatter with a sore low back": {
        "lifter": lifter(kg(82), 1.80, sex="male"),
        "prescription": lift("back_squat_high_bar", 4, 5, 6, kg(100), reps_in_reserve=2, days_per_week=2),
        "complaint": complaint("low_back", 4),
        "aim": "strength",
    },
    "strong deadlifter": {
        "lifter": lifter(kg(118), 1.86, sex="male"),
        "prescription": lift("deadlift_conventional", 3, 3, 5, kg(260), reps_in_reserve=2, days_per_week=1),
        "complaint": complaint("low_back", 5),
        "aim": "strength",
    },
    "presser in pounds": {
        "lifter": lifter(lb(143), 1.66, sex="female"),
        "prescription": lift("bench_press", 4, 8, 8, lb(115), reps_in_reserve=2, days_per_week=2, tempo="2-0-1-0"),
        "complaint": complaint("shoulder", 4),
        "aim": "muscle_size",
    },
    "patellar tendon": {
        "lifter": lifter(kg(71), 1.75, sex="male"),
        "prescription": lift("front_squat", 4, 6, 8, kg(70), reps_in_reserve=2, days_per_week=3),
        "complaint": complaint("knee", 4),
        "aim": "tendon",
    },
    "pull-ups of a light lifter": {
        "lifter": lifter(kg(58), 1.63, sex="female"),
        "prescription": lift("pull_up", 3, 5, 6, kg(5), reps_in_reserve=2, days_per_week=2),
        "complaint": complaint("elbow", 6),
        "aim": "maintain",
    },
}
MOST_REVIEWS: Final = 40


def reviewed(case: dict[str, Any], now: dict[str, Any], sessions: list[dict[str, Any]], **more: object) -> Answered:
    return ask(
        "session-review",
        {
            "prescription": now,
            "original": case["prescription"],
            "lifter": case["lifter"],
            "aim": case["aim"],
            "region": case["complaint"]["region"],
            "usual_pain": 1,
            "sessions": sessions,
            **more,
        },
    )


def good_session(now: dict[str, Any]) -> dict[str, Any]:
    """Exactly what was prescribed, with as much left."""
    done = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [now["reps"]["low"]] * int(now["sets"])}
    left = now["reps_in_reserve"]
    return done if left is None else done | {"reps_in_reserve": left}


def differing(case: dict[str, Any], before: dict[str, Any], after: dict[str, Any]) -> set[str]:
    """What differs between two prescriptions as JSON."""
    body = msgspec.convert(case["lifter"], Lifter)
    one, other = (
        lifters_prescription(msgspec.convert(each, Prescription), body, "/prescription") for each in (before, after)
    )
    return set(changes_between(one, other))


@pytest.mark.parametrize("name", LIFTERS)
def test_good_sessions_lead_from_every_option_back_to_the_original(name: str) -> None:
    case = LIFTERS[name]
    options = ask("adjustments", case | {"limit": 10}).options
    assert options
    for option in options:
        now = every_part(option.prescription)
        seen = [now]
        back = False
        while not back and len(seen) <= MOST_REVIEWS:
            answer = reviewed(case, now, [good_session(now)] * 2)
            after = every_part(answer.next)
            assert differing(case, now, after) == set(answer.changed)
            back = answer.decision == "back_to_original"
            assert back or (answer.decision == "progress" and after not in seen)
            seen.append(after)
            now = after
        assert back, (option.rank, now)
        assert differing(case, now, case["prescription"]) == set()


@pytest.mark.parametrize("name", LIFTERS)
def test_a_lifter_who_gets_worse_each_morning_is_never_asked_for_more_and_ends_with_a_professional(name: str) -> None:
    case = LIFTERS[name]
    for option in ask("adjustments", case).options:
        now: dict[str, Any] | None = every_part(option.prescription)
        sessions: list[dict[str, Any]] = []
        ended = False
        for count in range(12):
            assert now is not None
            earlier = [one | {"earlier_prescription": True} for one in sessions]
            sessions = [*earlier, good_session(now) | {"pain_next_morning": min(10, 1 + 0.75 * count)}]
            answer = reviewed(case, now, sessions)
            assert answer.decision in {"hold", "step_back"}
            if answer.professional_review is not None or answer.next is None:
                ended = True
                break
            after = every_part(answer.next)
            assert set(answer.changed) <= {"load", "assistance", "sets", "reps", "hold"}
            assert after["load"]["value"] <= now["load"]["value"]
            assert (after["assistance"] or {"value": 0})["value"] >= (now["assistance"] or {"value": 0})["value"]
            assert after["sets"] <= now["sets"]
            assert after["reps"]["high"] <= now["reps"]["high"]
            now = after
        assert ended


def test_a_step_back_returns_to_the_step_before_and_the_way_goes_on_from_there() -> None:
    case = LIFTERS["squatter with a sore low back"]
    case = case | {"prescription": case["prescription"] | {"load": kg(140)}}
    only_load = {"constraints": {"levers": ["load"]}}
    [lighter] = ask("adjustments", case | only_load).options
    before = msgspec.to_builtins(lighter.prescription)
    now = msgspec.to_builtins(reviewed(case, before, [good_session(before)] * 2).next)
    bad = good_session(now) | {"pain_in_session": 6}
    answer = reviewed(case, now, [bad], previous=before)
    assert answer.decision == "step_back"
    returned = every_part(answer.next)
    assert differing(case, returned, before) == set()
    again = reviewed(case, returned, [good_session(returned)] * 2)
    assert differing(case, msgspec.to_builtins(again.next), now) == set()
