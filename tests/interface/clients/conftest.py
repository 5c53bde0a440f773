"""The running service, and both clients as their generators make them from the description, once for all tests."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.interface.clients.python_client import PythonClient
from tests.interface.clients.typescript_client import TypeScriptClient
from tests.support.live import Live


@pytest.fixture(scope="session")
def python_client(tmp_path_factory: pytest.TempPathFactory) -> PythonClient:
    return PythonClient.generated(tmp_path_factory.mktemp("python"))


@pytest.fixture(scope="session")
def typescript_client(tmp_path_factory: pytest.TempPathFactory) -> TypeScriptClient:
    return TypeScriptClient.generated(tmp_path_factory.mktemp("typescript"))


@pytest.fixture(scope="session")
def compiled(typescript_client: TypeScriptClient) -> Path:
    """The folder of the compiled TypeScript programs."""
    return typescript_client.compiled()


@pytest.fixture(scope="session")
def short_consultation(served: Live) -> dict[str, Any]:
    """What the short consultations print, asked without any client: an option, two good sessions, a sign, a refusal."""
    lifter = {"body_mass": {"value": 64, "unit": "kg"}, "stature": {"value": 168, "unit": "cm"}}
    load = {"value": 62.5, "unit": "kg"}
    squat = {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": load}

    def asked(complaint: dict[str, Any], prescription: dict[str, Any]) -> Any:  # noqa: ANN401
        question = {"lifter": lifter, "prescription": prescription, "complaint": complaint, "aim": "strength"}
        return served.post("/v1/adjustments", question).json()

    sore = {"region": "low_back", "pain_in_session": 4}
    answer = asked(sore, squat)
    best = answer["options"][0]["prescription"]
    done = {"pain_in_session": 1, "pain_next_morning": 1, "reps_done": [best["reps"]["high"]] * best["sets"]}
    review = served.post(
        "/v1/session-review",
        {"prescription": best, "original": squat, "lifter": lifter, "aim": "strength", "region": "low_back"}
        | {"usual_pain": 1, "sessions": [done, done]},
    ).json()
    flagged = asked({"region": "low_back", "pain_in_session": 1, "signs": ["bilateral_leg_symptoms"]}, squat)
    refused = asked(sore, squat | {"sets": 0})
    return {
        "decision": answer["decision"],
        "exercise": best["exercise"],
        "load": best["load"]["value"],
        "review": review["decision"],
        "next": review["next"]["load"]["value"],
        "urgency": flagged["referral"]["urgency"],
        "refused": refused["errors"][0]["pointer"],
    }
