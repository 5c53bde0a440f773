"""Our own choices on what is tried to take demand off a region."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from service.knowledge.choice_kinds import (
    Count,
    Degrees,
    Growth,
    Keyed,
    Metres,
    Part,
    Points,
    Reserve,
    Seconds,
    Span,
    Tempo,
    ascending,
)
from service.knowledge.kept_choices import EffectFades, RangeLoss, Specificity
from service.knowledge.load_choices import LoadSteps, StepsByImplement, UntestedStart, UsualHeaviest
from service.knowledge.records import Record, RegionId


class FirstStep(Keyed, frozen=True):
    """To what share of the present demand a first step brings it, by the tier of the pain.

    Attributes:
        amber: pain in the amber tier [1]
        red: pain in the red tier [1]
    """

    amber: Part
    red: Part


class Pause(Record, frozen=True):
    """When a paused region is looked at again.

    Attributes:
        look_again_days: until its pain is asked about again [days]
        professional_within_days: within which a professional looks at it, where one must [days]
    """

    look_again_days: Annotated[int, Meta(ge=1, le=60)]
    professional_within_days: Annotated[int, Meta(ge=1, le=60)]


class DaysApart(Record, frozen=True):
    """Days from one session that loads a sore region to the next.

    Attributes:
        tendon: regions that are mostly sore at a tendon [count]
        no_tendon: all other regions [count]
    """

    tendon: Annotated[int, Meta(ge=1, le=7)]
    no_tendon: Annotated[int, Meta(ge=1, le=7)]


class HeavySlow(Record, frozen=True):
    """Heavy slow resistance.

    Attributes:
        stages: repetitions of each stage [count]
        sets: sets [count]
        tempo: lowering, bottom, lifting, top [s]
        rest: rest between sets [s]
        days: days a week [count]
        reserve: repetitions in reserve [count]
    """

    stages: Annotated[tuple[Count, ...], Meta(min_length=1, max_length=20)]
    sets: Count
    tempo: Tempo
    rest: Seconds
    days: Annotated[int, Meta(ge=1, le=7)]
    reserve: Reserve


class Isometric(Record, frozen=True):
    """Holds for a tendon.

    Attributes:
        sets: holds [count]
        seconds: length of a hold [s]
        rest: rest between holds [s]
        knee_flexion: bend of the knee [deg]
        reserve: repetitions in reserve that a hold is taken to leave [count]
    """

    sets: Count
    seconds: Annotated[float, Meta(gt=0, le=600)]
    rest: Seconds
    knee_flexion: Annotated[float, Meta(ge=0, le=150)]
    reserve: Reserve


class Adjustments(Record, frozen=True):
    """What is tried to take demand off a region, and how it is judged.

    Attributes:
        first_step: how far a first step goes
        green_up_to: most pain of the green tier [points]
        amber_up_to: most pain of the amber tier [points]
        red_up_to: most pain of the red tier, above which the region is paused [points]
        at_rest_up_to: most pain at rest with which a region is trained [points]
        sure_below: upper end of what the region carries below which relief is sure in the red tier, of the present [1]
        red_load_off: share of the load that comes off at the least in the red tier [1]
        noticeable_demand: what a lift is computed to ask of a paused region from which on it is none to do, of the most
            that any asks [1]
        pause: when a paused region is looked at again
        real_change: smallest change of pain that is no noise [points]
        first_exposure_margin: share of a load that is kept in a lift that is new [1]
        ratio_spread: spread of a ratio between people, over the ratio, where none is published [1]
        untested_share: share of the load that starts a lift without a published ratio [1]
        untested_start: the same where a lever says what became of the lift, or both lifts are computed [1]
        one_leg_start: share of the present load that starts a lift on one leg alone at the most [1]
        one_leg_most: share of the present load up to which it is found on one leg alone [1]
        least_reach: heaviest load of another implement, of the tolerated one, below which it is not tried [1]
        usual_heaviest: heaviest that a rack usually has, of one piece, where the gym says nothing
        ramp_step: step of a load that is being found, of its start [1]
        untested_reserve: repetitions in reserve in such a lift [count]
        other_region_caution: another region's demand over its present demand from which it is cautioned [1]
        rise_worth_telling: another region's demand over its present demand from which it is shown [1]
        uncertain_base: uncertainty over a present moment from which no ratio to it is given [1]
        second_lever_worth: training effect that a second lever has to keep beyond the first [1]
        third_lever_cost: what each change beyond the second counts in the order, as training effect [1]
        unloading_below: training effect kept below which an option is called unloading [1]
        most_reserve: repetitions in reserve above which an option comes after those with fewer [count]
        far_from_failure: repetitions in reserve from which on they are no more said as a number [count]
        reps_may_grow_to: most repetitions that go with less load, over the present ones [1]
        reps_may_grow_up_to: most repetitions to which a set grows with less load [count]
        most_session_exposure: session's demand to which repetitions are added at the most, of the present [1]
        elsewhere_rise: another region's demand over its present demand from which an option comes later [1]
        overshoot_free: relief beyond the target that costs an option nothing [1]
        overshoot_cost: what each further part of relief counts in the order, as training effect [1]
        unfamiliar_cost: what a slow tempo or a load to be found counts in the order, as training effect [1]
        load_off_above: pain above which another technique or range comes with some load off [points]
        load_off: share of the load that is then taken off [1]
        specificity: carry-over by what became of the lift
        least_specificity: least that is possible of what does not carry over wholly [1]
        maintaining_share_of_sets: share of the sets that maintains [1]
        effect_fades: over how many repetitions in reserve the training effect fades
        untested_effect: part of the effect that an untested load is taken to keep [1]
        unknown_cut: part of the range that is taken to be cut where it is not computed [1]
        range_loss: what a cut range costs, by muscle
        tendon_least_of_target: load on a tendon, of the tolerated one, below which it keeps nothing [1]
        usual_tempo: tempo of a repetition where none is stated: lowering, bottom, lifting, top [s]
        most_days: most days a week [count]
        days_apart: days from one session that loads a sore region to the next
        tendon_regions: ids of the regions that are mostly sore at a tendon
        lightest_share: lightest load that is tried, of the present one [1]
        supervised_below_age: age below which training needs supervision [years]
        least_reserve: fewest repetitions in reserve in a painful region [count]
        depth_step: step of depth that is tried [deg]
        shallowest_thigh: shallowest depth that is tried, thigh above the horizontal [deg]
        moderate_depth_steps: steps of depth that count as moderate [count]
        block_heights: heights of blocks that are tried [m]
        heel_lifts: heel lifts that are tried [m]
        shin_changes: changes of the shin angle that are tried [deg]
        split_lean_changes: changes of the lean of a split stance that are tried [deg]
        split_spacing_changes: changes of its foot spacing that are tried [m]
        row_lean_changes: changes of the lean of a bent-over row that are tried, the smallest first [deg]
        row_least_lean: most upright lean of a row that is tried [deg]
        toe_out_changes: changes of the feet's turn-out that are tried [deg]
        slow_tempo: slow tempo that is tried: lowering, bottom, lifting, top [s]
        long_rest: long rest that is tried [s]
        step: smallest step of a load
        steps: the same of what goes in other steps
        heavy_slow: heavy slow resistance
        isometric: holds
    """

    first_step: FirstStep
    green_up_to: Points
    amber_up_to: Points
    red_up_to: Points
    at_rest_up_to: Points
    sure_below: Part
    red_load_off: Part
    noticeable_demand: Part
    pause: Pause
    real_change: Annotated[float, Meta(gt=0, le=10)]
    first_exposure_margin: Part
    ratio_spread: Annotated[float, Meta(gt=0, lt=1)]
    untested_share: Part
    untested_start: UntestedStart
    one_leg_start: Part
    one_leg_most: Part
    least_reach: Part
    usual_heaviest: UsualHeaviest
    ramp_step: Part
    untested_reserve: Reserve
    other_region_caution: Growth
    rise_worth_telling: Growth
    uncertain_base: Part
    second_lever_worth: Annotated[float, Meta(ge=0, le=1)]
    third_lever_cost: Annotated[float, Meta(ge=0, le=1)]
    unloading_below: Part
    most_reserve: Reserve
    far_from_failure: Reserve
    reps_may_grow_to: Growth
    reps_may_grow_up_to: Count
    most_session_exposure: Growth
    elsewhere_rise: Growth
    overshoot_free: Annotated[float, Meta(ge=0, le=1)]
    overshoot_cost: Annotated[float, Meta(ge=0, le=5)]
    unfamiliar_cost: Annotated[float, Meta(ge=0, le=1)]
    load_off_above: Points
    load_off: Part
    specificity: Specificity
    least_specificity: Part
    maintaining_share_of_sets: Part
    effect_fades: EffectFades
    untested_effect: Span
    unknown_cut: Part
    range_loss: RangeLoss
    tendon_least_of_target: Part
    usual_tempo: Tempo
    most_days: Annotated[int, Meta(ge=1, le=7)]
    days_apart: DaysApart
    tendon_regions: tuple[RegionId, ...]
    lightest_share: Part
    supervised_below_age: Annotated[float, Meta(ge=0, le=30)]
    least_reserve: Reserve
    depth_step: Annotated[float, Meta(gt=0, le=45)]
    shallowest_thigh: Annotated[float, Meta(ge=0, le=90)]
    moderate_depth_steps: Annotated[int, Meta(ge=0, le=20)]
    block_heights: tuple[Metres, ...]
    heel_lifts: tuple[Metres, ...]
    shin_changes: tuple[Degrees, ...]
    split_lean_changes: tuple[Degrees, ...]
    split_spacing_changes: tuple[Annotated[float, Meta(ge=-1, le=1)], ...]
    row_lean_changes: tuple[Degrees, ...]
    row_least_lean: Annotated[float, Meta(ge=0, le=80)]
    toe_out_changes: tuple[Degrees, ...]
    slow_tempo: Tempo
    long_rest: Seconds
    step: LoadSteps
    steps: StepsByImplement
    heavy_slow: HeavySlow
    isometric: Isometric

    def __post_init__(self) -> None:
        """Raise ValueError where the tiers of pain are not in order."""
        ascending("green_up_to, amber_up_to, red_up_to", self.green_up_to, self.amber_up_to, self.red_up_to)
