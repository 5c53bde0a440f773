"""Every sentence of a way back says what the fields of its step say: loads, sets, demand, rises, gates and fallbacks.

Read over random ways back, after breaks too, the operation's examples and the golden one. The limits of the gate are
those of the pain-monitoring model (thomee_1997), of a real change (childs_2005) and our own.
"""

from __future__ import annotations

import re
from typing import Any, Final

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import Struct, to_builtins

from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.units import SI
from tests.support import sentences_of_week
from tests.support.asking import BY_NAME as OPERATIONS
from tests.support.asking import Answered, ask, ask_drawn, every_part
from tests.support.golden import consultation, files
from tests.support.returns import WITH_DEPTH, returns
from tests.support.sentences import NUMBER, SentenceReader, holds_load, holds_reps, shows, without_reserve

BY_NAME: Final = {region.yours: region.id for region in REGIONS.values()}
EXERCISE_OF: Final = {exercise.in_a_sentence: exercise.id for exercise in EXERCISES.values()}
USUAL_STEP: Final = 0.10
SMALLEST: Final = "One repetition a week is more than that, but there is no smaller dose."
SMALL: Final = 0.5  # percentage points; a smaller change is none

Shape = dict[str, Any]


class Stepped(Struct, frozen=True):
    """A step of an answer, the prescription before it and the original, all as a client reads them."""

    request: Shape
    answer: Answered
    number: int

    @property
    def step(self) -> Answered:
        return self.answer.steps[self.number]

    @property
    def new(self) -> Shape:
        return every_part(self.step.prescription)

    @property
    def original(self) -> Shape:
        return dict(self.request["original"])

    @property
    def before(self) -> Shape:
        """The step before, or the adjusted prescription; tempo, rest and days that it leaves out are the original's."""
        if self.number:
            return every_part(self.answer.steps[self.number - 1].prescription)
        kept = {name: self.original.get(name) for name in ("tempo", "rest", "days_per_week")}
        return {**kept, **self.request["adjusted"]}

    @property
    def region(self) -> str:
        return str(self.request["region"])

    @property
    def of_week(self) -> Answered:
        return self.step.of_week

    @property
    def allowed(self) -> float:
        return float(self.answer.step)

    @property
    def last(self) -> bool:
        return self.number + 1 == len(self.answer.steps)


WHY: Final = SentenceReader()
sentences_of_week.register(WHY)


@WHY.pattern(r"Week #: (.+?), # sets? of (.+?) repetitions?( on each leg)? with (.+?)(?:, (on .+? a week))?(, .+)?\.")
def week(told: Stepped, number: str, name: str, sets: str, reps: str, *rest: str | None) -> None:
    *_, each, load, days, more = rest
    exercise = EXERCISES[told.new["exercise"]]
    assert float(number) == told.step.week
    assert name == exercise.name
    assert float(sets) == told.new["sets"]
    holds_reps(reps, told.new["reps"])
    assert (each is not None) == (exercise.family == "split" or exercise.stance == "single_leg")
    holds_load(str(load), told.new["load"], told.new["assistance"])
    wanted = told.new["days_per_week"]
    assert days == (None if wanted is None else "on one day a week" if wanted == 1 else f"on {wanted} days a week")
    parts = without_reserve((more or "").split(", ")[1:], told.new)
    for part in parts:
        PART.hold(part, told)
    phases = [part for part in parts if part.endswith((*PHASES, "as fast as you can"))]
    assert len(phases) == sum(one != "0" for one in (told.new["tempo"] or "0").split("-"))
    assert (", rest " in str(more)) == (told.new["rest"] is not None)


@WHY.pattern(r"Week #: (.+?), # × # s with (.+?)(?:, (on .+? a week))?(, .+)?\.")
def week_of_holds(told: Stepped, number: str, name: str, sets: str, seconds: str, *rest: str | None) -> None:
    load, days, more = rest
    assert float(number) == told.step.week
    assert name == EXERCISES[told.new["exercise"]].name
    assert (float(sets), told.new["reps"]["high"]) == (told.new["sets"], 1)
    shows(seconds, told.new["hold"]["value"] * SI[told.new["hold"]["unit"]])
    holds_load(str(load), told.new["load"], told.new["assistance"])
    assert days == f"on {told.new['days_per_week']} days a week"
    for part in without_reserve((more or "").split(", ")[1:], told.new):
        PART.hold(part, told)


