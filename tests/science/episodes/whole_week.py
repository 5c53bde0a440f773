"""A course in which the week is adjusted and comes back lift by lift, one change a week, to whom all goes well."""

from __future__ import annotations

from typing import Final, NamedTuple

import msgspec

from tests.science.episodes.prescribed import Json
from tests.science.episodes.scripted import GOOD_PAIN, AllGoesWell
from tests.support.asking import ask

JOINTS: Final = {"low_back": "lumbosacral", "knee": "knee", "hip": "hip_resultant"}
POWERS: Final = {"linear": 1, "tenth_power": 10}
MOST_WEEKS: Final = 52


class Step(NamedTuple):
    """One week of the course.

    Attributes:
        before: the week as it was done
        after: the week as it is to be done
        answer: of the review that led from one to the other, None where only what was added is left off
    """

    before: list[Json]
    after: list[Json]
    answer: Json | None


def adjusted(asked: Json) -> list[Json]:
    """The week that is tried first."""
    option = _answer("week-adjustments", asked)["options"][0]
    return [_in_week(one) for one in option["week"]]


def course(asked: Json, week: list[Json]) -> list[Step]:
    """The weeks from an adjusted one back to the original, each with one review that goes a step on.

    Lifts are reviewed in their order; the first that goes on is the change of the week, and the others stay. What was
    added for the muscles' sake is left off last, once every lift is back that trained them.
    """
    original = [_in_week(one) for one in asked["week"]]
    steps: list[Step] = []
    while week != original and len(steps) < MOST_WEEKS:
        if week[: len(original)] == original:
            return [*steps, Step(week, original, None)]
        step = next(filter(None, (_reviewed(asked, original, week, place) for place in range(len(original)))), None)
        if step is None:
            return steps
        steps.append(step)
        week = step.after
    return steps


def plan(asked: Json, week: list[Json], place: int) -> Json:
    """The way back of one lift as it is planned in its week."""
    return _answer(
        "return-plan",
        {
            "lifter": asked["lifter"],
            "original": asked["week"][place]["prescription"],
            "adjusted": week[place]["prescription"],
            "region": asked["complaint"]["region"],
            "week": week,
        },
    )


def sizes(asked: Json, week: list[Json], wanted: Json | None = None) -> dict[str, float]:
    """What a week asks of the sore region under each weighting, from the moments of each lift by itself [N·m].

    The lift that is wanted back tells the maximum of its exercise, as the first setup does; other lifts tell their own.
    """
    joint, sums = JOINTS[asked["complaint"]["region"]], dict.fromkeys(POWERS, 0.0)
    for one in week:
        done = one["prescription"]
        told = done if wanted is None or wanted["exercise"] != done["exercise"] else wanted
        setups = [{**told, "label": "told"}, {**done, "label": "done"}]
        moments = _answer("joint-demand", {"lifter": asked["lifter"], "setups": setups})["setups"][-1]["moments"] or {}
        if moments.get(joint):
            repetitions = done["sets"] * (done["reps"]["low"] + done["reps"]["high"]) / 2
            for weighting, power in POWERS.items():
                sums[weighting] += repetitions * max(0.0, moments[joint]["value"]) ** power
    return {weighting: total ** (1 / POWERS[weighting]) for weighting, total in sums.items()}


def _reviewed(asked: Json, original: list[Json], week: list[Json], place: int) -> Step | None:
    """A week in which one lift goes a step on; None where it is as in the original or waits."""
    present = week[place]["prescription"]
    own = [at for at, one in enumerate(week) if one["prescription"] == present and week[at] != original[at]]
    if place not in own or place != own[0]:
        return None
    report = AllGoesWell().session(0, present)
    done = {
        "pain_in_session": GOOD_PAIN,
        "pain_next_morning": GOOD_PAIN,
        "reps_done": list(report.reps_done) if report is not None and report.reps_done else None,
        "reps_in_reserve": 4,
    }
    answer = _answer(
        "session-review",
        {
            "prescription": present,
            "original": original[place]["prescription"],
            "lifter": asked["lifter"],
            "region": asked["complaint"]["region"],
            "week": week,
            "usual_pain": GOOD_PAIN,
            "weekly_pain": [2 * GOOD_PAIN, GOOD_PAIN],
            "sessions": [done] * max(2, len(own)),
        },
    )
    if answer["decision"] != "progress":
        return None
    new = _alone(answer["next"])
    if new == original[place]["prescription"] | {"reps_in_reserve": new.get("reps_in_reserve")}:
        new = original[place]["prescription"]
    return Step(week, [{**one, "prescription": new} if at in own else one for at, one in enumerate(week)], answer)


def _in_week(one: Json) -> Json:
    return {"day": one["day"], "prescription": _alone(one["prescription"])}


def _alone(prescription: Json) -> Json:
    """A prescription as it stands on one day of a week."""
    return {name: part for name, part in prescription.items() if part is not None and name != "days_per_week"}


def _answer(operation: str, request: Json) -> Json:
    """What comes back, as JSON."""
    answer: Json = msgspec.json.decode(msgspec.json.encode(ask(operation, request)), type=dict)
    return answer
