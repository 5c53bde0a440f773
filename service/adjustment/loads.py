"""What can be loaded: every load that an operation offers is rounded by these two functions and no others."""

from __future__ import annotations

from typing import Protocol

from service.vocabulary import Implement


class Rounding(Protocol):
    """Brings a load to one that can be lifted."""

    def __call__(self, exercise: str, load: float, implement: Implement | None = None, /) -> float | None:
        """The load of an exercise that can be lifted with an implement.

        Args:
            exercise: id of the exercise
            load: wished for, negative for assistance in lifts of one's own body [kg]
            implement: what is lifted, None for what the exercise is usually done with

        Returns:
            The load [kg], None where there is none.
        """


class Loads(Protocol):
    """What can be loaded for an exercise."""

    @property
    def down(self) -> Rounding:
        """The heaviest load not above another one."""

    @property
    def above(self) -> Rounding:
        """The lightest load heavier than another one."""
