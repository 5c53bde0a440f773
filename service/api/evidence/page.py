"""The evidence as a page for people: plain HTML without a script, in the style of /docs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache
from html import escape
from pathlib import Path
from typing import Final

from service import __version__
from service.api.evidence.models import (
    PARAMETER,
    PATH,
    Agreement,
    ContextOfUse,
    EvidenceAnswer,
    Faults,
    PublishedComparison,
    QuantityEvidence,
    VerificationCheck,
    evidence,
)

TEMPLATE: Final = (Path(__file__).parent / "page.html").read_text(encoding="utf-8")
POLICY: Final = (
    "default-src 'none'; style-src 'self'; img-src data:; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
TOLD: Final = {
    "check": "told by rows that check",
    "fit": "told only by rows that may be fitted to",
    "would": "told only by rows that disagree as it is",
    "none": "nothing published could tell",
}


@cache
def page(quantity: str | None) -> bytes:
    """The page of all quantities, or of one, made once."""
    answer = evidence(quantity)
    parts = {
        "version": escape(__version__),
        "context": _context(answer.context),
        "whole": _whole(answer),
        "contents": "" if quantity else '<li><a href="#whole">Published comparisons</a></li>',
        "names": "".join(f'<li><a href="#{one.id}">{escape(one.name)}</a></li>' for one in answer.quantities),
        "quantities": "".join(map(_quantity, answer.quantities)),
        "comparisons": _comparisons(answer),
        "all": "" if quantity is None else f'<p><a href="{PATH}">The evidence of every quantity</a></p>',
    }
    text = TEMPLATE
    for name, part in parts.items():
        text = text.replace("{{" + name + "}}", part)
    return text.encode()


def _table(name: str, heading: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table of texts that are HTML already, in a region of its own that scrolls sideways where it has to."""
    body = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in rows)
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in heading)
    return (
        f'<div class="wide" role="region" tabindex="0" aria-label="{escape(name)}">'
        f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>"
    )


def _list(texts: Iterable[str]) -> str:
    return "<ul>" + "".join(f"<li>{escape(text)}</li>" for text in texts) + "</ul>"


def _terms(pairs: Iterable[tuple[str, str]]) -> str:
    """Names with what stands for them, which is HTML already."""
    return "<dl>" + "".join(f"<dt>{escape(name)}</dt><dd>{text}</dd>" for name, text in pairs) + "</dl>"


def _links(sources: Iterable[str]) -> str:
    return ", ".join(f'<a href="/v1/sources/{source}">{source}</a>' for source in sources)


def _number(value: float | None, absent: str) -> str:
    return absent if value is None else f"{value:g}"


def _context(context: ContextOfUse) -> str:
    return _terms(
        [
            ("Question of interest", escape(context.question_of_interest)),
            ("Context of use", escape(context.context_of_use)),
            ("Model influence", escape(context.model_influence)),
            ("Decision consequence", escape(context.decision_consequence)),
            ("What may rest on it", _list(context.may_rest_on_it)),
            ("What may not", _list(context.may_not_rest_on_it)),
            ("Verification", escape(context.verification)),
            ("Validation", escape(context.validation)),
            ("Applicability", escape(context.applicability)),
            ("Terms from", _links(context.sources)),
        ]
    )


def _agreement(found: Sequence[Agreement]) -> str:
    rows = [
        (
            {"check": "rows that check", "fit": "rows that may be fitted to"}[one.half],
            one.kind,
            f"{one.agree} of {one.of}",
            f"{one.agree / one.of:.0%}",
            "" if one.goal is None else f"{one.goal:.0%}",
        )
        for one in found
    ]
    return _table("Published comparisons that agree", ("Half", "Kind", "Agree", "Share", "Goal"), rows)


def _whole(answer: EvidenceAnswer) -> str:
    """What is of all quantities together; nothing where one is asked for."""
    if answer.agreement is None or answer.faults is None:
        return ""
    parts = _agreement(answer.agreement) + _faults(answer.faults)
    return f'<section id="whole"><h2>Published comparisons</h2>{parts}</section>'


