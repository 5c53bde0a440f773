"""The figures of RESULTS.md: the service beside three practices of the trade, and which courses took long and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from math import inf
from typing import Final

from service.knowledge.catalogue import EXERCISES
from tests.science.episodes.comparison import (
    POLICIES,
    SERVICE,
    Outcome,
    Summary,
    losses,
    median_of,
    outcomes,
    percentile,
    summary,
)
from tests.science.episodes.consultations import MODELS, golden, random_case
from tests.science.episodes.episode import Episode, episode
from tests.science.episodes.measures import HORIZON
from tests.science.episodes.scripted import AllGoesWell

RANDOM: Final = 600
LONG: Final = 12.0  # [weeks]
SHOWN: Final = 25
HEAD: Final = """# Simulated courses

Written by `python -m tests.science.episodes.write`, and by nothing else. The lifters, their tolerance and how it adapts are models of our own
(constants.toml says of each constant why), frozen before any policy was run on them: the figures compare policies on these lifters, and say nothing of
what happens to people. Every policy meets the same lifters on the same days.
"""


def results() -> str:
    """The whole text."""
    well = [
        episode(case, AllGoesWell(), 2 * HORIZON) for case in (*golden("threshold"), *map(random_case, range(RANDOM)))
    ]
    fared = [one for number in range(RANDOM) for one in outcomes(random_case(number))]
    parts = [HEAD, *_when_all_goes_well(well), *_comparison(fared), *_losses(fared), *_endings(fared), *_waiting(fared)]
    return "\n".join(parts) + "\n"


def _when_all_goes_well(courses: Sequence[Episode]) -> Iterator[str]:
    """The script in which every session is green, done in full, and the next morning as usual."""
    begun = [course for course in courses if course.done]
    yield "## When all goes well"
    yield ""
    yield "Every session green and done in full, every morning as usual: what the rules themselves take. Golden consultations and random ones."
    yield ""
    yield "| consultations | courses | back | weeks, median | 95th percentile | longest |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: |"
    by_pain = {
        "pain 4": [one for one in begun if one.case.request["complaint"]["pain_in_session"] == 4],
        "all": begun,
    }
    for name, some in by_pain.items():
        weeks = sorted(one.day / 7 for one in some if one.ending == "original")
        middle, late, longest = median_of(weeks), percentile(weeks, 0.95), weeks[-1]
        yield f"| {name} | {len(some)} | {len(weeks)} | {middle:.1f} | {late:.1f} | {longest:.1f} |"
    long = sorted((one for one in begun if one.day > 7 * LONG or one.ending != "original"), key=lambda one: -one.day)
    yield ""
    yield f"Longer than {LONG:g} weeks, or not back: {len(long)}."
    if long:
        yield ""
        yield "| consultation | lift | weeks | steps | days a week | why |"
        yield "| --- | --- | ---: | ---: | ---: | --- |"
        for one in long[:SHOWN]:
            yield _long(one)
    yield ""


def _long(course: Episode) -> str:
    request = course.case.request
    changes = Counter(name for _, answer in course.reviews for name in answer["changed"])
    steps = sum(answer["decision"] == "progress" for _, answer in course.reviews)
    first = (course.visits[0].answer or {"options": [{}]})["options"][0]["prescription"]["exercise"]
    lift = EXERCISES[request["prescription"]["exercise"]].name
    told = (
        f"{lift} by way of {EXERCISES[first].in_a_sentence}" if first != request["prescription"]["exercise"] else lift
    )
    why = ", ".join(f"{name} {count} times" for name, count in changes.most_common(4))
    days = request["prescription"].get("days_per_week") or "–"
    weeks = f"{course.day / 7:.1f}" if course.ending == "original" else course.ending
    return f"| {course.case.name} | {told} | {weeks} | {steps} | {days} | {why} |"


def _comparison(fared: Sequence[Outcome]) -> Iterator[str]:
    yield "## Beside the practices of the trade"
    yield ""
    yield f"{RANDOM} random consultations, {HORIZON // 7} weeks. Back: the original done twice in a row with pain felt of 2 at most and no worse morning. On it at"
    yield "the end: the same of the last two sessions. Flare-ups: sessions with pain above 5 in them or on the next morning. Effect: stimulus of the first 12"
    yield "weeks against the original's. Who is handed over to a professional, or asks for what is refused, counts as not back, and as doing nothing from then on."
    yield ""
    yield "| response | policy | lifters | back | weeks, median | 95th percentile | on it at the end | flare-ups, mean | 95th percentile | effect, median | 5th percentile |"
    yield "| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"
    for name, some in _by_model(fared).items():
        for policy in POLICIES:
            yield f"| {name} | {policy} | {_row(summary(one for one in some if one.policy == policy))} |"
    yield ""


def _row(one: Summary) -> str:
    return (
        f"{one.lifters} | {one.back:.0%} | {_weeks(one.weeks[0])} | {_weeks(one.weeks[1])} | {one.stays:.0%} | {one.flare_ups[0]:.1f} | "
        f"{one.flare_ups[1]:g} | {one.effect[0]:.2f} | {one.effect[1]:.2f}"
    )


def _weeks(weeks: float) -> str:
    return f"{weeks:.1f}" if weeks < inf else f"> {HORIZON // 7}"


def _by_model(fared: Sequence[Outcome]) -> dict[str, list[Outcome]]:
    each = {str(model): [one for one in fared if one.case.model == model] for model in MODELS}
    return {**each, "all": list(fared)}


def _losses(fared: Sequence[Outcome]) -> Iterator[str]:
    yield "On which of weeks (median), flare-ups (mean) and effect (median) a practice does better than the service; the aim is that none does on all three:"
    yield ""
    for name, some in _by_model(fared).items():
        ours = summary(one for one in some if one.policy == SERVICE)
        for policy in POLICIES[1:]:
            lost = losses(ours, summary(one for one in some if one.policy == policy))
            verdict = "ON ALL THREE" if len(lost) == 3 else ", ".join(lost) or "none"
            yield f"- {name}, {policy}: {verdict}"
    yield ""


def _endings(fared: Sequence[Outcome]) -> Iterator[str]:
    courses = [one.course for one in fared if one.course is not None]
    counts = Counter(course.ending for course in courses)
    looks = sum(bool(course.looks) for course in courses)
    yield "## How the courses of the service ended"
    yield ""
    yield "| ending | courses |"
    yield "| --- | ---: |"
    for ending, count in counts.most_common():
        yield f"| {ending} | {count} |"
    yield ""
    yield f"In {looks} a professional looked once, and the course went on a week later with its history begun anew; the second time it ended with them."
    yield ""


def _waiting(fared: Sequence[Outcome]) -> Iterator[str]:
    """What the reviews decided, and what they waited for."""
    decided: Counter[tuple[str, str]] = Counter()
    for one in fared:
        if one.course is not None:
            decided.update((answer["decision"], answer["rule"]["id"]) for _, answer in one.course.reviews)
    total = sum(decided.values())
    yield "## What the reviews decided"
    yield ""
    yield "| decision | rule | reviews | share |"
    yield "| --- | --- | ---: | ---: |"
    for (decision, rule), count in decided.most_common():
        yield f"| {decision} | {rule} | {count:,} | {count / total:.1%} |"
    yield ""
