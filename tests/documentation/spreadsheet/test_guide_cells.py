"""The formulas of the guide in LibreOffice: with commas as workbooks hold them, with semicolons as they are typed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from deploy.examples.sheets import Cell, Sheet, write
from service.api.docs.guide import guide
from tests.documentation.spreadsheet.office import calculated
from tests.support.live import Live


@pytest.mark.parametrize("locale", ["en-US", "de"])
def test_the_cells_of_the_guide_show_what_post_answers(locale: str, served: Live, tmp_path: Path) -> None:
    steps = [step for step in guide(f"http://127.0.0.1:{served.port}") if step.request is not None]
    sheet = Sheet("Guide", {})
    typed: dict[str, float | str] = {}
    expected: dict[int, Any] = {}
    for row, step in enumerate(steps, 1):
        commas, semicolons = (snippet.code for snippet in step.snippets[-2:])
        stored = commas.replace("WEBSERVICE", "_xlfn.WEBSERVICE").replace("NUMBERVALUE", "_xlfn.NUMBERVALUE")
        sheet.add(A=Cell(stored), B=Cell("typed anew"))
        typed[f"B{row}"] = semicolons
        value = served.post(step.target.partition("?")[0], step.request).json()
        for part in commas.partition("select=")[2].partition('"')[0].split("/")[1:]:
            value = value[int(part)] if isinstance(value, list) else value[part]
        expected[row] = value
    write([sheet], tmp_path / "guide.xlsx")
    (shown,) = calculated(tmp_path / "guide.xlsx", locale, typed)
    for row, value in expected.items():
        for column in "AB":
            cell = shown[f"{column}{row}"]
            assert cell.error == 0
            assert (cell.text if isinstance(value, str) else cell.number) == value