def _faults(faults: Faults) -> str:
    rows = [(escape(one.what), escape(one.change), one.lift) for one in faults.not_noticed]
    return (
        f"<p>Of {faults.tried} faults put into the service one by one, {faults.noticed_by_check} are noticed by rows that "
        f"check and {faults.noticed_by_any} by any row. The others nothing published could tell:</p>"
        f"<details><summary>{len(rows)} faults that no published comparison notices</summary>"
        f"{_table('Faults not noticed', ('Made wrong', 'By', 'Lift'), rows)}</details>"
    )


def _quantity(one: QuantityEvidence) -> str:
    asked = "; ".join(f"<code>{name}</code>: {', '.join(fields)}" for name, fields in one.answered_by.items())
    title = escape(one.name) + (f" <small>{escape(one.unit)}</small>" if one.unit else "")
    terms = [
        ("Model", escape(one.model)),
        ("Assumes", _list(one.assumptions)),
        ("If it is wrong", escape(one.if_wrong)),
        ("Known limits", _list(one.limits)),
        ("Rests on", f"{_links(one.sources)}; the weakest known as: {one.known}"),
        ("Answered by", asked),
    ]
    return (
        f'<section id="{one.id}"><h3><a href="{PATH}?{PARAMETER}={one.id}">{title}</a></h3>{_terms(terms)}'
        f"{_verification(one.verification)}{_validation(one)}{_calibration(one)}{_experts(one)}</section>"
    )


def _verification(checks: Sequence[VerificationCheck]) -> str:
    if not checks:
        return "<p>Verification: by its unit tests alone; no independent computation of it was found.</p>"
    rows = [
        (
            escape(one.about),
            escape(one.compared_with),
            str(one.cases),
            f"{_number(one.tolerance, 'of each case')} {escape(one.unit)}",
            _number(one.deviation, "not kept"),
        )
        for one in checks
    ]
    heading = ("Of", "Compared with", "Cases", "Allowed", "Greatest deviation")
    return f"<h4>Verification</h4>{_table('Verification', heading, rows)}"


def _validation(one: QuantityEvidence) -> str:
    if not one.agreement:
        return "<p>Validation: no published observation is computed for it.</p>"
    missed = ", ".join(f'<a href="#row-{row}">{escape(row)}</a>' for row in one.disagreeing) or "none"
    told = {by: [f"{row.lift} ({row.part})" for row in one.told_by_lift if row.by == by] for by in TOLD}
    rows = [(words, escape(", ".join(told[by]).replace("_", " "))) for by, words in TOLD.items() if told[by]]
    power = _table("What would be noticed", ("An error of 15 %, of the lean 5 degrees", "Lifts"), rows) if rows else ""
    return f"<h4>Validation</h4>{_agreement(one.agreement)}<p>Rows that check and disagree: {missed}.</p>{power}"


def _calibration(one: QuantityEvidence) -> str:
    if not one.calibration:
        return ""
    rows = [
        (escape(row.estimate), f"{row.coverage:.3f}", f"{row.below:.3f}", f"{row.above:.3f}", escape(row.meaning))
        for row in one.calibration
    ]
    heading = ("Estimate", "Held", "Below", "Above", "What the interval says")
    return f"<h4>Calibration</h4>{_table('Calibration', heading, rows)}"


def _experts(one: QuantityEvidence) -> str:
    lines = one.expert_lines
    if lines is None:
        return ""
    return (
        f"<p>Of {lines.consultations} consultations written out before the answers were looked at, {lines.wanted_hold} of "
        f"{lines.wanted} lines of what an expert would want hold, and {lines.unwanted_hold} of {lines.unwanted} of what "
        "they would never want.</p>"
    )


def _comparisons(answer: EvidenceAnswer) -> str:
    heading = ("Row", "Half", "Study", "Subject", "Quantity", "Printed", "Computed", "Agrees", "Cause, citation")
    return _table("Published comparisons", heading, map(_comparison, answer.comparisons))


def _comparison(row: PublishedComparison) -> Sequence[str]:
    cause = f"{escape(row.cause)} " if row.cause else ""
    return (
        f'<span id="row-{row.id}">{escape(row.id)}</span>',
        row.half,
        escape(row.study),
        escape(row.subject),
        escape(row.quantity),
        escape(row.printed) + (" (spread assumed)" if row.assumed_spread else ""),
        _number(row.computed, "refused"),
        "yes" if row.agrees else "<b>no</b>",
        f"{cause}<small>{escape(row.citation)} ({row.known})</small>",
    )