PART: Final = SentenceReader()


@PART.pattern(r"hold where the knees are bent about # degrees")
def held_at(told: Stepped, degrees: str) -> None:
    shows(degrees, told.new["depth"]["knee_flexion"]["value"])


@PART.pattern(r"take a (narrow|wide) stance")
def stance(told: Stepped, said: str) -> None:
    assert told.new["technique"]["stance"] == said


PHASES: Final = ("down", "at the bottom", "up", "at the top")


@PART.pattern(rf"(\d+) s ({'|'.join(PHASES)})")
def phase_part(told: Stepped, seconds: str, phase: str) -> None:
    assert seconds == told.new["tempo"].split("-")[PHASES.index(phase)]


@PART.pattern(rf"({'|'.join(PHASES)}) as fast as you can")
def fast_part(told: Stepped, phase: str) -> None:
    assert told.new["tempo"].split("-")[PHASES.index(phase)] == "X"


@PART.pattern(r"rest # s")
def rest_part(told: Stepped, seconds: str) -> None:
    shows(seconds, told.new["rest"]["value"] * SI[told.new["rest"]["unit"]])


@PART.pattern(
    r"go down only until the (?:thighs are|thigh of the front leg is) (?:(level)|# degrees (short of|below) level)"
)
def thighs_part(told: Stepped, level: str | None, degrees: str | None, way: str | None) -> None:
    angle = told.new["depth"]["thigh_below_horizontal"]["value"]
    assert level is None or abs(angle) <= 0.5
    if level is None:
        shows(str(degrees), abs(angle))
        assert way == ("short of" if angle < 0 else "below")


@PART.pattern(r"go down until the knees are bent about # degrees")
def knees_part(told: Stepped, degrees: str) -> None:
    shows(degrees, told.new["depth"]["knee_flexion"]["value"])


@PART.pattern(r"(?:go down to a box of|start with the bar raised) # cm(?: on blocks)?")
def height_part(told: Stepped, centimetres: str) -> None:
    shows(centimetres, 100 * told.new["depth"]["box_height"]["value"])


@PART.pattern(r"raise the heels by # cm")
def heels_part(told: Stepped, centimetres: str) -> None:
    shows(centimetres, 100 * told.new["technique"]["heel_lift"]["value"])


@PART.pattern("(" + "|".join(re.escape(cue.text[:1].lower() + cue.text[1:].rstrip(".")) for cue in CUES.values()) + ")")
def cue_part(told: Stepped, text: str) -> None:
    assert text.lower() in {CUES[cue].text.lower().rstrip(".") for cue in told.new["cues"]}


# --- what changes -----------------------------------------------------------------------------------------------------


def changed(told: Stepped, lever: str) -> None:
    assert lever in told.step.changed


@WHY.pattern(r"From (.+) at (.+) to (.+) at (.+)\.")
def other_lift_and_load(told: Stepped, was: str, was_load: str, now: str, now_load: str) -> None:
    other_lift(told, was, now)
    changed(told, "load")
    holds_load(was_load, told.before["load"], told.before.get("assistance"))
    holds_load(now_load, told.new["load"], told.new["assistance"])


@WHY.pattern(r"From (.+) to (.+), with the same load\.")
def same_load(told: Stepped, was: str, now: str) -> None:
    other_lift(told, was, now)
    assert kilograms(told.before) == pytest.approx(kilograms(told.new))


def other_lift(told: Stepped, was: str, now: str) -> None:
    assert (EXERCISE_OF[was], EXERCISE_OF[now]) == (told.before["exercise"], told.new["exercise"])
    assert was != now


@WHY.pattern(r"The load goes (up|down) from (body mass|.+? added to body mass|.+?) to (.+)\.")
def load(told: Stepped, way: str, was: str, now: str) -> None:
    assert {"load", "assistance"} & set(told.step.changed)
    assert "assistance" not in was + now
    holds_load(was, told.before["load"], told.before.get("assistance"))
    holds_load(now, told.new["load"], told.new["assistance"])
    assert way == ("up" if kilograms(told.new) > kilograms(told.before) else "down")


