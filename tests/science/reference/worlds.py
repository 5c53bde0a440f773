"""The service as it would answer if it knew something else: one process, the data changed as they are read.

The only place that is touched is the one where every TOML file of knowledge comes in (service.knowledge.loader). What
is changed is named by file and key; a key that stands in no file is an error, so that none goes stale.
"""

from __future__ import annotations

import importlib
import sys
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from copy import deepcopy
from fnmatch import fnmatch
from functools import cache
from pathlib import Path
from typing import Any, Final, TypeAlias

import msgspec

from tests.science.reference.answers import SETUPS, Answer, Service, Setup

Changes: TypeAlias = dict[str, dict[str, str]]
"""By file and key what becomes of the figure there: '* 1.15', '+ 5', '- 5' or '= 0.44'; a key may have stars."""

Question: TypeAlias = tuple[str, str, tuple[str, ...]]
"""Name of the lifter, name of the setup, and the operations to ask."""

_KEPT: Final = "service.units"  # takes longest to import, and reads no data


def changed(value: float, change: str) -> float:
    """A figure after a change.

    Args:
        value: the figure
        change: '* 1.15', '+ 5', '- 5' or '= 0.44'
    """
    sign, _, by = change.partition(" ")
    return {"*": value * float(by), "+": value + float(by), "-": value - float(by), "=": float(by)}[sign]


def _figures(table: Any, path: str = "") -> Iterator[tuple[str, dict[str, Any], str]]:  # noqa: ANN401 - any TOML
    """Every number of a table: its key with dots, the table that holds it and its name there."""
    if isinstance(table, dict):
        for name, value in table.items():
            if isinstance(value, dict):
                yield from _figures(value, f"{path}{name}.")
            elif isinstance(value, int | float) and not isinstance(value, bool):
                yield f"{path}{name}", table, name


def with_changes(table: Mapping[str, Any], changes: Mapping[str, str]) -> dict[str, Any]:
    """A TOML file with its figures changed.

    Args:
        table: the file as it stands
        changes: by key what becomes of the figure there

    Raises:
        KeyError: for a key that fits no figure
    """
    copy = deepcopy(dict(table))
    for key, change in changes.items():
        held = [(holder, name) for path, holder, name in _figures(copy) if fnmatch(path, key)]
        if not held and change.startswith("= "):
            *tables, name = key.split(".")
            holder: Any = copy
            for each in tables:
                holder = holder[each]
            held = [(holder, name)]
            holder[name] = 0.0
        if not held:
            raise KeyError(key)
        for holder, name in held:
            holder[name] = changed(holder[name], change)
    return copy


def service_that_knows(changes: Changes) -> Service:
    """A service whose data are changed; for a process that does nothing else, since its modules are taken in anew.

    Args:
        changes: by file and key what becomes of the figure there

    Raises:
        KeyError: for a key that fits no figure
    """
    for name in [name for name in sys.modules if name.split(".")[0] == "service" and name != _KEPT]:
        del sys.modules[name]
    loader: Any = importlib.import_module("service.knowledge.loader")
    files = {loader.DATA / name: changed_keys for name, changed_keys in changes.items()}
    loader.read_toml = cache(lambda path: with_changes(_parsed(path), files[path]) if path in files else _parsed(path))
    return Service()


@cache
def _parsed(path: Path) -> dict[str, Any]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def keep_compiled(folder: str) -> None:
    """Let this process compile each module of the service once and not for every world.

    Args:
        folder: where the compiled modules are put
    """
    sys.pycache_prefix, sys.dont_write_bytecode = folder, False


class World(msgspec.Struct, frozen=True):
    """What is other than it is.

    Attributes:
        changes: by file and key what becomes of the figure there
        load: factor of every load that is asked about [1]
        body_mass: factor of every body mass [1]
        outward: added to the sideways force of every hand [1]
        touch: by which every hand is moved across [m]
    """

    changes: Changes = {}
    load: float = 1.0
    body_mass: float = 1.0
    outward: float = 0.0
    touch: float = 0.0


AS_IT_STANDS: Final = World()


def answers(world: World, questions: Sequence[Question]) -> list[Answer]:
    """What the service answers in a world.

    Args:
        world: what is other than it is
        questions: to be asked
    """
    service = service_that_knows(world.changes)
    return [
        service.answer(
            lifter, SETUPS.setups[setup], operations, world.load, world.body_mass, world.outward, world.touch
        )
        for lifter, setup, operations in questions
    ]


def leaning(questions: Sequence[tuple[str, str, float, float]]) -> dict[tuple[str, str, float], float | None]:
    """By what the lumbosacral moment changes when the trunk leans more, as spinal-load has it.

    Args:
        questions: name of the lifter, name of the setup, its lean as answered and how much more [deg]

    Returns:
        by lifter, setup and how much more
    """
    service = service_that_knows({})
    return {
        (lifter, setup, more): service.spine_when_leaning(lifter, SETUPS.setups[setup], lean, more)
        for lifter, setup, lean, more in questions
    }


def changes_of(setup: Setup) -> Changes:
    """What the service is to know instead, for a setup that says so."""
    return {file: {key: f"= {value!r}" for key, value in keys.items()} for file, keys in setup.knowledge.items()}
