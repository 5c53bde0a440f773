"""Red flags and what each urgency asks for; a clinician has to sign both lists off."""

from __future__ import annotations

from typing import Final

from msgspec.structs import replace

from service.knowledge.design_choices import CHOICES
from service.knowledge.loader import read_rows, read_tables
from service.knowledge.records import Known, Record, SourceId, UrgencyId
from service.vocabulary import Region


class Sign(Record, frozen=True):
    """A red flag.

    Attributes:
        id: stable id
        text: plain words for the lifter
        urgency: how urgently it asks for a clinician
        sources: sources of the sign
        known: how far the sign itself is known; parts of its words may be known less
        regions: parts of the body that it concerns; empty where it is asked whatever hurts
        age_from: youngest age of whom it speaks, None where it speaks of everybody [years]
        age_below: age below which it speaks of somebody, None where it speaks of everybody [years]
    """

    id: str
    text: str
    urgency: UrgencyId
    sources: tuple[SourceId, ...]
    known: Known
    regions: tuple[Region, ...] = ()
    age_from: float | None = None
    age_below: float | None = None

    def concerns(self, region: Region) -> bool:
        """Whether it is asked where this region hurts."""
        return not self.regions or region in self.regions

    def speaks_of(self, age: float) -> bool:
        """Whether it speaks of people of an age.

        Args:
            age: their age [years]
        """
        return (self.age_from is None or age >= self.age_from) and (self.age_below is None or age < self.age_below)


class Urgency(Record, frozen=True):
    """What an urgency asks for.

    Attributes:
        id: stable id
        rank: 1 for the most urgent [1]
        what_to_do: read aloud to the lifter
        known: how far it is known
        stop_rule: what the coach does with the training
        sources: sources of the rule
        sign_off: who has to approve the rule before it is used
    """

    id: str
    rank: int
    what_to_do: str
    known: Known
    stop_rule: str = ""
    sources: tuple[SourceId, ...] = ()
    sign_off: str = ""


URGENCIES: Final = read_tables("urgencies.toml", Urgency)
_AT_REST: Final = f"{CHOICES.adjustments.at_rest_up_to:g}"
SIGNS: Final = {
    sign.id: replace(sign, text=sign.text.format(at_rest=_AT_REST)) for sign in read_rows("signs.csv", Sign)
}
"""Red flags by their id; where one names a limit of our own, it is the limit that is chosen."""
