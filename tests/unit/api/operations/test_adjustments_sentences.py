"""Every sentence of a consultation says what the answer's fields say: its numbers, its directions, and nothing besides.

Read over the golden consultations and random ones. The limits of the bands are those of the pain-monitoring model
(thomee_1997, silbernagel_2007) and of a real change (childs_2005).
"""

from __future__ import annotations

import re
from typing import Any, Final

import pytest
from hypothesis import given, settings
from msgspec import Struct, UnsetType, to_builtins

from service.adjustment.text.prescription import technique_value
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.cues import CUES
from service.knowledge.design_choices import CHOICES
from service.knowledge.signs import SIGNS
from service.knowledge.substitutions import ratio_between
from service.mechanics.setups import Technique
from service.messages import message
from service.messages.setup import technique_instructions
from service.units import SI
from tests.support.asking import Answered, ask, ask_drawn, in_full, kg
from tests.support.consultations import consultations
from tests.support.golden import Consultation, consultation, files
from tests.support.sentences import SentenceReader, holds_load, holds_reps, kilograms, shows
from tests.support.sentences_of_pause import AMBER, GREEN, MOMENT, PAUSE_CHECKS, RED, highest, register, score

JOINTS: Final = {"low_back": "lumbosacral"}  # a region's joint, where it has another name
BY_NAME: Final = {region.yours: region.id for region in REGIONS.values()}
ASSUMED_RESERVE: Final = CHOICES.effort.assumed_reserve
RISE: Final = CHOICES.adjustments.rise_worth_telling
REAL = 2
SINGLE: Final = ("split", "single_leg")


class Consulted(Struct, frozen=True):
    """A request, its answer and the option that a sentence belongs to."""

    request: dict[str, Any]
    answer: Answered
    option: Answered = None

    @property
    def now(self) -> dict[str, Any]:
        return dict(self.request["prescription"])

    @property
    def new(self) -> Answered:
        return self.option.prescription

    @property
    def complaint(self) -> dict[str, Any]:
        return dict(self.request["complaint"])

    @property
    def region(self) -> str:
        return str(self.complaint["region"])

    @property
    def felt(self) -> dict[str, Any]:
        return dict(self.request["complaint"])

    @property
    def reserve(self) -> float:
        return float(self.now.get("reps_in_reserve", ASSUMED_RESERVE))

    @property
    def risen(self) -> set[str]:
        """Other regions that are asked for clearly more than now."""
        above = CHOICES.adjustments.elsewhere_rise
        return {name for name, one in self.option.demand.items() if name != self.region and one.value > above}

    def demand(self, region: str) -> Answered:
        return self.option.demand[region]


# --- why the lift is changed ------------------------------------------------------------------------------------------

DECISION: Final = SentenceReader()
register(DECISION)


@DECISION.pattern(r"(.+) hurts # of 10 in the session\.")
def pain_felt(told: Consulted, region: str, pain: str) -> None:
    assert BY_NAME[region[:1].lower() + region[1:]] == told.region
    assert float(pain) == told.request["complaint"]["pain_in_session"]


@DECISION.pattern(r"As a first step (.+) is to carry about # % of what it carries now\.")
def target(told: Consulted, region: str, percent: str) -> None:
    assert BY_NAME[region] == told.region
    shows(percent, 100 * told.answer.target.ratio)


@DECISION.pattern(
    r"By the model the load that you tolerate asks no less of (.+) than the present one, for the posture goes with the "
    r"load: another lever than load comes first, and how the lighter sets are done is worth a look\."
)
def load_is_not_the_lever(told: Consulted, region: str) -> None:
    assert BY_NAME[region] == told.region
    assert "tolerated" in told.felt
    assert told.answer.target.ratio in (0.75, 0.9)  # our own choice


@DECISION.pattern(
    r"As far as can be computed the (.+) asks next to nothing of (.+): how much less an option asks of it cannot be "
    r"said\. Less of the lift is what practice tries\."
)
def asks_next_to_nothing(told: Consulted, lift: str, region: str) -> None:
    of_the_present_lift(told, lift, region)
    assert told.region in EXERCISES[told.now["exercise"]].regions


@DECISION.pattern(
    r"The (.+) is not known to load (.+): how much less an option asks of it cannot be said\. Less of the lift is what "
    r"practice tries, for another lift hardly spares it more\."
)
def not_known_to_load(told: Consulted, lift: str, region: str) -> None:
    of_the_present_lift(told, lift, region)
    assert told.region not in EXERCISES[told.now["exercise"]].regions
    assert all(one.prescription.exercise == told.now["exercise"] for one in told.answer.options)


def of_the_present_lift(told: Consulted, lift: str, region: str) -> None:
    assert EXERCISES[told.now["exercise"]].in_a_sentence == lift.lower()
    assert BY_NAME[region] == told.region
    assert all(told.region not in one.demand for one in told.answer.options)


@DECISION.pattern(
    r"Make sure first that it is this lift that hurts, where and in which part of it\. If less of it does not help "
    r"(.+), have a doctor or physical therapist look at it\."
)
def confirm_the_complaint(told: Consulted, region: str) -> None:
    assert BY_NAME[region] == told.region


@DECISION.pattern(
    r"With the feet wide and turned out the groin does much of the lifting and holds the width: a narrower stance "
    r"comes sooner than the same lift lighter\."
)
def held_wide(told: Consulted) -> None:
    assert told.region == "groin"
    assert told.now["exercise"] == "deadlift_sumo"


@DECISION.pattern(
    r"In a bent-over row the low back holds the trunk up and is not what the row is for: a row that carries the trunk "
    r"comes soon\."
)
def trunk_held_up(told: Consulted) -> None:
    assert told.region == "low_back"
    assert told.now["exercise"] == "barbell_row"


@DECISION.pattern(
    r"The surest relief stands first\. Of what is as sure, what keeps most of the training effect, less something for "
    r"each further change and for what is unfamiliar: a smaller change may stand later\."
)
def order_of_options(told: Consulted) -> None:
    assert [one.rank for one in told.answer.options] == list(range(1, len(told.answer.options) + 1))


@DECISION.pattern(r"Try one option at a time, the first one first, and let the next morning judge it\.")
def options(told: Consulted) -> None:
    assert told.answer.options


@DECISION.pattern(
    r"Nothing that may be changed is known to do that: allow more changes, or leave the lift out for now\."
)
def no_option(told: Consulted) -> None:
    assert not told.answer.options
    assert told.answer.tier != "red"


