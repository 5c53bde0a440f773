"""What a press or a pull asks of shoulder, elbow or wrist against the present one: the model beside what is published.

Sure relief of the model stands, unless a measurement says the opposite: then there is no clear difference. Where the
model is not sure, what was measured of the two lifts stands as a direction.
"""

from __future__ import annotations

from service.adjustment.arm import Arms
from service.adjustment.prescription import Prescription
from service.adjustment.region_effect import EVEN, Effect, computed
from service.knowledge.catalogue import EXERCISES
from service.knowledge.substitutions import DemandDirection, directions
from service.vocabulary import Difference


def of_arm(arms: Arms, old: Prescription, new: Prescription, region: str, pace: float) -> Effect | None:
    """A region of the arm by its model; None where the model has nothing to say, or a finding is better known.

    What a press asks is of other muscles than what a pull asks, and no measure of it.

    Args:
        arms: of the lifter
        old: the present prescription
        new: the prescription that is compared with it
        region: shoulder, elbow or wrist
        pace: what its pace makes of the demand [1]

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    was, now = arms.has_number(old, region), arms.has_number(new, region)
    of_a_kind = EXERCISES[old.exercise].family == EXERCISES[new.exercise].family
    if was is None or now is None or not of_a_kind:
        return None
    if not (was or now):
        otherwise_done = old.exercise == new.exercise and not arms.alike(old, new)
        return Effect(None, "unknown", "direction_only") if otherwise_done else None
    if not (was and now):
        return Effect(None, "lower" if was else "higher", "direction_only", ("statics",))
    at_rest = arms.ratio_at_rest(new, old, region)
    if region == "wrist" and at_rest is not None and _bend_of_one(old, new):
        return Effect(None, "lower" if at_rest < 1.0 else "unknown", "direction_only", ("statics",))
    if at_rest is None or not arms.alike(old, new):
        return None if at_rest is None else _otherwise_done(arms, old, new, region, pace)
    return computed(at_rest * pace)


def _otherwise_done(arms: Arms, old: Prescription, new: Prescription, region: str, pace: float) -> Effect | None:
    """Another lift, or the same in another way."""
    found, published = arms.compared(new, old, region), _published(old, new, region)
    if found is None or (published is not None and found.difference == "no_clear_difference"):
        return None
    if published is not None and published.direction != found.difference:
        return Effect(None, "no_clear_difference", "direction_only", published.sources)
    return Effect(
        found.ratio.value * pace,
        found.difference,
        "computed",
        () if published is None else published.sources,
        span=found.ratio.scaled(pace),
        highest=found.highest * pace,
        posture=arms.posture(new, old) if region == "shoulder" else None,
    )


def asks_more_at_rest(arms: Arms, old: Prescription, new: Prescription, region: str) -> float | None:
    """The ratio of a region's moments with all as it is assumed, where it is one that no more need be known of.

    Args:
        arms: of the lifter
        old: the present prescription
        new: the prescription that is compared with it
        region: shoulder, elbow or wrist

    Returns:
        The ratio, above 1 [1]; None where it is not, where the arms do both alike, and where a finding may say other.

    Raises:
        Refusal: where the hand cannot be where the lift has it
    """
    if arms.alike(old, new) or _published(old, new, region) is not None:
        return None
    if not (arms.has_number(old, region) and arms.has_number(new, region)):
        return None
    ratio = arms.ratio_at_rest(new, old, region)
    return ratio if ratio is not None and ratio > 1 + EVEN else None


def is_published_to_ask_more(old: Prescription, new: Prescription, region: str) -> bool:
    """Whether any measurement says that another press or pull asks more of a region, which no model makes an option.

    Args:
        old: the present prescription
        new: the prescription that is compared with it
        region: shoulder, elbow or wrist
    """
    found = directions(old.exercise, new.exercise).get(region)
    return found is not None and not found.never_higher


def _bend_of_one(old: Prescription, new: Prescription) -> bool:
    """Whether the bend of the wrists was stated of one of two lifts alone; in the other they count as straight."""
    stated = [one.technique is not None and one.technique.wrist_bend is not None for one in (old, new)]
    return stated[0] != stated[1]


def _published(old: Prescription, new: Prescription, region: str) -> DemandDirection | None:
    """What is published of a region in two lifts, if it says which way its demand moves."""
    found = directions(old.exercise, new.exercise).get(region)
    ways: tuple[Difference, ...] = ("lower", "higher")
    return found if found is not None and found.direction in ways else None
