"""The cells that the README has to paste, in LibreOffice."""

from __future__ import annotations

import re
from pathlib import Path

from deploy.examples.sheets import Cell, Sheet, write
from deploy.examples.workbook_content import FAILED
from tests.documentation.spreadsheet.office import calculated
from tests.support.live import Live
from tests.support.paths import ROOT


def test_the_cells_of_the_readme_say_what_to_do(served: Live, tmp_path: Path) -> None:
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"cells say `{FAILED}`" in page  # which test_workbook.py sees without a service
    (block,) = re.findall(r"^```\n(http.*?)^```$", page, re.MULTILINE | re.DOTALL)
    cells = block.replace(":8000", f":{served.port}").splitlines()
    assert sum(cell.startswith("=") for cell in cells) == 2
    sheet = Sheet("Mine", {})
    for cell in cells:
        sheet.add(A=Cell(cell.replace("WEBSERVICE", "_xlfn.WEBSERVICE")))
    write([sheet], tmp_path / "mine.xlsx")
    asked = "".join(cells[:3])
    pause = {"A3": cells[2].replace("pain_in_session=4", "pain_in_session=8")}
    wrong = {"A2": cells[1].replace("front_squat", "squat"), "A3": cells[2]}
    shown, paused, refused = calculated(tmp_path / "mine.xlsx", "en-US", {}, pause, wrong)
    first = served.ask("GET", asked.removeprefix(f"http://127.0.0.1:{served.port}")).json()
    assert (shown["A4"].text, shown["A5"].text) == (first["decision"], first["options"][0]["words"])
    assert paused["A4"].text == "pause_and_review"
    assert "pause_and_review" in paused["A5"].text
    assert "Did you mean back_squat_high_bar" in refused["A4"].text
