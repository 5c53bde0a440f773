"""Calculates a workbook with LibreOffice, without a window. Run by Debian's own Python, which has its module uno.

Reads one job in JSON from standard input: `workbook`, a path; `locale`, whose way of writing numbers the office takes;
`steps`, each the cells to set before all is calculated anew. Writes a list in JSON: for each step, the cells that are
not empty, each with its text, its number and its error (0: none). A place is B7, on a later sheet Week.B7.

A workbook that was opened asks no address until a person allows it, and nothing said from outside takes that person's
place. So the formulas are read from the opened workbook and written into a fresh document, which asks.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import uno
from com.sun.star.beans import PropertyValue
from com.sun.star.connection import NoConnectException
from com.sun.star.table import CellAddress
from com.sun.star.table.CellContentType import EMPTY, FORMULA, VALUE

PATIENCE = 120.0  # [s] for the start, which takes about five where nothing else runs
SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N"><prop oor:name="ooSetupSystemLocale"><value>{locale}</value></prop></item>
</oor:items>
"""


def desktop(pipe: str, process: subprocess.Popen[bytes]) -> Any:
    """The office's desktop, as soon as it takes connections."""
    context = uno.getComponentContext()
    resolver = context.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", context)
    began = time.monotonic()
    while process.poll() is None and time.monotonic() - began < PATIENCE:
        try:
            remote = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.1)
        else:
            return remote.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", remote)
    raise SystemExit("LibreOffice did not start")


def opened(office: Any, address: str) -> Any:
    """A document without a window."""
    hidden = PropertyValue()
    hidden.Name, hidden.Value = "Hidden", True
    return office.loadComponentFromURL(address, "_blank", 0, (hidden,))


def used_cells(document: Any) -> dict[str, Any]:
    """The cells of all sheets that are not empty, by their place, with the sheet's name before it after the first."""
    found = {}
    for index in range(document.Sheets.Count):
        sheet = document.Sheets.getByIndex(index)
        cursor = sheet.createCursor()
        cursor.gotoEndOfUsedArea(False)
        end = cursor.RangeAddress
        before = f"{sheet.Name}." if index else ""
        for row in range(end.EndRow + 1):
            for column in range(end.EndColumn + 1):
                cell = sheet.getCellByPosition(column, row)
                if cell.Type != EMPTY:
                    found[f"{before}{chr(ord('A') + column)}{row + 1}"] = cell
    return found


def cell_at(document: Any, place: str) -> Any:
    """A cell by its place, of the first sheet where no other is named."""
    sheet, _, address = place.rpartition(".")
    sheets = document.Sheets
    return (sheets.getByName(sheet) if sheet else sheets.getByIndex(0)).getCellRangeByName(address)


def fresh_copy(office: Any, workbook: Any, given: dict[str, float | str]) -> Any:
    """A new document with the names, contents and formulas of a workbook, and with what is given."""
    document = opened(office, "private:factory/scalc")
    for index in range(workbook.Sheets.Count):
        title = workbook.Sheets.getByIndex(index).Name
        if index < document.Sheets.Count:
            document.Sheets.getByIndex(index).Name = title
        else:
            document.Sheets.insertNewByName(title, index)
    for name in workbook.NamedRanges.ElementNames:
        content = workbook.NamedRanges.getByName(name).Content
        document.NamedRanges.addNewByName(name, content, CellAddress(), 0)
    cells = used_cells(workbook)
    put(document, {place: cell.Value if cell.Type == VALUE else cell.String for place, cell in cells.items()} | given)
    for place, cell in cells.items():
        if cell.Type == FORMULA and place not in given:
            cell_at(document, place).Formula = cell.Formula
    return document


def put(document: Any, given: dict[str, float | str]) -> None:
    """Writes numbers, texts and formulas, whose arguments semicolons part, into cells."""
    for place, value in given.items():
        cell = cell_at(document, place)
        if isinstance(value, str) and value.startswith("="):
            cell.Formula = value
        elif isinstance(value, str):
            cell.String = value
        else:
            cell.Value = value


def calculated(office: Any, job: dict[str, Any]) -> list[dict[str, Any]]:
    """What the cells show after each step."""
    workbook = opened(office, Path(job["workbook"]).resolve().as_uri())
    document = fresh_copy(office, workbook, job["steps"][0])
    workbook.close(True)
    found = []
    for step in job["steps"]:
        put(document, step)
        document.calculateAll()
        found.append(
            {
                place: {"text": cell.String, "number": cell.Value, "error": cell.getError(), "formula": cell.Formula}
                for place, cell in used_cells(document).items()
            }
        )
    document.close(True)
    return found


def main() -> None:
    """One job, with an office and a profile of its own."""
    job = json.load(sys.stdin)
    with tempfile.TemporaryDirectory() as folder:
        profile = Path(folder)
        (profile / "user").mkdir()
        (profile / "user" / "registrymodifications.xcu").write_text(SETTINGS.format(locale=job["locale"]))
        command = ["soffice", "--headless", "--norestore", "--nologo", f"-env:UserInstallation={profile.as_uri()}"]
        with subprocess.Popen([*command, f"--accept=pipe,name={profile.name};urp"]) as process:
            try:
                office = desktop(profile.name, process)
                json.dump(calculated(office, job), sys.stdout)
                office.terminate()
                process.wait(timeout=30)
            finally:
                process.kill()


if __name__ == "__main__":
    main()