@WHY.pattern(r"There is (less|more) help: (.+) in place of (.+)\.")
def help_changed(told: Stepped, way: str, now: str, was: str) -> None:
    assert {"load", "assistance"} & set(told.step.changed)
    holds_load(was, told.before["load"], told.before.get("assistance"))
    holds_load(now, told.new["load"], told.new["assistance"])
    assert "assistance" in was + now
    assert way == ("less" if kilograms(told.new) > kilograms(told.before) else "more")


def kilograms(done: Shape) -> float:
    helped = done.get("assistance") or {"value": 0, "unit": "kg"}
    return float(done["load"]["value"] * SI[done["load"]["unit"]] - helped["value"] * SI[helped["unit"]])


@WHY.pattern(r"The range of motion is (the original's|one grade nearer to the original's|another than before)\.")
def depth(told: Stepped, said: str) -> None:
    changed(told, "range_of_motion")
    if said != "the original's":
        assert ("nearer" in said) == (told.new["exercise"] == told.before["exercise"])
    assert (said == "the original's") == (thigh(told.new) == thigh(told.original))
    assert thigh(told.new) != thigh(told.before)


def thigh(done: Shape) -> object:
    """The depth as it is stated, to a thousandth."""
    stated = {way: found for way, found in (done.get("depth") or {}).items() if found}
    return [(way, round(found["value"] * SI[found["unit"]], 3)) for way, found in stated.items()]


@WHY.pattern(r"The lift is done (in its original way again|one grade nearer to its original way)\.")
def technique(told: Stepped, said: str) -> None:
    changed(told, "technique")
    assert (said == "in its original way again") == (told.new.get("technique") == told.original.get("technique"))


@WHY.pattern(r"You leave off what you were cued to do: (.+)\.")
def cues_left(told: Stepped, said: str) -> None:
    assert left_off(told, said) <= {"equipment", "range_of_motion"}


@WHY.pattern(r"You are no longer cued to do this, and may well go on doing it: (.+)\.")
def cues_free(told: Stepped, said: str) -> None:
    """Nobody is told to press behind the head, or as wide as before, as a step ahead."""
    assert left_off(told, said) == {"technique"}


def left_off(told: Stepped, said: str) -> set[str]:
    """The levers of the cues that are said to be left."""
    changed(told, "cues")
    left = [CUES[cue] for cue in told.before.get("cues") or [] if cue not in (told.new.get("cues") or [])]
    named: set[str] = {cue.lever for cue in left if cue.text.lower().rstrip(".") in said.lower()}
    assert named
    return named


@WHY.pattern(r"Repetitions take the place of the holds of # s\.")
def hold_ends(told: Stepped, seconds: str) -> None:
    changed(told, "hold")
    shows(seconds, told.before["hold"]["value"] * SI[told.before["hold"]["unit"]])
    assert told.new["hold"] is None


@WHY.pattern(r"You are cued again: (.+)\.")
def cues_back(told: Stepped, said: str) -> None:
    changed(told, "cues")
    back = [CUES[cue].text for cue in told.new["cues"] if cue not in (told.before.get("cues") or [])]
    assert back
    assert all(text.lower().rstrip(".") in said.lower() for text in back)


@WHY.pattern(r"Each repetition is held for # s\.")
def hold(told: Stepped, seconds: str) -> None:
    changed(told, "hold")
    shows(seconds, told.new["hold"]["value"] * SI[told.new["hold"]["unit"]])


@WHY.pattern(r"The (implement|side) is the original's again\.")
def kit(told: Stepped, which: str) -> None:
    changed(told, which)
    assert told.new[which] == told.original.get(which) != told.before.get(which)


@WHY.pattern(r"# sets? a session instead of #\.")
def sets(told: Stepped, new: str, before: str) -> None:
    changed(told, "sets")
    assert (float(new), float(before)) == (told.new["sets"], told.before["sets"])


@WHY.pattern(r"Sets of (.+?) repetitions? instead of (.+)\.")
def reps(told: Stepped, new: str, before: str) -> None:
    changed(told, "reps")
    holds_reps(new, told.new["reps"])
    holds_reps(before, told.before["reps"])


