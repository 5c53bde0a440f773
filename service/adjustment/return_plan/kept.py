"""What protects and is kept for good: the way back ends at the original with it, and takes none of it away."""

from __future__ import annotations

from collections.abc import Collection

from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.knowledge.cues import CUES
from service.vocabulary import KeptForGood

_OF_LIFT = frozenset[KeptForGood]({"range_of_motion", "technique"})


def kept_of(adjusted: Prescription, original: Prescription, wished: Collection[KeptForGood]) -> tuple[KeptForGood, ...]:
    """What of what is to be kept can be: depth and technique belong to the lift, of another one they are left with it.

    Args:
        adjusted: what is done now
        original: what is to be done again
        wished: what is to be kept
    """
    other = adjusted.exercise != original.exercise
    return tuple(dict.fromkeys(one for one in wished if not (other and one in _OF_LIFT)))


def keeping(original: Prescription, adjusted: Prescription, kept: Collection[KeptForGood]) -> Prescription:
    """The original with what is kept of the adjusted prescription; of the cues those that are for its lift.

    Args:
        original: what is to be done again
        adjusted: what is done now
        kept: of it
    """
    cues = (one for one in adjusted.cues if original.exercise in CUES[one].exercises)
    return replace(
        original,
        depth=adjusted.depth if "range_of_motion" in kept else original.depth,
        technique=adjusted.technique if "technique" in kept else original.technique,
        cues=tuple(dict.fromkeys((*original.cues, *cues))) if "cues" in kept else original.cues,
        tempo=adjusted.tempo if "tempo" in kept else original.tempo,
        rest=adjusted.rest if "rest" in kept else original.rest,
    )
