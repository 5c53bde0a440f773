"""The sheet of a referral says what to do first, and names what it is for."""

from __future__ import annotations

import pytest

from service.adjustment.text.stop import stop_rule
from service.adjustment.triage import Confirmation, referral
from service.charts.referral import stop_notice
from service.knowledge.confirmations import CONDITIONS
from service.knowledge.signs import SIGNS, Sign
from tests.support.drawn import description, whole


@pytest.mark.parametrize("sign", SIGNS.values(), ids=lambda sign: sign.id)
def test_a_red_flag_is_named_with_its_urgency(sign: Sign) -> None:
    stop = referral([sign.id])
    assert stop is not None
    sentences = description(whole(stop_notice(stop, ["A caution."])))
    label = sign.urgency.replace("_", " ").capitalize()
    assert f"{label}: {sign.text}" in sentences
    assert sentences.index(stop.urgency.what_to_do) < sentences.index(sign.text)
    assert sentences.endswith("A caution.")


def test_circumstances_to_be_confirmed_are_no_referral() -> None:
    stop = Confirmation(tuple(CONDITIONS.values()))
    sentences = description(whole(stop_notice(stop, [])))
    assert stop_rule(stop).text in sentences
    assert not any(words in sentences for words in ("Stop", "refer", "emergency"))
    assert all(one.text in sentences and one.what_to_do in sentences for one in CONDITIONS.values())
    assert "Confirm first:" not in sentences