@DECISION.pattern(
    r"Leave this lift out until the pain is # of 10 or less and the mornings are as usual, since nothing of it is sure "
    r"to ask (.+) for little enough; train meanwhile what does not load (.+)\."
)
def nothing_sure(told: Consulted, limit: str, region: str, same: str) -> None:
    assert region == same
    assert not told.answer.options
    assert told.answer.tier == "red"
    assert float(limit) == AMBER
    assert BY_NAME[region] == told.region


@DECISION.pattern(
    r"No bar was stated, and one of # (kg|lb) was taken: a lighter bar may allow less of this lift\. .+\."
)
def lighter_bar(told: Consulted, bar: str, unit: str) -> None:
    assert not told.answer.options
    assert EXERCISES[told.now["exercise"]].bar
    assert "bar" not in told.request.get("constraints", {}).get("gym", {})
    assert (unit, float(bar)) == (told.now["load"]["unit"], {"kg": 20, "lb": 45}[unit])


@DECISION.pattern(
    r"At # of 10 or less ask again: more than less load may be tried then, and as things stand this would come first\. "
    r"(.+\.)"
)
def first_later(told: Consulted, limit: str, change: str) -> None:
    assert not told.answer.options
    assert told.answer.tier == "red"
    assert float(limit) == AMBER
    scores = ("pain_in_session", "pain_next_morning")
    felt = {name: min(value, AMBER) if name in scores else value for name, value in told.felt.items()}
    milder = ask("adjustments", in_full(told.request | {"complaint": felt, "limit": 1}))
    assert milder.tier == "amber"
    assert change in [one.text for one in milder.options[0].why]


@DECISION.pattern(rf"The highest pain, # of 10 {MOMENT}, is not above #: training goes on as it is\.")
def green(told: Consulted, pain: str, moment: str, limit: str) -> None:
    assert told.answer.decision == "no_change_needed"
    assert float(pain) == score(told, moment) == highest(told) <= float(limit) == GREEN


@DECISION.pattern(r"Ask again if it is above # in a session, at rest or the next morning, or # or more above .+ then\.")
def ask_again(_: Consulted, *limits: str) -> None:
    assert [float(one) for one in limits] == [GREEN, REAL]


@DECISION.pattern(rf"Pain of # of 10 {MOMENT} is above #: stop this lift for today\.")
def stop_today(told: Consulted, pain: str, moment: str, limit: str) -> None:
    assert told.answer.tier == "red"
    assert RED >= float(pain) == score(told, moment) == highest(told) > float(limit) == AMBER


@DECISION.pattern(
    r"Pain of # of 10 the next morning is # above the usual, a real rise on top of pain above #: stop this lift for "
    r"today\."
)
def stop_today_by_rise(told: Consulted, pain: str, rise: str, limit: str) -> None:
    assert told.answer.tier == "red"
    assert float(pain) == told.felt["pain_next_morning"]
    shows(rise, told.felt["pain_next_morning"] - told.felt["usual_pain"])
    assert float(rise) >= REAL
    assert AMBER >= highest(told) > float(limit) == GREEN


@DECISION.pattern(r"From the next session on only what is sure and familiar: this lift as you know it with less .+\.")
def sure_and_familiar(told: Consulted) -> None:
    assert told.answer.tier == "red"
    for option in told.answer.options:
        assert option.prescription.exercise == told.now["exercise"]
        assert kilograms(option.prescription.load) < kilograms(told.now["load"]) or option.prescription.assistance
        span = option.demand.get(told.region)
        if span is not None:
            assert span.value <= told.answer.target.ratio + 1e-6
        if span is None or span.low == span.high:
            assert option.meets_by != "session_exposure"
            assert kilograms(option.prescription.load) < kilograms(told.now["load"]) or option.prescription.assistance
        else:
            assert span.high < CHOICES.adjustments.sure_below


RULE: Final = SentenceReader()
OF_THE_STEP: Final = r"a first step to # % of the present demand \(practice, our own choice\)"


@RULE.pattern(rf"pain of # {MOMENT}, the highest score, is above # and up to #: {OF_THE_STEP}")
def by_the_highest_score(told: Consulted, pain: str, moment: str, above: str, most: str, percent: str) -> None:
    assert (float(above), float(most)) == ((AMBER, RED) if told.answer.tier == "red" else (GREEN, AMBER))
    assert float(above) < float(pain) == score(told, moment) == highest(told) <= float(most)
    hold_first_step(told, percent)


@RULE.pattern(
    r"pain of # the next morning is # above the usual, a real rise, which counts as pain above # and up to #: "
    rf"{OF_THE_STEP}"
)
def by_a_rise(told: Consulted, pain: str, rise: str, above: str, most: str, percent: str) -> None:
    assert (float(above), float(most)) == ((AMBER, RED) if told.answer.tier == "red" else (GREEN, AMBER))
    assert float(pain) == told.felt["pain_next_morning"]
    shows(rise, told.felt["pain_next_morning"] - told.felt["usual_pain"])
    assert highest(told) <= float(above)
    hold_first_step(told, percent)


@RULE.pattern(rf"the load that is tolerated asks no less by the model and sets no target: {OF_THE_STEP}")
def beside_what_is_tolerated(told: Consulted, percent: str) -> None:
    assert "tolerated" in told.felt
    hold_first_step(told, percent)


@RULE.pattern(r"the computed demand of the load that the lifter tolerates")
def by_what_is_tolerated(told: Consulted) -> None:
    assert "tolerated" in told.felt


def hold_first_step(told: Consulted, percent: str) -> None:
    assert float(percent) == (75 if told.answer.tier == "red" else 90)  # our own choice


# --- how the complaint is told ----------------------------------------------------------------------------------------


@DECISION.pattern(
    r"It came on suddenly: before any of this ask about the # signs? of a fresh injury of (.+)\. With any of them "
    r"this is for a doctor and not for training\."
)
def fresh_injury(told: Consulted, count: str, region: str) -> None:
    assert told.complaint["onset"] == "sudden"
    assert BY_NAME[region] == told.region
    sore = {told.region, *told.complaint.get("also", [])}
    signs = [SIGNS[sign] for sign in told.answer.signs_to_ask]
    assert len(signs) == float(count) > 0
    assert all(not sign.regions or sore & set(sign.regions) for sign in signs)


