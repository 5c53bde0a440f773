"""What is known of one region's demand in a lift against another: by load, findings, cues, the whole it is part of."""

from __future__ import annotations

from typing import Final

import msgspec

from service.adjustment.arm import PostureChange
from service.adjustment.prescription import Prescription
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.knowledge.implements import direction_of, loads_compare
from service.knowledge.muscles import MUSCLE_SHARES
from service.knowledge.substitutions import DemandDirection, ratio_between
from service.knowledge.substitutions import directions as published_directions
from service.vocabulary import DemandEvidence, Direction

UPPER_LIMB: Final = ("shoulder", "elbow", "wrist")
_RATIO_TOLERANCE: Final = 1e-9
"""Of two ratios [1]: what is less than this between them comes from rounding."""
EVEN: Final = 0.01
"""Of two moments that the model of the arm takes for even, the larger over the smaller, less one [1]."""


class Effect(msgspec.Struct, frozen=True, gc=False):
    """Demand of one region against the present.

    Attributes:
        ratio: of the peak of a repetition [1], None where only a direction is known
        direction: which way it moves
        evidence: on what that rests
        sources: ids of the sources of what is published
        stand_in: ratio of the whole that it is part of [1], None where that has none or the part has its own
        by_load: whether it is lower only because the load is below the one that stands for the present
        span: the ratio with its ends, where the model of the arm has it [1]
        highest: the most over all that is assumed, of all that has to fall for relief to be sure, likewise [1]
        posture: what changes in a shoulder's postures, likewise
    """

    ratio: float | None
    direction: Direction
    evidence: DemandEvidence
    sources: tuple[str, ...] = ()
    stand_in: float | None = None
    by_load: bool = False
    span: Interval | None = None
    highest: float | None = None
    posture: PostureChange | None = None

    @property
    def unsure(self) -> bool:
        """Whether the model of the arm has a ratio that does not survive what is assumed."""
        return self.highest is not None and self.direction == "no_clear_difference"

    @property
    def eased(self) -> bool:
        """Whether a shoulder's posture is eased and its moment, as far as it is known, no larger."""
        return (
            self.posture is not None
            and self.posture.eases
            and self.ratio is not None
            and self.ratio <= 1 + _RATIO_TOLERANCE
        )

    @property
    def searched(self) -> float | None:
        """The ratio that a search goes by [1]: its own, or that of the whole, which is not said of the part."""
        return self.stand_in if self.ratio is None else self.ratio


class ComparedDemand(msgspec.Struct, frozen=True):
    """Demand of a prescription against the present, by region, with what is known of its uncertainty.

    Attributes:
        ratios: of the peak of a repetition, where a number is known [1]
        on_average: the same on average over repetitions, where the ratio has an interval [1]
        directions: of every region that either lift loads
        cautions: codes of knowledge/data/postures.toml
        of_arm: regions whose ratio has its interval from the model of the arm
    """

    ratios: dict[str, Interval]
    on_average: dict[str, Interval]
    directions: dict[str, Direction]
    cautions: tuple[str, ...] = ()
    of_arm: frozenset[str] = frozenset()

    @property
    def with_interval(self) -> frozenset[str]:
        """Regions whose ratio has an interval."""
        return frozenset(self.on_average)


HARDLY_LOADED: Final = Effect(None, "lower", "direction_only", ("design_choice",))
"""Of a region that a lift is not known to load."""


def of_part(effect: Effect, old: Prescription, new: Prescription, region: str) -> Effect:
    """What is said of a part that cannot be told apart from the whole: which way it moves.

    A lift that trains its muscle more may ask more of it though it asks less of the whole.

    Args:
        effect: on the whole
        old: the present prescription
        new: the prescription that is compared with it
        region: the part
    """
    muscle, direction = REGIONS[region].muscle, effect.direction
    if direction == "lower" and muscle and _share(new, muscle) > _share(old, muscle):
        direction = "unknown"
    return Effect(None, direction, "direction_only", effect.sources, effect.ratio)


def _share(prescription: Prescription, muscle: str) -> float:
    """How much of a set counts for a muscle [1], 0 where nothing is known of it."""
    share = MUSCLE_SHARES.get(prescription.exercise, {}).get(muscle)
    return 0.0 if share is None else share.share


def has_finding(old: Prescription, new: Prescription, region: str) -> bool:
    """Whether something is published, or practice, of this very region between two lifts.

    Args:
        old: the present prescription
        new: the prescription that is compared with it
        region: region whose demand it is
    """
    return new.exercise != old.exercise and region in published_directions(old.exercise, new.exercise)


