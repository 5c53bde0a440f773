"""A workbook of one sheet as an .xlsx file (Office Open XML, ECMA-376), the same bytes each time it is written."""

from __future__ import annotations

import zipfile
from dataclasses import dataclass, field
from enum import IntEnum
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
# functions younger than the format carry this prefix in the file; a spreadsheet shows them without it
YOUNGER = ("WEBSERVICE", "ENCODEURL", "NUMBERVALUE")
NEVER_CHANGES = (2000, 1, 1, 0, 0, 0)


class Look(IntEnum):
    """How a cell looks: its place among the formats of the style sheet."""

    PLAIN = 0
    TITLE = 1
    HEADING = 2
    INPUT = 3
    NOTE = 4
    RESULT = 5


@dataclass(frozen=True)
class Cell:
    """A number, a text, or a formula, which begins with an equals sign."""

    value: float | str
    look: Look = Look.PLAIN


@dataclass
class Sheet:
    """A sheet that is filled row by row.

    widths: of the columns [characters]; rows: the cells by their column letter; names: cells by name; choices: what a
    cell may hold.
    """

    title: str
    widths: dict[str, int]
    rows: list[dict[str, Cell]] = field(default_factory=list)
    names: dict[str, str] = field(default_factory=dict)
    choices: dict[str, tuple[str, ...]] = field(default_factory=dict)

    def add(self, **cells: Cell) -> int:
        """Appends a row and gives its number; a cell without content or look of its own is left out."""
        self.rows.append({letter: cell for letter, cell in cells.items() if cell.value or cell.look == Look.HEADING})
        return len(self.rows)

    def write(self, path: Path) -> None:
        """Writes the workbook; uncompressed, so that equal content is equal bytes with every version of zlib."""
        with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as archive:
            for name, text in self._parts().items():
                archive.writestr(zipfile.ZipInfo(name, NEVER_CHANGES), (XML + text).encode())

    def _parts(self) -> dict[str, str]:
        return {
            "[Content_Types].xml": (
                '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
                '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
                f'<Override PartName="/workbook.xml" ContentType="{TYPES}.sheet.main+xml"/>'
                f'<Override PartName="/sheet.xml" ContentType="{TYPES}.worksheet+xml"/>'
                f'<Override PartName="/styles.xml" ContentType="{TYPES}.styles+xml"/></Types>'
            ),
            "_rels/.rels": _relations(officeDocument="workbook.xml"),
            "_rels/workbook.xml.rels": _relations(worksheet="sheet.xml", styles="styles.xml"),
            "workbook.xml": self._workbook(),
            "sheet.xml": self._sheet(),
            "styles.xml": STYLES,
        }

    def _workbook(self) -> str:
        names = "".join(
            f"<definedName name={quoteattr(name)}>{self.title}!{_fixed(place)}</definedName>"
            for name, place in sorted(self.names.items())
        )
        return (
            f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets><sheet name="{self.title}" sheetId="1" r:id="r0"/>'
            f'</sheets><definedNames>{names}</definedNames><calcPr calcId="191029" fullCalcOnLoad="1"/></workbook>'
        )

    def _sheet(self) -> str:
        columns = "".join(
            f'<col min="{_index(letter)}" max="{_index(letter)}" width="{width}" customWidth="1"/>'
            for letter, width in self.widths.items()
        )
        rows = "".join(_row(number, row) for number, row in enumerate(self.rows, 1))
        choices = "".join(
            f'<dataValidation type="list" allowBlank="1" showErrorMessage="1" sqref="{place}">'
            f"<formula1>&quot;{escape(','.join(values))}&quot;</formula1></dataValidation>"
            for place, values in self.choices.items()
        )
        return (
            f'<worksheet xmlns="{MAIN}"><cols>{columns}</cols><sheetData>{rows}</sheetData>'
            f'<dataValidations count="{len(self.choices)}">{choices}</dataValidations></worksheet>'
        )


def _index(letter: str) -> int:
    return ord(letter) - ord("A") + 1


def _fixed(place: str) -> str:
    """A cell's place that does not move with the formula that names it."""
    return f"${place[0]}${place[1:]}"


def _relations(**targets: str) -> str:
    found = "".join(
        f'<Relationship Id="r{number}" Type="{OFFICE}/{kind}" Target="{target}"/>'
        for number, (kind, target) in enumerate(targets.items())
    )
    return f'<Relationships xmlns="{RELATIONS}">{found}</Relationships>'


def _row(number: int, cells: dict[str, Cell]) -> str:
    shown = "".join(_cell(f"{letter}{number}", cell) for letter, cell in sorted(cells.items()))
    height = ' ht="24" customHeight="1"' if any(cell.look == Look.TITLE for cell in cells.values()) else ""
    return f'<row r="{number}"{height}>{shown}</row>'


def _cell(place: str, cell: Cell) -> str:
    head = f'<c r="{place}" s="{int(cell.look)}"'
    if not isinstance(cell.value, str):
        return f"{head}><v>{cell.value:g}</v></c>"
    if not cell.value.startswith("="):
        return f'{head} t="inlineStr"><is><t xml:space="preserve">{escape(cell.value)}</t></is></c>'
    formula = cell.value[1:]
    for name in YOUNGER:
        formula = formula.replace(f"{name}(", f"_xlfn.{name}(")
    return f"{head}><f>{escape(formula)}</f></c>"


STYLES = (
    f'<styleSheet xmlns="{MAIN}">'
    '<fonts count="3"><font><sz val="11"/><name val="Liberation Sans"/></font>'
    '<font><b/><sz val="16"/><name val="Liberation Sans"/></font>'
    '<font><b/><sz val="11"/><name val="Liberation Sans"/></font></fonts>'
    '<fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>'
    '<fill><patternFill patternType="solid"><fgColor rgb="FFDDE8EA"/></patternFill></fill>'
    '<fill><patternFill patternType="solid"><fgColor rgb="FFFFF6D6"/></patternFill></fill></fills>'
    "<borders count=\"2\"><border/><border><left/><right/><top/><bottom style='thin'/></border></borders>"
    '<cellStyleXfs count="1"><xf fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="6">'
    '<xf xfId="0" fontId="0" fillId="0" borderId="0"/>'
    '<xf xfId="0" fontId="1" fillId="0" borderId="0" applyFont="1"/>'
    '<xf xfId="0" fontId="2" fillId="2" borderId="0" applyFont="1" applyFill="1"/>'
    '<xf xfId="0" fontId="0" fillId="3" borderId="1" applyFill="1" applyBorder="1"/>'
    '<xf xfId="0" fontId="0" fillId="0" borderId="0" applyAlignment="1"><alignment vertical="top"/></xf>'
    '<xf xfId="0" fontId="2" fillId="0" borderId="0" applyFont="1" applyAlignment="1">'
    '<alignment horizontal="right"/></xf></cellXfs></styleSheet>'
)