@DECISION.pattern(r"It hurts at the (bottom|top) of the movement: .+ sooner.*\.")
def at_an_end(told: Consulted, end: str) -> None:
    assert told.complaint["painful_range"] == end


@DECISION.pattern(r"It hurts in the middle of the movement or all the way: a cut range comes later, for .+\.")
def all_the_way(told: Consulted) -> None:
    assert told.complaint["painful_range"] in ("middle", "whole")


@DECISION.pattern(r"It hurts with (the load|the amount|the range of motion|speed)(?:, and a swing .+)?: .+ sooner.*\.")
def provoked(told: Consulted, what: str) -> None:
    word = {"the load": "load", "the amount": "volume", "the range of motion": "range", "speed": "speed"}[what]
    assert word in told.complaint["provoked_by"]


@DECISION.pattern(r"It came on suddenly: the lift that is known comes sooner than an unfamiliar one\.")
def known_lift(told: Consulted) -> None:
    assert told.complaint["onset"] == "sudden"


@DECISION.pattern(
    r"No more than now may be asked of (.+) either, and what takes something off there as well comes sooner\."
)
def elsewhere_too(told: Consulted, regions: str) -> None:
    assert [BY_NAME[one] for one in all_named(regions)] == told.complaint["also"]


def all_named(regions: str) -> list[str]:
    """Regions in words, as "hip" or "hip and knee"; a name may have an "and" of its own."""
    first = next(name for name in sorted(BY_NAME, key=len, reverse=True) if regions.startswith(name))
    rest = regions[len(first) :].removeprefix(" and ")
    return [first, *([rest] if rest else [])]


@DECISION.pattern(
    r"It has lasted # weeks: after # without getting better a doctor or physical therapist should look at it, whatever "
    r"is changed here\."
)
def lasting(told: Consulted, weeks: str, limit: str) -> None:
    assert float(weeks) == told.complaint["weeks"] >= CHOICES.complaint.weeks == float(limit)


# --- what is done -----------------------------------------------------------------------------------------------------

WHY: Final = SentenceReader()


@WHY.pattern(r"On average (.+) carries less than # % of what it carries now \(five times in six\)\.")
def carries_at_most_on_average(told: Consulted, region: str, percent: str) -> None:
    """Repetitions differ by more than their average does."""
    assert told.answer.tier == "red"
    assert BY_NAME[region] == told.region
    ratio = told.demand(told.region)
    assert 100 * ratio.value - 0.5 <= float(percent) <= min(90.0, 100 * ratio.high + 0.5)


@WHY.pattern(
    r"(?:Part of that is the light start|The light start takes this off, not the change): # (\w+), which stands for "
    r"the present load, asks about # % of now\."
)
def start_load(told: Consulted, load: str, unit: str, percent: str) -> None:
    """A heavier load of the same lift asks for more; that of a lift that relieves by itself still for less than now."""
    ratio = told.demand(told.region)
    assert (told.new.exercise, told.new.implement) != (told.now["exercise"], told.now.get("implement"))
    assert float(percent) >= 100 * ratio.value - 1
    assert unit == told.new.load.unit
    assert float(load) > told.new.load.value


@WHY.pattern(r"However much of your own weight counts with the load, (.+) carries at most # % of what it carries now\.")
def carries_at_most(told: Consulted, region: str, percent: str) -> None:
    """Statics, once more: between the ratio of the loads and that of the loads with the whole body."""
    assert told.answer.tier == "red"
    assert BY_NAME[region] == told.region
    assert float(percent) < 90
    body, loads = (
        kilograms(told.request["lifter"]["body_mass"]),
        [kilograms(one) for one in (told.new.load, told.now["load"])],
    )
    if told.new.assistance is None and "assistance" not in told.now and loads[0]:
        assert 100 * loads[0] / loads[1] - 1 <= float(percent) <= 100 * (loads[0] + body) / (loads[1] + body) + 1


@WHY.pattern(
    r"(.+), # (sets? of|×) (#|# to #|# s)( repetitions?)?( on each leg)? with (.+?)( on (?:one day|\d+ days) a week)?\."
)
def prescription(told: Consulted, name: str, sets: str, kind: str, done: str, *rest: str | None) -> None:
    *_, each, load, days = rest
    exercise = EXERCISES[told.new.exercise]
    assert exercise.name == name
    assert float(sets) == told.new.sets
    if told.new.hold is not None:
        assert kind == "×"
        shows(done.removesuffix(" s"), told.new.hold.value)
    else:
        assert kind == ("sets of" if told.new.sets > 1 else "set of")
        holds_reps(done, told.new.reps)
    assert (each is not None) == (exercise.family == "split" or exercise.stance == "single_leg")
    holds_load(str(load), told.new.load, told.new.assistance)
    holds_days(days, told.new.days_per_week)


def holds_days(said: str | None, days: int | None) -> None:
    if said is None:
        assert days is None
    else:
        assert said.strip() == ("on one day a week" if days == 1 else f"on {days} days a week")


@WHY.pattern(r"Hold one in each hand, with the arms hanging at your sides\.")
def at_sides(told: Consulted) -> None:
    assert told.new.implement == "dumbbells"


@WHY.pattern(r"Hold it upright before the chest with both hands\.")
def before_chest(told: Consulted) -> None:
    assert told.new.implement in ("one_dumbbell", "kettlebell")
    assert EXERCISES[told.new.exercise].family == "split"


@WHY.pattern(r"Let it rest on the shoulders, with the elbows forward\.")
def on_shoulders(told: Consulted) -> None:
    assert told.new.exercise == "front_squat"
    assert told.new.implement in ("dumbbells", "kettlebell")


def depth(told: Consulted) -> Answered:
    assert told.new.depth is not None
    return told.new.depth


@WHY.pattern(
    r"(?:Go down only until the (thighs are|thigh of the front leg is)|Use a step at which the thigh of the working "
    r"leg (starts)) (level|# degrees (above|short of|below) level)(?:; a box of that height helps)?\."
)
def thighs(told: Consulted, who: str | None, starts: str | None, level: str, degrees: str, way: str | None) -> None:
    angle = depth(told).thigh_below_horizontal
    assert angle.unit == "deg"
    if level == "level":
        assert abs(angle.value) <= 0.5
    else:
        shows(degrees, abs(angle.value))
        assert way == ("below" if angle.value >= 0 else "above" if starts else "short of")
    family = EXERCISES[told.new.exercise].family
    assert (starts is not None) == (told.new.exercise == "step_up")
    assert starts or (who == "thigh of the front leg is") == (family == "split")


