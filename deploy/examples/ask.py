"""Asks for adjusted prescriptions with Python's standard library: python ask.py [address of the service]."""

from __future__ import annotations

import json
import sys
import urllib.error
import urllib.request
from typing import Any


class Refused(Exception):
    """A question without an answer, in the service's own words."""


def ask(service: str, operation: str, question: dict[str, Any]) -> dict[str, Any]:
    """The answer of one operation. Raises Refused with every fault of the question."""
    request = urllib.request.Request(
        f"{service}/v1/{operation}", json.dumps(question).encode(), {"content-type": "application/json"}
    )
    try:
        with urllib.request.urlopen(request, timeout=10) as reply:
            answer: dict[str, Any] = json.load(reply)
            return answer
    except urllib.error.HTTPError as error:
        problem = json.load(error)
        faults = [f"{fault.get('pointer', '')}: {fault['detail']}" for fault in problem.get("errors", [])]
        raise Refused("\n".join(faults) or problem["detail"]) from None


def kg(value: float) -> dict[str, Any]:
    """A mass."""
    return {"value": value, "unit": "kg"}


def main(service: str) -> int:
    """The demo scenario: front squats that hurt the low back."""
    question = {
        "lifter": {"body_mass": kg(64), "stature": {"value": 168, "unit": "cm"}, "sex": "female"},
        "prescription": {
            "exercise": "front_squat",
            "sets": 4,
            "reps": {"low": 5, "high": 6},
            "load": kg(62.5),
            "reps_in_reserve": 2,
            "days_per_week": 2,
        },
        "complaint": {"region": "low_back", "pain_in_session": 4},
        "aim": "strength",
        "constraints": {"bar": {"bar": kg(15)}},
    }
    try:
        answer = ask(service, "adjustments", question)
    except Refused as refused:
        print(refused, file=sys.stderr)
        return 1
    if answer["decision"] in ("refer", "confirm_first"):  # a red flag; what a professional has to confirm first
        for one in answer["why"]:
            print(one["text"])
    for option in answer["options"]:
        demand = option["demand"]["low_back"]
        print(f"{option['rank']}. {option['why'][0]['text']}")
        print(f"   low back {demand['value']:.2f} of now ({demand['low']:.2f} to {demand['high']:.2f})")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else "http://127.0.0.1:8000"))
