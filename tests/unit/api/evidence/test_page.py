"""The page of evidence says what the answer has, with nothing in it that could be more than text."""

from __future__ import annotations

import re
from html import unescape

import pytest

from service.api.evidence.models import evidence
from service.api.evidence.page import page
from service.knowledge.evidence import QUANTITIES


def words(text: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", " ", text)))


def test_page_has_every_sentence_and_row() -> None:
    shown, answer = words(page(None).decode()), evidence(None)
    sentences = [answer.context.context_of_use, *answer.context.may_not_rest_on_it]
    for one in answer.quantities:
        sentences += [one.name, one.model, one.if_wrong, *one.assumptions, *one.limits]
    sentences += [row.printed for row in answer.comparisons] + [row.cause for row in answer.comparisons if row.cause]
    assert [sentence for sentence in sentences if words(sentence).strip() not in shown] == []


@pytest.mark.parametrize("quantity", [None, *QUANTITIES])
def test_page_is_whole_and_links_lead_somewhere(quantity: str | None) -> None:
    text = page(quantity).decode()
    assert "{{" not in text
    ids = re.findall(r'id="([^"]*)"', text)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]*)"', text)) <= set(ids)
    assert re.findall(r"<script|style=|\son\w+=", text) == []
