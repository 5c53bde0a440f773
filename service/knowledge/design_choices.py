"""Our own choices, where no published figure decides: read once at start from design_choices.toml.

A file with the same tables, named in the environment variable DESIGN_CHOICES, replaces their values one by one; a file
that cannot be used stops the service at start.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from service.knowledge.adjustment_choices import Adjustments
from service.knowledge.arm_choices import ArmAdjustments
from service.knowledge.choice_kinds import UnusableChoices
from service.knowledge.complaint_choices import ComplaintChoices
from service.knowledge.loader import DATA, UnusableData, converted, read_toml
from service.knowledge.mechanics_choices import Spine
from service.knowledge.records import Record
from service.knowledge.return_choices import ReturnPlan, Review
from service.knowledge.training_choices import Dose, Effort, LoadRepetition, Rest, SessionSplit, TempoChoices
from service.knowledge.week_choices import WeekChoices
from service.settings import design_choices_file

SHIPPED: Final = DATA / "design_choices.toml"


class DesignChoices(Record, frozen=True):
    """The whole of design_choices.toml, where the reason for each value stands beside it.

    Attributes:
        load_repetition: relations and own curves
        effort: hard sets
        dose: what hard sets do
        tempo: slow repetitions
        spine: the model of the lumbosacral joint
        session_split: sets of a session
        adjustments: search of options
        arm: what is tried in presses and pulls
        complaint: a complaint as it is told
        rest: rest between sets
        review: reviews of sessions
        return_plan: the way back
        week: a whole week
    """

    load_repetition: LoadRepetition
    effort: Effort
    dose: Dose
    tempo: TempoChoices
    spine: Spine
    session_split: SessionSplit
    adjustments: Adjustments
    arm: ArmAdjustments
    complaint: ComplaintChoices
    rest: Rest
    review: Review
    return_plan: ReturnPlan
    week: WeekChoices


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Tables with the values of others instead of their own, or beside them.

    Args:
        base: tables by name
        changes: tables by name, of the same form, with those values alone that differ
    """
    return base | {
        key: merged(base[key], value) if isinstance(value, dict) and isinstance(base.get(key), dict) else value
        for key, value in changes.items()
    }


def design_choices(override: str | None) -> DesignChoices:
    """Our own choices.

    Args:
        override: path of a file whose values replace the shipped ones; None or empty for the shipped ones

    Raises:
        UnusableChoices: for a file that cannot be read, or a key or value that is not taken
    """
    shipped = read_toml(SHIPPED)
    if not override:
        return converted(shipped, DesignChoices, SHIPPED.name)
    path = Path(override)
    try:
        return converted(merged(shipped, read_toml(path)), DesignChoices, path)
    except UnusableData as error:
        raise UnusableChoices(str(error)) from None


CHOICES: Final = design_choices(design_choices_file())
