"""What a complaint as it is told changes: which options come sooner, which signs are asked first, what is said."""

from __future__ import annotations

from typing import Final, Literal

from service.knowledge.catalogue import Carry
from service.knowledge.loader import UnusableData, read_tables
from service.knowledge.records import Known, Record, RegionId, SourceId
from service.knowledge.signs import SIGNS
from service.vocabulary import Lever

FILE: Final = "complaint_rules.toml"
_HALF: Final = 0.5
_ANOTHER_LIFT: Final[frozenset[Lever]] = frozenset({"variation", "equipment", "exercise"})
ComplaintRuleId = Literal[
    "at_the_bottom",
    "at_the_top",
    "all_the_way",
    "with_load",
    "with_volume",
    "with_range",
    "with_speed",
    "with_the_speed_of_a_swing",
    "on_one_side",
    "held_wide",
    "trunk_held_up",
    "suddenly",
    "for_weeks",
    "elsewhere_too",
]
ComplaintField = Literal["painful_range", "provoked_by", "side", "onset", "weeks", "also", "region"]


class ComplaintRule(Record, frozen=True):
    """What one thing that is told of a complaint changes.

    Attributes:
        id: stable name
        asks: the part of the complaint that it goes by
        sources: where it is from
        known: how far it is known
        when: words of that part at which it holds, any where there are none
        prefers: levers of which options come sooner
        second: levers of which options come half as much sooner
        puts_off: levers of which options come later
        by_session: whether the sum over a session is the relief that counts first
        less_load_first: whether the lift merely lighter is tried before all else
        narrower_first: whether it holds of lifts with the legs turned far out, where a narrower stance is tried first
        supported_soon: whether it holds of pulls of a bent-over lifter, where one that carries the trunk is tried soon
        regions: where it holds, everywhere where there are none
        carried: of which lifts it holds, by where their load acts, all where there are none
        not_carried: of which lifts it does not hold
        signs: red flags to be asked about first
        note: what to mind in using it
    """

    id: ComplaintRuleId
    asks: ComplaintField
    sources: tuple[SourceId, ...]
    known: Known
    when: tuple[str, ...] = ()
    prefers: tuple[Lever, ...] = ()
    second: tuple[Lever, ...] = ()
    puts_off: tuple[Lever, ...] = ()
    by_session: bool = False
    less_load_first: bool = False
    narrower_first: bool = False
    supported_soon: bool = False
    regions: tuple[RegionId, ...] = ()
    carried: tuple[Carry, ...] = ()
    not_carried: tuple[Carry, ...] = ()
    signs: tuple[str, ...] = ()
    note: str = ""

    def weighs(self, levers: tuple[Lever, ...]) -> float:
        """Whether it brings an option forward, wholly (1) or half, puts it off (-1), or neither.

        Another lift is brought forward only where that is preferred: less range of another lift is no small change.

        Args:
            levers: what the option changes

        Returns:
            Its weight [1].
        """
        changed, first, second = set(levers), set(self.prefers), set(self.second)
        if changed & set(self.puts_off):
            return -1.0
        another = changed & _ANOTHER_LIFT
        if changed & first and another <= first:
            return 1.0
        return _HALF if changed & (first | second) and another <= first | second else 0.0


def _rules() -> dict[str, ComplaintRule]:
    rules = read_tables(FILE, ComplaintRule)
    for rule in rules.values():
        if unknown := [sign for sign in rule.signs if sign not in SIGNS]:
            raise UnusableData(FILE, f"{rule.id}.signs", f"signs.csv has no `{unknown[0]}`")
    return rules


COMPLAINT_RULES: Final = _rules()
