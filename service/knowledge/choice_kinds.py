"""Kinds of values that our own choices have, with their bounds.

Every number has bounds, so that a slip of the pen in a changed file is refused at start and does not reach a lifter.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Annotated

from msgspec import Meta

from service.intervals import Interval
from service.knowledge.loader import UnusableData
from service.knowledge.records import Record

Part = Annotated[float, Meta(gt=0, le=1)]
"""A share [1] that is neither nothing nor more than the whole."""
Growth = Annotated[float, Meta(ge=1, le=10)]
"""A ratio [1] that is no decrease."""
Points = Annotated[float, Meta(ge=0, le=10)]
"""Points of the pain scale from 0 to 10."""
Reserve = Annotated[float, Meta(ge=0, le=10)]
"""Repetitions left before failure."""
Degrees = Annotated[float, Meta(ge=-90, le=90)]
"""Angle [deg]."""
Metres = Annotated[float, Meta(ge=0, le=2)]
"""Length [m]."""
Seconds = Annotated[float, Meta(ge=0, le=3600)]
"""Duration [s]."""
Steps = Annotated[float, Meta(gt=0, le=100)]
"""Steps of a load, in the unit of their name."""
Count = Annotated[int, Meta(ge=1, le=1000)]
"""Number of things [count]."""
Tempo = Annotated[str, Meta(pattern=r"\A[0-9]{1,2}(?:-(?:[0-9]{1,2}|X)){3}\Z")]
"""Lowering, bottom, lifting, top [s]."""


class UnusableChoices(UnusableData):
    """A file of our own choices that cannot be used."""


class Keyed(Record, frozen=True):
    """A table of numbers of one kind, looked up by key."""

    def __getitem__(self, key: str) -> float:
        """The number under a key."""
        number: float = getattr(self, key)
        return number


class Span(Interval, frozen=True, forbid_unknown_fields=True):
    """A value with the interval in which it is taken to lie.

    Attributes:
        value: usual value, in the unit of the field that holds it [any]
        low: lowest value, in the same unit [any]
        high: highest value, in the same unit [any]
    """

    value: Annotated[float, Meta(gt=0, le=10)]
    low: Annotated[float, Meta(gt=0, le=10)]
    high: Annotated[float, Meta(gt=0, le=10)]

    def __post_init__(self) -> None:
        """Raise ValueError where the value is outside its span."""
        if not self.low <= self.value <= self.high:
            raise ValueError("Expected low <= value <= high")


def ascending(name: str, *numbers: float) -> None:
    """Check that numbers ascend.

    Args:
        name: of the numbers
        numbers: in their order [any]

    Raises:
        ValueError: naming them where one is not below the next
    """
    if not all(low < high for low, high in pairwise(numbers)):
        raise ValueError(f"Expected {name} in ascending order")