@WHY.pattern(r"(?:Hold where|Go down until) the knees are bent about # degrees\.")
def knees_bent(told: Consulted, degrees: str) -> None:
    shows(degrees, depth(told).knee_flexion.value)


@WHY.pattern(r"(?:Use a step of|Go down to a box of|Start with the bar raised) # cm(?: on blocks)?\.")
def height(told: Consulted, centimetres: str) -> None:
    raised: Answered = depth(told).box_height
    shows(centimetres, 100 * raised.value * SI[raised.unit])


@WHY.pattern(r"Stop # cm above the (?:lowest point of the full range\.|chest; a board or pins help\.)")
def above_bottom(told: Consulted, centimetres: str) -> None:
    raised: Answered = depth(told).above_bottom
    shows(centimetres, 100 * raised.value * SI[raised.unit])


@WHY.pattern(r"Take a grip with # cm between the middles of the hands\.")
def grip(told: Consulted, centimetres: str) -> None:
    shows(centimetres, 100 * technique(told, "grip_width"))
    assert technique(told, "grip_width") != technique_now(told, "grip_width")


@WHY.pattern(r"Keep the wrists straight\.")
def wrists(told: Consulted) -> None:
    assert told.new.technique.wrist_bend.value == 0 < technique_now(told, "wrist_bend")


def technique(told: Consulted, name: str) -> float:
    """A length of the option's technique [m], nil where it is as usual."""
    length: Answered = getattr(told.new.technique, name, None)
    return float(length.value * SI[length.unit]) if hasattr(length, "value") else 0.0


def technique_now(told: Consulted, name: str) -> float:
    length = told.now.get("technique", {}).get(name)
    return 0.0 if length is None else float(length["value"] * SI[length["unit"]])


@WHY.pattern(r"Raise the heels by # cm\.")
def heels(told: Consulted, centimetres: str) -> None:
    shows(centimetres, 100 * technique(told, "heel_lift"))


@WHY.pattern(r"Keep the heels flat\.")
def heels_flat(told: Consulted) -> None:
    assert technique(told, "heel_lift") == 0 < technique_now(told, "heel_lift")


@WHY.pattern(r"Take a (?:stance of (shoulder) width|(wide|narrow) stance)\.")
def stance(told: Consulted, *ways: str | None) -> None:
    [said] = [one for one in ways if one]
    assert said == (told.new.technique.stance if told.new.technique else "shoulder")
    before = told.now.get("technique", {}).get("stance", "shoulder")
    assert said != before or told.new.exercise != told.now["exercise"]


@WHY.pattern(r"Keep the bar (over|# cm (ahead of|behind)) the middle of the foot\.")
def bar_place(told: Consulted, said: str, centimetres: str | None, way: str | None) -> None:
    drift = 100 * technique(told, "bar_forward_of_midfoot")
    if said == "over":
        assert abs(drift) <= 0.5
    else:
        shows(str(centimetres), abs(drift))
        assert way == ("ahead of" if drift > 0 else "behind")


@WHY.pattern(
    r"Stand with the feet (?:as far apart from front to back as usual|# cm apart from front to back: from the middle "
    r"of the front foot to the ball of the back one)\."
)
def feet_apart(told: Consulted, centimetres: str | None) -> None:
    spacing = technique(told, "foot_spacing")
    assert bool(spacing) == (centimetres is not None)
    if centimetres is not None:
        shows(centimetres, 100 * spacing)


@WHY.pattern(r"Let the trunk lean (?:as usual|# degrees forward at the bottom)\.")
def trunk_leaning(told: Consulted, degrees_forward: str | None) -> None:
    if degrees_forward is not None:
        shows(degrees_forward, technique(told, "trunk_lean") / SI["deg"])


@WHY.pattern(
    r"(Let the knees come further forward|Keep the knees further back): shins about # degrees forward of upright at "
    r"the bottom, where # degrees are usual\."
)
def shins(told: Consulted, way: str, shin: str, usual: str) -> None:
    found = told.new.technique.shin_angle
    shows(shin, found.value)
    setup: dict[str, Any] = {"label": "usual", "exercise": told.new.exercise, "load": to_builtins(told.new.load)}
    if told.new.depth is not None:
        setup["depth"] = to_builtins(told.new.depth)
    setup["technique"] = {
        name: to_builtins(value)
        for name in ("heel_lift", "stance", "bar_forward_of_midfoot", "foot_spacing")
        if (value := getattr(told.new.technique, name)) and not isinstance(value, UnsetType)
    }
    [one] = ask("joint-demand", {"lifter": told.request["lifter"], "setups": [setup]}).setups
    before = one.posture.shin_angle.value
    shows(usual, before)
    assert way == ("Let the knees come further forward" if found.value > before else "Keep the knees further back")


@WHY.pattern(f"({'|'.join(re.escape(cue.text) for cue in CUES.values())})")
def cue(told: Consulted, text: str) -> None:
    assert text in [CUES[one].text for one in told.new.cues] or text in told.new.cues


@WHY.pattern(r"Tempo (\S+): seconds of lowering, at the bottom, of lifting, at the top\.")
def tempo(told: Consulted, said: str) -> None:
    assert said == told.new.tempo != told.now.get("tempo")


@WHY.pattern(r"Rest # s between sets\.")
def rest(told: Consulted, seconds: str) -> None:
    shows(seconds, told.new.rest.value * SI[told.new.rest.unit])
    before = told.now.get("rest")
    assert before is None or told.new.rest.value * SI[told.new.rest.unit] != before["value"] * SI[before["unit"]]


def on_the_sore_side(told: Consulted, side: str, other: str) -> None:
    assert (told.new.side, {side, other}) == (side, {"left", "right"})
    assert told.complaint["side"] == side
    lift = EXERCISES[told.new.exercise]
    assert lift.one_arm or lift.family == "split" or lift.stance == "single_leg"


# --- what it takes off ------------------------------------------------------------------------------------------------


@WHY.pattern(r"Each repetition asks as much of (.+) as now; a session about # % less, as there is less of it\.")
def less_a_session(told: Consulted, region: str, percent: str) -> None:
    assert BY_NAME[region] == told.region
    assert told.option.meets_by == "session_exposure"
    assert told.option.direction[told.region] == "no_clear_difference"
    if told.option.session_exposure is not None:
        shows(percent, 100 * (1 - told.option.session_exposure))


