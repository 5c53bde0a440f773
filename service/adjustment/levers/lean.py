"""The present row with the trunk more upright, for a sore low back."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Case, Trial
from service.adjustment.demand import region_ratio
from service.adjustment.evaluation import RATIO_TOLERANCE
from service.knowledge.design_choices import CHOICES
from service.mechanics.lift_demand import standing_lean
from service.mechanics.technique import USUAL_TECHNIQUE

_MOST_UPRIGHT: Final = radians(CHOICES.adjustments.row_least_lean)


def more_upright(case: Case) -> Iterator[Trial]:
    """The present pull of a standing lifter more upright: the least that does it, else the most that is tried.

    Args:
        case: the consultation
    """
    lean = _lean(case)
    if lean is None:
        return
    leans = [lean + radians(change) for change in CHOICES.adjustments.row_lean_changes]
    trials = [_leaning(case, one) for one in leans if one >= _MOST_UPRIGHT - RATIO_TOLERANCE]
    if trials:
        yield next((trial for trial in trials if _meets(case, trial)), trials[-1])


def lean_is_computed(case: Case) -> bool:
    """Whether the sore region's demand goes by the lean of the present pull, so that no cue need say it."""
    return _lean(case) is not None


def _lean(case: Case) -> float | None:
    """The lean of the present pull [rad]; None where the region's demand does not go by it."""
    computed = case.region == "low_back" and case.region in case.present.comparable
    return standing_lean(case.now.exercise, case.now.technique) if computed else None


def _leaning(case: Case, lean: float) -> Trial:
    technique = replace(case.now.technique or USUAL_TECHNIQUE, trunk_lean=lean, seen=None)
    return Trial(("technique",), replace(case.now, technique=technique), likeness="technique")


def _meets(case: Case, trial: Trial) -> bool:
    ratio = region_ratio(case.present, trial.prescription, case.region)
    return ratio is not None and ratio <= case.target + RATIO_TOLERANCE