@WHY.pattern(r"The tempo is (the original's|free) again\.")
def tempo(told: Stepped, which: str) -> None:
    changed(told, "tempo")
    assert told.new["tempo"] == told.original.get("tempo") != told.before.get("tempo")
    assert (which == "free") == (told.new["tempo"] is None)


@WHY.pattern(r"The rest between sets is the original's again\.")
def rest(told: Stepped) -> None:
    changed(told, "rest")


@WHY.pattern(r"# days? a week instead of #\.")
def days(told: Stepped, new: str, before: str) -> None:
    changed(told, "days")
    assert (float(new), float(before)) == (told.new["days_per_week"], told.before["days_per_week"])


# --- what it asks -----------------------------------------------------------------------------------------------------


@WHY.pattern(r"Each repetition asks about # % of what the original asks of (.+), and a session # %\.")
def demand(told: Stepped, repetition: str, region: str, session: str) -> None:
    assert told.step.evidence == "computed"
    shares(told, repetition, region, session)


@WHY.pattern(
    r"How much (.+) carries is not known in numbers; by the load it is about # % of the original, and # % in a "
    r"session\."
)
def unknown_demand(told: Stepped, region: str, repetition: str, session: str) -> None:
    assert told.step.evidence == "direction_only"
    assert repetition != "0"
    shares(told, repetition, region, session)


@WHY.pattern(
    r"How much (.+) carries is not known in numbers; with body mass alone a repetition asks what it asks in the "
    r"original, and a session # % of it\."
)
def no_load_to_go_by(told: Stepped, region: str, session: str) -> None:
    assert told.step.evidence == "direction_only"
    assert kilograms(told.new) == kilograms(told.original) == 0
    assert told.new["exercise"] == told.original["exercise"]
    shares(told, "100", region, session)


@WHY.pattern(
    r"How much (.+) carries with body mass alone against the original is not known: neither in numbers nor by a load\."
)
def nothing_to_go_by(told: Stepped, region: str) -> None:
    assert BY_NAME[region] == told.request["region"]
    assert kilograms(told.new) == 0
    assert kilograms(told.original) > 0 or told.new["exercise"] != told.original["exercise"]
    assert told.step.evidence == "direction_only"
    assert told.step.sore_region.repetition is told.step.sore_region.session is None


def shares(told: Stepped, repetition: str, region: str, session: str) -> None:
    assert BY_NAME[region] == told.request["region"]
    shows(repetition, 100 * told.step.sore_region.repetition)
    shows(session, 100 * told.step.sore_region.session)


@WHY.pattern(
    r"That is # percentage points? more than before, where # are wished for: no smaller change leads "
    r"on, so a test comes "
    r"first\."
)
def rise_over_step(told: Stepped, points: str, wished: str) -> None:
    shows(points, 100 * told.step.rise)
    assert float(wished) == pytest.approx(100 * told.answer.step)
    assert told.step.over_step
    assert told.step.rise > told.answer.step
    assert told.step.test_first.reason == "over_step" or told.before["exercise"] != told.new["exercise"]


@WHY.pattern(
    r"The load is # % of the one that the first test gives: (.+) as planned, up to (.+) if no strength was lost\."
)
def by_test(told: Stepped, share: str, low: str, high: str) -> None:
    assert told.request["weeks_off"] > 0
    assert told.answer.steps[0].test_first.reason == "after_break"
    shows(share, 100 * told.step.by_test.share)
    assert float(low.split(maxsplit=1)[0]) == pytest.approx(told.step.by_test.load.low)
    assert high.split(maxsplit=1)[0] == f"{told.step.by_test.load.high:.3g}"


@WHY.pattern(r"That is (?:(no more)|# percentage points? (more|less)) than before(?:; the plan allows #)?\.")
def rise(told: Stepped, none: str | None, points: str | None, way: str | None, allowed: str | None) -> None:
    found = 100 * told.step.rise
    if none is not None:
        assert abs(found) <= SMALL + 0.01
        return
    shows(str(points), abs(found))
    assert way == ("more" if found > 0 else "less")
    assert (allowed is not None) == (way == "more")
    if allowed is not None:
        assert float(allowed) == pytest.approx(100 * told.answer.step)
        assert told.answer.step == told.request.get("step", USUAL_STEP)
        assert found <= 100 * told.answer.step + 0.01


