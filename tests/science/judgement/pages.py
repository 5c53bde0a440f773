"""Writes each file of consultations as a page to be read: `python -m tests.science.judgement.pages`.

What is asked, what is wanted and never wanted, what the service answers, and whether it holds, side by side.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from tests.science.judgement.sentences import Asked, Json
from tests.science.judgement.verdicts import Verdict, answer, verdicts
from tests.science.judgement.wanted import Consultation, consultations, files


def page(path: Path) -> str:
    """The whole text of a page of consultations."""

    def told(consultation: Consultation) -> tuple[list[Verdict], Iterator[str]]:
        asked = answer(consultation.asked)
        return verdicts(consultation, asked), _answer(asked)

    return written(path, told, "tests.science.judgement.pages")


def written(path: Path, told: Callable[[Consultation], tuple[list[Verdict], Iterable[str]]], by: str) -> str:
    """A page of each consultation with its verdicts and the lines of its answer, and which module writes it."""
    text = path.read_text(encoding="utf-8").splitlines()[0].removeprefix("# ").rstrip(".")
    lines = [f"# {text}", "", f"Written by `python -m {by}`, and by nothing else.", ""]
    for consultation in consultations(path):
        found, answered = told(consultation)
        lines += [f"## {_words(consultation.name)}", "", consultation.who, "", *_request(consultation), ""]
        lines += [*_wanted(found), "", *answered, ""]
    return "\n".join(lines).rstrip() + "\n"


def write() -> None:
    """Write every page anew."""
    for path in files():
        path.with_suffix(".md").write_text(page(path), encoding="utf-8")


def _words(name: str) -> str:
    return name.replace("_", " ").capitalize()


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> Iterator[str]:
    """A table of a page."""
    yield f"| {' | '.join(head)} |"
    yield f"| {' | '.join('---' for _ in head)} |"
    yield from (f"| {' | '.join(row)} |" for row in rows)


def _request(consultation: Consultation) -> Iterator[str]:
    rows = [(_words(name), _plain(part)) for name, part in consultation.request.items()]
    yield from table(("Asked", ""), rows)


def _plain(part: Any) -> str:  # noqa: ANN401 (any JSON)
    if isinstance(part, dict):
        if part.keys() == {"low", "high"}:
            return f"{part['low']} to {part['high']}"
        return "; ".join(f"{name.replace('_', ' ')} {_plain(inner)}" for name, inner in part.items())
    if isinstance(part, list):
        return ", ".join(f"({_plain(one)})" if isinstance(one, dict) else _plain(one) for one in part) or "none"
    return part if isinstance(part, str) else json.dumps(part)


def _wanted(found: Sequence[Verdict]) -> Iterator[str]:
    rows = [
        (
            "must" if one.must else "must not",
            one.line.it,
            one.line.why,
            f"{', '.join(one.line.sources)} ({one.line.known})",
            "holds" if one.holds else "**does not hold**",
        )
        for one in found
    ]
    yield from table(("", "What", "Because", "Source, how it is known", ""), rows)


def _answer(asked: Asked | None) -> Iterator[str]:
    if asked is None:
        yield "The service does not take the question."
        return
    yield f"The service answers: **{asked.answer['decision']}**. {' '.join(one['text'] for one in asked.answer['why'])}"
    meanwhile = asked.answer.get("meanwhile", [])
    if meanwhile:
        yield ""
    for group in meanwhile:
        yield f"- meanwhile, {group['muscle'].replace('_', ' ')}: {', '.join(group['exercises'])}"
    if asked.options:
        yield ""
        head = ("", "Levers", "Prescription", "Sore region", "Most elsewhere", "In reserve", "Kept")
        yield from table(head, [_option(one, asked.region) for one in asked.options])


def _option(option: Json, region: str) -> tuple[str, ...]:
    demand = option["demand"]
    own, others = demand.get(region), [ratio["value"] for name, ratio in demand.items() if name != region]
    own_words = option["direction"].get(region, "unknown") if own is None else _span(own)
    if option["meets_by"] == "session_exposure":
        own_words = f"session {option['session_exposure']:.2f}"
    elif option["meets_by"] == "week_exposure":
        own_words = f"week {option['stimulus']['weekly_sets']:.2f}"
    return (
        str(option["rank"]),
        ", ".join(option["levers"]) + (f" ({option['program']})" if "program" in option else ""),
        option["why"][0]["text"],
        own_words,
        f"{max(others):.2f}" if others else "unknown",
        f"{option['stimulus']['reps_in_reserve']:g}",
        f"{option['stimulus']['kept']['value']:.2f}",
    )


def _span(demand: Json) -> str:
    if demand["low"] == demand["high"]:
        return f"{demand['value']:.2f}"
    return f"{demand['value']:.2f} ({demand['low']:.2f} to {demand['high']:.2f})"


if __name__ == "__main__":
    write()
