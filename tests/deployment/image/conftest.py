"""The image, built once for all tests of the group, and one container of it at work."""

from __future__ import annotations

import os
import shutil
import tempfile
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.deployment.image.building import SUBJECT, Buildah, build, run
from tests.deployment.image.running import Container
from tests.support.programs import running

if TYPE_CHECKING:
    from collections.abc import Iterator


@contextmanager
def folder_in_memory() -> Iterator[Path]:
    """A folder that is gone at once when it is left: many thousand small files, written for one run, need no disk."""
    place = Path(tempfile.mkdtemp(prefix="image-"))
    run(["mount", "-t", "tmpfs", "-o", "size=4g,mode=700", "none", str(place)])
    try:
        yield place
    finally:
        run(["umount", "--lazy", str(place)])
        place.rmdir()


@pytest.fixture(scope="session")
def buildah() -> Iterator[Buildah]:
    """Storage that holds the built image; it takes some two gigabytes of memory while the tests run."""
    missing = [name for name in ("buildah", "debootstrap", "apt-get", "unshare") if shutil.which(name) is None]
    if missing or os.geteuid() != 0:
        pytest.fail(f"building an image here needs root and Debian's programs; missing: {missing or 'root'}")
    with folder_in_memory() as place:
        found = Buildah(place)
        build(found)
        yield found


@pytest.fixture(scope="session")
def container(buildah: Buildah) -> Iterator[Container]:
    """A container that serves by the image's own command."""
    with running(Container(buildah, SUBJECT, *buildah.configuration(SUBJECT)["Cmd"])) as found:
        yield found
