"""A complaint as it is told, and the rules of complaint_rules.toml that hold for it.

They change the order of options that are as safe and as sure, and what is said; never what is offered for a red flag.
"""

from __future__ import annotations

import msgspec

from service.knowledge.catalogue import EXERCISES
from service.knowledge.complaint_rules import COMPLAINT_RULES, ComplaintField, ComplaintRule
from service.knowledge.design_choices import CHOICES
from service.knowledge.posture_rules import EXERCISE_RULES
from service.knowledge.signs import SIGNS, URGENCIES
from service.mechanics.lift_demand import standing_lean
from service.vocabulary import Onset, PainfulRange, Provocation, Region, Side


class Complaint(msgspec.Struct, frozen=True):
    """What hurts, and how; None where something is not told.

    Attributes:
        region: region that is sore
        also: further regions that are sore
        side: side of the body that is sore
        provoked_by: what brings it on
        painful_range: part of the movement in which it hurts
        weeks: how long it has been there [weeks]
        onset: how it began
    """

    region: Region
    also: tuple[Region, ...] = ()
    side: Side | None = None
    provoked_by: tuple[Provocation, ...] = ()
    painful_range: PainfulRange | None = None
    weeks: float | None = None
    onset: Onset | None = None

    def _words(self) -> dict[ComplaintField, tuple[str, ...]]:
        """What is told, by the field that a rule asks."""
        lasts = self.weeks is not None and self.weeks >= CHOICES.complaint.weeks
        return {
            "also": self.also,
            "side": (self.side,) if self.side else (),
            "provoked_by": self.provoked_by,
            "painful_range": (self.painful_range,) if self.painful_range else (),
            "weeks": (f"{self.weeks:g}",) if lasts else (),
            "onset": (self.onset,) if self.onset else (),
            "region": (self.region,),
        }

    def rules(self, exercise: str) -> tuple[ComplaintRule, ...]:
        """The rules that hold for this complaint in a lift, in the order of the file.

        Args:
            exercise: id of the lift that hurts
        """
        told, carry = self._words(), EXERCISES[exercise].carry
        return tuple(
            rule
            for rule in COMPLAINT_RULES.values()
            if told[rule.asks]
            and (not rule.when or not set(rule.when).isdisjoint(told[rule.asks]))
            and (not rule.regions or self.region in rule.regions)
            and (not rule.carried or carry in rule.carried)
            and carry not in rule.not_carried
            and (not rule.narrower_first or stands_wide(exercise))
            and (not rule.supported_soon or standing_lean(exercise, None) is not None)
        )

    @property
    def sore_side(self) -> Side | None:
        """The side that alone is sore, where the region has sides."""
        rule = COMPLAINT_RULES["on_one_side"]
        return self.side if self.side in rule.when and self.region in rule.regions else None

    def signs_to_ask(self) -> tuple[str, ...]:
        """Red flags to be asked about first where it came on suddenly, the most urgent first; none otherwise."""
        rule, sore = COMPLAINT_RULES["suddenly"], (self.region, *self.also)
        listed = [SIGNS[sign] for sign in rule.signs if self.onset in rule.when]
        asked = [sign for sign in listed if any(sign.concerns(region) for region in sore)]
        asked.sort(key=lambda sign: (URGENCIES[sign.urgency].rank, not sign.regions))
        return tuple(sign.id for sign in asked)


def stands_wide(exercise: str) -> bool:
    """Whether a lift is done in a stance of its own with the legs turned far out."""
    rule = EXERCISE_RULES.get(exercise)
    return rule is not None and rule.abduction > 0


def is_one_sided(exercise: str) -> bool:
    """Whether a lift is done on one side at a time: on one leg, with one leg in front, or with one arm."""
    lift = EXERCISES[exercise]
    return lift.family == "split" or lift.stance == "single_leg" or lift.one_arm
