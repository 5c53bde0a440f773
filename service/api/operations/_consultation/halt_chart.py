"""A consultation that looks for no option, in plain words on a sheet: refer, confirm first, pause, or leave as it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from service.adjustment.text.decision import unchanged_rule
from service.adjustment.text.pause import pause_words
from service.adjustment.triage import Confirmation, Judgement, Referral
from service.api.models.common import cautions
from service.api.operations._consultation.gate import Halt, Paused
from service.charts.elements.layout import Sheet
from service.charts.elements.notice import Passage, notice
from service.charts.referral import stop_notice
from service.knowledge.catalogue import EXERCISES
from service.knowledge.muscles import MUSCLES
from service.messages import Message, message
from service.vocabulary import Region


def halt_notice(verdict: Halt, region: Region) -> list[Sheet]:
    """The sheets of what halts a consultation about a region."""
    if isinstance(verdict, Referral | Confirmation):
        return stop_notice(verdict, [caution.text for caution in cautions()])
    return _paused(verdict, region) if isinstance(verdict, Paused) else _unchanged(verdict.judgement)


def meanwhile_passages(by_muscle: Mapping[str, Sequence[str]]) -> list[Passage]:
    """What does not load the region, a line for each muscle; nothing where nothing is left."""
    lines = [
        ": ".join([MUSCLES[muscle].name, ", ".join(EXERCISES[one].in_a_sentence for one in exercises)])
        for muscle, exercises in by_muscle.items()
    ]
    return [Passage("What can be trained meanwhile", lines)] if lines else []


def notes(cautions_shown: Sequence[Message]) -> Passage:
    """The cautions at the end."""
    return Passage("To know", [caution.text for caution in cautions_shown])


def sentence(text: str) -> str:
    """A text that begins and ends as a sentence does."""
    return f"{text[0].upper()}{text[1:].rstrip('.')}."


def _paused(verdict: Paused, region: Region) -> list[Sheet]:
    why, *what = pause_words(verdict.judgement, region, something_else=bool(verdict.meanwhile))
    return notice(
        "Pause and review",
        [
            Passage("Why", [why.text]),
            Passage("What to do", [one.text for one in what]),
            *meanwhile_passages(verdict.meanwhile),
            notes(cautions()),
        ],
    )


def _unchanged(judgement: Judgement) -> list[Sheet]:
    return notice(
        "No change needed",
        [
            Passage("What to do", [message("keep_prescription").text]),
            Passage("Why", [sentence(unchanged_rule(judgement).text)]),
            notes(cautions()),
        ],
    )
