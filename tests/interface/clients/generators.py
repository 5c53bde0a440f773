"""Each generator: what it makes of the description, compiled, and what a short consultation with it printed.

Every function takes an empty folder and the address of the service. What cannot run fails: nothing is skipped.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Final

from tests.interface.clients.description import FILE
from tests.interface.clients.typescript_client import COMPILER
from tests.support.kotlin import compiler, inside, library
from tests.support.npm.programs import PACKAGES

PROGRAMS: Final = Path(__file__).parent / "consultations"
PATIENCE: Final = 400.0  # [s] of the slowest of them on a busy machine
ANNOTATIONS: Final = "/usr/share/java/jakarta-annotation-api.jar"
GO_PACKAGES: Final = "/usr/share/gocode"  # where Debian lays the sources of Go packages


def ran(*command: str | Path, cwd: Path, **environment: str) -> str:
    """What a program said; one that fails fails the test with its words."""
    ended = subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        env=os.environ | environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=PATIENCE,
    )
    assert ended.returncode == 0, ended.stdout[-4000:] + ended.stderr[-4000:]
    return ended.stdout


def _generator() -> Path:
    return inside("openapi_generator_cli") / "openapi-generator.jar"


def openapi_generator(language: str, folder: Path, *options: str) -> Path:
    """The folder in which openapi-generator made its client, without its tests and pages."""
    parts = "apiTests=false,modelTests=false,apiDocs=false,modelDocs=false"
    made = ("generate", "--generator-name", language, "--input-spec", FILE, "--output", "made")
    ran("java", "-jar", _generator(), *made, "--global-property", parts, *options, cwd=folder)
    return folder / "made"


def java(folder: Path, address: str) -> str:
    """The client over the HTTP client of the JDK; Jackson comes with the generator, the annotations from Debian."""
    packages = "invokerPackage=client,apiPackage=client.api,modelPackage=client.model,sourceFolder=src"
    style = "openApiNullable=false,useJakartaEe=true,useSingleRequestParameter=true"
    options = ("--library", "native", f"--additional-properties={packages},{style}")
    made = openapi_generator("java", folder, *options)
    sources = [*sorted((made / "src").rglob("*.java")), PROGRAMS / "Consultation.java"]
    path = f"{_generator()}:{ANNOTATIONS}:out"
    ran("javac", "-nowarn", "-d", "out", "-classpath", path, *sources, cwd=folder)
    return ran("java", "-classpath", path, "Consultation", address, cwd=folder)


def go(folder: Path, address: str) -> str:
    """The client without modules, since its one dependency comes from Debian; `vet` reads what was built."""
    options = "packageName=client,enumClassPrefix=true,withGoMod=false"
    made = openapi_generator("go", folder, f"--additional-properties={options}")
    for name, sources in (("client", [*made.glob("*.go")]), ("consultation", [PROGRAMS / "consultation.go"])):
        (folder / "src" / name).mkdir(parents=True)
        for source in sources:
            shutil.copy(source, folder / "src" / name)
    environment = {"GO111MODULE": "off", "GOPATH": f"{folder}:{GO_PACKAGES}", "GOCACHE": str(folder / "cache")}
    ran("go", "vet", "client", "consultation", cwd=folder, **environment)
    ran("go", "build", "-o", "program", "consultation", cwd=folder, **environment)
    return ran(folder / "program", address, cwd=folder)


def kotlin(folder: Path, address: str) -> str:
    """The models alone: what sends them needs okhttp 4 and Jackson's module for Kotlin, which come from Maven alone."""
    made = openapi_generator(
        "kotlin", folder, "--additional-properties=packageName=client,serializationLibrary=jackson"
    )
    path = f"{library()}:{_generator()}"
    models = made / "src" / "main" / "kotlin" / "client" / "models"
    sources = (models, PROGRAMS / "Consultation.kt")
    ran(*compiler(path), *sources, cwd=folder)
    return ran("java", "-classpath", f"{path}:out", "ConsultationKt", address, cwd=folder)


def _models(folder: Path, address: str, kind: str, program: str, *options: str) -> str:
    made = ("--input", str(FILE), "--input-file-type", "openapi", "--output-model-type", kind, *options)
    alike = ("--use-annotated", "--collapse-root-models", "--set-default-enum-member", "--no-use-specialized-enum")
    output = ("--output", "adjustment_models.py", "--target-python-version", "3.11", "--formatters", "builtin")
    ran(sys.executable, "-m", "datamodel_code_generator", *made, *alike, *output, cwd=folder)
    shutil.copy(PROGRAMS / program, folder)
    ran(sys.executable, "-m", "mypy", "--strict", "--config-file=", "--cache-dir=cache", program, cwd=folder)
    return ran(sys.executable, program, address, cwd=folder)


def msgspec_models(folder: Path, address: str) -> str:
    """Structs of msgspec by datamodel-code-generator."""
    return _models(folder, address, "msgspec.Struct", "models_msgspec.py")


def pydantic_models(folder: Path, address: str) -> str:
    """Models of pydantic by datamodel-code-generator."""
    return _models(folder, address, "pydantic_v2.BaseModel", "models_pydantic.py", "--use-type-alias")


def compiled(folder: Path, program: str, address: str) -> str:
    """What a TypeScript program of the folder printed, compiled as strictly as the other clients."""
    (folder / "tsconfig.json").write_text(json.dumps(COMPILER))
    ran(PACKAGES / ".bin" / "tsc", "--project", folder, "--typeRoots", PACKAGES / "@types", cwd=folder)
    return ran("node", folder / "out" / program, address, cwd=folder)


def orval(folder: Path, address: str) -> str:
    """Functions over fetch by orval, for one address."""
    options = {"target": "api.ts", "client": "fetch", "baseUrl": address}
    configuration = {"service": {"input": {"target": str(FILE)}, "output": options}}
    (folder / "orval.config.cjs").write_text(f"module.exports = {json.dumps(configuration)}")
    (folder / "package.json").write_text('{"type": "module"}')
    ran(PACKAGES / ".bin" / "orval", "--config", "orval.config.cjs", cwd=folder)
    shutil.copy(PROGRAMS / "orval.ts", folder)
    return compiled(folder, "orval.js", address)
