"""The service beside the practices of the trade, on the same lifters and the same days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil, inf
from statistics import mean, median
from typing import Final

import msgspec

from tests.science.episodes.consultations import Case
from tests.science.episodes.course import Session
from tests.science.episodes.episode import Episode, Simulated, episode, followed_up
from tests.science.episodes.measures import IN_A_ROW, effect_kept, flare_ups, weeks_to_original
from tests.science.episodes.practices import PRACTICES, practised
from tests.science.episodes.prescribed import days_a_week

SERVICE: Final = "this service"
POLICIES: Final = (SERVICE, *PRACTICES)


class Outcome(msgspec.Struct, frozen=True):
    """How one lifter fared under one policy.

    Attributes:
        case: the consultation
        policy: what was done
        weeks: until the original was done twice in a row with pain in the green band [weeks], infinite if it never was
        flare_ups: sessions with pain above 5 in them or on the next morning [count]
        effect: stimulus of the first twelve weeks against the original's [1]
        stays: whether the last two sessions were of the original and went well
        course: the episode, of the service alone
    """

    case: Case
    policy: str
    weeks: float
    flare_ups: int
    effect: float
    stays: bool
    course: Episode | None = None


def outcomes(case: Case) -> list[Outcome]:
    """A lifter under every policy."""
    lifter = Simulated(case.body)
    course = episode(case, lifter)
    ours = _outcome(case, SERVICE, followed_up(lifter, course), course)
    return [ours, *(_outcome(case, name, practised(case.body, one)) for name, one in PRACTICES.items())]


def _outcome(case: Case, policy: str, sessions: Sequence[Session], course: Episode | None = None) -> Outcome:
    original = case.body.original
    weeks = weeks_to_original(sessions, original)
    kept = effect_kept(sessions, days_a_week(original))
    stays = weeks_to_original(sessions[-IN_A_ROW:], original) is not None
    return Outcome(case, policy, inf if weeks is None else weeks, flare_ups(sessions), kept, stays, course)


class Summary(msgspec.Struct, frozen=True):
    """Many lifters under one policy.

    Attributes:
        lifters: how many [count]
        back: share that got back to the original within the time looked at [1]
        weeks: median and 95th percentile [weeks], infinite where not reached
        flare_ups: mean and 95th percentile [count]
        effect: median and 5th percentile [1]
        stays: share that is on the original without more than green pain at the end [1]
    """

    lifters: int
    back: float
    weeks: tuple[float, float]
    flare_ups: tuple[float, float]
    effect: tuple[float, float]
    stays: float


def summary(some: Iterable[Outcome]) -> Summary:
    """What many outcomes come to."""
    every = list(some)
    weeks, flares, effects = (sorted(getattr(one, name) for one in every) for name in ("weeks", "flare_ups", "effect"))
    return Summary(
        len(every),
        mean(week < inf for week in weeks),
        (median_of(weeks), percentile(weeks, 0.95)),
        (mean(flares), percentile(flares, 0.95)),
        (median(effects), percentile(effects, 0.05)),
        mean(one.stays for one in every),
    )


def percentile(values: Sequence[float], share: float) -> float:
    """The smallest of sorted values that so large a share does not exceed; infinite ones count as the largest."""
    return values[max(0, ceil(share * len(values)) - 1)]


def median_of(values: Sequence[float]) -> float:
    """The lower median, which needs no mean of a number and infinity."""
    return percentile(values, 0.5)


def losses(ours: Summary, theirs: Summary) -> list[str]:
    """On which of the three measures a practice does better than the service."""
    better = {
        "weeks to the original": theirs.weeks[0] < ours.weeks[0],
        "flare-ups": theirs.flare_ups[0] < ours.flare_ups[0],
        "training effect kept": theirs.effect[0] > ours.effect[0],
    }
    return [name for name, lost in better.items() if lost]
