"""Data files become typed records; each fault of one stops the start in one line that names file, place and fault."""

from __future__ import annotations

import importlib
import pkgutil
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path, PurePath
from typing import Final, Literal, get_args, get_type_hints

import msgspec
import pytest

import service
from service.knowledge import records
from service.knowledge.loader import DATA, UnusableData, read_rows, read_tables, read_toml, read_whole
from service.knowledge.records import ExerciseId, Known, Record, SourceId


class Row(Record, frozen=True):
    exercises: tuple[ExerciseId, ...] = msgspec.field(name="exercise")
    source: SourceId
    known: Known
    mean: float | None = None
    reps: tuple[int, ...] = ()
    used: bool = False


class Spans(Record, frozen=True):
    low: float
    sources: dict[SourceId, float]


class Entry(Record, frozen=True):
    id: str
    spans: tuple[Spans, ...]


HEADING: Final = "exercise,source,known,mean,reps,used\n"
GOOD: Final = "front_squat box_squat,epley_1985,memory,2.5,3 4,true\n"


def csv_file(folder: Path, text: str) -> str:
    path = folder / "rows.csv"
    path.write_text(text, encoding="utf-8")
    return str(path)


def toml_file(folder: Path, text: str) -> str:
    path = folder / "tables.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_cells_are_read_by_the_type_of_their_column(tmp_path: Path) -> None:
    rows = read_rows(csv_file(tmp_path, HEADING + GOOD + "front_squat,epley_1985,memory,,,\n"), Row)
    assert rows == (
        Row(("front_squat", "box_squat"), "epley_1985", "memory", 2.5, (3, 4), used=True),
        Row(("front_squat",), "epley_1985", "memory"),
    )


FAULTY_ROWS: Final = {
    "unknown column": (HEADING.replace("mean", "mode") + GOOD, "line 1: Expected the columns", "differing: mean, mode"),
    "missing column": ("exercise,source,known,mean,reps\n", "line 1: Expected the columns", "differing: used"),
    "doubled column": (HEADING.replace("mean", "mean,mean") + GOOD, "line 1: Expected the columns", "differing: "),
    "no heading": ("", "line 1: ", "differing: "),
    "cell too many": (HEADING + GOOD + GOOD.replace("true", "true,true"), "line 3: ", "Expected 6 cells, got 7"),
    "cell too few": (HEADING + GOOD.replace(",true", ""), "line 2: ", "Expected 6 cells, got 5"),
    "empty cell": (HEADING + GOOD.replace("epley_1985", ""), "line 2: ", "missing required field `source`"),
    "text for number": (HEADING + GOOD.replace("2.5", "2;5"), "line 2.mean: ", "Expected `float"),
    "no number": (HEADING + GOOD.replace("2.5", "nan"), "line 2.mean: ", "Expected a number, got nan"),
    "endless": (HEADING + GOOD.replace("2.5", "inf"), "line 2.mean: ", "Expected a number, got inf"),
    "part for whole": (HEADING + GOOD.replace("3 4", "3 4.5"), "line 2.reps[1]: ", "Expected `int`"),
    "unknown grade": (HEADING + GOOD.replace("memory", "hearsay"), "line 2.known: ", "hearsay"),
    "unknown source": (
        HEADING + GOOD.replace("epley", "nobody"),
        "line 2.source: ",
        "sources.toml has no `nobody",
    ),
    "unknown exercise": (
        HEADING + GOOD.replace("box", "fox"),
        "line 2.exercises: ",
        "exercises.toml has no `fox",
    ),
    "open quote": (HEADING + '"' + GOOD, "", "unexpected end of data"),
}


@pytest.mark.parametrize("fault", FAULTY_ROWS)
def test_fault_of_a_row_is_named_on_one_line(tmp_path: Path, fault: str) -> None:
    text, where, words = FAULTY_ROWS[fault]
    name = csv_file(tmp_path, text)
    with pytest.raises(UnusableData) as caught:
        read_rows(name, Row)
    line = str(caught.value)
    assert line.startswith(f"{name}: {where}")
    assert words in line
    assert "\n" not in line


FAULTY_TABLES: Final = {
    "unknown key": ("[a]\nspans = []\nspan = 1", "a: ", "unknown field `span`"),
    "missing key": ("[a]\n", "a: ", "missing required field `spans`"),
    "number for table": ("a = 1", "a: ", "Expected a table, got `int`"),
    "wrong type": ('[a]\nspans = [{low = "2", sources = {}}]', "a.spans[0].low: ", "Expected `float`, got `str`"),
    "no number": ("[a]\nspans = [{low = nan, sources = {}}]", "a.spans.low: ", "Expected a number, got nan"),
    "unknown source": ("[a]\nspans = [{low = 1, sources = {x = 1}}]", "a.spans.sources: ", "sources.toml has no `x`"),
    "not toml": ("[a", "", "Expected ']'"),
    "doubled table": ("[a]\nspans = []\n[a]\n", "", "Cannot declare"),
}


