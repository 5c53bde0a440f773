"""The running service, and the workbook as LibreOffice calculates it against that service."""

from __future__ import annotations

import pytest

from deploy.examples.make_workbook import FILE, workbook
from tests.documentation.spreadsheet.office import Shown, calculated
from tests.support.live import Live

FIRST, _, TEAM_SHEET, _, _ = workbook()
# pain in the session, pain next morning, repetitions of each set: the last session stands in every row behind it
SESSIONS: tuple[tuple[float | str, ...], ...] = (
    (3, 1.5, "9;9;9"),
    (2, 1, "9;9;9"),
    (1.5, 1, "9;9;9"),
    (2, 1, "7;7;7"),
    (1.5, 1, "7;7;7"),
    (4, 3.5, "6;6;6;6"),
    (1.5, 1, "7;7;7"),
    (1.5, 1, "7;7;7"),
    (1.5, 1, "6;6;6;6"),
    (1.5, 1, "6;6;6;6"),
    (1.5, 1, "6;6;6;6"),
    (1.5, 1, "6;6;6;6"),
)
OPTIONAL = ("sex", "ankle", "reps_high", "reps_left", "days_a_week", "bar", "pain_usual")
TEAM_ROW = TEAM_SHEET.kept_in_sight[0] + 1


def cell(column: str, name: str) -> str:
    """The place in a column of the input of a name."""
    return f"{column}{FIRST.names[name][1:]}"


def session_rows() -> list[int]:
    """The rows that take a session each."""
    rows = enumerate(FIRST.rows, 1)
    return [number for number, row in rows if "A" in row and str(row["A"].value).startswith('="Session ')]


def every_session() -> dict[str, float | str]:
    """The cells of a session in every row."""
    rows = session_rows()
    came = (*SESSIONS, *[SESSIONS[-1]] * (len(rows) - len(SESSIONS)))
    return {
        f"{column}{row}": value
        for row, session in zip(rows, came, strict=True)
        for column, value in zip("BCD", session, strict=True)
    }


def not_known() -> dict[str, float | str]:
    """What may be left out, empty, with a lift that has no number."""
    inputs = [cell("B", name) for name in OPTIONAL]
    changed: dict[str, float | str] = {cell("B", "pain_now"): 4, cell("B", "sore_region"): "shoulder"}
    return changed | dict.fromkeys(
        [*inputs, f"Team.H{TEAM_ROW}", f"Team.N{TEAM_ROW}", *(f"C{row}" for row in session_rows())], ""
    )


def with_signs() -> dict[str, float | str]:
    """Signs and an age on both sheets."""
    signs: dict[str, float | str] = {
        "sign_1": "fever_or_unwell",
        "sign_3": "cancer_suspected, constant_night_pain",
        "age": 34,
    }
    return {cell("B", name): value for name, value in signs.items()} | {
        f"Team.B{TEAM_ROW}": "saddle_numbness",
        f"Team.C{TEAM_ROW + 1}": 16,
    }


@pytest.fixture(scope="session")
def consulted(served: Live) -> list[Shown]:
    """The workbook as it comes, and after each of some changes.

    Other inputs, one that no method covers, no service, every session, too much pain, what need not be known left empty
    with a lift without a number, signs.
    """
    in_pounds, in_kilograms = {"load": 137.5, "bar": 35}, {"load": 62.5, "bar": 15}
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
        | {f"Team.{TEAM_SHEET.names[name]}": unit for name, unit in (("team_mass", "kg"), ("team_length", "cm"))}
        | {cell("B", "more_reps"): 9}
        | every_session(),
        {cell("B", "pain_now"): 8},
        not_known(),
        with_signs(),
    )


@pytest.fixture(scope="session")
def with_decimal_comma(served: Live) -> Shown:
    """The workbook in a country that writes 62,5."""
    (found,) = calculated(FILE, "de", every_session() | {cell("B", "service"): f"http://127.0.0.1:{served.port}"})
    return found
