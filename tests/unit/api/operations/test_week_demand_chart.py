"""The picture of a week shows the shares, days, sets and cautions of its answer. All derived."""

from __future__ import annotations

import re
from collections import Counter
from itertools import chain, cycle, islice
from typing import Any, Final

import pytest

from service.api.models.lifter import DEMO_LIFTER
from service.api.models.week import DEMO_WEEK
from service.errors import Refusal
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.muscles import MUSCLES
from service.vocabulary import WEIGHTINGS
from tests.support.asking import BY_NAME, Answered, ask, decoded, kg
from tests.support.drawn import SVG, description, outside, overlapping, read, whole, words


def lift(day: int, exercise: str, load: float, sets: int = 3) -> dict[str, Any]:
    reps = {"low": 6, "high": 8}
    return {
        "day": day,
        "prescription": {"exercise": exercise, "sets": sets, "reps": reps, "load": kg(load), "reps_in_reserve": 2},
    }


UPPER: Final = [
    lift(1, "bench_press", 55),
    lift(1, "barbell_row", 45),
    lift(4, "bench_press", 50),
    lift(4, "dip", 0),
    lift(4, "dip", 5, 2),
    lift(5, "leg_press", 90),
]
MANY: Final = [
    lift(day, exercise, 30, 2)
    for day, exercise in zip(
        islice(cycle((1, 2, 4, 5, 6, 7)), 40),
        cycle(
            ("front_squat", "romanian_deadlift", "bench_press", "barbell_row", "lunge", "leg_curl", "overhead_press")
        ),
        strict=False,
    )
]
WEEKS: Final = {"legs and back": DEMO_WEEK, "upper body": UPPER, "forty lifts": MANY}


def pictured(week: list[dict[str, Any]], **asked: object) -> tuple[Answered, str]:
    request = {"lifter": DEMO_LIFTER, "week": week, **asked}
    operation = BY_NAME["week-demand"]
    assert operation.picture is not None
    return ask("week-demand", request), whole(operation.picture(decoded("week-demand", request)))


@pytest.mark.parametrize("name", list(WEEKS))
def test_bars_are_the_answers_shares_of_lifts_and_days(name: str) -> None:
    answer, svg = pictured(WEEKS[name])
    assert overlapping(svg) == []
    assert outside(svg) == []
    wanted: list[float] = []
    for region in answer.regions.values():
        wanted += [getattr(one.share, weighting).value for one in region.lifts for weighting in WEIGHTINGS]
        if rows(WEEKS[name], region) > 1:
            wanted += [getattr(day, weighting) for day in region.days for weighting in WEIGHTINGS]
    drawn = [float(rect.attrib["data-share"]) for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-share")]
    assert sorted(drawn) == pytest.approx(sorted(wanted), rel=1e-4, abs=1e-6)


def rows(week: list[dict[str, Any]], region: Answered) -> int:
    """Lifts of a region that have a row: one done twice on a day has a second."""
    done = Counter((week[one.entry]["prescription"]["exercise"], one.day) for one in region.lifts)
    times = {exercise: 0 for exercise, _ in done}
    for (exercise, _), count in done.items():
        times[exercise] = max(times[exercise], count)
    return sum(times.values())


@pytest.mark.parametrize("name", list(WEEKS))
def test_every_lift_of_a_region_is_said_on_its_day_or_named_as_in_no_share(name: str) -> None:
    answer, svg = pictured(WEEKS[name])
    told = description(svg)
    starts = [told.index(f" {REGIONS[region].name}. ") for region in answer.regions]
    assert starts == sorted(starts)
    for region, start, end in zip(
        answer.regions.values(), starts, [*starts[1:], told.index(" Muscles: ")], strict=True
    ):
        said = told[start:end]
        for one in region.lifts:
            named = EXERCISES[WEEKS[name][one.entry]["prescription"]["exercise"]].name
            assert f"{named}, day {one.day}: all alike " in said or f"time 2 that day, day {one.day}" in said
        for one in region.not_computed:
            named = EXERCISES[WEEKS[name][one.entry]["prescription"]["exercise"]].in_a_sentence
            assert f"{named} on day {one.day} ({one.sets} sets, {one.repetitions:g} repetitions)" in said
        for day in region.heavy_days:
            assert f"Day {day}, heavy: " in said
        if region.shortest_gap is not None:
            assert f"From one heavy day to the next: {region.shortest_gap} day" in said
        if region.lifts:
            moment = region.largest_moment
            assert f"Largest moment {moment.value:.0f} N·m ({moment.low:.0f} to {moment.high:.0f})." in said
            assert ("depends on the weighting" in said) == (region.leading is None)
    frames = [rect.attrib["data-heavy"] for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-heavy")]
    assert list(map(int, frames)) == list(chain(*(one.heavy_days for one in answer.regions.values() if one.lifts)))


@pytest.mark.parametrize("aim", ["muscle_size", "strength", "maintain"])
def test_muscles_are_the_answers_sets_at_the_answers_floor(aim: str) -> None:
    answer, svg = pictured(DEMO_WEEK, aim=aim)
    root = read(svg)
    sets = [float(rect.attrib["data-sets"]) for rect in root.iter(f"{SVG}rect") if rect.get("data-sets")]
    assert sets == pytest.approx([one.sets.value for one in answer.muscles.values()], rel=1e-4)
    floors = [float(path.attrib["data-floor"]) for path in root.iter(f"{SVG}path") if path.get("data-floor")]
    assert floors == [one.floor for one in answer.muscles.values()]
    for muscle, one in answer.muscles.items():
        assert MUSCLES[muscle].name in words(svg)
        said = next(part for part in description(svg).split("; ") if MUSCLES[muscle].name in part)
        assert ("under the" in said) == one.under_floor
        held = re.search(r"([\d.]+) steadying", said)
        assert (0.0 if held is None else float(held[1])) == pytest.approx(one.steadied, abs=0.051)


def test_cautions_are_said() -> None:
    answer, svg = pictured(UPPER)
    shown = " ".join(words(svg))
    assert all(caution.text in shown for caution in answer.cautions)
    assert "Dip, time 2 that day" in words(svg)


def test_what_the_answer_refuses_the_picture_refuses() -> None:
    days = [{**DEMO_WEEK[0], "prescription": {**DEMO_WEEK[0]["prescription"], "days_per_week": 2}}]
    operation = BY_NAME["week-demand"]
    assert operation.picture is not None
    with pytest.raises(Refusal, match="own day"):
        operation.picture(decoded("week-demand", {"lifter": DEMO_LIFTER, "week": days}))


def test_forty_lifts_in_no_share_are_all_named() -> None:
    shown = words(pictured([lift(1 + n % 7, "leg_press", 90 + n) for n in range(40)])[1])
    assert " ".join(shown).count("leg press on day") == 3 * 40  # hip, knee and ankle
    assert not [text for text in shown if text.endswith("…")]
