"""What is typed into cells: a closed list of ways to write what an address takes, and nothing that is guessed."""

from __future__ import annotations

import pytest

from service.api.serialization.typed import (
    UNIT_NAMES,
    both_ends,
    counted,
    point_for_comma,
    quantity,
    span,
    truth,
    without_apostrophe,
)
from service.units import SI


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("62.5 kg", "62.5kg"),
        (" 62.5\u00a0KG ", "62.5kg"),
        ("135 lbs", "135lb"),
        ("135 Pounds", "135lb"),
        ('14 "', "14in"),
        ("-2 cm", "-2cm"),
        ("27°", "27deg"),
        ("90 Sec", "90s"),
        ("62.5", "62.5"),
        ("62.5 stone", "62.5stone"),
        ("62.5 kg 2", "62.5 kg 2"),
        ("about 60 kg", "about 60 kg"),
        ("60-65 kg", "60-65 kg"),
        ("1,250 kg", "1,250 kg"),
        ("6 2.5 kg", "6 2.5 kg"),
    ],
)
def test_quantities(cell: str, text: str) -> None:
    assert quantity(cell) == text


def test_counts_and_ranges_and_truth() -> None:
    assert [counted(cell) for cell in ("25 KG x 4", "25kg×4", "25kg", "x4")] == ["25kgx4", "25kgx4", "25kg", "x4"]
    assert [span(cell) for cell in ("4 - 6", "4\u20136", " 5", "4-6-8", "4 6")] == ["4-6", "4-6", "5", "4-6-8", "4 6"]
    assert [both_ends(cell) for cell in (" 5", "5.5", "4 - 6", "-5", "5 kg")] == ["5-5", "5.5-5.5", "4-6", "-5", "5 kg"]
    assert [truth(cell) for cell in ("TRUE", "False ", "yes")] == ["true", "false", "yes"]


def test_a_comma_is_a_point_unless_it_may_separate_thousands() -> None:
    for cell in ("1,250", "1,250 kg", "12,500", "-1,250kg", "4-1,250"):
        assert point_for_comma(cell) is None
    commas = ("62,5", "0,125", "1,25", "1,2500", "4,5-6,5", "1250", "1.250", "1,250,000", "a, b")
    points = ["62.5", "0.125", "1.25", "1.2500", "4.5-6.5", "1250", "1.250", "1.250.000", "a, b"]
    assert [point_for_comma(cell) for cell in commas] == points


def test_the_apostrophe_of_an_answer_is_taken_off() -> None:
    assert [without_apostrophe(cell) for cell in ("'-2cm,-1cm", "'a", "'", "''=1")] == ["-2cm,-1cm", "'a", "'", "''=1"]


def test_blanks_are_read_in_one_pass() -> None:
    """As many as a row may have: where patterns try each of them in two places, this takes a minute."""
    cell = "5" + " " * 16_000 + "!"
    for _ in range(50):
        assert [quantity(cell), counted(cell), span(cell)] == [cell] * 3


def test_every_unit_has_its_own_name_and_no_name_two_units() -> None:
    assert set(UNIT_NAMES.values()) == set(SI)
    assert all(UNIT_NAMES[unit] == unit for unit in SI)
    assert all(name == name.lower() for name in UNIT_NAMES)
