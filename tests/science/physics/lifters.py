"""Random lifters under random setups, the same ones in every run, for the checks against independent mechanics."""

from __future__ import annotations

from math import radians
from typing import NamedTuple

import numpy as np

from service.errors import Refusal
from service.knowledge.anthropometry import Sex
from service.knowledge.posture_rules import POSTURE_RULES
from service.mechanics.body import Body, SegmentLengths, build_body
from service.mechanics.demand import Demand, setup_demand
from service.mechanics.setups import Depth, Technique

SEED = 20240611


class Case(NamedTuple):
    body: Body
    demand: Demand


def random_cases(count: int, families: tuple[str, ...]) -> list[Case]:
    """`count` lifters, each under a setup of one of the families that can be balanced."""
    random = np.random.default_rng(SEED)
    exercises = sorted(name for name, rule in POSTURE_RULES.items() if rule.family in families)
    cases: list[Case] = []
    refused = 0
    while len(cases) < count:
        case = _random_case(random, exercises)
        if case is None:
            refused += 1
        else:
            cases.append(case)
        assert refused < 3 * count, "most random lifters are refused: the sample is no sample of the model's range"
    return cases


def _random_case(random: np.random.Generator, exercises: list[str]) -> Case | None:
    stature = float(random.uniform(1.45, 2.05))
    factor = random.uniform(0.9, 1.1, size=4)
    lengths = SegmentLengths(
        shank=float(0.246 * stature * factor[0]),
        thigh=float(0.245 * stature * factor[1]),
        trunk=float(0.288 * stature * factor[2]),
        foot=float(0.152 * stature * factor[3]),
    )
    sexes: tuple[Sex | None, ...] = ("female", "male", None)
    sex = sexes[int(random.integers(3))]
    mass = float(random.uniform(45.0, 150.0))
    body = build_body(mass, stature, sex, lengths)
    exercise = exercises[int(random.integers(len(exercises)))]
    as_the_rule_says = POSTURE_RULES[exercise].family in ("hinge", "pull")
    depth = None if as_the_rule_says else Depth(thigh_below_horizontal=radians(float(random.uniform(-60.0, 20.0))))
    stated = bool(random.integers(2))
    technique = Technique(
        heel_lift=float(random.choice([0.0, 0.02, 0.05])),
        stance_width=float(random.uniform(0.25, 0.75)) if stated else None,
        toe_out=radians(float(random.uniform(0.0, 45.0))) if stated else None,
        knee_over_toe=bool(random.integers(4)),
        stance="shoulder" if stated or random.integers(2) else "wide",
        bar_forward_of_midfoot=float(random.uniform(-0.01, 0.03)),
    )
    try:
        return Case(body, setup_demand(body, exercise, mass * float(random.uniform(0.0, 2.5)), depth, technique))
    except Refusal:
        return None
