"""The Python client: generated, checked, imported."""

from __future__ import annotations

import ast
import importlib
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import msgspec

from tests.interface.clients.description import FILE
from tests.support.paths import ROOT

HERE: Final = Path(__file__).parent
PACKAGING: Final = ROOT / "deploy" / "clients" / "python"
NAME: Final = "adjustment_client"
PATIENCE: Final = 300.0  # [s]


def snake(name: str) -> str:
    """A name as the generator makes modules of it."""
    return re.sub(r"(?<=[a-z0-9])(?=[A-Z])", "_", name).lower()


class PythonClient(msgspec.Struct, frozen=True):
    """The folder of the generated package, and what the generator said."""

    folder: Path
    said: str

    @classmethod
    def generated(cls, folder: Path) -> PythonClient:
        """Generates; warnings are failures, since a warning means that something is missing from the client."""
        command = [
            *(sys.executable, "-m", "openapi_python_client", "generate", "--fail-on-warning"),
            *("--path", str(FILE), "--config", str(PACKAGING / "generator.yaml")),
            *("--meta", "none", "--output-path", str(folder / NAME)),
        ]
        ended = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE)
        assert ended.returncode == 0, ended.stdout + ended.stderr
        shutil.copy(HERE / "consultation.py", folder)
        return cls(folder, ended.stdout + ended.stderr)

    def checked(self) -> subprocess.CompletedProcess[str]:
        """The strict type check of the package and of the program that uses it."""
        command = [
            *(sys.executable, "-m", "mypy", "--strict", "--config-file=", "--cache-dir", str(self.folder / "cache")),
            *("--package", NAME, "--module", "consultation"),
        ]
        return subprocess.run(command, cwd=self.folder, capture_output=True, text=True, check=False, timeout=PATIENCE)

    def module(self, name: str) -> Any:  # noqa: ANN401 - modules that only the generator knows
        """A module of the package."""
        if str(self.folder) not in sys.path:
            sys.path.insert(0, str(self.folder))
        return importlib.import_module(f"{NAME}.{name}" if name else NAME)

    def connected(self, port: int) -> Any:  # noqa: ANN401
        """A client of the service on a port of this machine."""
        return self.module("").Client(base_url=f"http://127.0.0.1:{port}", raise_on_unexpected_status=True)

    def api(self, operation_id: str) -> Any:  # noqa: ANN401
        """The module of an operation."""
        (found,) = (self.folder / NAME / "api").glob(f"*/{snake(operation_id)}.py")
        return self.module(f"api.{found.parent.name}.{found.stem}")

    def fields(self) -> Iterator[tuple[str, ast.expr]]:
        """The declared fields of every model, with their types."""
        for file in sorted((self.folder / NAME / "models").glob("*.py")):
            for node in ast.parse(file.read_text()).body:
                if isinstance(node, ast.ClassDef):
                    for statement in node.body:
                        if isinstance(statement, ast.AnnAssign) and isinstance(statement.target, ast.Name):
                            yield f"{node.name}.{statement.target.id}", statement.annotation

    def calls(self) -> Iterator[tuple[str, str, ast.FunctionDef | ast.AsyncFunctionDef]]:
        """The public functions of every operation: the operation's module, the function's name, and the function."""
        for file in sorted((self.folder / NAME / "api").glob("*/*.py")):
            for node in ast.parse(file.read_text()).body:
                if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and not node.name.startswith("_"):
                    yield file.stem, node.name, node


def says_any(annotation: ast.expr | None) -> bool:
    """Whether a type has Any in it, or is missing."""
    return annotation is None or any(isinstance(node, ast.Name) and node.id == "Any" for node in ast.walk(annotation))
