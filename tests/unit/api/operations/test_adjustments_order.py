"""A full answer with several options says what their order goes by: the smallest change is not always the first."""

from __future__ import annotations

from typing import Any, Final

from tests.support.asking import ask, kg

ASKED: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(92), "stature": {"value": 181, "unit": "cm"}, "sex": "male"},
    "prescription": {
        "exercise": "deadlift_conventional",
        "sets": 3,
        "reps": {"low": 5, "high": 5},
        "load": kg(180),
        "reps_in_reserve": 2,
    },
    "complaint": {"region": "low_back", "pain_in_session": 4},
    "aim": "strength",
}


def test_what_stands_first_keeps_more_though_it_changes_more_and_the_answer_says_so() -> None:
    answer = ask("adjustments", {**ASKED, "detail": "full"})
    first, *_, last = answer.options
    assert last.levers == ["load"]
    assert first.levers != ["load"]
    assert first.stimulus.kept.value > last.stimulus.kept.value
    codes = [one.code for one in answer.why]
    assert codes.index("order_of_options") + 1 == codes.index("one_option_at_a_time")


def test_one_option_alone_has_no_order() -> None:
    assert "order_of_options" not in {
        one.code for one in ask("adjustments", {**ASKED, "detail": "full", "limit": 1}).why
    }
