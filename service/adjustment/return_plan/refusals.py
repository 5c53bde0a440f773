"""Why no way leads back, and what would make one."""

from __future__ import annotations

from bisect import bisect_left
from math import floor

from msgspec.structs import replace

from service.adjustment.return_plan.budget import BudgetExceeded
from service.adjustment.return_plan.problem import LARGEST_STEP, TOLERANCE, ReturnCase
from service.adjustment.return_plan.search import Search
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES


def _too_long(case: ReturnCase) -> Refusal:
    return Refusal.one(
        "step",
        f"With a step of {100 * case.step:.3g} % a week no way of {CHOICES.return_plan.longest} weeks leads back.",
        "a larger step, or an adjusted prescription nearer to the original",
    )


def no_way_back(case: ReturnCase, search: Search) -> Refusal:
    """Why no way leads back."""
    peak, _, _ = search.demands(search.start, case.adjusted.load)
    if search.begins_too_hard() or (peak > 1 + TOLERANCE and search.comparable(search.start, search.goal)):
        return _asks_more(case, peak)
    return _too_long(case) if search.too_long else _stuck(case, search)


def _asks_more(case: ReturnCase, peak: float) -> Refusal:
    region = REGIONS[case.region].name.lower()
    return Refusal.one(
        "adjusted",
        f"A repetition asks {100 * peak:.0f} % of what the original asks of the {region}, and no way leads back from "
        "there on which none asks more than the original.",
        "an adjusted prescription of which a repetition asks no more than one of the original",
    )


def too_far_apart() -> Refusal:
    """Why a search was not ended: more would have to be looked at than one request may ask for."""
    return Refusal.one(
        "adjusted",
        "The two prescriptions differ in so many things that the ways between them cannot all be looked at.",
        "an adjusted prescription nearer to the original (in sets, repetitions, days, depth or lift), or a larger step",
    )


def _stuck(case: ReturnCase, search: Search) -> Refusal:
    """Why there is no way: the smallest step that would be enough, and whether finer plates would do."""
    region, lift = REGIONS[case.region].name.lower(), EXERCISES[case.original.exercise].name.lower()
    detail = (
        f"On every way back to {lift} one change raises what the {region} must carry by more than "
        f"{100 * case.step:.3g} % of the original in a week."
    )
    try:
        finer = Search(replace(case, round_down=case.finer), search.budget).reaches(case.step)
        enough = _enough(case, search)
    except (Refusal, BudgetExceeded):
        return Refusal.one("step", detail, "a larger step, or an adjusted prescription nearer to the original")
    if enough is not None:
        allowed = f"a step of at least {enough:.2f}"
    else:
        allowed = f"no step up to {LARGEST_STEP:.2f} is enough: an adjusted prescription nearer to the original"
    return Refusal.one("step", detail, allowed + (", or finer plates or steps of load" if finer else ""))


def _enough(case: ReturnCase, search: Search) -> float | None:
    """The smallest step in whole per cent within which some way leads back [1]; None up to the largest."""
    tried = [percent / 100 for percent in range(floor(100 * case.step) + 1, round(100 * LARGEST_STEP) + 1)]
    index = bisect_left(tried, 1, key=lambda step: int(search.reaches(step)))
    return tried[index] if index < len(tried) else None
