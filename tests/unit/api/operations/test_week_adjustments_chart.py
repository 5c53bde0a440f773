"""The picture of a week's consultation shows its answer: changes in words, the region's ratios, weeks before and after.

All derived.
"""

from __future__ import annotations

import re
from collections import defaultdict
from itertools import pairwise
from typing import Any, Final

import pytest

from service.api.models.lifter import DEMO_LIFTER
from service.api.operations.week_adjustments.examples import EXAMPLES
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.muscles import MUSCLES
from service.messages.citations import cited
from service.vocabulary import WEIGHTINGS
from tests.support.asking import BY_NAME, Answered, ask, decoded, kg
from tests.support.drawn import SVG, assert_title_and_alternative, description, outside, overlapping, read, whole, words

WORDS: Final = {
    "changed": "changed",
    "replaced": "new here",
    "left_out": "left out",
    "added": "added",
    "more_sets": "more sets",
    "moved": "moved here",
}
COUNTED: Final = {
    "linear": "all alike",
    "squared": "heavier more",
    "tenth_power": "heaviest most",
    "peak": "largest moment",
}


def lift(day: int, exercise: str, load: float, sets: int = 3) -> dict[str, Any]:
    reps = {"low": 6, "high": 8}
    return {
        "day": day,
        "prescription": {"exercise": exercise, "sets": sets, "reps": reps, "load": kg(load), "reps_in_reserve": 2},
    }


SHOULDER: Final[dict[str, Any]] = {
    "lifter": DEMO_LIFTER,
    "week": [lift(1, "bench_press", 60), lift(2, "overhead_press", 35), lift(4, "bench_press", 50), lift(5, "dip", 0)],
    "complaint": {"region": "shoulder", "pain_in_session": 4},
    "aim": "strength",
}
SORE_AND_RED: Final = {"region": "low_back", "pain_in_session": 6}
CLOSE: Final[dict[str, Any]] = {
    "lifter": DEMO_LIFTER,
    "week": [lift(1, "front_squat", 60), lift(2, "deadlift_conventional", 80), lift(3, "front_squat", 60)],
    "complaint": {"region": "knee", "pain_in_session": 4},
    "aim": "muscle_size",
    "limit": 2,
}
CASES: Final = {
    "low back": EXAMPLES[0].request,
    "must stay": EXAMPLES[1].request,
    "red": EXAMPLES[2].request,
    "shoulder": SHOULDER,
    "close": CLOSE,
}


def pictured(request: dict[str, Any]) -> tuple[Answered, str]:
    operation = BY_NAME["week-adjustments"]
    assert operation.picture is not None
    return ask("week-adjustments", request), whole(operation.picture(decoded("week-adjustments", request)))


def drawn_options(answer: Answered) -> list[Answered]:
    assert answer.options
    return list(answer.options[:3])


def by_option(text: str) -> list[str]:
    """What is told of each option, one after the other."""
    return re.split(r" \d+\. (?:Less|The same)", text)[1:]


@pytest.mark.parametrize("name", list(CASES))
def test_a_sheet_is_told_and_nothing_on_it_overlaps(name: str) -> None:
    _, svg = pictured(CASES[name])
    assert_title_and_alternative(svg)
    assert overlapping(svg) == []
    assert outside(svg) == []
    assert float(read(svg).attrib["width"]) <= 1200


@pytest.mark.parametrize("name", list(CASES))
def test_bars_are_the_answers_ratios_with_their_spans_in_words(name: str) -> None:
    answer, svg = pictured(CASES[name])
    region = REGIONS[answer.target.region].name
    drawn = [float(rect.attrib["data-ratio"]) for rect in read(svg).iter(f"{SVG}rect") if rect.get("data-ratio")]
    for option, told in zip(drawn_options(answer), by_option(description(svg)), strict=True):
        for counted, words_of_it in COUNTED.items():
            ratio = getattr(option.demand[answer.target.region], counted)
            if abs(ratio.low - 1) < 1e-6 > abs(ratio.high - 1):
                assert f"{region}, {words_of_it} 100 %, as now" in told
            else:
                assert f"{region}, {words_of_it} {100 * ratio.value:.0f} %" in told
            assert any(one == pytest.approx(ratio.value, rel=1e-5) for one in drawn)
        assert [w for w in WEIGHTINGS if f"{region}, {COUNTED[w]} " in told] == list(WEIGHTINGS)
    targets = [float(path.attrib["data-target"]) for path in read(svg).iter(f"{SVG}path") if path.get("data-target")]
    assert targets == [answer.target.ratio] * len(drawn_options(answer))


