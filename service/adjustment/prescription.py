"""A prescription in SI: what is lifted, how, how often, and how near to failure."""

from __future__ import annotations

from typing import Final

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import posture_of
from service.mechanics.dynamics import Pace
from service.mechanics.setups import USUAL_TECHNIQUE, Depth, Technique
from service.training.fractional_sets import set_share
from service.training.load_repetition import person_curve
from service.training.volume import Reps
from service.vocabulary import Implement, Side

_AS_SHOWN: Final = 0.051
"""Within which repetitions in reserve are the same once they were shown with one decimal and sent back [count]."""


class Prescription(msgspec.Struct, frozen=True, gc=False):
    """A prescription; None where something is not stated.

    Attributes:
        exercise: id of the exercise
        sets: sets of a session [count]
        reps: range of repetitions of a set, or of its holds
        load: on the implement, negative for assistance in lifts of one's own body [kg]
        reserve: repetitions left after the top of the range [count]
        days: training days a week [count]
        depth: None for the exercise's usual one
        technique: None for the exercise's usual one
        tempo: lowering, bottom, lifting, top [s], such as 3-1-X-1
        rest: between sets [s]
        hold: length of a static repetition [s]
        cues: ids of knowledge/data/cues.toml
        implement: what is lifted, None for what the exercise is usually done with
        side: of the body that it is done on, None where it is not told apart
    """

    exercise: str
    sets: int
    reps: Reps
    load: float
    reserve: float | None = None
    days: int | None = None
    depth: Depth | None = None
    technique: Technique | None = None
    tempo: str | None = None
    rest: float | None = None
    hold: float | None = None
    cues: tuple[str, ...] = ()
    implement: Implement | None = None
    side: Side | None = None

    @property
    def held(self) -> Implement:
        """What is lifted: as stated, else what the exercise is usually done with."""
        return self.implement or EXERCISES[self.exercise].implements[0]

    @property
    def posture(self) -> str | None:
        """The id of the posture rule of the exercise with this implement, None where the model does not cover it."""
        return posture_of(self.exercise, self.implement)

    @property
    def pace(self) -> Pace:
        """How a repetition comes through its turn."""
        bounce = self.technique is not None and self.technique.bounce
        return Pace(self.tempo, bounce, self.hold is not None)

    def paced_as(self, other: Prescription) -> Prescription:
        """The same at the pace of another prescription.

        Args:
            other: whose tempo, hold and bounce it takes
        """
        technique = self.technique
        if other.pace.bounce != self.pace.bounce:
            technique = msgspec.structs.replace(technique or USUAL_TECHNIQUE, bounce=other.pace.bounce)
        return msgspec.structs.replace(self, tempo=other.tempo, hold=other.hold, technique=technique)

    @property
    def counted_reserve(self) -> float:
        """Repetitions in reserve to count with [count]: as stated, else as assumed where nothing is stated."""
        return CHOICES.effort.assumed_reserve if self.reserve is None else self.reserve

    @property
    def reps_a_session(self) -> float:
        """Repetitions of a session in the middle of the range [count]."""
        return self.sets * (self.reps.low + self.reps.high) / 2

    @property
    def reps_a_week(self) -> float:
        """Repetitions of a week in the middle of the range [count]; of one session where the days are not stated."""
        return self.reps_a_session * (self.days or 1)

    @property
    def weekly_sets(self) -> int:
        """Sets a week [count]; of one session where the days are not stated."""
        return self.sets * (self.days or 1)

    @property
    def share_of_set(self) -> float:
        """The part of each set that counts for size [1]: of few repetitions a part, a held one whole."""
        return 1.0 if self.hold is not None else set_share(self.reps.high)


def lifts_the_body(exercise: str) -> bool:
    """Whether the lift moves the lifter's own body, so that body mass counts as load and assistance takes some off."""
    return EXERCISES[exercise].carry == "body"


def may_be_unloaded(exercise: str) -> bool:
    """Whether the lift can be done with nothing on the implement: then the lifter's own body is what is lifted."""
    lift = EXERCISES[exercise]
    on_legs = lift.family in ("squat", "split", "hinge") and lift.carry != "machine"
    return lift.carry == "body" or lift.unloaded or on_legs


def body_moved(exercise: str, body_mass: float) -> float:
    """The part of body mass that a lift moves with its load; all of it where no part is published.

    Args:
        exercise: id of the exercise
        body_mass: body mass [kg]

    Returns:
        The mass [kg], 0 in lifts that move the load alone.
    """
    if not lifts_the_body(exercise):
        return 0.0
    share = EXERCISES[exercise].body_share
    return body_mass if share is None else share * body_mass


def reserve_is_a_bound(prescription: Prescription) -> bool:
    """Whether so much is left that no published repetitions say how much, as after less load than they are known for.

    Args:
        prescription: repetitions, or holds, of which no repetitions are left
    """
    if prescription.hold is not None or prescription.reserve is None:
        return False
    most = person_curve(prescription.exercise, 0).reps_at(0.0)
    return prescription.reps.high + prescription.reserve > most - _AS_SHOWN


def total_load(prescription: Prescription, body_mass: float) -> float:
    """What the lift moves: the load, with the part of the body that moves in lifts of one's own, less assistance.

    Args:
        prescription: what is done
        body_mass: body mass [kg]

    Returns:
        The mass [kg].
    """
    return prescription.load + body_moved(prescription.exercise, body_mass)


def relative_load(new: Prescription, present: Prescription, body_mass: float) -> float | None:
    """What one prescription moves against another; 1 where neither has a load, for both move the same body.

    Args:
        new: what would be done
        present: what is done now
        body_mass: body mass [kg]

    Returns:
        The ratio [1], None where there is a load in the place of none: to that there is no ratio.
    """
    before, after = total_load(present, body_mass), total_load(new, body_mass)
    if before > 0:
        return after / before
    return None if after > 0 else 1.0