@WHY.pattern(
    r"Each repetition and each session ask as much of (.+) as now; the week asks about # % less, and with # days? "
    r"a week there can be # days from one to the next\. More it does not do\."
)
def less_a_week(told: Consulted, region: str, percent: str, days: str, apart: str) -> None:
    assert BY_NAME[region] == told.region
    assert told.option.meets_by == "week_exposure"
    assert float(days) == told.new.days_per_week < told.now["days_per_week"]
    assert told.new.sets == told.now["sets"]
    shows(percent, 100 * (1 - told.new.days_per_week / told.now["days_per_week"]))
    assert float(apart) * float(days) <= 7


@WHY.pattern(r"Each repetition (should|may) ask about # % less of (.+) than now(, but that is not sure)?( \(.+\))?\.")
def less_a_repetition(
    told: Consulted, how: str, percent: str, region: str, unsure: str | None, span: str | None
) -> None:
    assert told.option.meets_by == "peak"
    assert BY_NAME[region] == told.region
    ratio = told.demand(told.region)
    shows(percent, 100 * (1 - ratio.value))
    assert ratio.value <= told.answer.target.ratio + 1e-5
    sure = told.option.direction[told.region] == "lower"
    assert (how, unsure is None) == (("should", True) if sure else ("may", False))
    holds_span(span, ratio)


@WHY.pattern(r"What it eases at (.+) is posture; the moment stays as it is\.")
def posture_at_one_moment(told: Consulted, region: str) -> None:
    ratio = holds_posture(told, region)
    assert 0.99 <= ratio.value <= 1.0 + 1e-6


@WHY.pattern(
    r"What it eases at (.+) is posture and not the moment, which is not known to fall "
    r"\(two times in three between # and # % of now\)\."
)
def posture_not_moment(told: Consulted, region: str, least: str, most: str) -> None:
    ratio = holds_posture(told, region)
    shows(least, 100 * ratio.low)
    shows(most, 100 * ratio.high)


def holds_posture(told: Consulted, region: str) -> Answered:
    """A posture alone is eased, of a moment that is no larger and not sure to fall as far as wanted."""
    assert BY_NAME[region] == told.region == "shoulder"
    assert told.option.meets_by == "posture"
    assert "posture_not_moment" in told.option.cautions
    assert told.demand(told.region).value <= 1.0 + 1e-6
    return told.demand(told.region)


def arms(told: Consulted) -> list[Answered]:
    """Postures of the arm now and in the option, as joint-demand has them."""
    new = {name: value for name, value in to_builtins(told.new).items() if name in SETUP}
    old = {name: value for name, value in told.now.items() if name in SETUP}
    setups = [{**one, "label": label} for label, one in (("now", old), ("new", new))]
    answer = ask("joint-demand", {"lifter": told.request["lifter"], "setups": setups})
    return [one.arm.posture for one in answer.setups]


SETUP: Final = ("exercise", "load", "assistance", "implement", "depth", "technique")


@WHY.pattern(r"Your upper arm goes some # degrees (less far|further) behind the body(: watch how that responds)?\.")
def behind_the_body(told: Consulted, degrees: str, way: str, watched: str | None) -> None:
    now, new = (one.behind_the_body.value for one in arms(told))
    assert (way == "less far") == (now > new) == (watched is None)
    assert 10 - 0.5 <= float(degrees) <= abs(now - new) + 0.5  # of which so much is sure


@WHY.pattern(
    r"Your upper arm is raised some # degrees (less far|further) into the range from 70 to 120 degrees, where there is "
    r"least room under the acromion(: watch how that responds)?\."
)
def raised(told: Consulted, degrees: str, way: str, watched: str | None) -> None:
    now, new = (min(max(one.elevation_high.value, 70), 120) for one in arms(told))
    assert (way == "less far") == (now > new) == (watched is None)
    shows(degrees, abs(now - new))


@WHY.pattern(
    r"Raised so far, your upper arm is turned outward some # degrees (less|more)(: watch how that responds)?\."
)
def turned(told: Consulted, degrees: str, way: str, watched: str | None) -> None:
    now, new = (0 if one.outward_rotation is None else max(0, one.outward_rotation.value) for one in arms(told))
    assert (way == "less") == (now > new) == (watched is None)
    shows(degrees, abs(now - new))


def holds_span(said: str | None, ratio: Answered) -> None:
    """Two of three lifters: the least and the most that is taken off, the least perhaps being more than now."""
    least, most = 100 * (1 - ratio.high), min(100.0, 100 * (1 - ratio.low))
    if said is None:
        assert most - least <= 2
        return
    match = re.fullmatch(r" \(two times in three between (nothing|\d+ % more|\d+) and (\d+) % less\)", said)
    assert match is not None, said
    low, high = match.groups()
    shows(high, most)
    if low == "nothing":
        assert abs(least) <= 0.5001
    elif low.endswith(" % more"):
        shows(low.removesuffix(" % more"), -least)
    else:
        shows(low, least)


@WHY.pattern(r"Summed over a session it asks about # % more, because there are more repetitions\.")
def more_a_session(told: Consulted, percent: str) -> None:
    shows(percent, 100 * (told.option.session_exposure - 1))
    assert reps_a_session(told.new.sets, told.new.reps) > reps_a_session(told.now["sets"], told.now["reps"])


def reps_a_session(sets: int, reps: Answered) -> float:
    low, high = (reps["low"], reps["high"]) if isinstance(reps, dict) else (reps.low, reps.high)
    return float(sets * (low + high) / 2)


def only_lower(told: Consulted, region: str) -> None:
    assert BY_NAME[region] == told.region
    assert told.option.meets_by == "direction_only"
    assert told.option.direction[told.region] == "lower"
    assert told.region not in told.option.demand


@WHY.pattern(r"It asks little or nothing of (.+); nobody has measured how little\.")
def hardly_loads(told: Consulted, region: str) -> None:
    only_lower(told, region)
    assert told.region not in EXERCISES[told.new.exercise].regions


