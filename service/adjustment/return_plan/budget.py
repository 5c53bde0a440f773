"""How much is looked at for one way back, counted, so that no request takes long."""

from __future__ import annotations

from service.knowledge.design_choices import CHOICES


class BudgetExceeded(Exception):
    """More would have to be looked at than one request may ask for."""


class Budget:
    """The work of one request, all its searches together; counting beyond what is allowed raises BudgetExceeded.

    Attributes:
        postures: peaks of a repetition computed, each the solution of a posture where there is a model [count]
        moves: steps of the way back looked at [count]
        limited: whether the limits hold
    """

    def __init__(self) -> None:
        """Nothing done yet."""
        self.postures = 0
        self.moves = 0
        self.limited = True

    def lift_limits(self) -> None:
        """Go on counting without an end, for the direct way that is taken where not all ways can be looked at."""
        self.limited = False

    def count_posture(self) -> None:
        """Count one peak that is about to be computed."""
        self.postures += 1
        if self.limited and self.postures > CHOICES.return_plan.most_postures:
            raise BudgetExceeded

    def count_move(self) -> None:
        """Count one step that is about to be looked at."""
        self.moves += 1
        if self.limited and self.moves > CHOICES.return_plan.most_moves:
            raise BudgetExceeded
