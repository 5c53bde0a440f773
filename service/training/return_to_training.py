"""The first weeks of training after two or more weeks off (caterisano_2019).

The series of volumes was published for conditioning; its use for lifting is our own choice. Nothing here steers by a
ratio of recent to earlier work, which no evidence supports (impellizzeri_2020).
"""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from service.knowledge.loader import read_whole
from service.knowledge.records import Known, Record, SourceId

Judgement = Literal["low", "within", "high"]


class VolumeRange(Record, frozen=True):
    """Range of intensity-relative volume in the first weeks back.

    Attributes:
        low: least intensity-relative volume of a lift [1]
        high: greatest intensity-relative volume of a lift [1]
        weeks: weeks back to which the range applies [count]
    """

    low: float
    high: float
    weeks: int


class StrengthLost(Record, frozen=True):
    """What was lost of a maximum without training.

    Attributes:
        share: of the maximum [1]
        weeks: without training [count]
        source: where it is from
        known: how far the figures are known
    """

    share: float
    weeks: int
    source: SourceId
    known: Known


class ReturnRule(Record, frozen=True):
    """The published rule, as after_weeks_off.toml has it.

    Attributes:
        weeks_off: shortest break after which the rule applies [count]
        volume_share: share of the normal volume in each week back, the last of which is normal [1]
        most_days: most lifting days in each of the first weeks back [count]
        relative_volume: range of intensity-relative volume
        sources: ids in the bibliography
        known: how far the figures are known
        strength_lost: share of a maximum that was lost without training
    """

    weeks_off: int
    volume_share: tuple[float, ...]
    most_days: tuple[int, ...]
    relative_volume: VolumeRange
    sources: tuple[SourceId, ...]
    known: Known
    strength_lost: StrengthLost


class Transition(msgspec.Struct, frozen=True):
    """The rule for one week back.

    Attributes:
        volume_share: share of the normal volume [1]
        most_days: most lifting days in the week [count]; None where there is no limit
        irv_low: least intensity-relative volume of a lift [1]; None where there is no range
        irv_high: greatest intensity-relative volume of a lift [1]; None where there is no range
    """

    volume_share: float
    most_days: int | None
    irv_low: float | None
    irv_high: float | None


RULE: Final = read_whole("after_weeks_off.toml", ReturnRule)


def relative_volume(sets: int, reps: int, share_of_max: float) -> float:
    """Intensity-relative volume: sets × repetitions × share of the maximum.

    Args:
        sets: sets of the lift [count]
        reps: repetitions of each set [count]
        share_of_max: load as a share of the one-repetition maximum [1]

    Returns:
        intensity-relative volume [1]

    Source: caterisano_2019.
    """
    return sets * reps * share_of_max


def judged(volume: float) -> Judgement:
    """Where an intensity-relative volume lies against the range for the first weeks back.

    Args:
        volume: intensity-relative volume of a lift [1]

    Source: caterisano_2019.
    """
    limits = RULE.relative_volume
    return "low" if volume < limits.low else "high" if volume > limits.high else "within"


def after_weeks_off(weeks_off: float) -> tuple[Transition, ...]:
    """The weeks of the return after a break, first week back first; the last one is a normal week.

    Args:
        weeks_off: weeks without training [count]

    Returns:
        one rule a week; none after a break shorter than the rule is for

    Source: caterisano_2019 through two clinical summaries.
    """
    return _TRANSITIONS if weeks_off >= RULE.weeks_off else ()


def strength_lost(weeks_off: float) -> float:
    """The most of a maximum that is taken to be lost in weeks without training, in proportion up to those measured.

    Args:
        weeks_off: weeks without training [count]

    Returns:
        share of the maximum [1]

    Source: tavares_2017 in people new to training; that it grows in proportion is our own choice.
    """
    lost = RULE.strength_lost
    return lost.share * min(1.0, weeks_off / lost.weeks)


def _transition(week: int) -> Transition:
    limits = RULE.relative_volume
    limited = week <= limits.weeks
    return Transition(
        volume_share=RULE.volume_share[week - 1],
        most_days=RULE.most_days[week - 1] if week <= len(RULE.most_days) else None,
        irv_low=limits.low if limited else None,
        irv_high=limits.high if limited else None,
    )


_TRANSITIONS: Final = tuple(_transition(week) for week in range(1, len(RULE.volume_share) + 1))
