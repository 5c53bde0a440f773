"""A simulated lifter: everything about the body that the service is never shown, drawn once from a seed."""

from __future__ import annotations

from random import Random

import msgspec

from tests.science.episodes.constants import CONSTANTS, Model, between


class Lifter(msgspec.Struct, frozen=True):
    """What is hidden. Ratios and tolerances are in units of the original's demand.

    Attributes:
        model: how the sore region answers
        seed: of everything that is drawn later: days, reports, lifts not done before
        pain: worst that the original causes at the start, in the session or on the next morning [0 to 10]
        usual_pain: before a session, at the start [0 to 10]
        slope: pain for each 100 % of demand above the tolerance [points]
        recovered: tolerance after recovery [1]
        recovery: time constant under the best loading [days]
        at_rest: rate of recovery without load against that under the best loading [1]
        dose_exponent: of demand in the sum over repetitions [1]
        carried_over: time constant of what is still carried from earlier sessions [days]
        depth_effect, technique_effect: share of the computed effect that this lifter has [1]
        cue_effect, speed_effect: share of the demand that a cue or a slow repetition takes off [1]
        strength_error: true maximum against the one that the stated reserve gives [1]
        lost_a_week: strength lost a week without stimulus [1]
    """

    model: Model
    seed: str
    pain: float
    usual_pain: float
    slope: float
    recovered: float
    recovery: float
    at_rest: float
    dose_exponent: float
    carried_over: float
    depth_effect: float
    technique_effect: float
    cue_effect: float
    speed_effect: float
    strength_error: float
    lost_a_week: float

    @property
    def first_tolerance(self) -> float:
        """Tolerance at the start: the one with which the original causes the lifter's pain."""
        return 1 / (1 + (self.pain - self.usual_pain) / self.slope)

    def random(self, *purpose: object) -> Random:
        """Chance for one purpose, the same whatever else happens: two policies meet the same days."""
        return chance(self.seed, *purpose)


def chance(*purpose: object) -> Random:
    """A generator of its own for each purpose."""
    return Random(":".join(str(part) for part in purpose))  # noqa: S311 - a simulation, and nothing secret


def drawn(model: Model, seed: str, pain: float | None = None, usual_pain: float | None = None) -> Lifter:
    """A lifter by a seed; pain and usual_pain where the consultation states them [0 to 10]."""
    random = chance(seed, "lifter")
    tolerance, demand = CONSTANTS.tolerance, CONSTANTS.demand
    original = CONSTANTS.pain.original.drawn(random)
    usual = between(random, CONSTANTS.pain.usual)
    recovers = random.random() >= tolerance.share_not_recovering
    worst = original if pain is None else pain
    return Lifter(
        model=model,
        seed=seed,
        pain=worst,
        usual_pain=min(usual if usual_pain is None else usual_pain, worst / 2),
        slope=CONSTANTS.pain.slope.drawn(random),
        recovered=between(random, tolerance.recovered if recovers else tolerance.not_recovering),
        recovery=tolerance.recovery.drawn(random),
        at_rest=between(random, tolerance.at_rest),
        dose_exponent=between(random, CONSTANTS.dose.exponent),
        carried_over=between(random, CONSTANTS.dose.carried_over),
        depth_effect=demand.depth_effect.drawn(random),
        technique_effect=demand.technique_effect.drawn(random),
        cue_effect=between(random, demand.cue_effect),
        speed_effect=between(random, demand.speed_effect),
        strength_error=1 + random.gauss(0.0, CONSTANTS.strength.stated_reserve_error),
        lost_a_week=CONSTANTS.strength.lost_a_week.drawn(random),
    )
