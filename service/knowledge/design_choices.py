"""Our own choices, where no published figure decides: read once at start from design_choices.toml.

A file with the same tables, named in the environment variable DESIGN_CHOICES, replaces their values one by one; a file
that cannot be used stops the service at start.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any, Final

import msgspec

from service.knowledge.choice_tables import DesignChoices, UnusableChoices
from service.knowledge.loader import HERE
from service.settings import design_choices_file

SHIPPED: Final = HERE / "design_choices.toml"


def _read(path: Path) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        raise UnusableChoices(path, error.strerror) from None
    except ValueError as error:  # neither UTF-8 nor TOML
        raise UnusableChoices(path, error) from None


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """`base` with the values of `changes` in their place or beside them, table by table."""
    return base | {
        key: merged(base[key], value) if isinstance(value, dict) and isinstance(base.get(key), dict) else value
        for key, value in changes.items()
    }


def design_choices(override: str | None) -> DesignChoices:
    """Our own choices, changed by the file named in `override` if there is one; raises UnusableChoices."""
    path = Path(override) if override else SHIPPED
    choices = _read(SHIPPED)
    if override:
        choices = merged(choices, _read(path))
    try:
        return msgspec.convert(choices, DesignChoices)
    except msgspec.ValidationError as error:
        fault, _, key = str(error).replace("Object", "Table").replace("`object`", "a table").partition(" - at `$.")
        raise UnusableChoices(path, f"{key.rstrip('`') or 'at the top'}: {fault}") from None


CHOICES: Final = design_choices(design_choices_file())