@WHY.pattern(r"Up to # (kg|lb) is known to be tolerated in this lift\.")
def tolerated(told: Stepped, load_: str, unit: str) -> None:
    stated = told.request["tolerated"]["load"]
    assert float(load_) * SI[unit] == pytest.approx(stated["value"] * SI[stated["unit"]])
    assert kilograms(told.new) <= stated["value"] * SI[stated["unit"]] + 1e-6
    assert told.before["exercise"] != told.new["exercise"]


@WHY.pattern(r"Over the week it comes to # % of the original\.")
def over_the_week(told: Stepped, percent: str) -> None:
    shows(percent, 100 * told.step.sore_region.week)


# --- after a break ----------------------------------------------------------------------------------------------------


@WHY.pattern(r"After the break this week allows # % of the normal repetitions(?: on at most # days)?\.")
def after_the_break(told: Stepped, percent: str, most: str | None) -> None:
    assert told.request["weeks_off"] > 0
    exceeded = reps_a_week(told.new) > float(percent) / 100 * reps_a_week(told.original) + 1e-6
    assert exceeded == (SMALLEST in [said.text for said in told.step.why])
    assert most is None or (told.new["days_per_week"] or 0) <= float(most)


@WHY.pattern(re.escape(SMALLEST))
def smallest_dose(told: Stepped) -> None:
    assert reps_a_week(told.new) == 1


def reps_a_week(done: Shape) -> float:
    reps = done["sets"] * (done["reps"]["low"] + done["reps"]["high"]) / 2
    return float(reps * (done.get("days_per_week") or 1))


@WHY.pattern(
    r"Sets times repetitions times the share of your maximum is #, below the # to # of the rule: neither its share of "
    r"the normal volume nor the step leaves room for more\."
)
def little_volume(told: Stepped, volume: str, low: str, high: str) -> None:
    shows(volume, told.step.relative_volume)
    assert told.step.relative_volume < float(low) < float(high)


# --- gates ------------------------------------------------------------------------------------------------------------

GATE: Final = SentenceReader()


@GATE.pattern(
    r"(Go on when|You are back when) # sessions in a row went well: pain up to # of 10(?:,| and) the next morning less "
    r"than # above the usual(?:, and at least # repetitions? left)?\."
)
def passed(told: Stepped, on: str, sessions: str, pain: str, morning: str, reserve: str | None) -> None:
    gate = told.step.gate
    assert (on == "You are back when") == told.last
    assert float(sessions) == gate.sessions == 2
    assert float(pain) == gate.pain_in_session_up_to == 2
    assert float(morning) == gate.next_morning_above_usual_below == 1
    assert reserve != "0"
    assert abs(float(reserve or 0) - gate.reps_in_reserve_at_least) <= 0.55


@GATE.pattern(
    r"A morning # or more above the usual, yet less than #, will do as well where it is # or less and no higher than "
    r"after one of the # sessions before\."
)
def stays(told: Stepped, morning: str, real: str, green: str, sessions: str) -> None:
    gate = told.step.gate
    assert float(morning) == gate.next_morning_above_usual_below
    assert (float(real), float(green), float(sessions)) == (2, gate.pain_in_session_up_to, gate.sessions)


@GATE.pattern(r"Pain above # and up to #, or a morning not written down: do the step again\.")
def repeated(told: Stepped, above: str, most: str) -> None:
    gate = told.step.gate
    assert (float(above), float(most)) == (gate.pain_in_session_up_to, gate.stop_above) == (2, 5)


@GATE.pattern(
    r"Pain above #: stop the lift for the day\. After that, or after a morning # or more above the usual, with "
    r"swelling or with lost sleep, go back to (the adjusted prescription|week #)\."
)
def stopped(told: Stepped, above: str, morning: str, where: str, number: str | None) -> None:
    assert float(above) == told.step.gate.stop_above == 5
    assert float(morning) == 2
    assert float(number or 0) == told.step.fallback
    assert (where == "the adjusted prescription") == (told.step.fallback == 0)


# --- the test before a step ------------------------------------------------------------------------------------------

TEST: Final = SentenceReader()


