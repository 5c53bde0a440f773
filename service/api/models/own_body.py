"""Lifts of one's own body: what is lifted is the load with the part of body mass that moves, less any assistance."""

from __future__ import annotations

from typing import Final

from msgspec import UnsetType

from service.adjustment.prescription import lifts_the_body
from service.api.models.base import omitted, stated_si
from service.api.models.common import LIGHTEST_LOAD, positive
from service.errors import Refusal, into
from service.knowledge.catalogue import EXERCISES
from service.units import Mass, si

LIGHTEST_BODY: Final = 30.0  # [kg], as of every lifter
HEAVIEST_BODY: Final = 250.0  # [kg]
USUAL_BODY: Final = Mass(75.0, "kg")  # shown as an example
BODY_COUNTED: Final = "assumed_body_counted"
"""The assumption that goes with it, by its code."""


def body_lifted(exercise: str | None, body_mass: Mass | UnsetType) -> float:
    """The part of body mass that a lift moves with its load [kg]; 0 in lifts that move the load alone.

    Raises Refusal where body mass is needed and not stated, or stated where it is not needed, and in a lift whose part of it is
    not published.
    """
    if exercise is None or not lifts_the_body(exercise):
        if not omitted(body_mass):
            raise Refusal.one(
                "body_mass", "Body mass counts in lifts of one's own body only.", "left out, or the exercise named"
            )
        return 0.0
    name, share = EXERCISES[exercise].name, EXERCISES[exercise].body_share
    if share is None:
        raise Refusal.one(
            "exercise",
            f"{name}: how much of body mass it moves is not published, so a load says nothing about strength.",
            "an exercise whose load is known",
        )
    kilograms = stated_si(body_mass)
    if kilograms is None:
        raise Refusal.one(
            "body_mass",
            f"{name}: body mass is lifted with the load, so it has to be known.",
            "30 to 250 kg",
            one_of=(USUAL_BODY,),
        )
    if not LIGHTEST_BODY <= kilograms <= HEAVIEST_BODY:
        change = into(kilograms, LIGHTEST_BODY, HEAVIEST_BODY)
        raise Refusal.one("body_mass", "No lifter has such a body mass.", "30 to 250 kg", change=change)
    return share * kilograms


def lifted(load: Mass, assistance: Mass | UnsetType | None, body: float, where: str) -> float:
    """What is lifted [kg]: the load, with the body [kg] and less assistance in lifts of one's own body.

    where: pointer to the object with load and assistance. Raises Refusal where next to nothing is lifted.
    """
    helped = stated_si(assistance)
    if helped is None:
        return body + si(load) if body else positive(load, f"{where}/load")
    if not body:
        raise Refusal.one(
            f"{where.lstrip('/')}/assistance", "Assistance belongs to lifts of one's own body.", "left out"
        )
    total = body + si(load) - helped
    if total < LIGHTEST_LOAD:
        raise Refusal.one(
            f"{where.lstrip('/')}/assistance", "Nothing would be left to lift.", "less than body mass and load"
        )
    return total
