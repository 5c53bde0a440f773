"""The sheet of a referral says what to do first, and names what it is for."""

from __future__ import annotations

import pytest

from service.adjustment.clearance import CONDITIONS
from service.adjustment.triage import confirmation, referral
from service.charts.referral import referral_notice
from service.knowledge.catalogue import SIGNS
from tests.support.drawn import description


@pytest.mark.parametrize("sign", SIGNS.values(), ids=lambda sign: sign.id)
def test_a_red_flag_is_named_with_its_urgency(sign: object) -> None:
    stop = referral([sign.id])  # type: ignore[attr-defined]
    assert stop is not None
    sentences = description(referral_notice(stop, ["A caution."]))
    label = sign.urgency.replace("_", " ").capitalize()  # type: ignore[attr-defined]
    assert f"{label}: {sign.text}" in sentences  # type: ignore[attr-defined]
    assert sentences.index(stop.urgency.what_to_do) < sentences.index(sign.text)  # type: ignore[attr-defined]
    assert sentences.endswith("A caution.")


def test_circumstances_to_be_confirmed_have_no_urgency_of_a_sign() -> None:
    stop = confirmation(tuple(CONDITIONS.values()))
    sentences = description(referral_notice(stop, []))
    assert all(one.text in sentences and one.what_to_do in sentences for one in CONDITIONS.values())
    assert "Confirm first:" not in sentences
