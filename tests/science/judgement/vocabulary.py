"""The sentences by which consultations say what they want: a closed vocabulary, each word checked against an answer."""

from __future__ import annotations

from math import inf
from typing import Final

from service.adjustment.prescription import body_moved
from service.knowledge.catalogue import EXERCISES
from tests.science.judgement.sentences import Asked, Json, Vocabulary, either, messages, sentences

_SLIGHT: Final = 1e-6
_KG: Final = {"kg": 1.0, "lb": 0.45359237}


def _kilograms(quantity: Json | None) -> float:
    return 0.0 if quantity is None else float(quantity["value"]) * _KG[quantity["unit"]]


def total(prescription: Json, request: Json) -> float:
    """What is moved, the part of the body that a lift moves with it [kg]."""
    body = body_moved(prescription["exercise"], _kilograms(request["lifter"]["body_mass"]))
    return _kilograms(prescription["load"]) - _kilograms(prescription.get("assistance")) + body


def _load_change(asked: Asked, option: Json) -> float:
    return total(option["prescription"], asked.request) - total(asked.request["prescription"], asked.request)


def _implement(option: Json) -> str:
    new = option["prescription"]
    return str(new.get("implement") or EXERCISES[new["exercise"]].implements[0])


def _surely_below(asked: Asked, option: Json, most: float) -> bool:
    """By the upper end where a number is known, else by the direction, for which only less than now can be said."""
    demand = option["demand"].get(asked.region)
    if demand is not None:
        return bool(demand["high"] <= most + _SLIGHT and demand["value"] < 1 - _SLIGHT)
    return bool(option["direction"].get(asked.region) == "lower")


def _asks_less(asked: Asked, option: Json) -> bool:
    """Each repetition surely less on the average, or where that is how the target is met, the session in all.

    The interval of a demand is of one repetition against one and holds their scatter; what is sure is the direction.
    """
    if option["meets_by"] == "session_exposure":
        return bool(option["session_exposure"] < 1 - _SLIGHT)
    demand, lower = option["demand"].get(asked.region), option["direction"].get(asked.region) == "lower"
    return bool(lower and (demand is None or demand["value"] < 1 - _SLIGHT))


def _asks_more(option: Json, region: str, by: float = 0.0) -> bool:
    demand = option["demand"].get(region)
    if demand is not None:
        return bool(demand["value"] > 1 + by + _SLIGHT)
    return bool(option["direction"].get(region) == "higher")


def _raises_another(asked: Asked, option: Json, percent: str) -> bool:
    by = float(percent) / 100
    return any(
        ratio["value"] > 1 + by + _SLIGHT for region, ratio in option["demand"].items() if region != asked.region
    )


def _reserve(option: Json) -> float | None:
    """Repetitions left; None for a hold, which is judged by its length."""
    return None if option["prescription"].get("hold") is not None else float(option["stimulus"]["reps_in_reserve"])


def _more_reserve(asked: Asked, option: Json, most: str) -> bool:
    """Than stated, and than now: who trains far from failure already is not made to change it."""
    reserve = _reserve(option)
    return reserve is not None and reserve > max(float(most), _reserve_now(asked)) + _SLIGHT


def _reserve_now(asked: Asked) -> float:
    return float(asked.request["prescription"]["reps_in_reserve"])


def _another(asked: Asked, option: Json) -> bool:
    return bool(option["prescription"]["exercise"] != asked.request["prescription"]["exercise"])


def _merely_lighter_after_a_stop(asked: Asked, option: Json) -> bool:
    """The present lift with less load, or with repetitions too, where it is not finished today, and says what it is."""
    plain = option["levers"] in (["load"], ["load", "reps"]) and not _another(asked, option)
    return plain and "easy_set" in option["cautions"] and "stop_today" in messages(asked.answer)


def _stopped(asked: Asked) -> bool:
    """Whether the lift is stopped for today."""
    return "stop_today" in messages(asked.answer)


def _adds(asked: Asked, option: Json) -> bool:
    new, now = option["prescription"], asked.request["prescription"]
    amounts = [(one["sets"], one["reps"]["high"], one.get("days_per_week") or 0) for one in (new, now)]
    return any(after > before for after, before in zip(*amounts, strict=True))


def _done_otherwise(option: Json) -> bool:
    return not {"tempo", "technique", "rest"}.isdisjoint(option["levers"])


def _grows_above(asked: Asked, option: Json, most: int) -> bool:
    reps, now = (one["prescription"]["reps"]["high"] for one in (option, asked.request))
    return bool(reps > max(most, now))


def _technique(option: Json) -> Json:
    return dict(option["prescription"].get("technique", {}))


