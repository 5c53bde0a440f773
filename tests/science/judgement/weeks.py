"""Weeks with what an expert would want, asked and judged; `python -m tests.science.judgement.weeks` writes the page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

import msgspec

from service.knowledge.catalogue import EXERCISES, REGIONS
from service.vocabulary import WEIGHTINGS
from tests.science.judgement.pages import table, written
from tests.science.judgement.sentences import Json
from tests.science.judgement.verdicts import Verdict, verdicts
from tests.science.judgement.wanted import Consultation, Request, consultations
from tests.science.judgement.week_vocabulary import WeekAsked, holds
from tests.support.asking import ask

FOLDER: Final = Path(__file__).parent / "weeks"
FILE: Final = FOLDER / "weeks.toml"
EVERYWHERE: Final = FOLDER / "everywhere.toml"
ALL: Final = consultations(FILE)


def answer(request: Request) -> WeekAsked:
    """A request with its answer, and what its week asks as it is."""
    as_it_is = {name: request[name] for name in ("lifter", "week", "aim")}
    demand, given = ask("week-demand", as_it_is), ask("week-adjustments", request)
    return WeekAsked(request, msgspec.to_builtins(given), msgspec.to_builtins(demand))


def judged(consultation: Consultation, asked: WeekAsked) -> list[Verdict]:
    """Every line against the answer."""
    return verdicts(consultation, asked, EVERYWHERE, holds)


def page() -> str:
    """The whole text of the page."""

    def told(consultation: Consultation) -> tuple[list[Verdict], Iterator[str]]:
        asked = answer(consultation.asked)
        return judged(consultation, asked), _answer(asked)

    return written(FILE, told, "tests.science.judgement.weeks")


def _answer(asked: WeekAsked) -> Iterator[str]:
    yield f"The service answers: **{asked.answer['decision']}**. {' '.join(one['text'] for one in asked.answer['why'])}"
    yield ""
    head = ("", *(weighting.replace("_", " ") for weighting in WEIGHTINGS))
    yield from table(head, [_lift(asked, one) for one in asked.demand["regions"][REGIONS[asked.region].whole]["lifts"]])
    if asked.options:
        yield ""
        head = ("", "What", *head[1:], "Relief", "Muscles")
        yield from table(head, [_option(one, asked.region) for one in asked.options])


def _lift(asked: WeekAsked, lift: Json) -> tuple[str, ...]:
    """A lift with its part of the sore region's week as it is."""
    name = f"{EXERCISES[asked.done(lift['entry'])].name}, day {lift['day']}"
    return (name, *(f"{lift['share'][one]['value']:.2f}" for one in WEIGHTINGS))


def _option(option: Json, region: str) -> tuple[str, ...]:
    sizes = option["demand"][region]
    muscles = (f"{name} {one['before']:g} to {one['after']:g}" for name, one in option["muscles"].items())
    return (
        str(option["rank"]),
        " ".join(one["words"] for one in option["changes"]),
        *(_size(sizes[weighting]) for weighting in WEIGHTINGS),
        option["relief"],
        ", ".join(muscles) or "as now",
    )


def _size(ratio: Json) -> str:
    return f"{ratio['value']:.2f} ({ratio['low']:.2f} to {ratio['high']:.2f})"


if __name__ == "__main__":
    FILE.with_suffix(".md").write_text(page(), encoding="utf-8")
