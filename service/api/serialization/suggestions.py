"""The ids that a text was probably meant for which is none: by what the trade calls things, and by likeness of spelling."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import Final

from rapidfuzz.fuzz import ratio
from rapidfuzz.process import extractOne

from service.knowledge.catalogue import EXERCISES
from service.knowledge.other_names import OTHER_NAMES

LONGEST: Final = 60  # characters of a text that is compared at all
LEAST_LIKENESS: Final = 75  # of 100: about one letter in four may differ
MOST: Final = 3
HUMP: Final = re.compile(r"(?<=[a-z0-9])(?=[A-Z][a-z])")
SIGNS: Final = re.compile(r"[^a-z0-9]+")
PLURAL: Final = re.compile(r"(?<=[a-z]{2}[a-rt-z])s$")


def near(text: object, ids: Iterable[object]) -> tuple[str, ...]:
    """The ids that a text may be meant for, at most three; none where nothing is like it.

    ids: the values of which it should have been one.
    """
    if not isinstance(text, str) or len(text) > LONGEST:
        return ()
    by_name = _by_name(tuple(value for value in ids if isinstance(value, str)))
    nearest = extractOne(_plain(text), by_name.keys(), scorer=ratio, score_cutoff=LEAST_LIKENESS)
    found = by_name[nearest[0]] if nearest else ()
    alike = tuple(each for each in found if _words(each) == _words(text))
    return alike or found[:MOST]


def question(names: tuple[str, ...]) -> str:
    """A question that names what may be meant, such as "Did you mean front_squat?"; empty where nothing may."""
    return f"Did you mean {' or '.join(names)}?" if names else ""


def suggestion(text: object, ids: Iterable[object]) -> str:
    """What is near to a text, as a question."""
    return question(near(text, ids))


@cache
def _by_name(ids: tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """The ids by each of their names as they are compared: the id itself, its name for people and those of the trade."""
    by_name: dict[str, tuple[str, ...]] = {}
    for each in ids:
        for name in {_plain(name) for name in (each, *_names(each), *_names_of_part(each, ids))}:
            by_name[name] = (*by_name.get(name, ()), each)
    return by_name


def _names(each: str) -> tuple[str, ...]:
    if each in EXERCISES:
        return EXERCISES[each].name, *EXERCISES[each].aliases
    return OTHER_NAMES.get(each, ())


def _names_of_part(each: str, ids: tuple[str, ...]) -> tuple[str, ...]:
    """Of a flat name those of its field, where no other id is that field: "height" of lifter_stature."""
    parts = (each.split("_", count)[-1] for count in range(1, each.count("_") + 1))
    field = next((part for part in parts if part in OTHER_NAMES), None)
    return () if field is None or field in ids else (field, *OTHER_NAMES[field])


def _plain(name: str) -> str:
    """A name without capitals, signs and plurals, its words in the order of the alphabet: "Squats, front" and "squatFront" are "front squat"."""
    return " ".join(sorted(_words(name)))


def _words(name: str) -> list[str]:
    words = SIGNS.split(HUMP.sub(" ", name).casefold().replace("'", ""))
    return [PLURAL.sub("", word) for word in words if word]
