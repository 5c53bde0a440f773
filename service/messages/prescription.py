"""A prescription, as answers show it, in words that a coach can say: whole, or in its parts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.messages.names import Forms, inline
from service.messages.setup import Instruction, depth_instruction, technique_instructions
from service.messages.template import Kind, Writer

_SAID_ALWAYS: Final = ("one_dumbbell", "kettlebell")


class PrescriptionWords:
    """Prescriptions in the words of one language."""

    def __init__(self, phrases: Mapping[str, Writer], exercise: Forms, cue: Forms) -> None:
        """phrases: how each part is said, of a prescription as it is shown or of values by their names."""
        self._phrases: Final = phrases
        self._exercise: Final = exercise
        self._name: Final = exercise("start")
        self._cue: Final = cue("")
        self._forms: Final[dict[str, Writer]] = {
            "": self.line,
            "work": self.work,
            "sets": self.sets,
            "load": self.load,
            "exercise": lambda shown: self._name(shown["exercise"]),
            "lift": lambda shown: exercise("")(shown["exercise"]),
        }

    def form(self, form: str) -> Writer:
        """A prescription in one of its forms, or its exercise in one of those of exercises; KeyError for another."""
        if form in self._forms:
            return self._forms[form]
        words = self._exercise(form)
        return lambda shown: words(shown["exercise"])

    def load(self, shown: Mapping[str, Any]) -> str:
        """A load, as "62.5 kg", "two dumbbells of 20 kg", "body mass" or "12 kg of assistance"."""
        exercise, load = EXERCISES[shown["exercise"]], shown["load"]
        if shown.get("assistance"):
            return self._phrases["assistance"](shown)
        if not load["value"]:
            return self._phrases["body_mass"](shown)
        if exercise.carry == "body":
            return self._phrases["added_to_body_mass"](shown)
        implement = shown.get("implement")
        if implement == "dumbbells" or (implement is None and exercise.dumbbells):
            return self._phrases["two_dumbbells"]({"load": {"value": load["value"] / 2, "unit": load["unit"]}})
        if exercise.one_arm:
            return self._phrases["each_arm_in_turn"](shown)
        plain = implement is None or (implement == exercise.implements[0] and implement not in _SAID_ALWAYS)
        return self._phrases["plain_load" if plain else str(implement)](shown)

    def sets(self, shown: Mapping[str, Any]) -> str:
        """Sets and repetitions of a session, or its holds, as "4 × 45 s"."""
        exercise = EXERCISES[shown["exercise"]]
        if shown.get("hold") is None:
            work = self._phrases["sets_of_reps"](shown)
        else:
            work = self._phrases["holds" if shown["reps"]["high"] == 1 else "holds_in_sets"](shown)
        one_leg = exercise.family == "split" or exercise.stance == "single_leg"
        return self._phrases["on_each_leg"]({"work": work}) if one_leg else work

    def days(self, shown: Mapping[str, Any]) -> str:
        """How often a week; the days are stated."""
        return (
            self._phrases["one_day_a_week"](shown)
            if shown["days_per_week"] == 1
            else self._phrases["days_a_week"](shown)
        )

    def work(self, shown: Mapping[str, Any]) -> str:
        """Sets, repetitions, load and days, as "4 sets of 5 repetitions with 60 kg on 2 days a week"."""
        work = self._phrases["with_load"]({"work": self.sets(shown), "load": self.load(shown)})
        return f"{work} {self.days(shown)}" if shown.get("days_per_week") else work

    def line(self, shown: Mapping[str, Any]) -> str:
        """The whole prescription in one line."""
        parts = [
            self._name(shown["exercise"]),
            self._phrases["with_load"]({"work": self.sets(shown), "load": self.load(shown)}),
        ]
        if "days_per_week" in shown:
            parts.append(self.days(shown))
        if "depth" in shown:
            parts.append(self._instruction(depth_instruction(shown)).split(";")[0])
        if technique := shown.get("technique"):
            parts += map(self._instruction, technique_instructions(technique, {}))
            if "shin_angle" in technique:
                parts.append(self._phrases["shins_forward"](technique))
        parts += map(self._cue, shown.get("cues", ()))
        if "tempo" in shown:
            parts.append(self._phrases["tempo"](shown))
        if "rest" in shown:
            parts.append(self._phrases["rest"](shown))
        return ", ".join(parts)

    def _instruction(self, instruction: Instruction) -> str:
        code, values = instruction
        return inline(self._phrases[code](values))


def _shown(value: object) -> dict[str, Any]:
    """The prescription without what is not stated; a table is taken as it is."""
    if isinstance(value, dict):
        return value
    return {name: part for name, part in msgspec.to_builtins(value).items() if part is not None and part != []}


def prescription_kind(words: PrescriptionWords, joined: Callable[[list[str]], str]) -> Kind:
    """A prescription, in the forms in which a sentence of one language names it."""
    return Kind(
        "a prescription",
        _shown,
        words.form,
        {"exercise": "front_squat", "sets": 4, "reps": {"low": 5, "high": 6}, "load": {"value": 62.5, "unit": "kg"}},
        joined,
    )