@TEST.pattern(
    r"Test first, since (?:the step is larger than the # % wished for|nothing published says what "
    r"(.+) stands for in this "
    r"lift|how much more it asks of (.+) is not known|after # weeks without training the old "
    r"maximum says little): "
    r"(.+?), 1 set of # repetitions?(?: on each leg)? with (.+?)(?:, .+)?\."
)
def trial(
    told: Stepped, step: str | None, other: str | None, region: str | None, weeks: str | None, *rest: str
) -> None:
    lift, reps, load_ = rest
    test = told.step.test_first
    stated = {"over_step": step, "untested": other, "unknown_demand": region, "after_break": weeks}
    assert [reason for reason, value in stated.items() if value is not None] == [test.reason]
    assert step is None or float(step) == pytest.approx(100 * told.answer.step)
    assert other is None or EXERCISES[told.before["exercise"]].in_a_sentence == other
    assert region is None or BY_NAME[region] == told.request["region"]
    assert weeks is None or float(weeks) == told.request["weeks_off"]
    one = every_part(test.prescription)
    assert (one["sets"], one["reps"]) == (1, {"low": float(reps), "high": float(reps)})
    assert EXERCISES[one["exercise"]].name == lift
    holds_load(load_, one["load"], one["assistance"])
    assert (one["exercise"], one["load"]) == (told.new["exercise"], told.new["load"])


@TEST.pattern(r"Test first, since the step is larger than the # % wished for: (.+?), 1 × # s with (.+?)(?:, .+)?\.")
def trial_hold(told: Stepped, step: str, lift: str, seconds: str, load_: str) -> None:
    test = told.step.test_first
    assert test.reason == "over_step"
    assert float(step) == pytest.approx(100 * told.answer.step)
    assert EXERCISES[test.prescription.exercise].name == lift
    assert test.prescription.sets == 1
    shows(seconds, test.prescription.hold.value * SI[test.prescription.hold.unit])
    holds_load(load_, to_builtins(test.prescription.load), None)


@TEST.pattern(
    r"Warm up to it with (.+), and stop at the load at which pain passes # of 10 or fewer than # "
    r"repetitions? would be left: "
    r"the load before it is the one for the day\."
)
def warmed_up(told: Stepped, loads: str, pain: str, reserve: str) -> None:
    test = told.step.test_first
    said = [float(load.split()[0]) for load in re.split(r", | and ", loads)]
    assert said == pytest.approx([load.value for load in test.warm_up])
    assert said == sorted(set(said))
    assert said[-1] < test.prescription.load.value
    assert float(pain) == told.step.gate.pain_in_session_up_to
    assert abs(float(reserve) - max(1, told.step.gate.reps_in_reserve_at_least)) <= 0.55


@TEST.pattern(
    r"Take the step when pain stayed up to # of 10 in the set(?:,| and)(?: at least # repetitions? "
    r"(?:was|were) left and)? the "
    r"next morning was less than # above the usual; otherwise stay with what was done before\."
)
def held(told: Stepped, pain: str, reserve: str | None, morning: str) -> None:
    gate = told.step.gate
    assert (float(pain), float(morning)) == (gate.pain_in_session_up_to, gate.next_morning_above_usual_below)
    assert abs(float(reserve or 0) - gate.reps_in_reserve_at_least) <= 0.55


# --- cautions with values, and how long it takes ----------------------------------------------------------------------


def hold_weeks(answer: Answered) -> None:
    steps = answer.steps
    match = re.fullmatch(
        rf"low: every gate passed the first time; high: {NUMBER} % of the weeks done twice \(our own choice\)",
        answer.weeks.interval,
    )
    assert match is not None
    assert steps[-1].week <= answer.weeks.low <= answer.weeks.high
    assert answer.weeks.high == pytest.approx(answer.weeks.low * (1 + float(match[1]) / 100), abs=1)


def hold_cautions(request: Shape, answer: Answered) -> None:
    said = {caution.code: caution.text for caution in answer.cautions}
    percent = re.search(rf"the step of {NUMBER} % a week is practice", said["no_weekly_rule"])
    assert percent is not None
    assert float(percent[1]) == pytest.approx(100 * answer.step)
    assert "{" not in "".join(said.values())
    region = REGIONS[request["region"]].name.lower()
    for code in ("change_by_direction", "load_stands_for_demand", "adjusted_asks_no_less"):
        assert code not in said or f" {region} " in said[code]
    if "change_by_direction" in said:
        lifts = [EXERCISES[request[part]["exercise"]].in_a_sentence for part in ("adjusted", "original")]
        assert said["change_by_direction"].startswith(f"Between {lifts[0]} and {lifts[1]} no ratio")


