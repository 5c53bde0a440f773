"""The running service, and the workbook as LibreOffice calculates it against that service."""

from __future__ import annotations

from typing import Final

import pytest

from deploy.examples.make_workbook import FILE, workbook
from tests.documentation.spreadsheet.office import Shown, calculated
from tests.support.live import Live

NAMES: Final = workbook().names


def cell(column: str, name: str) -> str:
    """The place in a column of the input of a name."""
    return f"{column}{NAMES[name][1:]}"


@pytest.fixture(scope="session")
def consulted(served: Live) -> list[Shown]:
    """The workbook as it comes, with other inputs, with one that no method covers, and with no service."""
    in_pounds = {"load": 137.5, "bar": 35}
    return calculated(
        FILE,
        "en-US",
        {cell("B", "service"): f"http://127.0.0.1:{served.port}"},
        {cell("B", name): value for name, value in in_pounds.items()} | {cell("C", name): "lb" for name in in_pounds},
        {cell("B", "more_reps"): 99},
        {cell("B", "service"): "http://127.0.0.1:1"},
    )


@pytest.fixture(scope="session")
def with_decimal_comma(served: Live) -> Shown:
    """The workbook in a country that writes 62,5."""
    (found,) = calculated(FILE, "de", {cell("B", "service"): f"http://127.0.0.1:{served.port}"})
    return found
