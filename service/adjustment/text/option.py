"""An option in words that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from service.adjustment.consultation import Case
from service.adjustment.evaluation import below_published
from service.adjustment.options.result import Outcome, hardly_loaded
from service.adjustment.prescription import Prescription
from service.adjustment.text.prescription import counted, days_words, listed, load_words, sets_words
from service.adjustment.text.setup import depth_words, shin_words, technique_words
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.knowledge.design_choices import CHOICES
from service.mechanics.setups import Technique
from service.units import MassUnit

_NEXT_TO_NOTHING: Final = 0.05
_EXPERIENCE: Final = frozenset({"common_practice", "design_choice"})


def reasons(outcome: Outcome, case: Case, unit: MassUnit) -> list[str]:
    """What is to be done, what it takes off, what it costs and what it moves elsewhere."""
    return [
        *_instructions(outcome.candidate.prescription, case, unit),
        *_relief(outcome, case),
        *_moved(outcome, case),
        *_cost(outcome, case),
    ]


def heading_words(rank: int, outcome: Outcome) -> str:
    """The levers of an option in one line.

    Args:
        rank: place in the order in which to try the options [1]
        outcome: the option
    """
    candidate = outcome.candidate
    program = "" if candidate.trial.program is None else f", {candidate.trial.program.replace('_', ' ')} program"
    return f"{rank}. Change of {listed([lever.replace('_', ' ') for lever in candidate.levers])}{program}"


def caution_facts(outcome: Outcome, case: Case) -> dict[str, str]:
    """What the texts of an option's cautions have places for."""
    one = outcome.candidate
    return {
        "reserve": f"{CHOICES.adjustments.untested_reserve:g}",
        "region": ", ".join(REGIONS[region].name.lower() for region in outcome.risen),
        "rise": ", ".join(_rise(outcome, case, region) for region in outcome.risen),
        "exposure": f"{100 * (one.exposure or 0.0):.0f} %",
        "left": f"{one.stimulus.reserve:.0f}",
        "bound": f"at least {one.stimulus.reserve:.0f} are left",
    }


def _rise(outcome: Outcome, case: Case, region: str) -> str:
    risen = f"{100 * (outcome.demand[region].value - 1):.0f} %"
    return f"{risen} of the little it is now" if hardly_loaded(case, region) else risen


def _instructions(new: Prescription, case: Case, unit: MassUnit) -> Iterator[str]:
    now = case.now
    days = "" if new.days is None else f" {days_words(new.days)}"
    yield f"{EXERCISES[new.exercise].name}, {sets_words(new)} with {load_words(new, unit)}{days}."
    if new.depth is not None and new.depth != now.depth:
        yield depth_words(new)
    usual = Technique() if new.exercise != now.exercise else now.technique or Technique()
    technique = new.technique or Technique()
    yield from technique_words(technique, usual)
    if technique.shin_angle is not None and technique.shin_angle != usual.shin_angle:
        yield shin_words(case.present.body, new)
    yield from (CUES[cue].text for cue in new.cues if cue not in now.cues)
    if new.tempo is not None and new.tempo != now.tempo and new.hold is None:
        yield f"Tempo {new.tempo}: seconds of lowering, at the bottom, of lifting, at the top."
    if new.rest is not None and new.rest != now.rest:
        yield f"Rest {new.rest:.0f} s between sets."


def _relief(outcome: Outcome, case: Case) -> Iterator[str]:
    one, region = outcome.candidate, REGIONS[case.region].name.lower()
    if one.meets_by == "session_exposure":
        spared = 100 * (1 - (1.0 if one.exposure is None else one.exposure))
        yield (
            f"Each repetition asks as much of your {region} as now; one session asks about {spared:.0f} % less, "
            "because there is less of it in one go."
        )
    elif one.meets_by == "direction_only":
        yield _direction_words(outcome, case, region)
    else:
        ratio = outcome.demand[case.region]
        less = f"about {100 * (1 - ratio.value):.0f} % less of your {region} than now"
        if case.region not in outcome.with_interval:
            yield f"Each repetition should ask {less}."
        elif outcome.direction[case.region] == "lower":
            yield f"Each repetition should ask {less}{_span(ratio)}."
        else:
            yield f"Each repetition may ask {less}, but that is not sure{_span(ratio)}."
        if one.exposure is not None and one.exposure > CHOICES.adjustments.rise_worth_telling:
            more = 100 * (one.exposure - 1)
            yield f"Summed over a session it asks about {more:.0f} % more, because there are more repetitions."