SAID_OF: Final = {
    "load": {"load", "help_changed", "other_lift_and_load"}, "range_of_motion": {"depth"},
    "technique": {"technique"}, "sets": {"sets"},
    "reps": {"reps"}, "tempo": {"tempo"}, "rest": {"rest"}, "days": {"days"},
    "cues": {"cues_left", "cues_free", "cues_back"}, "hold": {"hold_ends", "hold"}, "assistance": {"help_changed"},
    "implement": {"kit"}, "side": {"kit"},
}  # fmt: skip


def hold_every_sentence(request: Shape, answer: Answered) -> None:
    if answer.decision == "refer":
        return
    for number in range(len(answer.steps)):
        told = Stepped(request, answer, number)
        names = WHY.hold_all(told.step.why, told)
        assert names[0] in ("week", "week_of_holds")
        assert len({"demand", "unknown_demand", "no_load_to_go_by"} & set(names)) == 1
        assert len({"rise", "rise_over_step"} & set(names)) == (told.step.rise is not None)
        assert ("rise_over_step" in names) == told.step.over_step
        if told.step.test_first is not None:
            said = TEST.hold_all(told.step.test_first.text, told)
            assert (said[0].removesuffix("_hold"), said[-1], len(said)) == (
                "trial",
                "held",
                3 if told.step.test_first.warm_up else 2,
            )
        assert not told.step.over_step or told.step.test_first is not None
        another = {"same_load", "other_lift_and_load"}
        assert bool(another & set(names)) == (told.before["exercise"] != told.new["exercise"])
        for lever in set(told.step.changed) - ({"reps"} if "hold" in told.step.changed else set()):
            assert (SAID_OF.get(lever, set()) | another) & set(names), lever
        assert ("over_the_week" in names) == ("days" in told.step.changed and told.step.sore_region.week is not None)
        assert GATE.hold_all(told.step.gate.text, told) == ["passed", "stays", "repeated", "stopped"]
    hold_weeks(answer)
    hold_cautions(request, answer)


@settings(max_examples=150, deadline=None)
@given(returns(), st.sampled_from([0, 0, 2, 6]), st.sampled_from([None, -20, -5]), st.sampled_from([None, "2-0-1-0"]))
def test_every_sentence_of_a_way_back_is_what_its_fields_say(
    request: Shape, weeks_off: int, depth_: int | None, tempo_: str | None
) -> None:
    original = dict(request["original"])
    if depth_ is not None and original["exercise"] in WITH_DEPTH:
        original["depth"] = {"thigh_below_horizontal": {"value": depth_, "unit": "deg"}}
    if tempo_ is not None:
        original["tempo"] = tempo_
    request = {**request, "original": original, "weeks_off": weeks_off}
    hold_every_sentence(request, ask_drawn("return-plan", request))


def way_back(original: Shape, change: Shape, region: str, **more: object) -> Shape:
    """A way back to a prescription from the same with a change."""
    lifter = {"body_mass": {"value": 71, "unit": "kg"}, "stature": {"value": 169, "unit": "cm"}}
    done = {"sets": 3, "reps": {"low": 6, "high": 6}, "reps_in_reserve": 2, "days_per_week": 2, **original}
    return {"lifter": lifter, "original": done, "adjusted": {**done, **change}, "region": region, **more}


def quantity(value: float, unit: str) -> Shape:
    return {"value": value, "unit": unit}


