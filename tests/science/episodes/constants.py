"""The constants of the simulated lifters as structs: our own choices, explained in constants.toml beside this."""

from __future__ import annotations

import csv
from pathlib import Path
from random import Random
from typing import Final, Literal, TypeAlias

import msgspec

Model = Literal["threshold", "cumulative", "morning_lag"]
"""How a region answers: to the hardest repetition; to what it has carried in the last days; or on the next morning."""
Between: TypeAlias = tuple[float, float]


class _Constants(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of the file; an unknown or missing key is a fault."""


class Triangle(_Constants, frozen=True):
    """Drawn from a triangle."""

    low: float
    peak: float
    high: float

    def drawn(self, random: Random) -> float:
        return random.triangular(self.low, self.high, self.peak)


class LogNormal(_Constants, frozen=True):
    """Drawn log-normally and kept in range; spread is the SD of the logarithm."""

    median: float
    spread: float
    low: float
    high: float

    def drawn(self, random: Random) -> float:
        return clamped(self.median * random.lognormvariate(0.0, self.spread), self.low, self.high)


class Normal(_Constants, frozen=True):
    """Drawn normally and kept in range."""

    mean: float
    deviation: float
    low: float
    high: float

    def drawn(self, random: Random) -> float:
        return clamped(random.gauss(self.mean, self.deviation), self.low, self.high)


class Felt(_Constants, frozen=True):
    """Shares of the excess that are felt in the session and on the next morning [1]."""

    session: float
    morning: float


class Pain(_Constants, frozen=True):
    original: Triangle
    usual: Between
    slope: LogNormal
    day_to_day: float
    report_error: float
    report_error_at_most: float
    felt: dict[Model, Felt]


class Tolerance(_Constants, frozen=True):
    recovered: Between
    not_recovering: Between
    share_not_recovering: float
    recovery: LogNormal
    at_rest: Between
    best_from: float
    best_to: float
    harms_from: float
    lost: float
    lost_at_most: float
    floor: float
    works_for: float
    unloaded: float
    kept_above: float
    deconditions_over: float
    dose_memory: float
    event_a_week: float
    event_takes: float


class Dose(_Constants, frozen=True):
    exponent: Between
    carried_over: Between
    seconds_a_repetition: float


class Demand(_Constants, frozen=True):
    variation_spread: float
    unknown_ratio: float
    unknown_spread: float
    spared_ratio: float
    depth_effect: Normal
    technique_effect: Normal
    cue_effect: Between
    speed_effect: Between
    slow_from: float
    effort_effect: float
    effort_from: float
    below_level: float
    raised_start: float


class Strength(_Constants, frozen=True):
    epley: float
    stated_reserve_error: float
    maximum_spread: float
    set_to_set: float
    day_to_day: float
    reserve_error: float
    keeps_from: float
    lost_a_week: LogNormal
    floor: float
    regained_a_week: float
    memory: float
    without_effort: float
    full_up_to: float
    nothing_from: float
    another_exercise: float
    part_of_the_range: float


class Diary(_Constants, frozen=True):
    session_missed: float
    morning_missing: float
    reps_missing: float


class Constants(_Constants, frozen=True):
    pain: Pain
    tolerance: Tolerance
    dose: Dose
    demand: Demand
    strength: Strength
    diary: Diary


class Lift(msgspec.Struct, frozen=True):
    """A lift of lifts.csv: one lifter's maxima on one scale, and what a simple body does in it.

    Attributes:
        family: squat, split, hinge, press or pull
        maximum: of the load, or of load and lifted body, against the high-bar back squat's [1]
        body_lifted: share of body mass that is lifted and counts as load [1]
        body_carried: share of body mass that the sore region carries along [1]
        spares: regions of which it asks clearly less than other lifts, with blanks between them
    """

    exercise: str
    family: str
    maximum: float
    body_lifted: float
    body_carried: float
    spares: str


def clamped(value: float, low: float, high: float) -> float:
    return max(low, min(high, value))


def between(random: Random, ends: Between) -> float:
    return random.uniform(*ends)


_FOLDER: Final = Path(__file__).parent
CONSTANTS: Final = msgspec.toml.decode((_FOLDER / "constants.toml").read_bytes(), type=Constants)
with (_FOLDER / "lifts.csv").open(encoding="utf-8", newline="") as _lines:
    LIFTS: Final = {row["exercise"]: msgspec.convert(row, Lift, strict=False) for row in csv.DictReader(_lines)}
