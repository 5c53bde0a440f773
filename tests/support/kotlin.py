"""Kotlin's compiler, which comes with its kernel for notebooks, and Java to run what it makes."""

from __future__ import annotations

from importlib.util import find_spec
from pathlib import Path


def inside(package: str) -> Path:
    """The folder of an installed package that brings Java's archives."""
    spec = find_spec(package)
    assert spec is not None, f"{package} is not installed"
    assert spec.submodule_search_locations is not None
    return Path(spec.submodule_search_locations[0])


def _archives() -> list[Path]:
    return sorted((inside("run_kotlin_kernel") / "jars").glob("*.jar"))


def library() -> Path:
    """The archive of the standard library."""
    (found,) = (archive for archive in _archives() if archive.name.startswith("kotlin-stdlib"))
    return found


def compiler(path: str) -> tuple[str, ...]:
    """The command that compiles into the folder `out`; path: archives that the sources use, parted by colons."""
    classes = ":".join(map(str, _archives()))
    program = ("java", "-classpath", classes, "org.jetbrains.kotlin.cli.jvm.K2JVMCompiler")
    return (*program, "-no-stdlib", "-no-reflect", "-classpath", path, "-d", "out")
