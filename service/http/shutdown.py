"""Whether the process has been told to stop: the server sets it, and readiness says it."""

from __future__ import annotations

from threading import Event
from typing import Final

STOPPING: Final = Event()
"""Set from then on: requests are still answered, but new ones belong elsewhere."""
