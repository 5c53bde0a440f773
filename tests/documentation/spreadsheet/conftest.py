"""The running service, and the workbook as LibreOffice calculates it against that service."""

from __future__ import annotations

import pytest

from deploy.examples.make_workbook import FILE, workbook
from deploy.examples.workbook_content import SESSIONS
from tests.documentation.spreadsheet.office import Shown, calculated
from tests.support.live import Live

FIRST, _, TEAM_SHEET, _ = workbook()


def cell(column: str, name: str) -> str:
    """The place in a column of the input of a name."""
    return f"{column}{FIRST.names[name][1:]}"


def session_rows() -> list[int]:
    """The rows that take a session each."""
    rows = enumerate(FIRST.rows, 1)
    return [number for number, row in rows if "A" in row and str(row["A"].value).startswith('="Session ')]


@pytest.fixture(scope="session")
def consulted(served: Live) -> list[Shown]:
    """The workbook as it comes, other inputs, one that no method covers, no service, every session, too much pain."""
    in_pounds, in_kilograms = {"load": 137.5, "bar": 35}, {"load": 62.5, "bar": 15}
    rest = session_rows()[len(SESSIONS) :]
    good: dict[str, float | str] = {
        f"{column}{row}": value for row in rest for column, value in zip("BCD", SESSIONS[-1], strict=True)
    }
    return calculated(
        FILE,
        "en-US",
        {cell("B", "service"): f"http://127.0.0.1:{served.port}"},
        {cell("B", name): value for name, value in in_pounds.items()}
        | {cell("C", name): "lb" for name in in_pounds}
        | {f"Team.{TEAM_SHEET.names[name]}": unit for name, unit in (("team_mass", "lb"), ("team_length", "in"))},
        {cell("B", "more_reps"): 99},
        {cell("B", "service"): "http://127.0.0.1:1"},
        {cell("B", "service"): f"http://127.0.0.1:{served.port}"}
        | {cell("B", name): value for name, value in in_kilograms.items()}
        | {cell("C", name): "kg" for name in in_kilograms}
        | good,
        {cell("B", "pain_now"): 8},
    )


@pytest.fixture(scope="session")
def with_decimal_comma(served: Live) -> Shown:
    """The workbook in a country that writes 62,5."""
    (found,) = calculated(FILE, "de", {cell("B", "service"): f"http://127.0.0.1:{served.port}"})
    return found