@WHY.pattern(
    r"It (probably )?asks less of (.+), and (.+) is a part of what works there; (for you that is not sure, "
    r"and )?how much less that part gets cannot be told apart\."
)
def less_of_the_whole(told: Consulted, probably: str | None, whole: str, region: str, unsure: str | None) -> None:
    assert BY_NAME[region] == told.region
    assert REGIONS[told.region].part_of == BY_NAME[whole]
    assert REGIONS[told.region].measure == "direction"
    assert (told.option.meets_by, told.region in told.option.demand) == ("direction_only", False)
    ratio, way = told.option.demand[BY_NAME[whole]], told.option.direction[told.region]
    assert ratio.value <= told.answer.target.ratio + 1e-5
    assert way == told.option.direction[BY_NAME[whole]]
    assert (probably is None) == (unsure is None) == (way == "lower")


@WHY.pattern(
    r"With the load that stands for the present one no clear difference is known for (.+); with less it asks "
    r"less, how much less nobody measured\."
)
def less_below_own_load(told: Consulted, region: str) -> None:
    assert BY_NAME[region] == told.region
    assert told.option.meets_by == "direction_only"
    ratio = ratio_between(told.now["exercise"], told.new.exercise)
    assert ratio is not None
    assert kilograms(told.new.load) < ratio.ratio * kilograms(told.now["load"])


@WHY.pattern(r"With less load it asks less of (.+); how much less is not computed for this region\.")
def less_with_less_load(told: Consulted, region: str) -> None:
    only_lower(told, region)
    assert told.new.exercise == told.now["exercise"]
    assert lifted(told.new) < kilograms(told.now["load"]) - kilograms_or_none(told.now.get("assistance"))


def lifted(new: Answered) -> float:
    return kilograms(new.load) - (0.0 if new.assistance is None else kilograms(new.assistance))


def kilograms_or_none(mass: Answered) -> float:
    return 0.0 if mass is None else kilograms(mass)


@WHY.pattern(
    r"(By plain statics|In coaches' experience|By what is published) it asks less of (.+?); (?:how much less is "
    r"not computed|no measurement was found|how much less for you is not known)\."
)
def less_by(told: Consulted, by: str, region: str) -> None:
    only_lower(told, region)
    sources = set(told.option.basis.sources)
    assert by != "By plain statics" or "statics" in sources
    assert by != "In coaches' experience" or sources & {"common_practice", "design_choice"}
    published = sources - {"statics", "common_practice", "design_choice"}
    assert by != "By what is published" or published


@WHY.pattern(
    r"It changes the posture of (.+) and no moment that is computed; (in coaches' experience|by what is published) "
    r"that eases it, (?:and no measurement was found|how much for you is not known)\."
)
def posture_by(told: Consulted, region: str, by: str) -> None:
    only_lower(told, region)
    added = set(told.new.cues) - set(told.now.get("cues", ()))
    assert any(CUES[cue].postural for cue in added)
    published = set(told.option.basis.sources) - {"statics", "common_practice", "design_choice"}
    assert by == "in coaches' experience" or published


# --- what it moves elsewhere ------------------------------------------------------------------------------------------


@WHY.pattern(
    r"It moves work to (.+): about # N·m where the present lift asks only # N·m(, and how much it will be for you "
    r"is not sure)?\. Watch how that responds\."
)
def moved(told: Consulted, region: str, newtons: str, before: str, unsure: str | None) -> None:
    name = BY_NAME[region]
    present = abs(told.answer.baseline.moments[JOINTS.get(name, name)].value)
    shows(before, present)
    assert float(newtons) == pytest.approx(present * told.demand(name).value, rel=1e-3, abs=0.51)
    risen(told, name, sure=unsure is None)


@WHY.pattern(r"It (asks|may ask) about # % more of (.+?)(, though that is not sure)?: watch how that responds\.")
def more_elsewhere(told: Consulted, ask_: str, percent: str, region: str, unsure: str | None) -> None:
    shows(percent, 100 * (told.demand(BY_NAME[region]).value - 1))
    assert (ask_ == "asks") == (unsure is None)
    risen(told, BY_NAME[region], sure=unsure is None)


def risen(told: Consulted, region: str, *, sure: bool) -> None:
    assert region != told.region
    assert told.demand(region).value > 1
    assert (told.option.direction[region] == "higher") == sure


@WHY.pattern(r"It asks more of (.+); how much more is not known\.")
def more_of_unknown_size(told: Consulted, regions: str) -> None:
    assert [BY_NAME[one] for one in re.split(", | and ", regions)] == [
        region
        for region, direction in told.option.direction.items()
        if direction == "higher" and region not in told.option.demand and region != told.region
    ]


# --- what it costs ----------------------------------------------------------------------------------------------------


@WHY.pattern(r"The load is a careful first guess: stop each set with at least # repetitions left\.")
def first_guess(told: Consulted, least: str) -> None:
    assert float(least) == CHOICES.adjustments.untested_reserve
    assert told.option.basis.evidence in ("practice", "direction_only")


@WHY.pattern(r"At least (?:#) repetitions? should be left at the end of a set; now it is #\.")
def at_least_left(told: Consulted, left: str, now: str) -> None:
    nearest(left, told.new.reps_in_reserve)
    assert float(now) == told.reserve


@WHY.pattern(r"The sets end far from failure, with # repetitions or more left; now it is #\.")
def far_from_failure(told: Consulted, least: str, now: str) -> None:
    assert told.new.reps_in_reserve + 0.55 >= float(least) == CHOICES.adjustments.far_from_failure
    assert "in reserve" not in told.option.words or told.option.ramp is not None
    assert float(now) == told.reserve


@WHY.pattern(r"(No repetition|About # repetitions?) should be left at the end of a set(, as now|; now it is #)\.")
def left(told: Consulted, many: str, count: str | None, tail: str, now: str | None) -> None:
    nearest("0" if many == "No repetition" else str(count), told.new.reps_in_reserve)
    if tail == ", as now":
        assert abs(told.new.reps_in_reserve - told.reserve) < 1.05
        nearest("0" if many == "No repetition" else str(count), told.reserve)
    else:
        assert float(str(now)) == told.reserve


def nearest(said: str, value: float) -> None:
    """Whole repetitions, halves upwards; answers are rounded to a tenth."""
    assert value - 0.55 <= float(said) <= value + 0.55, f"{said} for {value}"


@WHY.pattern(r"A set lasts about # s under tension\.")
def set_seconds(told: Consulted, seconds: str) -> None:
    shows(seconds, told.option.stimulus.seconds_a_set.value)


@WHY.pattern(r"(The week|A session) has # sets? instead of #\.")
def sets_of(told: Consulted, whole: str, new: str, before: str) -> None:
    assert (whole == "The week") == (told.new.days_per_week is not None)
    assert float(new) == told.new.sets * (told.new.days_per_week or 1)
    assert float(before) == told.now["sets"] * told.now.get("days_per_week", 1)
    assert told.option.stimulus.weekly_sets == pytest.approx(float(new) / float(before), abs=1e-4)


