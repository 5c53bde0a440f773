"""What an answer says by itself and what it adds in full: the same options, and nothing said twice."""

from __future__ import annotations

from typing import Any, Final, get_args

import msgspec
from hypothesis import given, settings

from service.adjustment.consultation import Reason
from service.messages.catalogue import CATALOGUE
from service.vocabulary import LEVERS
from tests.support.asking import Answered, ask, ask_drawn, in_full, kg
from tests.support.consultations import consultations

SORE: Final[dict[str, Any]] = {
    "lifter": {"body_mass": kg(71), "stature": {"value": 176, "unit": "cm"}},
    "prescription": {
        "exercise": "back_squat_high_bar",
        "sets": 4,
        "reps": {"low": 6, "high": 8},
        "load": kg(85),
        "reps_in_reserve": 2,
    },
    "complaint": {"region": "knee", "pain_in_session": 4},
    "aim": "strength",
}
SAID_AS_REASONS: Final = {
    "relief_uncertain": ("repetition_may_ask_less", "part_may_ask_less"),
    "session_exposure_only": ("session_asks_less",),
    "week_exposure_only": ("week_asks_less",),
    "session_exposure_rises": ("session_asks_more",),
}
"""Cautions that come in full alone, for a reason of the same option has said as much."""
OUTDONE: Final = {"beaten", "unloading_not_needed"}


def counts(answer: Answered) -> dict[tuple[str, str], int]:
    return {(one.lever, one.code): one.count for one in answer.ruled_out}


def holds_less_than_in_full(request: dict[str, Any], brief: Answered) -> None:
    full = ask("adjustments", in_full(request))
    assert (brief.decision, brief.considered) == (full.decision, full.considered)
    assert brief.why == [one for one in full.why if one.code != "order_of_options"]
    assert counts(brief) == {key: count for key, count in counts(full).items() if key[1] not in OUTDONE}
    assert len(brief.options) == len(full.options)
    for short, long in zip(brief.options, full.options, strict=True):
        assert (short.prescription, short.demand, short.words) == (long.prescription, long.demand, long.words)
        assert set(short.cautions) <= set(long.cautions)
        reasons = {one.code for one in short.why}
        assert reasons <= {one.code for one in long.why}
        assert SAID_AS_REASONS.keys().isdisjoint(short.cautions)
        for caution in SAID_AS_REASONS.keys() & set(long.cautions):
            assert any(reason.startswith(SAID_AS_REASONS[caution]) for reason in reasons)
        assert short.stimulus.kept.value == long.stimulus.kept.value
        assert set(short.direction) | set(short.demand) <= set(long.direction)
    for answer in (brief, full):
        codes = [one.code for one in answer.cautions]
        assert {code for one in answer.options for code in one.cautions} <= set(codes)
        assert len(codes) == len(set(codes))
    assert len(msgspec.json.encode(brief)) <= len(msgspec.json.encode(full))


@settings(max_examples=40, deadline=None, derandomize=True)
@given(consultations)
def test_an_answer_is_a_part_of_the_one_in_full(request: dict[str, Any]) -> None:
    holds_less_than_in_full(request, ask_drawn("adjustments", request))


def test_what_stands_behind_comes_in_full_alone() -> None:
    brief, full = (msgspec.to_builtins(ask("adjustments", one)) for one in (SORE, in_full(SORE)))
    assert set(full) - set(brief) == {"baseline"}
    assert [one["code"] for one in brief["basis"]["assumptions"]] == ["assumed_no_sign", "assumed_bar_not_stated"]
    assert len(full["basis"]["assumptions"]) > len(brief["basis"]["assumptions"])
    for short, long in zip(brief["options"], full["options"], strict=True):
        assert set(long) - set(short) - {"direction", "cautions"} == {"basis", "session_exposure"}
        assert set(short["stimulus"]) == {"kept"}
        assert not {"parts", "muscles"} & set(short["stimulus"]["kept"])
        assert all("interval" not in one for one in short["demand"].values())
    assert all("trials" not in one for one in brief["ruled_out"])
    assert brief["basis"]["interval"] == full["basis"]["interval"]


def test_ruled_out_counts_every_trial_once_by_its_first_lever() -> None:
    answer = ask("adjustments", in_full(SORE | {"limit": 20, "constraints": {"levers": ["load", "sets", "technique"]}}))
    assert len(answer.options) < 20
    assert sum(one.count for one in answer.ruled_out) == answer.considered - len(answer.options)
    for one in answer.ruled_out:
        assert one.count == len(one.trials)
        assert {trial.levers[0] for trial in one.trials} == {one.lever}
        assert {trial.reason.code for trial in one.trials} == {f"ruled_out_{one.code}"}
    assert OUTDONE & {one.code for one in answer.ruled_out}
    levers = [LEVERS.index(one.lever) for one in answer.ruled_out]
    assert levers == sorted(levers)


def test_every_reason_has_its_words_in_the_catalogue() -> None:
    assert {f"ruled_out_{reason}" for reason in get_args(Reason)} <= set(CATALOGUE)
