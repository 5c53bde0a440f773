"""What nobody wants of an option first: unloading, easy sets, failure, another region that pays for it."""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Candidate, Case
from service.adjustment.region_effect import Effect
from service.knowledge.catalogue import EXERCISES
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Region

_CHOICE: Final = CHOICES.adjustments


def unloads(candidate: Candidate) -> bool:
    """Whether so little of the training effect is kept that the option is unloading."""
    return candidate.stimulus.kept.value < _CHOICE.unloading_below


def is_easy(candidate: Candidate, case: Case) -> bool:
    """Whether the sets are left easy, and easier than now; a hold is judged by its length, and no swing is hard."""
    if candidate.prescription.hold is not None or EXERCISES[candidate.prescription.exercise].carry == "swung":
        return False
    return candidate.stimulus.reserve > max(_CHOICE.most_reserve, case.now.counted_reserve)


def to_failure(candidate: Candidate) -> bool:
    """Whether sets go as near to failure as a sore region should not, though the lifter does now; rounded as shown."""
    return candidate.prescription.hold is None and round(candidate.stimulus.reserve, 1) < _CHOICE.least_reserve


def raises_another(candidate: Candidate, region: Region) -> bool:
    """Whether another region than the sore one is asked for clearly more than now."""
    return any(rises(effect, _CHOICE.elsewhere_rise) for effect in elsewhere(candidate, region))


def faults(candidate: Candidate, case: Case) -> int:
    """How many things it has that nobody wants first: easy sets or failure, another region that pays for it [count]."""
    return is_easy(candidate, case) + to_failure(candidate) + raises_another(candidate, case.region)


def elsewhere(candidate: Candidate, region: Region) -> list[Effect]:
    """What it asks of the regions that are not the sore one."""
    return [effect for name, effect in candidate.effects.items() if name != region]


def rises(effect: Effect, share: float) -> bool:
    """Whether a region is asked for more than a share of now, or is said to be asked for more.

    Args:
        effect: on the region
        share: share of the present demand above which it counts [1]
    """
    return effect.searched > share if effect.searched is not None else effect.direction == "higher"