_OF_THE_ANSWER: Final = sentences(
    (r"decision is (\w+)", lambda asked, name: asked.answer["decision"] == name),
    (r"urgency is (\w+)", lambda asked, name: asked.answer.get("referral", {}).get("urgency") == name),
    (r"there is an option", lambda asked: bool(asked.options)),
    (r"it says ([\w ]+)", lambda asked, codes: not either(codes).isdisjoint(messages(asked.answer))),
    (r"meanwhile trains ([\w ]+)", lambda asked, names: not either(names).isdisjoint(_meanwhile(asked))),
    (r"looks again within (\d+) days", lambda asked, days: _looks_again(asked) <= float(days)),
)
_CLAUSES: Final = sentences(
    (r"uses ([\w ]+)", lambda _, option, levers: not either(levers).isdisjoint(option["levers"])),
    (r"does the present exercise", lambda asked, option: not _another(asked, option)),
    (r"does another exercise", _another),
    (r"does ([\w ]+)", lambda _, option, names: option["prescription"]["exercise"] in either(names)),
    (r"is done with ([\w ]+)", lambda _, option, names: _implement(option) in either(names)),
    (r"is cued ([\w ]+)", lambda _, option, cues: not either(cues).isdisjoint(option["prescription"].get("cues", ()))),
    (r"meets the target by ([\w ]+)", lambda _, option, ways: option["meets_by"] in either(ways)),
    (r"has a number of the ([\w ]+)", lambda _, option, regions: either(regions).issubset(option["demand"])),
    (r"is in program ([\w ]+)", lambda _, option, names: option.get("program") in either(names)),
    (r"keeps at least (\d+) %", lambda _, option, percent: _kept(option) >= float(percent) / 100 - _SLIGHT),
    (r"keeps under (\d+) %", lambda _, option, percent: _kept(option) < float(percent) / 100 - _SLIGHT),
    (r"leaves more than (\d+) in reserve", _more_reserve),
    (r"leaves fewer than (\d+) in reserve", lambda _, option, least: not _leaves(option, least)),
    (r"leaves at least (\d+) in reserve", lambda _, option, least: _leaves(option, least)),
    (
        r"is harder than now",
        lambda asked, option: not _leaves(option, asked.request["prescription"]["reps_in_reserve"]),
    ),
    (r"has at least (\d+) sets", lambda _, option, least: option["prescription"]["sets"] >= int(least)),
    (r"is loaded above now", lambda asked, option: _load_change(asked, option) > _SLIGHT),
    (r"is loaded as now", lambda asked, option: abs(_load_change(asked, option)) <= _SLIGHT),
    (r"is loaded below now", lambda asked, option: _load_change(asked, option) < -_SLIGHT),
    (r"surely asks less of the sore region", _asks_less),
    (
        r"surely asks at most (\d+) % of the sore region",
        lambda asked, option, percent: _surely_below(asked, option, float(percent) / 100),
    ),
    (r"asks more of the sore region", lambda asked, option: _asks_more(option, asked.region)),
    (r"raises another region by more than (\d+) %", _raises_another),
    (r"adds repetitions, sets or days after a stop", lambda asked, option: _stopped(asked) and _adds(asked, option)),
    (r"changes tempo or technique after a stop", lambda asked, option: _stopped(asked) and _done_otherwise(option)),
    (r"grows to more than (\d+) repetitions", lambda asked, option, most: _grows_above(asked, option, int(most))),
    (r"moves the feet", lambda _, option: "foot_spacing" in _technique(option)),
    (r"raises the heels", lambda _, option: bool(_technique(option).get("heel_lift"))),
    (r"widens the stance", lambda _, option: _technique(option).get("stance") == "wide"),
    (r"is not merely lighter after a stop", lambda asked, option: not _merely_lighter_after_a_stop(asked, option)),
    (r"says why", lambda _, option: bool(option["why"])),
)


def _kept(option: Json) -> float:
    return float(option["stimulus"]["kept"]["value"])


def _leaves(option: Json, least: float | str) -> bool:
    reserve = _reserve(option)
    return reserve is None or reserve >= float(least) - _SLIGHT


def _meanwhile(asked: Asked) -> list[str]:
    """Exercises that can be trained while the region is not."""
    return [exercise for group in asked.answer.get("meanwhile", []) for exercise in group["exercises"]]


def _looks_again(asked: Asked) -> float:
    """Days until a paused region is looked at again."""
    pause = asked.answer.get("pause")
    return inf if pause is None else float(pause["look_again"]["days"])


VOCABULARY: Final = Vocabulary(_OF_THE_ANSWER, _CLAUSES)
holds: Final = VOCABULARY.holds
