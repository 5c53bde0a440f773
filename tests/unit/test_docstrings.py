"""Public docstrings name every attribute and argument with its unit, and the glossary has each name with that unit."""

from __future__ import annotations

import re
from typing import Final

import pytest

from service.knowledge.catalogue import SOURCES
from tests.support.docstrings import SERVICE, Documented, documented, units_in

HELD: Final = ("mechanics", "training", "knowledge", "charts", "adjustment")
NOT_YET_HELD: Final = ()

ANY: Final = "any"
ORIGINS: Final = {"as the row says", "definition", "measured", "reported", "stated", "statics"}
SUBJECTS: Final = {each.where: each for package in HELD for each in documented(package)}
INTERFACE: Final = {each.where: each for each in documented("api") if each.is_struct}


def tables() -> dict[str, list[list[str]]]:
    """Rows of the glossary's tables, without their headings, by the title above them."""
    rows: dict[str, list[list[str]]] = {}
    title = ""
    for line in (SERVICE / "GLOSSARY.md").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            title = line.lstrip("# ")
        elif line.startswith("|"):
            rows.setdefault(title, []).append([cell.strip() for cell in line.strip("|").split("|")])
    return {title: lines[2:] for title, lines in rows.items()}


TABLES: Final = tables()
UNITS: Final = {row[0] for row in TABLES["Units"]}
GLOSSARY: Final = {
    name: set(row[2].split(", "))
    for title, rows in TABLES.items()
    if title != "Units"
    for row in rows
    for name in row[0].split(", ")
}


def without_unit(subject: Documented) -> set[str]:
    """Attributes or arguments that are numbers and have no line with a unit."""
    described = {entry.name for entry in subject.entries() if entry.units}
    return {variable.name for variable in subject.variables if variable.is_number} - described


def test_every_package_of_the_domain_is_held_or_named_as_not_yet_held() -> None:
    assert sorted(HELD + NOT_YET_HELD) == ["adjustment", "charts", "knowledge", "mechanics", "training"]


def test_the_check_sees_the_public_structs_and_functions() -> None:
    assert {"mechanics/body.py:Body", "mechanics/body.py:build_body", "training/tempo.py:reps_kept"} <= SUBJECTS.keys()
    assert len(SUBJECTS) > 150


@pytest.mark.parametrize("where", SUBJECTS)
def test_every_attribute_and_argument_has_its_line_and_its_unit(where: str) -> None:
    subject = SUBJECTS[where]
    names = [variable.name for variable in subject.variables]
    described = [entry.name for entry in subject.entries()]
    assert subject.docstring
    assert described == [name for name in names if name in described], "of other names, or in another order"
    if subject.is_struct:
        assert described == names
    assert not without_unit(subject)


@pytest.mark.parametrize("where", [where for where, subject in INTERFACE.items() if subject.section("Attributes")])
def test_the_words_of_a_shape_are_those_of_its_fields(where: str) -> None:
    """They are published with the fields; what tells alternatives apart has its words too, and is no field."""
    subject = INTERFACE[where]
    described = [entry.name for entry in subject.entries() if entry.name != "result"]
    assert described == [variable.name for variable in subject.variables]


@pytest.mark.parametrize("where", SUBJECTS)
def test_a_number_that_is_returned_has_its_unit_and_a_refusal_its_section(where: str) -> None:
    subject = SUBJECTS[where]
    if subject.returns.is_number:
        assert units_in(subject.section("Returns") or subject.section("") or "")
    if subject.refuses:
        assert "Refusal" in (subject.section("Raises") or "")


@pytest.mark.parametrize("where", SUBJECTS)
def test_the_glossary_has_every_quantity_with_its_unit(where: str) -> None:
    for entry in SUBJECTS[where].entries():
        if entry.units:
            assert entry.name in GLOSSARY
            known = GLOSSARY[entry.name]
            assert set(entry.units) <= (UNITS if ANY in known else known)


@pytest.mark.parametrize("where", SUBJECTS)
def test_every_unit_is_in_the_closed_list(where: str) -> None:
    assert set(units_in(SUBJECTS[where].docstring)) <= UNITS


def test_every_name_of_the_glossary_is_used_and_has_units_of_the_closed_list() -> None:
    code = " ".join(path.read_text(encoding="utf-8") for path in SERVICE.rglob("*.py"))
    words = set(re.findall(r"\w+", code))
    assert GLOSSARY.keys() <= words
    assert set().union(*GLOSSARY.values()) <= UNITS


def test_every_source_of_the_glossary_is_known() -> None:
    files = {path.name for path in (SERVICE / "knowledge" / "data").rglob("*.*")}
    known = {"", *ORIGINS, *SOURCES, *files}
    for title, rows in TABLES.items():
        if title != "Units":
            assert {source for row in rows for source in row[4].split(", ")} <= known, title


def test_no_name_of_the_glossary_stands_in_two_rows() -> None:
    names = [name for title, rows in TABLES.items() if title != "Units" for row in rows for name in row[0].split(", ")]
    assert len(names) == len(set(names))
