"""The way back as a staircase: weeks across, demand of the sore region upwards, a gate before every rise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from service.charts.elements.layout import Column
from service.charts.elements.text_layout import clean, number
from service.charts.elements.theme import LINE_HEIGHT, MARGIN
from service.charts.staircase.stairs import STAIRS_HEIGHT, Step, drawn_key, drawn_stairs, percent

_AS_BEFORE: Final = "Gate as before."


def staircase(title: str, region: str, steps: Sequence[Step], footnotes: Sequence[str] = ()) -> str:
    """The steps as a staircase, and below it each with its prescription, what changed and its gate.

    Args:
        title: in one line
        region: that is sore, in words
        steps: in order of weeks, the original last
        footnotes: paragraphs at the end

    Returns:
        SVG text, with the same numbers in its text alternative.

    Raises:
        ValueError: without steps, or where weeks do not rise
    """
    if not steps:
        raise ValueError("There is no step to draw.")
    if any(later.week <= earlier.week for earlier, later in pairwise(steps)):
        raise ValueError("Every step starts in a later week than the one before.")
    gates = list(dict.fromkeys(step.gate for step in steps if step.gate))
    sheet = Column()
    sheet.write(title, "head")
    sheet.skip(MARGIN / 4)
    sheet.write(_axis_name(region, steps), "quiet")
    sheet.draw(drawn_key(sheet.bottom, steps), LINE_HEIGHT)
    sheet.draw(drawn_stairs(steps, sheet.bottom), STAIRS_HEIGHT)
    if len(gates) == 1:
        sheet.write("Gate of every step", "strong")
        sheet.write(gates[0])
        sheet.rule()
    for heading, paragraphs in _paragraphs(steps, with_gates=len(gates) > 1):
        sheet.write(heading, "strong")
        for text in paragraphs:
            sheet.write(text)
        sheet.skip(MARGIN / 2)
    if footnotes:
        sheet.rule()
    for text in footnotes:
        sheet.write(text, "quiet")
        sheet.skip(MARGIN / 4)
    return sheet.finished(title, _in_words(title, region, steps))


def _axis_name(region: str, steps: Sequence[Step]) -> str:
    if all(step.demand is None for step in steps):
        return f"Demand of the {region}: no number is known, so all rises are drawn alike."
    name = f"Demand of the {region}, a repetition, in per cent of the original."
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


def _in_words(title: str, region: str, steps: Sequence[Step]) -> str:
    sentences = [f"{clean(title)}. {_axis_name(region, steps)}"]
    for heading, paragraphs in _paragraphs(steps, with_gates=True):
        sentences += [f"{text.rstrip('.')}." for text in (heading, *map(clean, paragraphs))]
    return " ".join(sentences)
