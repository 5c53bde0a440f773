"""One of a thing is said in the singular, whichever sentence counts it: "1 day", "2 days"."""

from __future__ import annotations

import re
from typing import Any, Final

import pytest

from service.knowledge.message_templates import TEMPLATES
from service.messages.catalogue import CATALOGUE
from service.units import SI

ONE: Final[dict[str, Any]] = {"number": 1, "reps": {"low": 1, "high": 1}}
PLURAL: Final = re.compile(r"(?<![\d.,–-])1 ([a-z]+s)\b")
NO_PLURALS: Final = {"asks", "is", "less", "times"}
"""Words in s that may follow a one: verbs, a word without a plural, and "1 times body mass"."""


@pytest.mark.parametrize("code", sorted(CATALOGUE))
def test_one_of_a_thing_is_no_plural(code: str) -> None:
    kinds, template = TEMPLATES[code].values, CATALOGUE[code]
    for unit in SI:
        values = {
            name: {"value": 1, "unit": unit} if kind == "quantity" else ONE.get(str(kind), template.example[name])
            for name, kind in kinds.items()
        }
        assert set(PLURAL.findall(template.text(values))) <= NO_PLURALS
        if "quantity" not in kinds.values():
            break
