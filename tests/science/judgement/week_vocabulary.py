"""The sentences by which weeks say what they want: of the week as it is (week-demand) and of weeks instead of it."""

from __future__ import annotations

from typing import Final

from service.vocabulary import WEIGHTINGS
from tests.science.judgement.sentences import Asked, Json, Vocabulary, either, messages, sentences

_SLIGHT: Final = 1e-6
_KG: Final = {"kg": 1.0, "lb": 0.45359237}
_CLEARLY_LESS: Final = 0.9
_OF_A_LIFT: Final = ("changed", "replaced")
"""The kinds of change that are one of a lift; what is added to restore a muscle goes with it, and so does a new day."""


class WeekAsked(Asked, frozen=True):
    """A request of week-adjustments with its answer.

    Attributes:
        demand: answer of week-demand to the same week
    """

    demand: Json

    @property
    def week(self) -> list[Json]:
        """The week as it is."""
        return list(self.request["week"])

    def done(self, entry: int) -> str:
        """The exercise at a place of the week as it is."""
        return str(self.week[entry]["prescription"]["exercise"])


def _of_region(asked: WeekAsked, region: str) -> Json:
    """What the week asks of a region; nothing where no lift loads it."""
    return dict(asked.demand["regions"].get(region, {"lifts": [], "shortest_gap": None, "not_computed": []}))


def _leads(asked: WeekAsked, names: str, region: str, weighting: str) -> bool:
    """The exercise whose lifts have the largest part of the region's week, all its days together."""
    total: dict[str, float] = {}
    for one in _of_region(asked, region)["lifts"]:
        lift = asked.done(one["entry"])
        total[lift] = total.get(lift, 0.0) + one["share"][weighting]["value"]
    return bool(total) and max(total, key=lambda lift: total[lift]) in either(names)


def _leads_always(asked: WeekAsked, names: str, region: str) -> bool:
    return all(_leads(asked, names, region, weighting) for weighting in WEIGHTINGS)


def _gap(asked: WeekAsked, region: str, days: str) -> bool:
    gap = _of_region(asked, region)["shortest_gap"]
    return gap is not None and gap <= int(days)


def _in_sets_alone(asked: WeekAsked, names: str, region: str) -> bool:
    return {asked.done(one["entry"]) for one in _of_region(asked, region)["not_computed"]} == either(names)


def _gives(asked: WeekAsked, muscle: str, least: str) -> bool:
    return bool(asked.demand["muscles"].get(muscle, {"sets": {"value": 0.0}})["sets"]["value"] >= float(least))


def _changed(asked: WeekAsked, option: Json) -> list[set[str]]:
    """The exercises of each lift that is changed."""
    return [{asked.done(entry) for entry in one["entries"]} for one in option["changes"] if one["kind"] in _OF_A_LIFT]


def _touches(asked: WeekAsked, option: Json, names: str) -> bool:
    return any(not lift.isdisjoint(either(names)) for lift in _changed(asked, option))


def _levers_by_lift(option: Json) -> list[list[str]]:
    """What is done otherwise in each lift that is changed; what restores a muscle belongs to them."""
    return [one["levers"] for one in option["changes"] if one["kind"] in _OF_A_LIFT]


def _levers(option: Json) -> list[str]:
    return [lever for levers in _levers_by_lift(option) for lever in levers]


def _takes_nothing_but_load_off(asked: WeekAsked, option: Json, names: str) -> bool:
    return _touches(asked, option, names) and _levers(option) == ["load"]


def _eases_all_that_hurts(asked: WeekAsked, option: Json) -> bool:
    eased = {entry for one in option["changes"] if one["kind"] in _OF_A_LIFT for entry in one["entries"]}
    return eased.issuperset(asked.request.get("hurts", []))


def _kinds(option: Json) -> set[str]:
    return {str(one["kind"]) for one in option["changes"]}


def _exercises(week: list[Json]) -> set[str]:
    return {str(one["prescription"]["exercise"]) for one in week}


def _brings_in(asked: WeekAsked, option: Json, names: str) -> bool:
    return not (_exercises(option["week"]) - _exercises(asked.week)).isdisjoint(either(names))


def _asks_more(option: Json, region: str, by: float = 0.0) -> bool:
    """Under some weighting, by central values; a region of which no number is known says nothing."""
    sizes = option["demand"].get(region, {})
    return any(sizes[one]["value"] > 1 + by + _SLIGHT for one in WEIGHTINGS if one in sizes)


def _raises_spared(asked: WeekAsked, option: Json) -> bool:
    return any(_asks_more(option, region) for region in asked.request.get("constraints", {}).get("spare", []))


def _raises_another(asked: WeekAsked, option: Json, percent: str) -> bool:
    others = set(option["demand"]) - {asked.region}
    return any(_asks_more(option, region, float(percent) / 100) for region in others)


def _empties_a_muscle(option: Json) -> bool:
    """A muscle that had its floor and has it no longer."""
    return any(
        one["floor"] is not None and one["before"] >= one["floor"] - _SLIGHT and one["under_floor"]
        for one in option["muscles"].values()
    )


