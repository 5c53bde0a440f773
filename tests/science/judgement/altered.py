"""Answers that the service has not given: each a copy of a true one with one thing in it changed.

By them every line of every consultation is shown to be able to fail.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from copy import deepcopy
from typing import Any, Final, get_args

from service.knowledge.catalogue import EXERCISES
from service.knowledge.cues import CUES
from service.knowledge.message_templates import TEMPLATES
from service.vocabulary import AdjustmentDecision, Implement, Lever
from tests.science.judgement.sentences import Asked, Json

_URGENCIES: Final = ("emergency_now", "same_day", "urgent_refer", "hold_and_review")


def altered(asked: Asked) -> Iterator[Asked]:
    """The answer with one thing changed, for each thing that a line can be about; of its options the first alone."""
    for change in _of_the_answer():
        yield _changed(asked, change)
    if not asked.options:
        return
    first = _changed(asked, _set("options", to=asked.options[:1]))
    for change in _of_an_option(asked):
        altered = deepcopy(first)
        change(altered.options[0])
        yield altered


def _changed(asked: Asked, change: Callable[[Json], object]) -> Asked:
    answer = deepcopy(asked.answer)
    change(answer)
    return Asked(asked.request, answer)


def _set(*way: str, to: Any) -> Callable[[Json], None]:  # noqa: ANN401 (any JSON)
    def change(part: Json) -> None:
        for name in way[:-1]:
            part[name] = part.get(name) or {}
            part = part[name]
        part[way[-1]] = to

    return change


def _of_the_answer() -> Iterator[Callable[[Json], object]]:
    yield from (_set("decision", to=decision) for decision in get_args(AdjustmentDecision))
    yield from (_set("referral", to={"urgency": urgency}) for urgency in _URGENCIES)
    yield _set("options", to=[])
    yield from (_set("meanwhile", to=[{"muscle": "", "exercises": [exercise]}]) for exercise in EXERCISES)
    yield from (_set("pause", "look_again", "days", to=days) for days in (1, 100))
    yield _set("why", to=[])
    yield from (_set("cautions", to=[{"code": code, "text": ""}]) for code in TEMPLATES)


def _of_an_option(asked: Asked) -> Iterator[Callable[[Json], object]]:
    region = asked.region
    yield from (_set("levers", to=[lever]) for lever in get_args(Lever))
    yield from (_set("prescription", "exercise", to=exercise) for exercise in EXERCISES)
    yield from (_set("prescription", "implement", to=implement) for implement in get_args(Implement))
    yield from (_set("prescription", "cues", to=[cue]) for cue in CUES)
    yield from (_set("prescription", "technique", to={name: value}) for name, value in _TECHNIQUES)
    yield from (_set("prescription", "load", to={"value": load, "unit": "kg"}) for load in (0, 1000))
    yield lambda option: option["prescription"].update(load=asked.request["prescription"]["load"], assistance=None)
    yield from (_set("prescription", "sets", to=sets) for sets in (1, 10))
    yield _set("prescription", "reps", to={"low": 30, "high": 30})
    yield from (_set("program", to=program) for program in ("heavy_slow", None))
    yield from (_set("stimulus", "reps_in_reserve", to=reserve) for reserve in (0, 12))
    yield from (_set("stimulus", "kept", "value", to=value) for value in (0.1, 1.0))
    for ratio in (0.5, 0.95, 1.5):
        for name in (region, "wrist", "ankle"):
            yield _set("demand", name, to={"value": ratio, "low": ratio, "high": ratio})
    yield _set("direction", region, to="higher")
    yield lambda option: (option["demand"].pop(region, None), option["direction"].update({region: "higher"}))
    yield _set("session_exposure", to=2.0)
    yield _set("why", to=[])


_TECHNIQUES: Final = (
    ("heel_lift", {"value": 0.02, "unit": "m"}),
    ("foot_spacing", {"value": 1.1, "unit": "m"}),
    ("stance", "wide"),
)