@pytest.mark.parametrize("fault", FAULTY_TABLES)
def test_fault_of_a_table_is_named_on_one_line(tmp_path: Path, fault: str) -> None:
    text, where, words = FAULTY_TABLES[fault]
    name = toml_file(tmp_path, text)
    with pytest.raises(UnusableData) as caught:
        read_tables(name, Entry)
    line = str(caught.value)
    assert line.startswith(f"{name}: {where}")
    assert words in line
    assert "\n" not in line


class Step(Record, frozen=True):
    id: Literal["first", "second"]
    known: Known


def test_a_closed_list_of_ids_is_complete_and_has_no_others(tmp_path: Path) -> None:
    both = '[first]\nknown = "memory"\n[second]\nknown = "memory"\n'
    assert list(read_tables(toml_file(tmp_path, both), Step)) == ["first", "second"]
    read_toml.cache_clear()
    with pytest.raises(UnusableData, match="Expected the tables first as well"):
        read_tables(toml_file(tmp_path, both.replace("first", "frist")), Step)
    read_toml.cache_clear()
    with pytest.raises(UnusableData, match=r"third\.id: Invalid enum value 'third'"):
        read_tables(toml_file(tmp_path, f'{both}[third]\nknown = "memory"\n'), Step)


def test_whole_file_names_its_faults_as_its_tables_do(tmp_path: Path) -> None:
    name = toml_file(tmp_path, "low = 1\n[sources]\nepley_1985 = true")
    with pytest.raises(UnusableData, match=r"tables.toml: sources\[\.\.\.\]: Expected `float`, got `bool`"):
        read_whole(name, Spans)


def test_missing_file_is_named() -> None:
    with pytest.raises(UnusableData, match=r"^none\.csv: No such file or directory$"):
        read_rows("none.csv", Row)
    with pytest.raises(UnusableData, match=r"^none\.toml: No such file or directory$"):
        read_tables("none.toml", Entry)


@pytest.mark.parametrize("command", ["serve", "openapi"])
def test_fault_of_a_shipped_file_stops_every_command_with_one_line(tmp_path: Path, command: str) -> None:
    copied = tmp_path / "service"
    shutil.copytree(service.__path__[0], copied, ignore=shutil.ignore_patterns("__pycache__"))
    tempo = copied / "knowledge" / "data" / "tempo_observations.csv"
    tempo.write_text(tempo.read_text(encoding="utf-8").replace("0.21", "a fifth"), encoding="utf-8")
    stopped = subprocess.run([sys.executable, "-m", "service", command], cwd=tmp_path, capture_output=True, check=False)  # noqa: S603 - this Python
    assert stopped.returncode == 2
    assert (
        stopped.stderr.decode()
        .rstrip("\n")
        .endswith("tempo_observations.csv: line 2.fraction_kept: Expected `float`, got `str`")
    )
    assert stopped.stderr.count(b"\n") == 1


# --- what the service's own records hold ------------------------------------------------------------------------------


def own_records() -> Iterator[type[Record]]:
    for module in pkgutil.walk_packages(service.__path__, "service."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    waiting = [Record]
    while waiting:
        kinds = [kind for kind in waiting.pop().__subclasses__() if kind.__module__.startswith("service.")]
        waiting += kinds
        yield from kinds


OWN_RECORDS: Final = tuple(own_records())


def test_every_data_file_is_read_into_records() -> None:
    texts = [path.read_text(encoding="utf-8") for path in Path(service.__path__[0]).rglob("*.py")]
    files = [path.relative_to(DATA).as_posix() for path in DATA.rglob("*") if path.is_file()]
    assert len(files) > 25
    assert [file for file in files if not any(named(file, text) for text in texts)] == []


def named(file: str, code: str) -> bool:
    """Whether code names a data file: by its path, or sentences by the name that they have in every language."""
    name = PurePath(file)
    of_sentences = name.parts[0] == "messages" and (f'"{name.stem}"' in code or f'{name.name}"' in code)
    return of_sentences or f'"{file}"' in code


@pytest.mark.parametrize("kind", OWN_RECORDS, ids=lambda kind: kind.__name__)
def test_records_refuse_unknown_keys_and_check_every_source(kind: type[Record]) -> None:
    assert kind.__struct_config__.forbid_unknown_fields
    assert kind.__struct_config__.frozen
    hints = get_type_hints(kind, include_extras=True)
    for field in {"source", "sources", "lean_source", "body_share_source", "against"} & hints.keys():
        assert records.SourceId == hints[field] or records.SourceId in get_args(hints[field]), field
