"""The id that a text was probably meant for: names of the trade and spelling; none where nothing is like it."""

from __future__ import annotations

import re
from typing import get_args

import pytest

from service.api.serialization import suggestions
from service.api.serialization.suggestions import LONGEST, suggestion
from service.knowledge.anthropometry import Sex
from service.knowledge.catalogue import EXERCISES
from service.knowledge.other_names import VALUES
from service.vocabulary import REGIONS, Aim
from tests.support.in_process import client


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("Front Squat", ["front_squat"]),
        ("front_sqaut", ["front_squat"]),
        ("FRONT-SQUATS", ["front_squat"]),
        ("squat, front", ["front_squat"]),
        ("RDL", ["romanian_deadlift"]),
        ("RDL's", ["romanian_deadlift"]),
        ("RFESS", ["rear_foot_elevated_split_squat"]),
        ("OHP", ["overhead_press"]),
        ("BB bench", ["bench_press"]),
        ("Deadlifts", ["deadlift_conventional"]),
        ("leg press", ["leg_press"]),
        ("squat", ["back_squat_high_bar", "back_squat_low_bar"]),
    ],
)
def test_names_of_the_trade_lead_to_their_ids(text: str, ids: list[str]) -> None:
    assert suggestion(text, EXERCISES) == f"Did you mean {' or '.join(ids)}?"


@pytest.mark.parametrize("text", ["", "x", "!!!", "breakfast", "squat" * LONGEST, 5, None, ["front_squat"]])
def test_nothing_is_suggested_where_nothing_is_like_it(text: object) -> None:
    assert suggestion(text, EXERCISES) == ""


def test_names_of_exercises_are_suggested_only_where_exercises_are_asked_for() -> None:
    assert suggestion("RDL", ["low_back", "hip"]) == ""
    assert suggestion("lower back", ["low_back", "hip"]) == "Did you mean low_back?"


@pytest.mark.parametrize(
    ("exercise", "name"), [(each.id, name) for each in EXERCISES.values() for name in (each.name, *each.aliases)]
)
def test_every_name_in_the_catalogue_leads_to_its_exercise(exercise: str, name: str) -> None:
    """Names that several exercises share are listed with each; no name is an id."""
    assert exercise in re.findall(r"[a-z0-9_]+", suggestion(name, EXERCISES))
    assert name not in EXERCISES


def test_a_question_in_every_form_is_answered_with_the_suggestion() -> None:
    app = client()
    asked = {"set": {"load": {"value": 60, "unit": "kg"}, "reps": 5}, "target": {"reps": 8}, "exercise": "Front Squat"}
    table = "load,reps,target_reps,exercise\r\n60kg,5,8,Front Squat\r\n60kg,5,8,front_squat\r\n"
    item = {"operation": "load-for-reps", "body": asked}
    refused = app.post("/v1/load-for-reps", json=asked)
    assert (refused.status_code, refused.json()["errors"][0]["pointer"]) == (422, "/exercise")
    first, second = app.post(
        "/v1/tables/load-for-reps", content=table, headers={"content-type": "text/csv"}
    ).text.split("\r\n")[1:3]
    for text in (
        refused.text,
        app.get("/v1/load-for-reps?load=60kg&reps=5&target_reps=8&exercise=Front%20Squat").text,
        app.post("/v1/batch", json={"requests": [item]}).text,
        app.get("/v1/exercises/Front%20Squat").text,
        first,
    ):
        assert "Did you mean front_squat?" in text
    assert "Did you mean" not in second


def test_nothing_is_compared_while_requests_are_valid(monkeypatch: pytest.MonkeyPatch) -> None:
    compared: list[object] = []
    monkeypatch.setattr(suggestions, "extractOne", lambda text, *_, **__: compared.append(text))
    app = client()
    asked = "/v1/load-for-reps?load=60kg&reps=5&target_reps=8&exercise="
    assert app.get(asked + "front_squat").status_code == 200
    assert compared == []
    assert app.get(asked + "Front%20Squat").status_code == 422
    assert compared == ["front squat"]


@pytest.mark.parametrize(
    ("text", "values", "meant"),
    [
        ("left knee", REGIONS, "knee"),
        ("Lumbar spine", REGIONS, "low_back"),
        ("back", REGIONS, "low_back or upper_back"),
        ("hypertrophy", get_args(Aim), "muscle_size"),
        ("M", get_args(Sex), "male"),
    ],
)
def test_other_names_of_values_lead_to_them(text: str, values: tuple[str, ...], meant: str) -> None:
    assert suggestion(text, values) == f"Did you mean {meant}?"


def test_other_names_are_of_what_there_is() -> None:
    ids = {*REGIONS, *get_args(Aim), *get_args(Sex)}
    assert VALUES.keys() <= ids
    assert not ids & {name for names in VALUES.values() for name in names}
