"""A load that does not hurt, as complaints and ways back state it."""

from __future__ import annotations

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from service.api.models.base import RequestModel
from service.units import Mass

PainScore = Annotated[float, Meta(ge=0, le=10)]


class ToleratedLoad(RequestModel, kw_only=True, frozen=True):
    """A load of the lift that is asked about that does not hurt, or hardly: what is tolerated for sure.

    Attributes:
        load: The load, as in the prescription.
        pain: Pain with it, 0 (none) to 10 (worst imaginable). Left out: none.
    """

    load: Mass
    pain: PainScore | UnsetType = UNSET