def _direction_words(outcome: Outcome, case: Case, region: str) -> str:
    effect, new = outcome.candidate.effects[case.region], outcome.candidate.prescription
    if case.region not in EXERCISES[new.exercise].regions:
        return f"It asks little or nothing of your {region}; nobody has measured how little."
    if not effect.sources:
        return f"With less load it asks less of your {region}; how much less is not computed for this region."
    if set(effect.sources) == {"statics"}:
        return f"By plain statics it asks less of your {region}; how much less is not computed."
    if _EXPERIENCE.issuperset(effect.sources):
        return f"In coaches' experience it asks less of your {region}; no measurement was found."
    return f"By what is published it asks less of your {region}; how much less for you is not known."


def _span(ratio: Interval) -> str:
    """The span of a change in words: " (two times in three between 3 and 19 % less)"; nothing where there is none."""
    low, high = round(100 * (1 - ratio.high)), min(100, round(100 * (1 - ratio.low)))
    if high - low <= 1:
        return ""
    if low < 0:
        return f" (two times in three between {-low} % more and {high} % less)"
    return f" (two times in three between {low or 'nothing'} and {high} % less)"


def _moved(outcome: Outcome, case: Case) -> Iterator[str]:
    """What other regions are asked for more."""
    for region, span in outcome.demand.items():
        if region == case.region or span.value <= CHOICES.adjustments.rise_worth_telling:
            continue
        name = REGIONS[region].name.lower()
        sure = outcome.direction[region] == "higher"
        if hardly_loaded(case, region):
            now = abs(case.present.moments[region])
            yield (
                f"It moves work to your {name}: about {now * span.value:.0f} N·m where the present lift asks only "
                f"{now:.0f}{'' if sure else ', and how much it will be for you is not sure'}. Watch how that responds."
            )
        else:
            ask = "asks" if sure else "may ask"
            doubt = "" if sure else ", though that is not sure"
            yield f"It {ask} about {100 * (span.value - 1):.0f} % more of your {name}{doubt}: watch how that responds."
    higher = [
        REGIONS[region].name.lower()
        for region, direction in outcome.direction.items()
        if direction == "higher" and region not in outcome.demand and region != case.region
    ]
    if higher:
        yield f"It asks more of your {listed(higher)}; how much more is not known."


def _cost(outcome: Outcome, case: Case) -> Iterator[str]:
    one, new = outcome.candidate, outcome.candidate.prescription
    if new.hold is None:
        yield _reserve_words(outcome, case)
    if one.stimulus.set_seconds is not None:
        yield f"A set lasts about {one.stimulus.set_seconds.value:.0f} s under tension."
    if new.hold is None and new.weekly_sets != case.now.weekly_sets:
        of = "The week has" if new.days is not None else "A session has"
        yield f"{of} {counted(new.weekly_sets, 'set')} instead of {case.now.weekly_sets}."
    if one.stimulus.kept < _NEXT_TO_NOTHING:
        yield "By our index so easy a set keeps next to nothing of the training effect: add repetitions once tolerated."
        return
    kept = f"{100 * one.stimulus.kept:.0f} %"
    if one.trial.untested:
        yield f"By our index this first load keeps about {kept} of the training effect; the tested one may keep more."
    else:
        yield f"By our index it keeps about {kept} of the training effect."


def _reserve_words(outcome: Outcome, case: Case) -> str:
    one, left = outcome.candidate, int(outcome.candidate.prescription.counted_reserve + 0.5)
    if one.trial.untested:
        least = CHOICES.adjustments.untested_reserve
        return f"The load is a careful first guess: stop each set with at least {least:g} repetitions left."
    many = "No repetition" if left == 0 else f"About {counted(left, 'repetition')}"
    if below_published(case, one.stimulus.relative_load):
        return f"At least {counted(left, 'repetition')} should be left at the end of a set; now it is {case.now.counted_reserve:g}."
    if left == int(case.now.counted_reserve + 0.5):
        return f"{many} should be left at the end of a set, as now."
    return f"{many} should be left at the end of a set; now it is {case.now.counted_reserve:g}."
