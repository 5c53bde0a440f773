"""A reader of sentences: each kind by a pattern, with a check that holds its numbers and words against the answer.

A sentence that no pattern reads, or two read, fails: so nothing is said that no test holds. The text of a message has
to follow from its code and its values as well.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from service.knowledge.design_choices import CHOICES
from service.messages import Message, text_of
from service.units import SI
from tests.support.asking import Answered

# as nobody says it: "1 sets", "on 1 days", "at least 0 repetitions", "0 kg"
UNSAID: Final = re.compile(r"(?<![\d.])(?:1 (?:sets|days|repetitions|percentage points)|0 (?:repetitions|kg|lb))\b")
NUMBER: Final = r"(\d+(?:\.\d+)?)"
ROUNDED: Final = 0.051
"""A number of an answer to one decimal, against the one that is said [1]."""
Check = Callable[..., None]


class SentenceReader:
    """Patterns of one kind of text, each with its check; a check is given what the pattern captured and the facts."""

    def __init__(self) -> None:
        self._checks: list[tuple[re.Pattern[str], Check]] = []
        self.used: set[str] = set()

    def pattern(self, text: str) -> Callable[[Check], Check]:
        """Registers a check for a sentence; # stands for a number."""
        compiled = re.compile(text.replace("#", NUMBER))

        def register(check: Check) -> Check:
            self._checks.append((compiled, check))
            return check

        return register

    def hold(self, said: str | Message, facts: object) -> str:
        """Reads a sentence and holds it against the facts; the name of the check that read it."""
        sentence = said if isinstance(said, str) else said.text
        assert isinstance(said, str) or text_of(said.code, said.values) == sentence
        reading = [(match, check) for pattern, check in self._checks if (match := pattern.fullmatch(sentence))]
        assert UNSAID.search(sentence) is None, sentence
        assert len(reading) == 1, f"read by {[check.__name__ for _, check in reading]}: {sentence}"
        [(match, check)] = reading
        self.used.add(check.__name__)
        try:
            check(facts, *match.groups())
        except AssertionError as fault:
            raise AssertionError(f"{sentence}\n{check.__name__}: {fault}") from fault
        return check.__name__

    def hold_all(self, sentences: Iterable[str | Message], facts: object) -> list[str]:
        """Reads every sentence; the names of their checks in order."""
        return [self.hold(sentence, facts) for sentence in sentences]


def shows(said: str, value: float) -> None:
    """A number in words is the value to as many decimals as are said; half a unit of the last is rounding."""
    decimals = len(said.partition(".")[2])
    assert abs(float(said) - value) <= 0.5001 * 10**-decimals, f"{said} for {value}"


def kilograms(mass: Answered) -> float:
    """A quantity of mass of a request or of an answer [kg]."""
    if isinstance(mass, dict):
        return float(mass["value"] * SI[mass["unit"]])
    return float(mass.value * SI[mass.unit])


def holds_load(said: str, load: Answered, assistance: Answered | None) -> None:
    """A load in words is the load of a prescription, in its unit: in pairs, on one side, or beside the body."""
    match = re.fullmatch(
        rf"(two dumbbells of )?(?:one dumbbell of |a kettlebell of )?{NUMBER} (kg|lb)"
        r"( of assistance| added to body mass| for each arm in turn"
        r"| on a (?:barbell|safety bar|trap bar|machine|cable|belt))?",
        said,
    )
    if match is None:
        assert said == "body mass", said
        assert kilograms(load) == 0
        assert assistance is None
        return
    pair, number, unit, kind = match.groups()
    meant = assistance if kind == " of assistance" else load
    assert meant is not None
    assert (meant["unit"] if isinstance(meant, dict) else meant.unit) == unit
    value = meant["value"] if isinstance(meant, dict) else meant.value
    assert abs(float(number) * (2 if pair else 1) - value) <= 1e-4 * value
    assert (kind == " of assistance") == (assistance is not None)


def holds_reps(said: str, reps: Answered) -> None:
    """Repetitions in words, as 5 or 5 to 6, are those of the answer or the request."""
    low, _, high = said.partition(" to ")
    ends = (reps["low"], reps["high"]) if isinstance(reps, dict) else (reps.low, reps.high)
    assert (float(low), float(high or low)) == ends, f"{said} for {ends}"


def without_reserve(parts: list[str], prescription: Answered) -> list[str]:
    """The parts of a prescription in words but the last, which says what is left in reserve where that is stated."""
    left = prescription.get("reps_in_reserve")
    if left is None or prescription.get("hold") is not None:
        assert not [one for one in parts if one.endswith(("left in reserve", "far from failure"))], parts
        return parts
    *others, last = parts
    far = CHOICES.adjustments.far_from_failure - 0.5
    if last == "far from failure":
        assert left >= far - ROUNDED
        return others
    said = re.fullmatch(rf"with (?:about {NUMBER}|(none)) left in reserve", last)
    assert said is not None, last
    assert abs(left - float(said[1] or 0)) <= 0.5 + ROUNDED
    assert left <= far + ROUNDED
    return others