@WHY.pattern(
    r"This is unloading, not training: by our index less than # % of the training effect is kept\. Come back from it "
    r"as soon as the region allows\."
)
def unloads(told: Consulted, below: str) -> None:
    assert told.option.stimulus.kept.value < float(below) / 100 == CHOICES.adjustments.unloading_below


@WHY.pattern(
    r"By our index (it|this first load) keeps about # % of the training effect(?: \(between # and # %\))?"
    r"(; the tested one may keep more)?\."
)
def keeps(told: Consulted, which: str, percent: str, least: str | None, most: str | None, more: str | None) -> None:
    kept = told.option.stimulus.kept
    shows(percent, 100 * kept.value)
    assert kept.value >= CHOICES.adjustments.unloading_below
    if least is not None:
        shows(least, 100 * kept.low)
        shows(str(most), 100 * kept.high)
    else:
        assert kept.low is None or kept.high - kept.low < 0.01 + 1e-9
    assert (which == "this first load") == (more is not None)
    assert more is None or told.option.stimulus.relative_load is None


@WHY.pattern(r"The sets stay easy: with pain above # nothing is raised in the place of the load\.")
def easy_at_this_pain(told: Consulted, limit: str) -> None:
    assert told.answer.tier == "red"
    assert float(limit) == AMBER
    assert told.new.reps_in_reserve > CHOICES.adjustments.most_reserve


@WHY.pattern(
    r"The sets stay easy: with more repetitions a session would ask more of (.+) than the # % of now that we "
    r"allow\."
)
def easy_by_exposure(told: Consulted, region: str, most: str) -> None:
    assert BY_NAME[region] == told.region
    assert told.new.reps_in_reserve >= CHOICES.effort.hard_set_reserve  # rounded to a tenth
    middle = (told.new.reps.low + told.new.reps.high) / 2  # by which a session's demand is summed
    with_one_more = (middle + 1) / middle
    exposure = told.option.session_exposure
    assert exposure is None or 100 * exposure * with_one_more > float(most) - 0.01  # the exposure is rounded


@WHY.pattern(
    r"Find its load: start with # (kg|lb), add about # (?:kg|lb) a set, stop with # repetitions? left or when it hurts "
    r"more, and go no further than # (?:kg|lb)\."
)
def ramp(told: Consulted, start: str, unit: str, step: str, left: str, most: str) -> None:
    shown = told.option.ramp
    assert unit == shown.start.unit
    for said, mass in ((start, shown.start), (step, shown.step), (most, shown.at_most)):
        assert float(said) == pytest.approx(mass.value)
    assert shown.start == told.new.load
    assert float(left) == shown.reps_in_reserve
    assert float(start) + float(step) <= float(most) + 1e-6


@WHY.pattern(r"No ratio to the present lift is published\.")
def ramp_without_ratio(told: Consulted) -> None:
    assert told.option.ramp.expected is None


@WHY.pattern(r"By the published ratio # (kg|lb) to # (?:kg|lb) would match what you lift now\.")
def ramp_with_ratio(told: Consulted, least: str, unit: str, high: str) -> None:
    expected = told.option.ramp.expected
    assert unit == expected.low.unit
    assert float(least) == pytest.approx(expected.low.value, abs=0.12)
    assert float(high) == pytest.approx(expected.high.value, abs=0.12)


@WHY.pattern(r"Go no heavier than # (?:kg|lb), and stop with # repetitions? left\.")
def ramp_ends(told: Consulted, most: str, left: str) -> None:
    assert told.option.ramp.step is None
    assert float(most) == pytest.approx(told.option.ramp.at_most.value)
    assert float(left) == told.option.ramp.reps_in_reserve


RELIEF: Final = {
    "less_a_session", "less_a_week", "less_a_repetition", "hardly_loads", "less_with_less_load", "less_by",
    "posture_by",
    "less_below_own_load",
    "less_of_the_whole", "posture_at_one_moment", "posture_not_moment",
}  # fmt: skip
RESERVE: Final = {"first_guess", "at_least_left", "far_from_failure", "left"}
KEPT: Final = {"keeps", "unloads"}
FORM: Final = {"thighs", "knees_bent", "height", "heels", "heels_flat", "stance", "bar_place", "shins", "cue"} | {
    "above_bottom", "grip", "wrists",
}  # fmt: skip


# --- cautions with values ---------------------------------------------------------------------------------------------

CAUTION: Final = SentenceReader()


@CAUTION.pattern(
    r"Another region is asked for more than # % more than now: see its demand, and watch how it responds\."
)
def other_region_rises(told: Consulted, above: str) -> None:
    shows(above, 100 * (CHOICES.adjustments.elsewhere_rise - 1))
    assert told.risen


@CAUTION.pattern(
    r"Each repetition asks less of the sore region, but there are more of them: summed over a session it carries more "
    r"than now\."
)
def session_exposure_rises(told: Consulted) -> None:
    assert told.option.session_exposure > 1


@CAUTION.pattern(
    r"This is unloading, not training: by our index it keeps under # % of the training effect\. It is the simplest "
    r"change, or all there is\."
)
def unloading(told: Consulted, below: str) -> None:
    unloads(told, below)


@CAUTION.pattern(
    r"More than # repetitions are expected to be left: an easy first exposure\. Add repetitions or load once it is "
    r"tolerated, or it hardly trains\."
)
def easy_set(told: Consulted, count: str) -> None:
    assert told.new.reps_in_reserve >= float(count) == CHOICES.effort.hard_set_reserve


@CAUTION.pattern(
    r"At that share of the maximum no published repetitions exist: what is said to be left in reserve is a bound, and "
    r"more may be\."
)
def reserve_is_a_bound(told: Consulted) -> None:
    assert "at least" in told.option.words or "far from failure" in told.option.words


@CAUTION.pattern(r"No ratio between these lifts is published: test the load, with at least # repetitions in reserve\.")
def no_published_ratio(_: Consulted, count: str) -> None:
    assert float(count) == CHOICES.adjustments.untested_reserve


@CAUTION.pattern(r"No repetitions in reserve were stated: # were assumed\.")
def reserve_assumed(told: Consulted, count: str) -> None:
    assert "reps_in_reserve" not in told.now
    assert float(count) == ASSUMED_RESERVE


