"""Where what the tests read lies."""

from __future__ import annotations

from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
OPENAPI: Final = ROOT / "openapi"
DESCRIPTION: Final = OPENAPI / "openapi.json"
KNOWLEDGE: Final = ROOT / "service" / "knowledge" / "data"
PUBLISHED: Final = ROOT / "tests" / "science" / "reference" / "data"
"""Figures and cases as they are printed."""
