"""Every lift with every region that can be sore: an answer, or the refusal that says what the lift loads.

Only whether there is an answer is held here, not what it says. Every pair of lifts is in the group nightly.
"""

from __future__ import annotations

from itertools import product
from typing import Final

import pytest

from service.knowledge.catalogue import EXERCISES
from tests.support.asking import ask
from tests.support.consultations import AIMS
from tests.support.every_lift import LIFTER, LIFTS, LIFTS_AND_REGIONS, asked, asked_way_back, prescription

PAINS: Final = (1, 4, 7)
EVERY: Final = pytest.mark.parametrize(("exercise", "region"), LIFTS_AND_REGIONS)


@EVERY
def test_adjustments_for_every_aim_and_pain(exercise: str, region: str) -> None:
    for aim, pain in product(AIMS, PAINS):
        request = {
            "lifter": LIFTER,
            "prescription": prescription(exercise),
            "complaint": {"region": region, "pain_in_session": pain},
            "aim": aim,
        }
        answer = asked("adjustments", request, exercise, region, "/complaint/region")
        assert answer is None or answer.decision == ("no_change_needed" if pain == 1 else "adjust")


@EVERY
def test_session_review(exercise: str, region: str) -> None:
    request = {
        "prescription": prescription(exercise),
        "region": region,
        "usual_pain": 1,
        "sessions": [{"pain_in_session": 3, "pain_next_morning": 1}],
    }
    answer = ask("session-review", request)  # options spare a region by lifts that do not load it at all
    assert answer.decision == "hold"
    warned = "lift_does_not_load_region" in {one.code for one in answer.cautions}
    assert warned == (region not in EXERCISES[exercise].regions)


@EVERY
def test_return_plan_from_the_same_lift_and_from_another(exercise: str, region: str) -> None:
    another = LIFTS[(LIFTS.index(exercise) + 11) % len(LIFTS)]
    same = asked_way_back(exercise, exercise, region)
    asked_way_back(another, exercise, region)
    assert same is None or same.decision == "plan"
