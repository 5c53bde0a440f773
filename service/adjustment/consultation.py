"""A consultation as the search sees it, what is tried in it, and what comes of a trial."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal

import msgspec

from service.adjustment.loads import Rounding
from service.adjustment.prescription import Prescription
from service.adjustment.present import Present
from service.adjustment.region_effect import Effect
from service.adjustment.stimulus import Stimulus
from service.knowledge.complaint_rules import ComplaintRule
from service.messages import Message
from service.training.load_repetition import person_curve
from service.vocabulary import Aim, Implement, Lever, Likeness, MeetsBy, Program, Region, Side

Reason = Literal[
    "above_maximum",
    "above_target",
    "arm_relief_not_sure",
    "asks_more_for_its_load",
    "beaten",
    "body_mass_exceeds_lead_share",
    "days_not_stated",
    "days_not_enough",
    "demand_unknown",
    "full_load_at_this_pain",
    "heavy_slow_has_no_stage",
    "hold_has_no_load",
    "hold_refused",
    "implement_too_light",
    "lifts_the_body_without_ratio",
    "longer_rest_alone",
    "longer_rest_not_measured",
    "more_reps_than_published",
    "more_than_less_at_this_pain",
    "nearer_to_failure",
    "no_lighter_load",
    "no_load_lifted",
    "no_load_meets_target",
    "no_load_to_form_one_from",
    "no_load_to_take_off",
    "not_said_to_ask_less",
    "present_lift_excluded",
    "raised_start_is_another_lift",
    "raises_spared_region",
    "range_of_motion_at_its_shortest",
    "refused",
    "relief_not_sure",
    "relief_of_unknown_size",
    "reps_below_one",
    "rest_not_stated",
    "sets_below_one",
    "single_joint_without_ratio",
    "slow_tempo_leaves_few_reps",
    "slow_tempo_needs_too_little_load",
    "spared_region_unknown",
    "stance_relief_not_sure",
    "split_relief_not_sure",
    "start_load_below_implement",
    "tempo_alone",
    "unfamiliar_at_this_pain",
    "unloading_not_needed",
    "whole_above_target",
]
"""Why a trial gave no option; the messages ruled_out_… have the words."""


class Case(msgspec.Struct, frozen=True, dict=True):
    """The consultation: the present prescription, the sore region, and what may be changed.

    Attributes:
        present: present prescription with its demand
        region: region that is sore
        target: share of its present demand to which the region is to be brought [1]
        aim: what the lifter trains for
        levers: levers that may be used
        exercises: ids of the exercises that may be used
        most_days: most training days a week [count]
        lightest: no option is lighter [kg]
        round_down: heaviest load that an exercise's implement can hold, not above a load [kg], None where there is none
        excluded: whether the present lift may not be kept
        implements: what an exercise would be lifted with, by its id, where that is not the usual one
        pain: the highest score [points], None where only a tolerated load is known
        most_exposure: the sore region's demand summed over a session to which repetitions may be added [1]
        spare: regions that may be asked for no more than now, further sore ones among them
        also: further regions that are sore
        sore_side: side that alone is sore, None where neither is or the region has no sides
        rules: what the complaint as it is told changes
        own_implements: what else the present lift may be done with
        only_sure: whether only the present lift with load off will do, where the relief is sure
        load_relieves: whether the load that is tolerated, where one is told, asks less of the sore region
    """

    present: Present
    region: Region
    target: float
    aim: Aim
    levers: frozenset[Lever]
    exercises: frozenset[str]
    most_days: int
    lightest: float
    round_down: Rounding
    excluded: bool = False
    implements: Mapping[str, Implement] = {}
    pain: float | None = None
    most_exposure: float = 1.0
    spare: frozenset[Region] = frozenset()
    also: tuple[Region, ...] = ()
    sore_side: Side | None = None
    rules: tuple[ComplaintRule, ...] = ()
    own_implements: tuple[Implement, ...] = ()
    only_sure: bool = False
    load_relieves: bool = True

    @property
    def now(self) -> Prescription:
        """The present prescription."""
        return self.present.prescription

    @property
    def hardly_asked(self) -> bool:
        """Whether the present lift asks the sore region for next to nothing, as far as is known."""
        return self.region in self.present.by_load

    @cached_property
    def present_share(self) -> float:
        """Share of the maximum that the present load is, by the general curve [1]."""
        return person_curve(self.now.exercise, 0).share_at(self.now.reps.high + self.now.counted_reserve)


class Trial(msgspec.Struct, frozen=True, gc=False):
    """A prescription on its way to being a candidate.

    Attributes:
        levers: what is changed against the present prescription
        prescription: what would be done
        strength: maximum in the lift as it would be done, against the present lift's [1], None where not published
        likeness: of the lift as it would be done to the present one
        untested: whether its load is a start to be tested
        program: the program of its own that it is, if any
        range_cut: part of the range of motion that is left out [1]
        intended: of an untested load, the one that would stand for the present one [kg], None where it is the start
        ratio_spread: spread between people of the ratio to the present lift, over the ratio [1]
        sources: ids of the sources of what was used to form it
    """

    levers: tuple[Lever, ...]
    prescription: Prescription
    strength: float | None = 1.0
    likeness: Likeness = "same"
    untested: bool = False
    program: Program | None = None
    range_cut: float = 0.0
    intended: float | None = None
    ratio_spread: float = 0.0
    sources: tuple[str, ...] = ()


class Candidate(msgspec.Struct, frozen=True):
    """An adjusted prescription that meets the target, with what it costs and saves.

    Attributes:
        trial: what was tried
        effects: by region, demand of the peak of a repetition against the present
        exposure: the sore region's demand summed over a session, against the present [1], None where not known
        stimulus: what the muscle is asked to do
        meets_by: what meets the target
    """

    trial: Trial
    effects: dict[str, Effect]
    exposure: float | None
    stimulus: Stimulus
    meets_by: MeetsBy

    @property
    def prescription(self) -> Prescription:
        """What would be done."""
        return self.trial.prescription

    @property
    def levers(self) -> tuple[Lever, ...]:
        """What would be changed."""
        return self.trial.levers


class RuledOut(msgspec.Struct, frozen=True):
    """A trial that gave no option.

    Attributes:
        levers: what would have been changed
        reason: why it gave none
        prescription: what was tried, None where it came to none
        facts: what the words of the reason name: an exercise by its id, a load [kg], a rest [s], a share [1], or why
            the mechanics refused it
    """

    levers: tuple[Lever, ...]
    reason: Reason
    prescription: Prescription | None = None
    facts: Mapping[str, str | float | Message] = {}


Assessment = Candidate | RuledOut
