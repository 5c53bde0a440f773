"""The image, built from the Dockerfile: what it says, what is in it, and that it serves without rights.

Not held here: how the image behaves under a runtime that isolates more than chroot does.
"""

from __future__ import annotations

import json
import stat
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import pytest
from packaging.utils import canonicalize_name

from service import __version__
from tests.deployment.image.building import BASE, REVISION, SUBJECT
from tests.support.description import examples
from tests.support.paths import DESCRIPTION
from tests.support.programs import status_of

if TYPE_CHECKING:
    from tests.deployment.image.building import Buildah
    from tests.deployment.image.running import Container

# Not compressed, beside the base; a design choice. 13 MB of it are the library that matches names.
LARGEST: Final = 105_000_000  # [bytes]
USER: Final = 10001
WITHOUT_BYTECODE: Final = """
import os, sys
import service.cli, service.app
files = [module.__cached__ for module in list(sys.modules.values()) if getattr(module, "__cached__", None)]
print([file for file in files if file.startswith("/opt/service") and not os.path.exists(file)])
"""


@pytest.fixture(scope="module")
def configuration(buildah: Buildah) -> dict[str, Any]:
    return buildah.configuration(SUBJECT)


def versions(container: Container) -> set[tuple[str, str]]:
    """The packages in the image's environment, with their versions."""
    (packages,) = (container.root / "opt/service/environment/lib").glob("python3*/site-packages")
    parts = (entry.stem.split("-") for entry in packages.glob("*.dist-info"))
    return {(str(canonicalize_name(name)), version) for name, version in parts}


def installed(container: Container) -> set[str]:
    """Their names."""
    return {name for name, _ in versions(container)}


def test_the_user_is_a_number_and_not_root(configuration: dict[str, Any]) -> None:
    assert configuration["User"] == f"{USER}:{USER}"


def test_the_labels_say_what_it_is(configuration: dict[str, Any]) -> None:
    prefix = "org.opencontainers.image."
    labels = {name.removeprefix(prefix): text for name, text in configuration["Labels"].items() if prefix in name}
    assert labels.pop("description")
    assert labels == {
        "title": "program-adjustment-service",
        "version": __version__,
        "revision": REVISION,
        "base.name": BASE,
    }


def test_it_tells_how_it_is_run_and_stopped(configuration: dict[str, Any]) -> None:
    assert configuration["Cmd"] == ["python", "-m", "service", "serve"]
    assert configuration["StopSignal"] == "SIGTERM"
    assert list(configuration["ExposedPorts"]) == ["8000/tcp"]


def test_it_is_small(buildah: Buildah) -> None:
    own = buildah.size(SUBJECT) - buildah.size(BASE)
    assert own < LARGEST, f"{own / 1e6:.0f} MB beside the base"


def test_nothing_of_the_build_is_left(container: Container) -> None:
    assert not {"pip", "setuptools", "faker", "polyfactory", "rich", "pygments"} & installed(container)
    assert {"litestar", "msgspec", "uvicorn"} <= installed(container)
    assert not any((container.root / place).exists() for place in ("build", "wheels", "etc/pip.conf"))
    top = {entry.name for entry in (container.root / "opt/service").iterdir()}
    assert top == {"environment", "service", "bill-of-materials.json"}


def test_what_is_in_it_is_what_its_list_says(container: Container) -> None:
    listed = json.loads((container.root / "opt/service/bill-of-materials.json").read_text())["components"]
    by_scope: dict[str, set[tuple[str, str]]] = {"required": set(), "optional": set(), "excluded": set()}
    for component in listed:
        by_scope[component["scope"]].add((component["name"], component["version"]))
    there = versions(container)
    assert by_scope["required"] <= there <= by_scope["required"] | by_scope["optional"]


def test_its_user_can_change_none_of_it(container: Container) -> None:
    found = [
        place
        for place in (container.root / "opt/service").rglob("*")
        if not place.is_symlink() and (place.stat().st_uid != 0 or place.stat().st_mode & stat.S_IWOTH)
    ]
    assert found == []


def test_everything_that_is_loaded_was_compiled_before(container: Container) -> None:
    done = container.run("python", "-c", WITHOUT_BYTECODE)
    assert done.stdout.strip() == "[]", done.stderr


def test_it_answers(container: Container) -> None:
    described = json.loads(container.ask("/openapi.json"))
    content = described["paths"]["/v1/load-for-reps"]["post"]["requestBody"]["content"]["application/json"]
    example = next(iter(examples(content, described).values()))["value"]
    assert "load" in json.loads(container.ask("/v1/load-for-reps", json.dumps(example).encode()))
    assert status_of(container.port, "/docs") == 200


def test_it_describes_itself_as_published(container: Container) -> None:
    assert container.ask("/openapi.json") == DESCRIPTION.read_bytes()


def test_what_serves_has_no_rights(container: Container) -> None:
    lines = Path(f"/proc/{container.served_by()}/status").read_text().splitlines()
    facts = {name: value.split() for name, _, value in (line.partition(":") for line in lines)}
    assert set(facts["Uid"]) == set(facts["Gid"]) == {str(USER)}
    assert int(facts["CapEff"][0], 16) == 0


@pytest.mark.parametrize("user", [None, "0"], ids=["its own user", "root"])
def test_its_root_cannot_be_written_to(container: Container, user: str | None) -> None:
    done = container.run("touch", "/opt/service/new", "/tmp/new", user=user)  # noqa: S108 - in the container
    assert done.returncode != 0
    assert done.stderr.count("Read-only file system") == 2, done.stderr


def test_its_health_check_tells_whether_it_serves(container: Container, configuration: dict[str, Any]) -> None:
    kind, *command = configuration["Healthcheck"]["Test"]
    assert kind == "CMD"
    done = container.run(*command)
    assert done.returncode == 0, done.stderr
    assert container.stop() == 0, container.words()[-4000:]
    assert container.run(*command).returncode != 0
