"""Docstrings of a package as data: sections, their entries, and the units in square brackets."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

SERVICE: Final = Path(__file__).parents[2] / "service"
SECTIONS: Final = ("Attributes", "Args", "Returns", "Raises", "Source")
_ALIAS: Final = re.compile(r"^(\w+) = Annotated\[(?:float|int),", re.MULTILINE)
_SECTION: Final = re.compile(rf"^({'|'.join(SECTIONS)}):\s*(.*)$")
_ENTRY: Final = re.compile(r"^    (\w+): (.+)$")
_UNITS: Final = re.compile(r"\[([^\]]+)\]")
_NUMBERS: Final = {"float", "int", "Interval", "Span", "Sourced", "SourcedRange"} | {
    alias for path in SERVICE.rglob("*.py") for alias in _ALIAS.findall(path.read_text(encoding="utf-8"))
}
_Definition = ast.ClassDef | ast.FunctionDef


class Entry(NamedTuple):
    """A name with its description."""

    name: str
    text: str

    @property
    def units(self) -> tuple[str, ...]:
        """The units in square brackets, alternatives apart."""
        return units_in(self.text)


class Variable(NamedTuple):
    """An attribute or a parameter with its annotation."""

    name: str
    annotation: str

    @property
    def is_number(self) -> bool:
        """Whether it holds a number, so that it has a unit."""
        names = set(re.findall(r"\w+", self.annotation))
        return "Callable" not in names and not names.isdisjoint(_NUMBERS)


class Documented(NamedTuple):
    """A public struct, function or method with its docstring."""

    where: str
    variables: tuple[Variable, ...]
    returns: Variable
    refuses: bool
    is_struct: bool
    docstring: str

    def section(self, name: str) -> str | None:
        """Text of a section; of the summary and what follows it for an empty name."""
        return _sections(self.docstring).get(name)

    def entries(self) -> tuple[Entry, ...]:
        """The entries of Attributes or Args, each with its continuation lines."""
        entries: list[Entry] = []
        for line in (self.section("Attributes" if self.is_struct else "Args") or "").splitlines():
            if match := _ENTRY.match(line):
                entries.append(Entry(match[1], match[2]))
            elif entries:
                entries[-1] = Entry(entries[-1].name, f"{entries[-1].text} {line.strip()}")
        return tuple(entries)


def units_in(text: str) -> tuple[str, ...]:
    """The units in square brackets of a text, alternatives apart."""
    return tuple(unit for bracket in _UNITS.findall(text) for unit in bracket.split(" or "))


def documented(package: str) -> Iterator[Documented]:
    """Every public struct, function and method of a package of the service."""
    for path in sorted((SERVICE / package).rglob("*.py")):
        module = path.relative_to(SERVICE).as_posix()
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, _Definition) and not node.name.startswith("_"):
                yield from _definition(node, f"{module}:{node.name}")


def _definition(node: _Definition, where: str) -> Iterator[Documented]:
    if isinstance(node, ast.FunctionDef):
        yield _function(node, where)
        return
    fields = [each for each in node.body if isinstance(each, ast.AnnAssign)]
    if fields:
        variables = tuple(Variable(ast.unparse(each.target), ast.unparse(each.annotation)) for each in fields)
        yield Documented(where, variables, Variable("", ""), False, True, ast.get_docstring(node) or "")  # noqa: FBT003
    for each in node.body:
        if isinstance(each, ast.FunctionDef) and not each.name.startswith("_"):
            yield _function(each, f"{where}.{each.name}")


def _function(node: ast.FunctionDef, where: str) -> Documented:
    arguments = [*node.args.args, *node.args.kwonlyargs, *filter(None, (node.args.vararg, node.args.kwarg))]
    variables = tuple(
        Variable(each.arg, ast.unparse(each.annotation)) for each in arguments if each.annotation is not None
    )
    raised = [ast.unparse(each) for each in ast.walk(node) if isinstance(each, ast.Raise)]
    return Documented(
        where,
        variables,
        Variable(node.name, "" if node.returns is None else ast.unparse(node.returns)),
        any(text.startswith("raise Refusal") for text in raised),
        False,  # noqa: FBT003
        ast.get_docstring(node) or "",
    )


def _sections(docstring: str) -> dict[str, str]:
    sections: dict[str, list[str]] = {"": []}
    name = ""
    for line in docstring.splitlines():
        if match := _SECTION.match(line):
            name = match[1]
            sections[name] = [match[2]] if match[2] else []
        else:
            sections[name].append(line)
    return {name: "\n".join(lines) for name, lines in sections.items()}
