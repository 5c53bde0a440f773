"""Published rules of progression: a step of load, schemes that adjust it by repetitions, the return after weeks off.

The figures are in progression.toml with their sources. The adjusting schemes take sets to failure, so they are never
used in a painful region, only in the return phase. Nothing here steers by a ratio of recent to earlier work, which no
evidence supports (impellizzeri_2020).
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.errors import Refusal
from service.knowledge.loader import Known, read_toml, table
from service.training.volume import Reps

Marked = Literal["kg", "lb"]
Judgement = Literal["low", "within", "high"]
KILOGRAMS_A_POUND_IN_TRADE: Final = 0.5  # the texts give 5 lb as 2.5 kg


class Span(msgspec.Struct, frozen=True):
    """Lowest and highest value that a rule allows."""

    low: float
    high: float


class WarmUp(msgspec.Struct, frozen=True):
    """A set before the one to failure: repetitions and share of the working load."""

    reps: int
    share: float


class RepsBand(msgspec.Struct, frozen=True):
    """Repetitions done, both ends included, and the change of load that follows [lb, as printed]."""

    reps: tuple[int, int]
    pounds: tuple[float, float]


class Scheme(msgspec.Struct, frozen=True):
    """A scheme that adjusts the load by the repetitions done; next_session is empty where next_set serves for both."""

    id: str
    name: str
    warm_up: tuple[WarmUp, ...]
    next_set: tuple[RepsBand, ...]
    sources: tuple[str, ...]
    known: Known
    next_session: tuple[RepsBand, ...] = ()


class Dose(msgspec.Struct, frozen=True):
    """A dose named by its source: repetitions of each set, and the length of one [s] where that is part of it."""

    id: str
    name: str
    reps_by_set: tuple[int, ...]
    sources: tuple[str, ...]
    known: Known
    seconds_per_rep: float = 0.0

    @property
    def total_reps(self) -> int:
        """Repetitions of all sets."""
        return sum(self.reps_by_set)

    @property
    def seconds_by_set(self) -> tuple[float, ...]:
        """Time under tension of each set [s]."""
        return tuple(reps * self.seconds_per_rep for reps in self.reps_by_set)


class Transition(msgspec.Struct, frozen=True):
    """One week of the return after a break.

    volume_share: of the normal volume [1]; most_days: lifting days, None where the rule sets no limit; irv_low and
    irv_high: sets × repetitions × share of the maximum, of a lift, None after the weeks to which they apply.
    """

    volume_share: float
    most_days: int | None
    irv_low: float | None
    irv_high: float | None


def load_step(load: float) -> Span:
    """Loads [kg] to which a load [kg] may rise in one step (acsm_2009: 2 to 10 %)."""
    return Span(load * (1 + _STEP["least"]), load * (1 + _STEP["most"]))


def warm_up_sets(scheme: Scheme, load: float) -> tuple[tuple[int, float], ...]:
    """Repetitions and load of the sets before those to failure, in the unit of the working load."""
    return tuple((one.reps, load * one.share) for one in scheme.warm_up)


def next_set(scheme: Scheme, load: float, reps: int, marked: Marked) -> Span:
    """Load of the set after one to failure, from its load [marked] and the repetitions done.

    Args:
        scheme: one of SCHEMES
        load: load of the set, in the unit `marked`
        reps: repetitions done in it
        marked: the unit in which the plates are marked

    Returns:
        lowest and highest load that the scheme allows [marked]

    Raises:
        Refusal: for repetitions that the scheme has no row for

    Source: knight_1979, knight_1985 (through two texts), mann_2010.

    """
    return _changed(scheme.next_set, load, reps, marked)


def next_session(scheme: Scheme, load: float, reps: int, marked: Marked) -> Span:
    """Working load of the next session, from the last set's load [marked] and repetitions; as `next_set` otherwise."""
    return _changed(scheme.next_session or scheme.next_set, load, reps, marked)


def _changed(bands: tuple[RepsBand, ...], load: float, reps: int, marked: Marked) -> Span:
    for band in bands:
        if band.reps[0] <= reps <= band.reps[1]:
            unit = 1.0 if marked == "lb" else KILOGRAMS_A_POUND_IN_TRADE
            return Span(load + band.pounds[0] * unit, load + band.pounds[1] * unit)
    raise Refusal.one(
        "reps",
        f"The scheme says nothing about {reps} repetitions.",
        f"{bands[0].reps[0]} to {bands[-1].reps[1]}",
    )


def relative_volume(sets: int, reps: int, share_of_max: float) -> float:
    """Intensity-relative volume: sets × repetitions × share of the maximum [1] (caterisano_2019)."""
    return sets * reps * share_of_max


def judged(volume: float) -> Judgement:
    """Where an intensity-relative volume stands against the span for the first weeks back (caterisano_2019)."""
    limits = _OFF["relative_volume"]
    return "low" if volume < limits["low"] else "high" if volume > limits["high"] else "within"


def transition(week: int) -> Transition:
    """The rule for a week of the return after two or more weeks off; the last one is the normal week.

    Args:
        week: 1 for the first week back, up to 5

    Returns:
        share of the normal volume, most lifting days, and the span of intensity-relative volume

    Raises:
        Refusal: for a week outside 1 to 5

    Source: caterisano_2019 through two clinical summaries; its series was written for conditioning, and using it for
    lifting volume is our own choice.

    """
    shares, days, limits = _OFF["volume_share"], _OFF["most_days"], _OFF["relative_volume"]
    if not 1 <= week <= len(shares):
        raise Refusal.one(
            "week", "The rule covers the first weeks back; after them training is normal.", f"1 to {len(shares)}"
        )
    early = week <= limits["weeks"]
    return Transition(
        volume_share=shares[week - 1],
        most_days=days[week - 1] if week <= len(days) else None,
        irv_low=limits["low"] if early else None,
        irv_high=limits["high"] if early else None,
    )


def after_weeks_off(weeks_off: float) -> tuple[Transition, ...]:
    """The weeks of the return after `weeks_off` weeks without training; none below two (caterisano_2019)."""
    if weeks_off < _OFF["weeks_off"]:
        return ()
    return tuple(transition(week) for week in range(1, len(_OFF["volume_share"]) + 1))


def return_sets(normal_sets: int) -> tuple[int, ...]:
    """Weekly sets of the weeks back, from the normal number, rounded down to whole sets and never below one."""
    return tuple(max(1, int(normal_sets * share + _DUST)) for share in _OFF["volume_share"])


def maintenance_sets(weekly_sets: int) -> Reps:
    """Weekly sets that maintain, from those that built: one ninth to one third, never below one (bickel_2011)."""
    third, ninth = _PARTS["parts"]
    return Reps(max(1, weekly_sets // ninth), max(1, weekly_sets // third))


_DUST: Final = 1e-9  # arithmetic dust of a product that is a whole number
_DATA: Final = read_toml("progression.toml")
_STEP: Final = _DATA["load_step"]
_OFF: Final = _DATA["after_weeks_off"]
_PARTS: Final = _DATA["maintenance"]
SCHEMES: Final = table(Scheme, _DATA["schemes"])
DOSES: Final = table(Dose, _DATA["doses"])
