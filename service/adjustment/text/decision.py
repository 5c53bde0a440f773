"""The decision of a consultation in words that a coach can read aloud to the lifter."""

from __future__ import annotations

from service.adjustment.consultation import Case
from service.adjustment.triage import Pain
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Band, Region


def first_step_words(case: Case, pain: Pain, options: int) -> list[str]:
    """Why the lift is changed, and what to do with the options.

    Args:
        case: the consultation
        pain: as reported
        options: options that are shown [count]
    """
    region = REGIONS[case.region].name.lower()
    why = [
        f"Your {region} hurts {pain.in_session:g} of 10 in the session.",
        f"As a first step it is to carry about {100 * case.target:.0f} % of what it carries now.",
    ]
    if options:
        return [*why, "Try one option at a time, the first one first, and let the next morning judge it."]
    return [*why, "Nothing that may be changed is known to do that: allow more changes, or leave the lift out for now."]


def unchanged_words(pain: Pain) -> list[str]:
    """Why nothing is changed, and when that would no longer hold."""
    rise, most = CHOICES.adjustments.real_change, CHOICES.adjustments.amber_up_to
    again = (
        f"Ask again if it is above {CHOICES.adjustments.green_up_to:g} in a session, {rise:g} or more above the usual the next "
        f"morning, or above {most:g} then."
    )
    return [
        f"Pain of {pain.in_session:g} of 10 in the session is in the band in which training goes on as it is.",
        again,
    ]


def keep_words() -> str:
    """What to do where nothing is changed."""
    return "Keep the prescription as it is, and ask for pain again next session and morning."


def no_option_words() -> str:
    """What to do where nothing that may be changed reaches the target."""
    return (
        "Allow more levers or exercises, a lighter implement or smaller plates; or leave the lift out until it has been "
        "looked at."
    )


def target_words(region: Region, ratio: float, rule: str) -> str:
    """The target and the rule that sets it.

    Args:
        region: the sore one
        ratio: share of its present demand [1]
        rule: as a sentence
    """
    return f"Target for the {REGIONS[region].name.lower()}: {100 * ratio:.0f} % of now or less. {rule}"


def sheet_title(exercise: str, region: Region, options: int) -> str:
    """What a sheet of options is about.

    Args:
        exercise: the present lift
        region: the sore one
        options: options on the sheet [count]
    """
    plural = "" if options == 1 else "s"
    return f"{EXERCISES[exercise].name}, sore {REGIONS[region].name.lower()}: {options or 'no'} option{plural}"


def unchanged_rule(pain: Pain) -> str:
    """The rule by which nothing is changed."""
    return f"pain of {pain.in_session:g} is in the band up to {CHOICES.adjustments.green_up_to:g}, with no real rise next morning"


def target_rule(level: Band, *, tolerated: bool) -> str:
    """The rule that sets the target; tolerated: whether a load is stated that does not hurt."""
    if tolerated:
        return "the computed demand of the load that the lifter tolerates"
    return (
        f"pain in the {level} band: demand to {100 * CHOICES.adjustments.first_step[level]:.0f} % of the present as a first step "
        "(practice and our own choice; no study links the step to a pain score)"
    )