def _kilograms(prescription: Json) -> float:
    return float(prescription["load"]["value"]) * _KG[prescription["load"]["unit"]]


def _heaviest(week: list[Json]) -> dict[str, float]:
    loads: dict[str, float] = {}
    for one in week:
        lift = one["prescription"]
        loads[lift["exercise"]] = max(loads.get(lift["exercise"], 0.0), _kilograms(lift))
    return loads


def _loaded_above(asked: WeekAsked, option: Json) -> bool:
    now, new = _heaviest(asked.week), _heaviest(option["week"])
    return any(load > now[lift] + _SLIGHT for lift, load in new.items() if lift in now)


def _nearer_to_failure_where_it_hurts(asked: WeekAsked, option: Json) -> bool:
    """What hurts is left with fewer repetitions in reserve than now, and not with clearly less load."""
    hurts = [entry for entry in asked.request.get("hurts", []) if entry < len(option["week"])]
    pairs = ((asked.week[entry], option["week"][entry]) for entry in hurts)
    return any(
        new["prescription"]["exercise"] == now["prescription"]["exercise"]
        and new["prescription"]["reps_in_reserve"] < now["prescription"]["reps_in_reserve"]
        and _kilograms(new["prescription"]) > _CLEARLY_LESS * _kilograms(now["prescription"])
        for now, new in pairs
    )


def _sets(week: list[Json]) -> int:
    return sum(int(one["prescription"]["sets"]) for one in week)


def _days(week: list[Json]) -> set[int]:
    return {int(one["day"]) for one in week}


def _names_its_target(asked: WeekAsked) -> bool:
    target, steps = asked.answer.get("target"), [one for one in asked.answer["why"] if one["code"] == "week_first_step"]
    return target is None or [one["values"]["weighting"] for one in steps] == [target["weighting"]]


_OF_THE_ANSWER: Final = sentences(
    (r"decision is (\w+)", lambda asked, name: asked.answer["decision"] == name),
    (r"aims at the weighting it names", _names_its_target),
    (r"there is an option", lambda asked: bool(asked.options)),
    (r"it says ([\w ]+)", lambda asked, codes: not either(codes).isdisjoint(messages(asked.answer))),
    (r"of the week it says ([\w ]+)", lambda asked, codes: not either(codes).isdisjoint(messages(asked.demand))),
    (r"([\w ]+) leads the (\w+) under every weighting", _leads_always),
    (r"([\w ]+) leads the (\w+) by (linear|squared|tenth_power)", _leads),
    (r"heavy days of the (\w+) come within (\d+) days?", _gap),
    (r"([\w ]+) is in sets alone for the (\w+)", _in_sets_alone),
    (r"the week gives (\w+) at least (\d+) sets", _gives),
    (
        r"the week leaves (\w+) under its floor",
        lambda asked, muscle: asked.demand["muscles"].get(muscle, {"under_floor": False})["under_floor"],
    ),
)
_CLAUSES: Final = sentences(
    (r"changes (\d+) lifts?", lambda asked, option, count: len(_changed(asked, option)) == int(count)),
    (r"changes more than (\d+) lifts?", lambda asked, option, most: len(_changed(asked, option)) > int(most)),
    (r"changes ([\w ]+)", _touches),
    (r"takes nothing but load off ([\w ]+)", _takes_nothing_but_load_off),
    (
        r"does more than (\d+) things? otherwise in one lift",
        lambda _, option, most: any(len(levers) > int(most) for levers in _levers_by_lift(option)),
    ),
    (r"does more than (\d+) things? otherwise", lambda _, option, most: len(_levers(option)) > int(most)),
    (r"is of kind ([\w ]+)", lambda _, option, kinds: not either(kinds).isdisjoint(_kinds(option))),
    (r"eases all that hurts", _eases_all_that_hurts),
    (r"brings in ([\w ]+)", _brings_in),
    (r"is relief that is ([\w ]+)", lambda _, option, words: option["relief"] in either(words)),
    (r"asks more of the sore region", lambda asked, option: _asks_more(option, asked.region)),
    (r"raises a spared region", _raises_spared),
    (r"raises another region by more than (\d+) %", _raises_another),
    (r"takes a muscle below its floor", lambda _, option: _empties_a_muscle(option)),
    (r"does not say ([\w ]+)", lambda _, option, codes: either(codes).isdisjoint(messages(option["why"]))),
    (r"is loaded above now", _loaded_above),
    (r"goes nearer to failure where it hurts", _nearer_to_failure_where_it_hurts),
    (r"adds a day", lambda asked, option: not _days(option["week"]) <= _days(asked.week)),
    (
        r"trains on fewer than (\d+) days",
        lambda _, option, least: len(_days(option["week"])) < int(least),
    ),
    (
        r"keeps fewer than (\d+) % of the sets",
        lambda asked, option, percent: _sets(option["week"]) < float(percent) / 100 * _sets(asked.week),
    ),
    (r"says why", lambda _, option: bool(option["why"])),
)
VOCABULARY: Final = Vocabulary(_OF_THE_ANSWER, _CLAUSES)
holds: Final = VOCABULARY.holds
