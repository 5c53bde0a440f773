"""A warning that says the contrary, or an emergency without what to do: neither may pass for a change of wording.

caution_negations.csv: the words of negation in each caution, noted while each was read against its meaning. A text that
gains or loses one has to be read again before its row is changed.
"""

from __future__ import annotations

import re
from typing import Final

import pytest

from service.knowledge.message_templates import read_templates
from service.knowledge.signs import URGENCIES
from tests.support.asking import rows

TEXTS: Final = {code: one.text for code, one in read_templates("messages/cautions.toml").items()}
NEGATION: Final = re.compile(r"\b(?:no|not|none|never|nothing|nobody|cannot|without|neither|nor)\b", re.IGNORECASE)
NOTED: Final = {row["code"]: row["negations"].split() for row in rows("caution_negations.csv")}

# what a caution is there to say
SAYS: Final = {
    "not_a_diagnosis": ("diagnoses nothing", "clears nobody"),
    "moderate_pain": ("stop that lift for today", "does not settle by next morning, have it looked at"),
    "pause_on_the_way": ("the plan ends", "have it looked at before it is loaded again"),
    "half_load_no_pain": ("Pain is not a goal", "is not an improvement"),
    "spotter_or_safeties": ("Use spotters or safeties", "test no maximum"),
    "stopped_by_pain": ("is not a set to failure: do not base a maximum on it",),
    "retest_variation": ("test it with a light set", "judge the next morning"),
    "licensed_practice_first": ("come first", "those hold"),
    "direction_only_option": ("Only the direction is known", "start light"),
    "not_workplace_limits": ("never compare them with workplace limits",),
    "reserve_is_understated": ("this is never used to raise a load",),
    "partial_range": ("Do not load what is stronger there at once",),
    "relief_uncertain": ("may take nothing off the region",),
    "start_when_adjusted_holds": ("starts once the adjusted prescription itself has passed",),
    "another_leg_share": ("start with the side that is not sore",),
    "no_published_ratio": ("test the load",),
    "one_lever_at_a_time": ("Change one thing at a time",),
    "language_not_reviewed": ("No professional has reviewed", "ask for it in English, which holds"),
    "tempo_changes_max": ("lowers what can be lifted", "start lighter"),
}
# what each urgency has the lifter and the coach do
DO: Final = {
    "emergency_now": (
        (
            "Stop now",
            "call the emergency services",
            "emergency department at once",
            "Do not drive yourself, do not go alone",
        ),
        (
            "End the session",
            "Nobody with this is left alone until help has taken over",
            "no training is planned until a clinician has cleared it in writing",
            "Do not test what hurts",
        ),
    ),
    "same_day": (
        ("Stop training for today", "by a doctor today", "do not wait", "no painkiller to finish the session"),
        (
            "End the session",
            "put no load on the region",
            "plan no training of it until a clinician",
            "Do not let the lifter hop, jump, lift heavy or test a maximum",
        ),
    ),
    "urgent_refer": (
        ("Stop loading this part", "by a doctor or physical therapist within a week at most"),
        (
            "Take every exercise that loads the region out",
            "No progression until a clinician has cleared it",
            "Do not test the region with a hop, a heavy lift or a maximum",
        ),
    ),
    "hold_and_review": (
        ("Do not add anything for now", "by a doctor or physical therapist before the training goes on"),
        (
            "Hold load, sets, range and days",
            "or lower",
            "no progression until a clinician has reviewed it",
            "Do not test a maximum",
        ),
    ),
}


def test_every_caution_is_noted() -> None:
    assert set(NOTED) == set(TEXTS)
    assert set(SAYS) <= set(TEXTS)
    assert set(DO) == set(URGENCIES)


@pytest.mark.parametrize("code", sorted(TEXTS))
def test_a_caution_denies_what_it_was_read_to_deny(code: str) -> None:
    assert [word.lower() for word in NEGATION.findall(TEXTS[code])] == NOTED[code]


@pytest.mark.parametrize("code", sorted(SAYS))
def test_a_caution_says_what_it_is_there_for(code: str) -> None:
    assert [words for words in SAYS[code] if words not in TEXTS[code]] == []


@pytest.mark.parametrize("urgency", sorted(DO))
def test_an_urgency_says_what_to_do(urgency: str) -> None:
    lifter, coach = DO[urgency]
    assert [words for words in lifter if words not in URGENCIES[urgency].what_to_do] == []
    assert [words for words in coach if words not in URGENCIES[urgency].stop_rule] == []
