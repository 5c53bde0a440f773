"""How much is looked at for one way back, counted, so that no request takes long."""

from __future__ import annotations

from service.adjustment.return_plan.problem import CHOICE


class TooMuchWork(Exception):
    """More would have to be looked at than one request may ask for."""


class Work:
    """The work of one request, all its searches together.

    postures: peaks of a repetition computed, each the solution of a posture where there is a model; moves: steps of the
    way back looked at. Counting beyond what is allowed raises TooMuchWork.
    """

    def __init__(self) -> None:
        """Nothing done yet."""
        self.postures = 0
        self.moves = 0

    def posture(self) -> None:
        """Count one peak that is about to be computed."""
        self.postures += 1
        if self.postures > CHOICE.most_postures:
            raise TooMuchWork

    def move(self) -> None:
        """Count one step that is about to be looked at."""
        self.moves += 1
        if self.moves > CHOICE.most_moves:
            raise TooMuchWork
