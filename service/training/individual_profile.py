"""A lifter's own load–repetition curve, fitted to two or more of their sets.

Two parameters, load = top · e^(−rate · repetitions), the form that fits individual lifters best (mitter_2023). Loads
are set exactly and repetitions vary, so repetitions are regressed on the logarithm of the load. The standard error
uses the larger of the residual scatter and the published errors of a lifter's repetitions: from day to day
(mitter_2022) and of the reserve as stated.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import msgspec

from service.errors import Refusal
from service.knowledge.design_choices import CHOICES
from service.knowledge.studies import REPETITION_ERRORS
from service.messages import message

_CHOICES: Final = CHOICES.load_repetition


LARGEST_ERROR: Final = max(row.sd for row in REPETITION_ERRORS if row.error == "day")
"""The larger error from day to day that was measured [count]."""


class OwnCurve(msgspec.Struct, frozen=True):
    """Curve of repetitions to failure: mean_reps − (ln load − mean_log_load) / rate.

    Attributes:
        mean_log_load: mean of the logarithms of the loads in kilograms [1]
        mean_reps: mean repetitions to failure [count]
        rate: fall of the logarithm of the load with each repetition [1]
        error: standard error of a single set's repetitions [count]
        sets: sets fitted [count]
        scatter: sum of squares of the logarithms of the loads about their mean [1]
        fewest_reps: fewest repetitions to failure of the sets fitted [count]
        most_reps: most repetitions to failure of the sets fitted [count]
        heaviest_load: load of the heaviest set [kg]
        heaviest_reps: repetitions to failure of the heaviest set [count]
        understated: repetitions possible in the mean beyond those stated [count]
    """

    mean_log_load: float
    mean_reps: float
    rate: float
    error: float
    sets: int
    scatter: float
    fewest_reps: float
    most_reps: float
    heaviest_load: float
    heaviest_reps: float
    understated: float

    def load_at(self, reps: float) -> float:
        """Load that allows a number of repetitions.

        Args:
            reps: repetitions to failure [count]

        Returns:
            load [kg]
        """
        return math.exp(self.mean_log_load - self.rate * (reps - self.mean_reps))

    def reps_at(self, load: float) -> float:
        """Repetitions to failure at a load.

        Args:
            load: mass lifted [kg]

        Returns:
            repetitions to failure [count]
        """
        return self.mean_reps - (math.log(load) - self.mean_log_load) / self.rate

    def reps_error(self, load: float) -> float:
        """Standard error of the curve's repetitions at a load; it grows away from the sets done.

        Args:
            load: mass lifted [kg]

        Returns:
            standard error of the repetitions [count]
        """
        return self.error * math.sqrt(1 / self.sets + (math.log(load) - self.mean_log_load) ** 2 / self.scatter)


def fit(sets: Sequence[tuple[float, float]], error: float = LARGEST_ERROR, understated: float = 0.0) -> OwnCurve:
    """The curve by least squares of repetitions to failure on the logarithm of the load.

    Args:
        sets: pairs of load [kg] and repetitions to failure [count]
        error: standard deviation of a single set's repetitions, as published [count]
        understated: repetitions possible in the mean beyond those stated [count]

    Raises:
        Refusal: when the loads do not differ enough, or when more load did not mean fewer repetitions

    Source: mitter_2023 (form), mitter_2022 (retest error).
    """
    logs = [math.log(load) for load, _ in sets]
    count = len(sets)
    if count < 2 or max(logs) - min(logs) < -math.log(1 - _CHOICES.own_curve_min_load_difference):  # noqa: PLR2004
        difference = _CHOICES.own_curve_min_load_difference
        raise Refusal.one("sets", message("curve_needs_different_loads", difference=difference))
    mean_log = sum(logs) / count
    mean_reps = sum(reps for _, reps in sets) / count
    scatter = sum((x - mean_log) ** 2 for x in logs)
    slope = sum((x - mean_log) * (reps - mean_reps) for x, (_, reps) in zip(logs, sets, strict=True)) / scatter
    if slope >= 0:
        raise Refusal.one("sets", message("more_load_not_fewer_reps"))
    if -1 / slope > _CHOICES.own_curve_steepest:
        raise Refusal.one(
            "sets",
            message("curve_too_steep"),
            f"a fall of at most {100 * _CHOICES.own_curve_steepest:.0f} % of the load a repetition",
        )
    left_over = sum((reps - mean_reps - slope * (x - mean_log)) ** 2 for x, (_, reps) in zip(logs, sets, strict=True))
    residual = math.sqrt(left_over / (count - 2)) if count > 2 else 0.0  # noqa: PLR2004
    reps_done = [reps for _, reps in sets]
    heaviest_load, heaviest_reps = max(sets)
    return OwnCurve(
        mean_log_load=mean_log,
        mean_reps=mean_reps,
        rate=-1 / slope,
        error=max(residual, error),
        sets=count,
        scatter=scatter,
        fewest_reps=min(reps_done),
        most_reps=max(reps_done),
        heaviest_load=heaviest_load,
        heaviest_reps=heaviest_reps,
        understated=understated,
    )