@pytest.mark.parametrize("name", list(CASES))
def test_what_changes_is_said_in_words_and_every_reason_with_it(name: str) -> None:
    answer, svg = pictured(CASES[name])
    for option, told in zip(drawn_options(answer), by_option(description(svg)), strict=True):
        for change in option.changes:
            assert f"{change.kind.replace('_', ' ').capitalize()}: {change.words}" in told
            for entry in change.entries:
                session = option.week[entry]
                row = f"{EXERCISES[session.prescription.exercise].name}, day {session.day}: "
                assert row not in told or WORDS[change.kind] in told.split(row)[1].split(". ")[0]
                if change.kind == "replaced":
                    was = CASES[name]["week"][entry]
                    taken = EXERCISES[was["prescription"]["exercise"]].name
                    assert re.search(rf"{taken}(?:, time \d that day)?, day {was['day']}: [^.]*; taken out\.", told)
        assert all(cited(reason.text) in told for reason in option.why)
    shown = " ".join(words(svg))
    assert all(cited(caution.text) in shown for caution in answer.cautions)
    assert all(reason.text in shown for reason in answer.why)


@pytest.mark.parametrize("name", list(CASES))
def test_before_is_the_present_week_and_then_are_parts_of_it(name: str) -> None:
    """Of each option: what stands before adds up to the present week, what stands then to the ratio of sizes."""
    answer, svg = pictured(CASES[name])
    root, power = read(svg), {"linear": 1, "squared": 2, "tenth_power": 10}
    before, then = defaultdict[str, list[float]](list), defaultdict[str, list[float]](list)
    bars = [rect.attrib for rect in root.iter(f"{SVG}rect") if rect.get("data-share") or rect.get("data-before")]
    for earlier, later in pairwise(bars):
        if earlier.get("data-before") and later.get("data-share"):
            before[later["data-weighting"]].append(float(earlier["data-before"]))
            then[later["data-weighting"]].append(float(later["data-share"]))
    options = drawn_options(answer)
    for weighting in WEIGHTINGS:
        # each grid has its lifts and, with more than one, its days
        wholes = round(sum(before[weighting]))
        assert wholes in {len(options), 2 * len(options)} or len(options) < wholes < 2 * len(options)
        assert sum(before[weighting]) == pytest.approx(wholes, rel=1e-4)
        ratios = [getattr(one.demand[answer.target.region], weighting).value for one in options]
        if wholes == 2 * len(options):
            wanted = 2 * sum(ratio ** power[weighting] for ratio in ratios)
            assert sum(then[weighting]) == pytest.approx(wanted, rel=2e-3, abs=1e-3)


@pytest.mark.parametrize("name", list(CASES))
def test_muscles_are_the_answers_before_and_after_at_their_floors(name: str) -> None:
    answer, svg = pictured(CASES[name])
    root = read(svg)
    changes = [(muscle, one) for option in drawn_options(answer) for muscle, one in option.muscles.items()]
    sets = [float(rect.attrib["data-sets"]) for rect in root.iter(f"{SVG}rect") if rect.get("data-sets")]
    assert sets == pytest.approx([one.after for _, one in changes], rel=1e-4)
    floors = [float(path.attrib["data-floor"]) for path in root.iter(f"{SVG}path") if path.get("data-floor")]
    assert floors == pytest.approx([one.floor for _, one in changes if one.floor is not None], rel=1e-4)
    for option, told in zip(drawn_options(answer), by_option(description(svg)), strict=True):
        for muscle, one in option.muscles.items():
            said = re.search(rf"{MUSCLES[muscle].name} [\d.]+ sets.*?(?:;|\.(?: |$))", told)
            assert said is not None
            assert ", before " in said[0]
            assert ("under the" in said[0]) == one.under_floor


def test_other_days_are_marked_where_a_lift_went_and_where_it_was() -> None:
    answer, svg = pictured(CLOSE)
    assert answer.options[-1].relief == "spacing"
    [change] = answer.options[-1].changes
    day = answer.options[-1].week[change.entries[0]].day
    assert {"moved here", f"to day {day}"} <= set(words(svg))
    assert f"day {CLOSE['week'][change.entries[0]]['day']}: " in description(svg)


def test_at_most_three_weeks_are_drawn_and_how_many_more_there_are_is_said() -> None:
    answer, svg = pictured({**EXAMPLES[0].request, "limit": 5})
    assert len(answer.options) > 3
    assert len(by_option(description(svg))) == 3
    assert f"Not drawn: {len(answer.options) - 3} more new weeks of the answer." in words(svg)


def test_where_nothing_of_the_region_is_computed_the_weeks_are_told_in_words() -> None:
    answer, svg = pictured(EXAMPLES[3].request)
    shown = " ".join(words(svg))
    assert answer.options
    assert all(change.words in shown for option in answer.options for change in option.changes)
    assert all(reason.text in shown for option in answer.options for reason in option.why)


def test_what_is_left_out_is_marked() -> None:
    week = [lift(1, "front_squat", 60), lift(3, "barbell_row", 45), lift(5, "push_up", 0)]
    answer, svg = pictured({**EXAMPLES[0].request, "week": week, "hurts": [0], "complaint": SORE_AND_RED})
    assert "left_out" in [one.kind for one in answer.options[0].changes]
    assert "Left out: Day 5: push-up is left out." in description(svg)
