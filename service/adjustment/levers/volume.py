"""The same lift in smaller helpings: repetitions, sets, days and rest.

None of them changes what one repetition asks of the region. What falls is the sum over a session, with fewer days the
sum over the week alone, and only to that extent do they meet the target.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import floor
from typing import Final

from msgspec.structs import replace

from service.adjustment.consultation import Assessment, Case, RuledOut, Trial
from service.adjustment.evaluation import assess
from service.adjustment.stimulus import rest_factor
from service.knowledge.catalogue import REGIONS
from service.knowledge.design_choices import CHOICES
from service.training.rest import reps_kept
from service.training.volume import Reps
from service.vocabulary import Region

_DAYS_A_WEEK: Final = 7


def smaller_sessions(case: Case) -> Iterator[Assessment]:
    """Every change of volume and rest allowed, each as a candidate or with the reason why it gives none."""
    if "reps" in case.levers:
        yield _fewer_reps(case)
    if "sets" in case.levers:
        yield from _fewer_sets(case)
    if "days" in case.levers:
        yield _more_days(case)
        yield from _fewer_days(case)
    if "rest" in case.levers:
        yield _rest_alone(case)


def _fewer_reps(case: Case) -> Assessment:
    now = case.now
    low, high = floor(now.reps.low * case.target), floor(now.reps.high * case.target)
    if low < 1:
        return RuledOut(("reps",), "reps_below_one")
    return assess(case, Trial(("reps",), replace(now, reps=Reps(low, high))), summed_over="session")


def _fewer_sets(case: Case) -> Iterator[Assessment]:
    now = case.now
    sets = floor(now.sets * case.target)
    if sets < 1:
        yield RuledOut(("sets",), "sets_below_one")
        return
    fewer = replace(now, sets=sets)
    yield assess(case, Trial(("sets",), fewer), summed_over="session")
    longer = _longer_rest(case)
    if "rest" not in case.levers or longer is None:
        return
    yield assess(case, Trial(("sets", "rest"), replace(fewer, rest=longer)), summed_over="session")


def _more_days(case: Case) -> Assessment:
    """The week's sets over more days, as many as leave the region's time between them.

    What does not divide is left out: a week of a sore region never has more sets than now. Where fewer sets a session
    would keep the week as many, they are the smaller change, and the session stays one.
    """
    now = case.now
    if now.days is None:
        return RuledOut(("days",), "days_not_stated")
    fewer = floor(now.sets * case.target) * now.days if "sets" in case.levers else 0
    for days in range(now.days + 1, min(case.most_days, _DAYS_A_WEEK // days_apart(case.region)) + 1):
        sets = now.weekly_sets // days
        if 0 < sets <= case.target * now.sets and sets * days > fewer:
            return assess(case, Trial(("days",), replace(now, sets=sets, days=days)), summed_over="session")
    return RuledOut(("days",), "days_not_enough")


def _fewer_days(case: Case) -> Iterator[Assessment]:
    """As many days as leave the region's time between them, where there are more now, each session as it is.

    As many sets in fewer and longer sessions are none: more days between would be paid for by a session that asks more.
    """
    now, apart = case.now, days_apart(case.region)
    days = _DAYS_A_WEEK // apart
    if now.days is None or now.days <= days:
        return
    source = "magnusson_2010" if apart == CHOICES.adjustments.days_apart.tendon else "belcher_2019"
    trial = Trial(("days",), replace(now, days=days), sources=(source, "design_choice"))
    yield assess(case, trial, summed_over="week")


def days_apart(region: Region) -> int:
    """Days from one session that loads a sore region to the next [count]: more where it is mostly a tendon."""
    apart, whole = CHOICES.adjustments.days_apart, REGIONS[region].whole
    return apart.tendon if whole in CHOICES.adjustments.tendon_regions else apart.no_tendon


def _longer_rest(case: Case) -> float | None:
    """The configured longer rest [s], if it is longer than the present one and measured results speak to both."""
    now, longer = case.now, CHOICES.adjustments.long_rest
    if now.rest is None or now.rest >= longer or now.sets == 1 or reps_kept(now.rest, now.sets) is None:
        return None
    return longer


def _rest_alone(case: Case) -> RuledOut:
    if case.now.rest is None:
        return RuledOut(("rest",), "rest_not_stated")
    longer = _longer_rest(case)
    if longer is None:
        return RuledOut(("rest",), "longer_rest_not_measured", facts={"rest": case.now.rest})
    gain = rest_factor(replace(case.now, rest=longer), case.now)
    return RuledOut(("rest",), "longer_rest_alone", facts={"rest": longer, "share": gain - 1})