@CAUTION.pattern(
    r"The pain is in the red tier \(above # of 10, or amber with a clear rise next morning\): stop that .+"
)
def moderate_pain(told: Consulted, limit: str) -> None:
    assert float(limit) == AMBER
    complaint = told.request["complaint"]
    morning = complaint.get("pain_next_morning", 0)
    assert max(complaint["pain_in_session"], morning) > AMBER or morning - complaint.get("usual_pain", 0) >= REAL


@CAUTION.pattern(
    r"Lifts for one side are for your (left|right) side: your (left|right) side has no reason to do less and "
    r"trains on as now\."
)
def sound_side_trains_on(told: Consulted, side: str, other: str) -> None:
    on_the_sore_side(told, side, other)
    assert told.new.exercise == told.now["exercise"]


@CAUTION.pattern(
    r"Lifts for one side are for your (left|right) side: your (left|right) side does the same lift with a "
    r"load of its own, .+\."
)
def sound_side_finds_its_load(told: Consulted, side: str, other: str) -> None:
    on_the_sore_side(told, side, other)
    assert told.new.exercise != told.now["exercise"]


VALUED: Final = {
    "other_region_rises", "session_exposure_rises", "easy_set", "reserve_is_a_bound", "no_published_ratio", "unloading",
    "reserve_assumed", "moderate_pain", "sound_side_trains_on", "sound_side_finds_its_load",
}  # fmt: skip


# --- over what is asked -----------------------------------------------------------------------------------------------


def hold_every_sentence(request: dict[str, Any], answer: Answered) -> None:
    told = Consulted(request, answer)
    if answer.decision == "refer":
        assert answer.why == [*(one.message for one in answer.referral.signs), answer.referral.what_to_do]
        return
    if answer.decision == "confirm_first":
        paused = [] if answer.pause is None else [answer.pause.message, answer.pause.what_to_do]
        signs = [one for one in answer.why if one.code == "fresh_injury_signs_first"]
        assert answer.why == [*signs, *paused, *answer.confirmation.what_to_do]
        assert bool(signs) == bool(answer.signs_to_ask)
        return
    names = DECISION.hold_all(answer.why, told)
    if answer.decision == "pause_and_review":
        assert all(names.count(name) == 1 for name in PAUSE_CHECKS)
        assert (answer.options, answer.target, answer.tier) == ([], None, "pause")
        return
    assert ("sure_and_familiar" in names) == (answer.tier == "red")
    if answer.target is not None:
        RULE.hold(answer.target.rule, told)
    for option in answer.options:
        hold_option(Consulted(request, answer, option))
    named = {code for option in answer.options for code in option.cautions}
    codes = [one.code for one in answer.cautions]
    assert len(codes) == len(set(codes))
    assert named <= set(codes)
    hold_cautions([one for one in answer.cautions if one.code not in named], told)


def hold_option(told: Consulted) -> None:
    option, names = told.option, WHY.hold_all(told.option.why, told)
    assert names[0] == "prescription"
    assert names.count("prescription") == 1
    assert len([name for name in names if name in RELIEF]) == 1
    assert len([name for name in names if name in RESERVE]) == (option.prescription.hold is None)
    assert len([name for name in names if name in KEPT]) == 1
    assert not {"range_of_motion", "technique"} & set(option.levers) or {*FORM, "prescription"} & set(names)
    more = {"moved", "more_elsewhere"}
    rises = [one for region, one in option.demand.items() if region != told.region and one.value > RISE + 1e-4]
    assert len([name for name in names if name in more]) >= len(rises)
    higher = [region for region, way in option.direction.items() if way == "higher" and region != told.region]
    assert ("more_of_unknown_size" in names) == any(region not in option.demand for region in higher)
    assert bool(told.risen) == ("other_region_rises" in option.cautions)
    said = {one.code: one for one in told.answer.cautions}
    hold_cautions([said[code] for code in option.cautions], told)


def hold_cautions(cautions: list[Answered], told: Consulted) -> None:
    for caution in cautions:
        if caution.code in VALUED:
            assert CAUTION.hold(caution, told) == caution.code
        else:
            assert "{" not in caution.text


GOLDEN: Final = [one for path in files() if (one := consultation(path)).operation == "adjustments"]


@pytest.mark.parametrize("asked", GOLDEN, ids=[path.stem for path in files() if consultation(path) in GOLDEN])
def test_every_sentence_of_a_golden_consultation_is_what_its_fields_say(asked: Consultation) -> None:
    hold_every_sentence(asked.request, ask("adjustments", in_full(asked.request)))


@settings(max_examples=200, deadline=None)
@given(consultations)
def test_every_sentence_of_a_consultation_is_what_its_fields_say(request: dict[str, Any]) -> None:
    hold_every_sentence(request, ask_drawn("adjustments", in_full(request)))


@pytest.mark.parametrize("region", ["knee", "hip", "low_back"])
@pytest.mark.parametrize("exercise", ["back_squat_high_bar", "safety_bar_squat", "front_squat"])
def test_how_far_the_knees_usually_come_counts_the_lifters_hips(exercise: str, region: str) -> None:
    lifter = {"body_mass": kg(60), "stature": {"value": 165, "unit": "cm"}}
    request = {
        "lifter": {**lifter, "hip_flexion": {"value": 100, "unit": "deg"}},
        "prescription": {"exercise": exercise, "sets": 3, "reps": {"low": 5, "high": 5}, "load": kg(60)},
        "complaint": {"region": region, "pain_in_session": 4},
        "aim": "strength",
        "constraints": {"levers": ["technique", "load"]},
        "limit": 20,
    }
    answer = ask("adjustments", in_full(request))
    assert region != "knee" or "shins" in str(answer.options)
    hold_every_sentence(request, answer)


@pytest.mark.parametrize(
    ("drift", "said"),
    [
        (0.03, "Keep the bar 3 cm ahead of the middle of the foot."),
        (-0.02, "Keep the bar 2 cm behind the middle of the foot."),
        (0.0, "Keep the bar over the middle of the foot."),
    ],
)
def test_the_bar_is_ahead_of_the_foot_where_it_drifts_forward(drift: float, said: str) -> None:
    new, now = (technique_value(Technique(bar_forward_of_midfoot=one), None) for one in (drift, 0.05))
    assert [message(code, **values).text for code, values in technique_instructions(new, now)] == [said]
