"""Depth and technique of a lift in words that a coach can say."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from msgspec.structs import replace

from service.adjustment.prescription import Prescription
from service.knowledge.catalogue import EXERCISES
from service.mechanics.body import Body
from service.mechanics.demand import setup_demand
from service.mechanics.setups import USUAL_TECHNIQUE, Technique


def depth_words(prescription: Prescription) -> str:
    """How far to go down, or from how high to start; the prescription has a depth."""
    depth = prescription.depth
    if depth is None:
        return ""
    if depth.box_height is not None:
        return _height_words(prescription, f"{100 * depth.box_height:.0f} cm")
    if depth.knee_flexion is not None:
        bent = f"the knees are bent about {degrees(depth.knee_flexion):.0f} degrees"
        return f"Hold where {bent}." if prescription.hold is not None else f"Go down until {bent}."
    above = round(degrees(-(depth.thigh_below_horizontal or 0.0)))
    level = "level" if above == 0 else f"{abs(above)} degrees {'above' if above > 0 else 'below'} level"
    if prescription.exercise == "step_up":
        return f"Use a step at which the thigh of the working leg starts {level}."
    if EXERCISES[prescription.exercise].family == "split":
        return f"Go down only until the thigh of the front leg is {level}."
    return f"Go down only until the thighs are {level}; a box of that height helps."


def _height_words(prescription: Prescription, height: str) -> str:
    if prescription.exercise == "step_up":
        return f"Use a step of {height}."
    if EXERCISES[prescription.exercise].family == "hinge":
        return f"Start with the bar raised {height} on blocks."
    return f"Go down to a box of {height}."


def technique_words(new: Technique, now: Technique) -> Iterator[str]:
    """What is done otherwise than now, all but the shins."""
    if new.heel_lift != now.heel_lift:
        lift = round(100 * new.heel_lift, 1)
        yield f"Raise the heels by {lift:g} cm." if lift else "Keep the heels flat."
    if new.stance != now.stance:
        yield "Take a stance of shoulder width." if new.stance == "shoulder" else f"Take a {new.stance} stance."
    drift = round(100 * new.bar_forward_of_midfoot)
    if new.bar_forward_of_midfoot != now.bar_forward_of_midfoot:
        position = f"{abs(drift)} cm {'ahead of' if drift > 0 else 'behind'}" if drift else "over"
        yield f"Keep the bar {position} the middle of the foot."


def shin_words(body: Body, prescription: Prescription) -> str:
    """How far the knees come forward, against the exercise's usual way; the technique has a shin angle."""
    technique = prescription.technique or USUAL_TECHNIQUE
    usual = replace(technique, shin_angle=None)  # all else as it is: the lifter's hips may hold the knees back
    demand = setup_demand(body, prescription.exercise, prescription.load, prescription.depth, usual)
    before, after = degrees(demand.posture.shin_angle), degrees(technique.shin_angle or 0.0)
    way = "Let the knees come further forward" if after > before else "Keep the knees further back"
    return f"{way}: shins about {after:.0f} degrees forward of upright at the bottom, where {before:.0f} is usual."