def another_lift(old: Prescription, new: Prescription, region: str, moved: float | None) -> Effect:
    """Another exercise: what was published of it; one that does not load the region at all asks less of it.

    Args:
        old: the present prescription
        new: the other exercise
        region: region whose demand it is
        moved: what it moves against the present one [1], None for a load in the place of none
    """
    known, whole = published_directions(old.exercise, new.exercise), REGIONS[region].whole
    published = known.get(region)
    if published is None and all(whole in EXERCISES[lift.exercise].regions for lift in (old, new)):
        published = known.get(whole)
    if published is None:
        if region in EXERCISES[new.exercise].regions:
            return Effect(None, "unknown", "direction_only")
        return HARDLY_LOADED
    if moved is None:
        return Effect(None, "unknown", "direction_only")
    if published.ratio is None:
        if below_own_load(old, new, published, moved):
            return Effect(None, "lower", "direction_only", published.sources, by_load=True)
        return Effect(None, published.direction, "direction_only", published.sources)
    ratio = published.ratio * moved
    return Effect(ratio, _direction(ratio), "published", published.sources)


def below_own_load(old: Prescription, new: Prescription, published: DemandDirection, moved: float) -> bool:
    """Whether a lift asks less because it is loaded less than what stands for the present load.

    What shows no clear difference shows it between loads of equal effort.

    Args:
        old: the present prescription
        new: the other exercise
        published: what is known of the region
        moved: what the other moves against the present [1]
    """
    if published.direction != "no_clear_difference" or not published.never_higher:
        return False
    ratio = ratio_between(old.exercise, new.exercise)
    return ratio is not None and moved < ratio.ratio - _RATIO_TOLERANCE


def computed(ratio: float) -> Effect:
    """A region of which a number is computed.

    Args:
        ratio: its demand against the present [1]
    """
    return Effect(ratio, _direction(ratio), "computed")


def _direction(ratio: float) -> Direction:
    if ratio < 1 - _RATIO_TOLERANCE:
        return "lower"
    return "higher" if ratio > 1 + _RATIO_TOLERANCE else "no_clear_difference"


def effect_of_cues(old: Prescription, new: Prescription, region: str, moved: float | None) -> Effect | None:
    """What the cues that were added do to a region; no model sees them, so it is a direction only.

    Args:
        old: the present prescription
        new: the same lift with more cues
        region: region whose demand it is
        moved: what it moves against the present one [1], None for a load in the place of none
    """
    cues = [CUES[cue] for cue in new.cues if cue not in old.cues and region in CUES[cue].regions]
    if not cues:
        return None
    ways: set[Direction] = {cue.regions[region] for cue in cues}
    if moved is not None and moved < 1 - _RATIO_TOLERANCE:
        ways.add("lower")
    heavier = moved is None or moved > 1 + _RATIO_TOLERANCE
    direction = "unknown" if len(ways) > 1 or heavier else ways.pop()
    return Effect(None, direction, "direction_only", tuple(source for cue in cues for source in cue.sources))


def same_lift(new: Prescription, region: str, moved: float | None, pace: Interval | None = None) -> Effect:
    """The same lift with another load or at another pace.

    Args:
        new: the lift with the other load
        region: region whose demand it is
        moved: what it moves against the present one [1], None for a load in the place of none
        pace: what its pace makes of the demand [1], None where that stays or is not known
    """
    if moved is None:
        return Effect(None, "higher", "direction_only")
    if EXERCISES[new.exercise].family in ("press", "pull") and region in UPPER_LIMB:
        return computed(moved if pace is None else moved * pace.value)
    return Effect(None, _direction(moved), "direction_only")


def by_practice(old: Prescription, new: Prescription, region: str, moved: float | None, *, shorter: bool) -> Effect:
    """A region that hurts though the present lift asks it for next to nothing or is not known to load it.

    Less load asks less of whatever hurts, and so does less of the range: practice, without a number. Another lift is
    known to ask less only where that was found of a region that the present one does load.

    Args:
        old: the present prescription
        new: the prescription that is compared with it
        region: region whose demand it is
        moved: what it moves against the present one [1], None for a load in the place of none
        shorter: whether it goes through less of the range of the present lift
    """
    if new.exercise != old.exercise:
        if region in EXERCISES[old.exercise].regions:
            return another_lift(old, new, region, moved)
        return Effect(None, "unknown", "direction_only")
    if moved is None:
        return Effect(None, "higher", "direction_only")
    if shorter and moved <= 1 + _RATIO_TOLERANCE:
        return Effect(None, "lower", "direction_only", ("common_practice",))
    if new.held != old.held:
        return held_otherwise(old, new, region, moved)
    return Effect(None, _direction(moved), "direction_only")


def held_otherwise(old: Prescription, new: Prescription, region: str, moved: float | None) -> Effect:
    """The same lift with another implement, by what is said of it, else by its load where loads can be compared.

    Args:
        old: the present prescription
        new: the lift with the other implement
        region: region whose demand it is
        moved: what it moves against the present one [1], None for a load in the place of none
    """
    unknown = Effect(None, "unknown", "direction_only")
    if moved is None or moved > 1 + _RATIO_TOLERANCE:
        return unknown
    said = direction_of(new.exercise, old.held, new.held, REGIONS[region].whole)
    if said is not None:
        return Effect(None, said.direction, "direction_only", (said.source,))
    less = moved < 1 - _RATIO_TOLERANCE and loads_compare(old.held, new.held)
    return Effect(None, "lower", "direction_only") if less else unknown
