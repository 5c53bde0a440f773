"""What people type into cells, as the one text that is taken in an address: 62.5 KG is 62.5kg, TRUE is true.

For tables alone. A closed list, and nothing is guessed:

1. Blanks around a value, between a number and its unit, and around the hyphen of a range, which may be an en dash.
2. Units in capitals, in the plural, and by the names of `UNIT_NAMES`.
3. True and false in capitals.
4. A number alone where only a range is taken: 5 is 5-5.
5. A decimal comma, where the separator of the table is no comma. 1,250 may be a thousand, and is refused. In lists, which
   commas separate, there is none.
6. A number alone in a column whose heading ends in a unit in brackets, `load (kg)`, has that unit.
7. An apostrophe before what would be a formula, as an answer writes it.

What is none of that is left as it is, so that the strict reader refuses it.
"""

from __future__ import annotations

import re
from typing import Final

from service.http.cells import APOSTROPHE, FORMULA_STARTS

UNIT_NAMES: Final = {
    name: unit
    for unit, names in {
        "kg": "kg kgs kilo kilos kilogram kilograms",
        "lb": "lb lbs pound pounds",
        "m": "m meter meters metre metres",
        "cm": "cm cms centimeter centimeters centimetre centimetres",
        "in": 'in inch inches "',
        "ft": "ft foot feet",
        "deg": "deg degs degree degrees °",
        "rad": "rad rads radian radians",
        "s": "s sec secs second seconds",
        "min": "min mins minute minutes",
    }.items()
    for name in names.split()
}
_NUMBER: Final = r"-?[0-9]+(?:\.[0-9]+)?(?:[eE][+-]?[0-9]{1,3})?"
_UNIT: Final = r'[A-Za-z]{1,12}|°|"'
_QUANTITY: Final = re.compile(rf"({_NUMBER}) ?({_UNIT})")
_COUNTED: Final = re.compile(rf"({_NUMBER}) ?({_UNIT}) ?[xX×] ?([0-9.]+)")
_RANGE: Final = re.compile(r"(-?[0-9.]+) ?[-–] ?(-?[0-9.]+)")
_ALONE: Final = re.compile(_NUMBER)
LONGEST_HEADING: Final = 200
_UNSIGNED: Final = re.compile(r"[0-9]+(?:\.[0-9]+)?")
_HEADING: Final = re.compile(rf"(.*\S)\s*(?:\(\s*({_UNIT})\s*\)|\[\s*({_UNIT})\s*\])\s*")
_COMMA: Final = re.compile(r"(?<=[0-9]),(?=[0-9])")
_THOUSANDS: Final = re.compile(r"(?<![0-9.,])[1-9][0-9]{0,2},[0-9]{3}(?![0-9.,])")


def plain(text: str) -> str:
    """A text without the blanks around it."""
    return text.strip()


def truth(text: str) -> str:
    """True or false in small letters."""
    return text.strip().lower()


def quantity(text: str) -> str:
    """A quantity without blanks, with the unit as it is published."""
    match = _QUANTITY.fullmatch(_single_blanks(text))
    return f"{match[1]}{_unit(match[2])}" if match else text.strip()


def counted(text: str) -> str:
    """A quantity with its count, as `quantity` has the quantity."""
    match = _COUNTED.fullmatch(_single_blanks(text))
    return f"{match[1]}{_unit(match[2])}x{match[3]}" if match else quantity(text)


def span(text: str) -> str:
    """A range, or a number where one may stand, without blanks and with a hyphen."""
    match = _RANGE.fullmatch(_single_blanks(text))
    return f"{match[1]}-{match[2]}" if match else text.strip()


def both_ends(text: str) -> str:
    """A range, as `span` has it; a number alone is both of its ends."""
    found = span(text)
    return f"{found}-{found}" if _UNSIGNED.fullmatch(found) else found


def point_for_comma(text: str) -> str | None:
    """The text with points where commas stand between digits; None where one may separate thousands."""
    return None if _THOUSANDS.search(text) else _COMMA.sub(".", text)


def heading_and_unit(text: str) -> tuple[str, str]:
    """A heading without the word in brackets at its end, and the unit that it is, as it is published; else empty."""
    match = _HEADING.fullmatch(text) if len(text) <= LONGEST_HEADING else None
    return (match[1], UNIT_NAMES.get((match[2] or match[3]).lower(), "")) if match else (text, "")


def with_unit(text: str, unit: str) -> str:
    """A number alone with a unit behind it; another text as it is."""
    return f"{text.strip()}{unit}" if unit and _ALONE.fullmatch(text.strip()) else text


def without_apostrophe(text: str) -> str:
    """A cell without the apostrophe that keeps it from being a formula."""
    return text[1:] if text[:1] == APOSTROPHE and text[1:2] in FORMULA_STARTS else text


def _single_blanks(text: str) -> str:
    return " ".join(text.split())


def _unit(name: str) -> str:
    return UNIT_NAMES.get(name.lower(), name)
