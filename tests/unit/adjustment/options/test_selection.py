"""What is shown of a consultation: a choice of changes, the first of them the best."""

from __future__ import annotations

from itertools import takewhile
from typing import Final

import pytest
from msgspec.structs import replace

from service.adjustment.consultation import Candidate
from service.adjustment.options.ranking import ranked
from service.adjustment.options.result import Outcome, surest_first
from service.adjustment.options.search import candidates
from service.adjustment.options.selection import select
from service.adjustment.present import present_demand
from tests.unit.adjustment.options.test_search import BODY, SQUAT, case

DOSE: Final = {"load", "reps", "sets", "tempo", "rest", "days"}
CASES: Final = {
    "squat": case(),
    "deadlift": case(replace(SQUAT, exercise="deadlift_conventional", technique=None)),
    "row": case(replace(SQUAT, exercise="barbell_row", technique=None)),
    "tendon": case(region="knee", aim="tendon"),
}


@pytest.mark.parametrize("name", CASES)
def test_each_kind_of_change_comes_once_before_any_comes_twice(name: str) -> None:
    found = CASES[name]
    shown = select(found, 20).outcomes
    order = ranked([one for one in candidates(found) if isinstance(one, Candidate)], found)
    assert shown[0].candidate == surest_first([Outcome(found, one) for one in order], 20)[0].candidate
    assert {one.candidate.levers for one in shown} <= {one.levers for one in order}
    before_sessions = list(takewhile(lambda one: one.meets_by != "session_exposure", (one.candidate for one in shown)))
    kinds = [kind(one) for one in before_sessions]
    twice = next(place for place, one in enumerate(kinds) if one in kinds[:place])
    assert set(kinds[:twice]) == set(kinds)
    assert len(set(kinds)) > 1


def kind(candidate: Candidate) -> object:
    same = candidate.prescription.exercise in (SQUAT.exercise, "deadlift_conventional", "barbell_row")
    return candidate.trial.program or ("other" if not same else frozenset(candidate.levers) - DOSE)


# --- counted work -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "solved", "uncertain"), [("squat", 90, 8), ("deadlift", 36, 7)])
def test_a_consultation_solves_few_postures_and_works_out_what_may_be_shown(
    name: str, solved: int, uncertain: int
) -> None:
    found = CASES[name]
    found = replace(found, present=present_demand(BODY, found.now, found.region))
    chosen = select(found, 3)
    assert [one.demand.keys() for one in chosen.outcomes]
    postures = found.present.postures.values()
    assert len(postures) <= solved
    assert sum("uncertain" in vars(one) for one in postures) <= uncertain < chosen.ranked


def test_options_do_not_depend_on_how_many_are_shown() -> None:
    for found in CASES.values():
        every = [one.candidate.prescription for one in select(found, 40).outcomes]
        for most in (3, 5, 8):
            shown = [one.candidate.prescription for one in select(found, most).outcomes]
            plain = [one for one in shown if one not in every[:most]]
            assert len(plain) <= 1  # the lift merely lighter is moved into what is shown
            rest = [one for one in shown if one not in plain]
            assert rest == [one for one in every if one in rest]
