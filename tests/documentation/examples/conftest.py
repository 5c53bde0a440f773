"""The files of deploy/examples where their reader has them, TypeScript compiled."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Final, TypeAlias

import pytest

from tests.documentation.examples.fences import fences
from tests.support.live import Live
from tests.support.npm.programs import PACKAGES, run
from tests.support.paths import ROOT

EXAMPLES: Final = ROOT / "deploy" / "examples"
COMPILER: Final = {
    "compilerOptions": {
        "strict": True,
        "noUncheckedIndexedAccess": True,
        "target": "es2022",
        "module": "nodenext",
        "rewriteRelativeImportExtensions": True,
        "types": ["node"],
        "outDir": "out",
    },
    "files": ["course.ts", "mine.ts"],
}

Ended: TypeAlias = subprocess.CompletedProcess[str]
Runs: TypeAlias = Callable[..., Ended]


def ended(*command: str | Path, service: str, cwd: Path = ROOT) -> Ended:
    """A program that has ended, told where the service is."""
    environment = os.environ | {"SERVICE": service}
    return subprocess.run(  # noqa: S603 - fixed arguments
        command, capture_output=True, text=True, check=False, timeout=60, cwd=cwd, env=environment
    )


@pytest.fixture(scope="session")
def runs(served: Live) -> Runs:
    """Runs a program against the service."""
    return lambda *command, cwd=ROOT: ended(*command, service=f"http://127.0.0.1:{served.port}", cwd=cwd)


@pytest.fixture(scope="session")
def readme() -> str:
    return (ROOT / "README.md").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def compiled(readme: str, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the compiled TypeScript, with the program of the README as mine.js."""
    folder = tmp_path_factory.mktemp("typescript")
    for name in ("ask.ts", "course.ts", "package.json"):
        shutil.copy(EXAMPLES / name, folder)
    (program,) = fences(readme, "ts")
    (folder / "mine.ts").write_text(program)
    (folder / "node_modules").symlink_to(PACKAGES)
    (folder / "tsconfig.json").write_text(json.dumps(COMPILER))
    compiler = run("tsc", "--project", folder, cwd=folder)
    assert compiler.returncode == 0, compiler.stdout
    shutil.copy(folder / "package.json", folder / "out")
    return folder / "out"
