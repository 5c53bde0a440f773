"""The way back as a staircase: weeks across, demand of the sore region upwards, a gate before every rise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from service.charts.elements.layout import Block, Sheet, gap, notes, paragraph, rule, sheets, together
from service.charts.elements.text_layout import number
from service.charts.elements.theme import LINE_HEIGHT, MARGIN
from service.charts.staircase.stairs import STAIRS_HEIGHT, Step, drawn_key, drawn_stairs, percent, shows_gates

_AS_BEFORE: Final = "Gate as before."


def staircase(title: str, region: str, steps: Sequence[Step], footnotes: Sequence[str] = ()) -> list[Sheet]:
    """The steps as a staircase, and below it each with its prescription, what changed and its gate.

    Args:
        title: in one line
        region: that is sore, in words
        steps: in order of weeks, the original last
        footnotes: paragraphs at the end

    Returns:
        The sheets, with the same numbers in their text alternatives.

    Raises:
        ValueError: without steps, or where weeks do not rise
    """
    if not steps:
        raise ValueError("There is no step to draw.")
    if any(later.week <= earlier.week for earlier, later in pairwise(steps)):
        raise ValueError("Every step starts in a later week than the one before.")
    gates = list(dict.fromkeys(step.gate for step in steps if step.gate))
    axis_name = _axis_name(region, steps)
    return sheets(
        title,
        [
            [
                paragraph(axis_name, "quiet", axis_name),
                Block(LINE_HEIGHT, lambda top: drawn_key(top, steps)),
                Block(STAIRS_HEIGHT, lambda top: drawn_stairs(steps, top)),
                *(_gate_of_all(gates[0]) if len(gates) == 1 else []),
                *_listed(steps, with_gates=len(gates) > 1),
                *notes(footnotes),
            ]
        ],
    )


def _gate_of_all(gate: str) -> list[Block]:
    heading = "Gate of every step"
    return [together([paragraph(heading, "strong", f"{heading}:"), paragraph(gate, words=gate)]), rule()]


def _listed(steps: Sequence[Step], *, with_gates: bool) -> Iterator[Block]:
    for heading, paragraphs in _paragraphs(steps, with_gates=with_gates):
        lines = [paragraph(text, words=f"{text.rstrip('.')}.") for text in paragraphs]
        yield together([paragraph(heading, "strong", f"{heading}."), *lines])
        yield gap(MARGIN / 2)


def _axis_name(region: str, steps: Sequence[Step]) -> str:
    if all(step.demand is None for step in steps):
        return f"Demand of the {region}: no number is known, so all rises are drawn alike."
    name = f"Demand of the {region}, a repetition, in per cent of the original."
    if any(step.gate for step in steps):
        where = "At a gate" if shows_gates(steps) else "At the end of each step"
        name += f" {where} the next one is taken only if this one went well."
    if any(step.demand is None for step in steps):
        name += " Where no number is known, a step is drawn level with its neighbours or between them."
    return name


def _heading(step: Step) -> str:
    demand = step.demand
    if demand is None:
        return f"Week {step.week}: demand not known in numbers"
    low, high = (number(100 * end, 0) for end in (demand.low, demand.high))
    span = "" if low == number(100 * demand.value, 0) == high else f" ({low} to {high})"
    session = "" if step.session is None else f", a session {number(100 * step.session, 0)} %"
    return f"Week {step.week}: {percent(demand)}{span} of the original{session}"


def _paragraphs(steps: Sequence[Step], *, with_gates: bool) -> Iterator[tuple[str, list[str]]]:
    """Heading and paragraphs of each step; a gate that stays the same is not repeated."""
    gate = ""
    for step in steps:
        sentences = [step.label]
        if step.changed:
            sentences.append(f"Changed: {step.changed}.")
        if step.test:
            sentences.append(step.test)
        gates = [_AS_BEFORE if step.gate == gate else step.gate] if with_gates and step.gate else []
        if step.fallback:
            gates.append(f"If it goes wrong: {step.fallback}.")
        yield _heading(step), [*sentences, " ".join(gates)] if gates else sentences
        gate = step.gate
