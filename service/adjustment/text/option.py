"""An option in words that a coach can read aloud to the lifter, made from its numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from math import degrees
from typing import Final

from service.adjustment.consultation import CHOICE, Case, RuledOut, below_published
from service.adjustment.options.result import Outcome, hardly_loaded
from service.adjustment.prescription import Prescription
from service.adjustment.text.setup import depth_words, shin_words, technique_words
from service.intervals import Interval
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.mechanics.setups import Technique

LoadText = Callable[[Prescription], str]

_NEXT_TO_NOTHING: Final = 0.05
_EXPERIENCE: Final = frozenset({"common_practice", "design_choice"})


def reasons(found: Outcome, case: Case, load_text: LoadText) -> list[str]:
    """What is to be done, what it takes off, what it costs and what it moves elsewhere."""
    return [
        *_done(found.candidate.prescription, case, load_text),
        *_relief(found, case),
        *_moved(found, case),
        *_cost(found, case),
    ]


def named(prescription: Prescription, load_text: LoadText) -> str:
    """A prescription in one line."""
    parts = [EXERCISES[prescription.exercise].name, f"{_work(prescription)} with {load_text(prescription)}"]
    if prescription.days is not None:
        parts.append(_days(prescription.days))
    if prescription.depth is not None:
        parts.append(_inline(depth_words(prescription).split(";")[0]))
    technique = prescription.technique or Technique()
    parts.extend(_inline(text) for text in technique_words(technique, Technique()))
    if technique.shin_angle is not None:
        parts.append(f"shins about {degrees(technique.shin_angle):.0f} degrees forward at the bottom")
    parts.extend(_inline(CUES[cue].text) for cue in prescription.cues)
    if prescription.tempo is not None:
        parts.append(f"tempo {prescription.tempo}")
    if prescription.rest is not None:
        parts.append(f"rest {prescription.rest:.0f} s")
    return ", ".join(parts)


def ruled_out_reason(one: RuledOut, load_text: LoadText) -> str:
    """Why something gave no option, after the prescription that was tried, where it came to one."""
    return one.reason if one.prescription is None else f"{named(one.prescription, load_text)}: {one.reason}"


def _inline(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:].rstrip(".")


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _count(number: int, one: str) -> str:
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def _work(prescription: Prescription) -> str:
    exercise = EXERCISES[prescription.exercise]
    low, high = prescription.reps.low, prescription.reps.high
    if prescription.hold is not None:
        done = f"{_count(prescription.sets, 'hold')} of {prescription.hold:.0f} s"
    elif low == high:
        done = f"{_count(prescription.sets, 'set')} of {_count(low, 'repetition')}"
    else:
        done = f"{_count(prescription.sets, 'set')} of {low} to {high} repetitions"
    one_leg = exercise.family == "split" or exercise.stance == "single_leg"
    return f"{done} on each leg" if one_leg else done


def _days(days: int) -> str:
    return "on one day a week" if days == 1 else f"on {days} days a week"


def _done(new: Prescription, case: Case, load_text: LoadText) -> Iterator[str]:
    now = case.now
    days = "" if new.days is None else f" {_days(new.days)}"
    yield f"{EXERCISES[new.exercise].name}, {_work(new)} with {load_text(new)}{days}."
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


def _relief(found: Outcome, case: Case) -> Iterator[str]:
    one, region = found.candidate, REGIONS[case.region].name.lower()
    if one.meets_by == "session_exposure":
        spared = 100 * (1 - (1.0 if one.exposure is None else one.exposure))
        yield (
            f"Each repetition asks as much of your {region} as now; one session asks about {spared:.0f} % less, "
            "because there is less of it in one go."
        )
    elif one.meets_by == "direction_only":
        yield _direction_words(found, case, region)
    else:
        ratio = found.demand[case.region]
        less = f"about {100 * (1 - ratio.value):.0f} % less of your {region} than now"
        if case.region not in found.swept:
            yield f"Each repetition should ask {less}."
        elif found.direction[case.region] == "lower":
            yield f"Each repetition should ask {less}{_span(ratio)}."
        else:
            yield f"Each repetition may ask {less}, but that is not sure{_span(ratio)}."
        if one.exposure is not None and one.exposure > CHOICE.rise_worth_telling:
            more = 100 * (one.exposure - 1)
            yield f"Summed over a session it asks about {more:.0f} % more, because there are more repetitions."


def _direction_words(found: Outcome, case: Case, region: str) -> str:
    effect, new = found.candidate.effects[case.region], found.candidate.prescription
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


def _moved(found: Outcome, case: Case) -> Iterator[str]:
    """What other regions are asked for more."""
    for region, span in found.demand.items():
        if region == case.region or span.value <= CHOICE.rise_worth_telling:
            continue
        name = REGIONS[region].name.lower()
        sure = found.direction[region] == "higher"
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
        for region, direction in found.direction.items()
        if direction == "higher" and region not in found.demand and region != case.region
    ]
    if higher:
        yield f"It asks more of your {_listed(higher)}; how much more is not known."


def _cost(found: Outcome, case: Case) -> Iterator[str]:
    one, new = found.candidate, found.candidate.prescription
    if new.hold is None:
        yield _reserve_words(found, case)
    if one.stimulus.set_seconds is not None:
        yield f"A set lasts about {one.stimulus.set_seconds.value:.0f} s under tension."
    if new.hold is None and new.weekly_sets != case.now.weekly_sets:
        of = "The week has" if new.days is not None else "A session has"
        yield f"{of} {_count(new.weekly_sets, 'set')} instead of {case.now.weekly_sets}."
    if one.stimulus.kept < _NEXT_TO_NOTHING:
        yield "By our index so easy a set keeps next to nothing of the training effect: add repetitions once tolerated."
        return
    kept = f"{100 * one.stimulus.kept:.0f} %"
    if one.trial.untested:
        yield f"By our index this first load keeps about {kept} of the training effect; the tested one may keep more."
    else:
        yield f"By our index it keeps about {kept} of the training effect."


def _reserve_words(found: Outcome, case: Case) -> str:
    one, left = found.candidate, int(found.candidate.prescription.reserve + 0.5)
    if one.trial.untested:
        least = CHOICE.untested_reserve
        return f"The load is a careful first guess: stop each set with at least {least:g} repetitions left."
    many = "No repetition" if left == 0 else f"About {_count(left, 'repetition')}"
    if below_published(case, one.stimulus.relative_load):
        return (
            f"At least {_count(left, 'repetition')} should be left at the end of a set; now it is {case.now.reserve:g}."
        )
    if left == int(case.now.reserve + 0.5):
        return f"{many} should be left at the end of a set, as now."
    return f"{many} should be left at the end of a set; now it is {case.now.reserve:g}."
