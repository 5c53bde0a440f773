"""Writes the list of what is in the image (CycloneDX 1.6, JSON), from the lock and the Dockerfile alone.

    python -m deploy.bill_of_materials

Renewed after deploy/lock; the same lock gives the same bytes. Every package of the lock is listed, with the hashes of
the files that may be installed: as required, as optional where another Python or system needs it, as excluded where the
Dockerfile takes it out again. What the base image brings is not listed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Final
from uuid import NAMESPACE_URL, uuid5

from cyclonedx.model import HashAlgorithm, HashType, Property
from cyclonedx.model.bom import Bom
from cyclonedx.model.component import Component, ComponentScope, ComponentType
from cyclonedx.output.json import JsonV1Dot6
from packageurl import PackageURL
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from service import __version__

ROOT: Final = Path(__file__).resolve().parents[1]
LOCK: Final = ROOT / "deploy" / "requirements.lock"
DOCKERFILE: Final = ROOT / "Dockerfile"
BILL: Final = ROOT / "deploy" / "bill-of-materials.json"
NAME: Final = "program-adjustment-service"
CONDITION: Final = f"{NAME}:needed-where"
ENTRY: Final = re.compile(r"^(?P<requirement>[^\s#].*?) \\\n(?P<hashes>(?: +--hash=\S+.*\n)+)", re.MULTILINE)


def taken_out(dockerfile: str) -> frozenset[str]:
    """The packages that the image's build uninstalls."""
    found = re.search(r"pip [^&]*uninstall --quiet --yes \\\n +([a-z \-]+) *$", dockerfile, re.MULTILINE)
    if found is None:
        raise ValueError("the Dockerfile uninstalls nothing in the way that is looked for")
    return frozenset(map(canonicalize_name, found.group(1).split()))


def components(lock: str, excluded: frozenset[str]) -> Iterator[Component]:
    """One component for each entry of the lock."""
    for entry in ENTRY.finditer(lock):
        requirement = Requirement(entry["requirement"])
        name = canonicalize_name(requirement.name)
        (pin,) = requirement.specifier
        scope = ComponentScope.OPTIONAL if requirement.marker else ComponentScope.REQUIRED
        yield Component(
            type=ComponentType.LIBRARY,
            name=name,
            version=pin.version,
            scope=ComponentScope.EXCLUDED if name in excluded else scope,
            purl=PackageURL("pypi", None, name, pin.version),
            bom_ref=f"{name}=={pin.version}",
            hashes=[
                HashType(alg=HashAlgorithm.SHA_256, content=digest)
                for digest in re.findall(r"sha256:([0-9a-f]{64})", entry["hashes"])
            ],
            properties=[Property(name=CONDITION, value=str(requirement.marker))] if requirement.marker else [],
        )


def written(lock: str, dockerfile: str) -> str:
    """The list as text."""
    excluded = taken_out(dockerfile)
    bill = Bom(
        components=components(lock, excluded),
        serial_number=uuid5(NAMESPACE_URL, " ".join([__version__, lock, *sorted(excluded)])),
    )
    bill.metadata.timestamp = None  # type: ignore[assignment]  # the same lock, the same bytes
    bill.metadata.component = Component(type=ComponentType.APPLICATION, name=NAME, version=__version__, bom_ref=NAME)
    bill.register_dependency(bill.metadata.component, bill.components)
    return f"{JsonV1Dot6(bill).output_as_string(indent=2)}\n"


if __name__ == "__main__":
    BILL.write_text(written(LOCK.read_text(), DOCKERFILE.read_text()))