_SQUAT: Final = {"exercise": "front_squat", "load": quantity(60, "kg")}
_BENCH: Final = {"exercise": "bench_press", "load": quantity(80, "kg")}
_PULL_UP: Final = {"exercise": "pull_up", "load": quantity(5, "kg")}
_HELD: Final = {"sets": 5, "reps": {"low": 1, "high": 1}, "load": quantity(30, "kg"), "hold": quantity(45, "s")}
BY_CHANGE: Final = {
    "cues": way_back(
        _BENCH, {"load": quantity(70, "kg"), "cues": ["shoulder_blades_back", "stop_above_the_chest"]}, "shoulder"
    ),
    "cues that come back": way_back(
        {**_BENCH, "cues": ["grip_wider"]}, {"load": quantity(70, "kg"), "cues": []}, "elbow"
    ),
    "hold": way_back(_SQUAT, {**_HELD, "depth": {"knee_flexion": quantity(60, "deg")}}, "knee"),
    "longer hold": way_back({**_SQUAT, **_HELD}, {"hold": quantity(20, "s")}, "knee"),
    "technique": way_back(_SQUAT, {"technique": {"heel_lift": quantity(3, "cm"), "stance": "narrow"}}, "hip"),
    "box": way_back(_SQUAT, {"depth": {"box_height": quantity(50, "cm")}, "rest": quantity(240, "s")}, "knee"),
    "blocks": way_back(
        {"exercise": "deadlift_conventional", "load": quantity(120, "kg")},
        {"exercise": "block_pull", "depth": {"box_height": quantity(20, "cm")}},
        "low_back",
    ),
    "assistance": way_back(_PULL_UP, {"load": quantity(0, "kg"), "assistance": quantity(20, "kg")}, "elbow"),
    "implement": way_back(
        {"exercise": "lunge", "load": quantity(40, "kg"), "implement": "barbell"}, {"implement": "dumbbells"}, "knee"
    ),
    "side": way_back({"exercise": "lunge", "load": quantity(40, "kg")}, {"side": "left"}, "knee"),
    "tolerated": way_back(
        {"exercise": "deadlift_conventional", "load": quantity(120, "kg")},
        {"exercise": "belt_squat", "load": quantity(60, "kg")},
        "low_back",
        tolerated={"load": quantity(80, "kg")},
    ),
}


@pytest.mark.parametrize("name", BY_CHANGE)
def test_every_change_has_its_sentence(name: str) -> None:
    hold_every_sentence(BY_CHANGE[name], ask("return-plan", BY_CHANGE[name]))


GIVEN: Final = {
    **{example.name: example.request for example in OPERATIONS["return-plan"].examples},
    **{path.stem: one.request for path in files() if (one := consultation(path)).operation == "return-plan"},
}


@pytest.mark.parametrize("name", GIVEN)
def test_every_sentence_of_a_known_way_back_is_what_its_fields_say(name: str) -> None:
    hold_every_sentence(GIVEN[name], ask("return-plan", GIVEN[name]))


PLAIN: Final = {"sets": 2, "reps": {"low": 2, "high": 2}, "reps_in_reserve": 2, "days_per_week": 2}


def test_one_of_a_thing_is_said_in_the_singular_and_a_set_to_failure_leaves_nothing_to_keep() -> None:
    original = {
        "exercise": "bench_press",
        "sets": 1,
        "reps": {"low": 1, "high": 1},
        "load": {"value": 101, "unit": "kg"},
        "reps_in_reserve": 0,
        "days_per_week": 1,
    }
    request = {
        "lifter": {"body_mass": {"value": 71, "unit": "kg"}, "stature": {"value": 169, "unit": "cm"}},
        "original": original,
        "adjusted": {**original, "load": {"value": 100, "unit": "kg"}},
        "region": "shoulder",
        "increment": {"value": 0.5, "unit": "kg"},
        "bar": {"bar": {"value": 20, "unit": "kg"}, "plates": [{"plate": {"value": 0.5, "unit": "kg"}, "pairs": 10}]},
    }
    hold_every_sentence(request, ask("return-plan", request))


def test_where_the_body_alone_is_lifted_no_share_is_said_by_the_load() -> None:
    adjusted = {**PLAIN, "exercise": "single_leg_stiff_leg_deadlift", "load": {"value": 0, "unit": "kg"}}
    request = {
        "lifter": {"body_mass": {"value": 71, "unit": "kg"}, "stature": {"value": 169, "unit": "cm"}},
        "original": {**adjusted, "sets": 4},
        "adjusted": adjusted,
        "region": "hip",
        "step": 0.3,
    }
    answer = ask("return-plan", request)
    hold_every_sentence(request, answer)
    assert any("with body mass alone a repetition" in line.text for step in answer.steps for line in step.why)
