"""Pain over a grid of scores: one decision each, and more pain never a more permissive one; what a pause answers."""

from __future__ import annotations

from itertools import product
from typing import Any, Final

import pytest

from service.knowledge.catalogue import EXERCISES
from service.vocabulary import TIERS
from tests.support.asking import Answered, ask, kg

GRID: Final = (0, 2, 3, 5, 6, 7, 8)
STATED: Final = (None, *GRID)
PERMISSIVE: Final = ("no_change_needed", "adjust", "pause_and_review", "refer")
LIGHTER: Final = {"levers": ["load"]}  # so that a grid of consultations is soon searched


def asked(complaint: dict[str, Any], **more: object) -> Answered:
    request = {
        "lifter": {"body_mass": kg(82), "stature": {"value": 1.81, "unit": "m"}},
        "prescription": {
            "exercise": "bench_press",
            "sets": 4,
            "reps": {"low": 5, "high": 6},
            "load": kg(80),
            "reps_in_reserve": 2,
        },
        "complaint": {"region": "shoulder", **complaint},
        "aim": "strength",
        **more,
    }
    return ask("adjustments", request)


def scores(session: float, rest: float | None, morning: float | None) -> dict[str, Any]:
    stated = {"pain_at_rest": rest, "pain_next_morning": morning}
    return {"pain_in_session": session} | {name: score for name, score in stated.items() if score is not None}


def after(score: float | None) -> tuple[float, ...]:
    """The next score of the grid, nothing after the last; after none stated the first."""
    return GRID[:1] if score is None else GRID[GRID.index(score) + 1 :][:1]


@pytest.mark.parametrize("adjusted", [False, True])
def test_every_combination_of_scores_has_its_decision_and_more_pain_never_a_milder_one(*, adjusted: bool) -> None:
    decided: dict[tuple[float, float | None, float | None], int] = {}
    for combination in product(GRID, STATED, STATED):
        answer = asked(scores(*combination) | {"after_adjustment": adjusted}, constraints=LIGHTER)
        highest = max(score for score in combination if score is not None)
        pause = highest > 7 or (combination[1] or 0) > 5 or (adjusted and highest > 5)
        tier = "pause" if pause else "red" if highest > 5 else "amber" if highest > 2 else "green"
        decision = {"green": "no_change_needed", "pause": "pause_and_review"}.get(tier, "adjust")
        assert (answer.tier, answer.decision) == (tier, decision), combination
        assert (answer.pause is not None) == pause
        assert pause <= (answer.options == [] and answer.target is None)
        decided[combination] = PERMISSIVE.index(answer.decision) + TIERS.index(answer.tier)
    for (session, rest, morning), strictness in decided.items():
        assert all(decided[more, rest, morning] >= strictness for more in after(session))
        assert all(decided[session, more, morning] >= strictness for more in after(rest))
        assert all(decided[session, rest, more] >= strictness for more in after(morning))


def test_a_pause_says_which_score_passed_which_limit_and_what_follows() -> None:
    answer = asked({"pain_in_session": 4, "pain_next_morning": 8})
    assert (answer.pause.rule, answer.pause.region) == ("severe_pain", "shoulder")
    assert answer.pause.message.values == {"pain": 8, "moment": "next_morning", "limit": 7, "region": "shoulder"}
    assert answer.pause.look_again.days == 3  # our own choice
    assert answer.pause.look_again.known == "design_choice"
    assert not answer.pause.professional.required_first
    again = asked({"pain_in_session": 6, "after_adjustment": True})
    assert (again.pause.rule, again.pause.professional.required_first) == ("above_again", True)
    assert again.pause.look_again.days == 7  # our own choice


def test_a_pause_heeds_gym_constraints_and_what_is_to_be_spared() -> None:
    limits = {"exclude": ["leg_extension"], "spare": ["hip"], "gym": {"implements": [{"implement": "machine"}]}}
    free, held = (asked({"pain_in_session": 9}, constraints=one) for one in ({}, limits))
    trained = {one for group in held.meanwhile for one in group.exercises}
    assert trained
    assert "leg_extension" in {one for group in free.meanwhile for one in group.exercises}
    for exercise in trained:
        lift = EXERCISES[exercise]
        assert not {"shoulder", "hip"} & set(lift.regions)
        assert exercise != "leg_extension"
        assert {"machine", "body_weight"} & set(lift.implements)


def test_the_lift_that_is_stopped_is_not_trained_meanwhile_though_it_is_not_known_to_load_the_region() -> None:
    answer = asked({"region": "front_of_knee", "pain_in_session": 9})
    review = ask(
        "session-review",
        {
            "prescription": {"exercise": "bench_press", "sets": 4, "reps": {"low": 5, "high": 6}, "load": kg(80)},
            "region": "front_of_knee",
            "sessions": [{"pain_in_session": 9}],
        },
    )
    for one in (answer, review):
        assert one.decision == "pause_and_review"
        trained = {exercise for group in one.meanwhile for exercise in group.exercises}
        assert "chest_press_machine" in trained
        assert "bench_press" not in trained


def test_red_flags_outrank_a_pause_and_a_pause_a_tolerated_load() -> None:
    tolerated = {"load": kg(40), "pain": 1}
    assert asked({"pain_in_session": 9, "tolerated": tolerated}).decision == "pause_and_review"
    flagged = asked({"pain_in_session": 9, "pain_at_rest": 9, "signs": ["acute_cuff_tear"]})
    assert (flagged.decision, flagged.pause, flagged.meanwhile) == ("refer", None, [])


def test_pain_of_nine_is_not_answered_as_pain_of_six() -> None:
    six, nine = asked({"pain_in_session": 6}), asked({"pain_in_session": 9})
    assert six.options
    assert (nine.decision, nine.options) == ("pause_and_review", [])
