"""Every reason why a trial gave no option has a sentence, and its facts fill it."""

from __future__ import annotations

from string import Formatter
from typing import Final, get_args

import pytest

from service.adjustment.consultation import Reason, RuledOut
from service.adjustment.text.ruled_out import WORDS, reason_words

FACTS: Final[dict[str, str | float]] = {
    "detail": "The trunk would lean too far.",
    "exercise": "belt_squat",
    "load": 12.5,
    "percent": 87.0,
    "rest": 180.0,
}


def test_every_reason_has_words_and_no_words_are_without_a_reason() -> None:
    assert set(WORDS) == set(get_args(Reason))


@pytest.mark.parametrize("reason", WORDS)
def test_words_are_a_sentence_once_the_facts_are_in_their_places(reason: Reason) -> None:
    places = {name for _, name, _, _ in Formatter().parse(WORDS[reason]) if name}
    text = reason_words(RuledOut(("load",), reason, facts={name: FACTS[name] for name in places}))
    assert text.endswith(".")
    assert text[0].isupper()
    assert "{" not in text
    assert "belt_squat" not in text  # an exercise goes by its name
