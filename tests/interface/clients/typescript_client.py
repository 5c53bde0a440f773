"""The TypeScript client: types generated, programs that use them written and compiled."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any, Final

import msgspec

from tests.interface.clients.description import EXAMPLES, FILE, JSON, OPERATIONS
from tests.support.npm.programs import PACKAGES, run

HERE: Final = Path(__file__).parent
# A field with a default may be left out of a question.
OPTIONS: Final = ("--default-non-nullable", "false", "--root-types", "--root-types-no-schema-prefix")
COMMENT: Final = re.compile(r"/\*.*?\*/|//[^\n]*", re.DOTALL)
COMPILER: Final = {
    "compilerOptions": {
        "strict": True,
        "noUncheckedIndexedAccess": True,
        "noImplicitReturns": True,
        "exactOptionalPropertyTypes": True,
        "target": "es2022",
        "module": "nodenext",
        "types": ["node"],
        "outDir": "out",
    },
    "include": ["*.ts"],
}
HEAD: Final = """import createClient from "openapi-fetch";
import type { paths } from "./api.js";

// JSON in its forms, data and problems alike; a picture or a table would be a text.
const client = createClient<paths, `application/${string}`>({ baseUrl: process.argv[2] ?? "" });
function told(operation: string, example: string, data: object | undefined, error: object | undefined): void {
  console.log(JSON.stringify({ operation, example, data, error }));
}
"""


class TypeScriptClient(msgspec.Struct, frozen=True):
    """The folder of the generated types and the programs that use them, and what the generator said."""

    folder: Path
    said: str

    @classmethod
    def generated(cls, folder: Path) -> TypeScriptClient:
        """Generates the types twice, with lists of values as unions and as enumerations, and writes the programs."""
        (folder / "node_modules").symlink_to(PACKAGES)
        (folder / "package.json").write_text('{"type": "module"}')
        (folder / "tsconfig.json").write_text(json.dumps(COMPILER))
        said = ""
        for name, more in (("api.ts", ()), ("api_with_enums.ts", ("--enum",))):
            ended = run("openapi-typescript", FILE, "--output", folder / name, *OPTIONS, *more)
            assert ended.returncode == 0, ended.stdout + ended.stderr
            said += ended.stdout + ended.stderr
        (folder / "examples.ts").write_text(HEAD + "".join(map(_call, OPERATIONS)))
        shutil.copy(HERE / "consultation.ts", folder)
        return cls(folder, said)

    def code(self, name: str) -> str:
        """A file without its comments."""
        return COMMENT.sub("", (self.folder / name).read_text(encoding="utf-8"))

    def compiled(self) -> Path:
        """The folder of the compiled programs; the compiler is as strict as it can be."""
        ended = run("tsc", "--project", self.folder, cwd=self.folder)
        assert ended.returncode == 0, ended.stdout
        return self.folder / "out"


def node(program: Path, address: str) -> subprocess.CompletedProcess[str]:
    """The run of a compiled program against a service."""
    found = shutil.which("node")
    assert found is not None, "node is not installed: ./tests/run clients installs it"
    return subprocess.run([found, program, address], capture_output=True, text=True, check=False, timeout=120)


def _call(operation_id: str) -> str:
    """The calls of an operation: one for each JSON example, or one with its parameters' examples."""
    operation = OPERATIONS[operation_id]
    if "requestBody" in operation:
        options = {
            example.name: f"{{ body: {json.dumps(example.request)} }}"
            for example in EXAMPLES
            if example.operation_id == operation_id
        }
    elif JSON in operation["responses"]["200"]["content"]:
        options = {"": f"{{ params: {json.dumps(_parameters(operation))} }}"}
    else:
        options = {}
    return "".join(
        f"""{{
  const {{ data, error }} = await client.{operation["method"].upper()}("{operation["path"]}", {given});
  told("{operation_id}", "{name}", data, error);
}}
"""
        for name, given in options.items()
    )


def _parameters(operation: dict[str, Any]) -> dict[str, dict[str, Any]]:
    found: dict[str, dict[str, Any]] = {"path": {}, "query": {}}
    for parameter in operation.get("parameters", []):
        if "example" in parameter:
            found[parameter["in"]][parameter["name"]] = parameter["example"]
    return {place: values for place, values in found.items() if values}
