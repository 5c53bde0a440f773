"""A course of care, asked with ask.py beside it: python course.py."""

from __future__ import annotations

import sys
from itertools import chain, repeat
from typing import Any

from ask import Refused, ask, kg

LIFTER = {"body_mass": kg(64), "stature": {"value": 168, "unit": "cm"}, "sex": "female"}
SQUAT = {
    "exercise": "front_squat",
    "sets": 4,
    "reps": {"low": 5, "high": 6},
    "load": kg(62.5),
    "reps_in_reserve": 2,
    "days_per_week": 2,
}
GYM = {"bar": {"bar": kg(15)}}
# pain in the session and the next morning; after the last the sessions go on as it went
CAME = [(3, 1.5), (2, 1), (1.5, 1), (2, 1), (1.5, 1), (4, 3.5), (1.5, 1)]


def main() -> int:
    """The demo scenario: front squats that hurt the low back, until they are done again as before."""
    try:
        answer = consultation()
        if answer["options"]:
            course_of_care(answer["options"][0]["prescription"])
    except Refused as refused:
        print(refused, file=sys.stderr)
        return 1
    return 0


def consultation() -> dict[str, Any]:
    """What to change, with what it saves the low back."""
    complaint = {"region": "low_back", "pain_in_session": 4, "usual_pain": 1}
    question = {"lifter": LIFTER, "prescription": SQUAT, "complaint": complaint, "aim": "strength"}
    answer: dict[str, Any] = ask("adjustments", question | {"constraints": {"gym": GYM}})
    if answer["decision"] in ("refer", "confirm_first", "pause_and_review"):  # a professional first, or too much pain
        for one in answer["why"]:
            print(one["text"])
    for option in answer["options"]:
        print(f"{option['rank']}. {option['words']}")
        demand = option["demand"].get("low_back")  # only a direction is known of some
        if demand:
            print(f"   low back {demand['value']:.2f} of now ({demand['low']:.2f} to {demand['high']:.2f})")
    return answer


def course_of_care(now: dict[str, Any]) -> None:
    """The way ahead, then a review after each session, whose next prescription is sent back as it came."""
    case = {"lifter": LIFTER, "original": SQUAT, "region": "low_back", "gym": GYM}
    weeks = ask("return-plan", case | {"adjusted": now})["weeks"]
    print(f"Back in {weeks['low']} to {weeks['high']} weeks")
    sessions: list[dict[str, Any]] = []
    previous = None
    for pain, morning in chain(CAME, repeat(CAME[-1], 50)):
        done = [now["reps"]["high"]] * now["sets"]
        sessions.append({"pain_in_session": pain, "pain_next_morning": morning, "reps_done": done})
        question = case | {"prescription": now, "previous": previous, "sessions": sessions[-28:]}
        review = ask("session-review", question | {"aim": "strength", "usual_pain": 1})
        print(f"{len(sessions)}. pain {pain}, {morning} next morning: {review['decision']}")
        if review["next"] is None or review["decision"] == "back_to_original":
            return
        if review["changed"]:
            sessions = [one | {"earlier_prescription": True} for one in sessions]
            previous = now if review["decision"] == "progress" else None
            now = review["next"]


if __name__ == "__main__":
    sys.exit(main())
