"""The ids of the red flags, as requests may name them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from service.knowledge.catalogue import SIGNS

if TYPE_CHECKING:
    SignId = str
else:  # the ids are data: decoding checks them against the list that the service was started with
    SignId = Literal[tuple(SIGNS)]
