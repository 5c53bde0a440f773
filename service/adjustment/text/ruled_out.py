"""Why what was tried gave no option, in sentences."""

from __future__ import annotations

from typing import Final

from service.adjustment.consultation import Reason, RuledOut
from service.adjustment.text.prescription import prescription_words
from service.knowledge.catalogue import EXERCISES
from service.units import MassUnit

WORDS: Final[dict[Reason, str]] = {
    "above_maximum": "The load would be more than the expected maximum.",
    "above_target": "The region's demand would be {percent:.0f} % of the present, above the target.",
    "beaten": "Another option does as well by the region and the training effect, or nearly so with one change less.",
    "body_mass_exceeds_lead_share": "{exercise}: body mass alone already puts more on the lead leg than the present lift "
    "does.",
    "days_not_stated": "The days a week are not stated in the prescription.",
    "days_not_enough": "No number of days within the limit brings a session's share of the work to the target.",
    "demand_unknown": "Nothing published says what it does to the region.",
    "heavy_slow_has_no_stage": "Heavy slow lifting: no stage of it has a load at which the target is met.",
    "hold_has_no_load": "Holds: no load that can be put on meets the target.",
    "hold_refused": "Holds: {detail}",
    "lifts_the_body_without_ratio": "{exercise}: it lifts the body, and no ratio to the present load is published.",
    "longer_rest_alone": "Rest alone changes neither a repetition's demand nor the number of repetitions asked; with "
    "{rest:.0f} s about {percent:.0f} % more of them can be kept over the sets. It is offered with fewer sets.",
    "longer_rest_not_measured": "The rest in the prescription is {rest:.0f} s, and nothing longer helps by what is "
    "measured.",
    "nearer_to_failure": "The repetitions would go nearer to failure than now.",
    "no_lighter_load": "No lighter load can be put on.",
    "no_load_lifted": "No load is lifted now to which a load could be in proportion.",
    "no_load_meets_target": "No load that can be had, down to {percent:.0f} % of the present one, brings the region's "
    "demand to the target.",
    "no_load_to_form_one_from": "{exercise}: no load is lifted now from which one could be formed: find it by a test.",
    "no_load_to_take_off": "There is no load to take off: the body alone is lifted.",
    "not_said_to_ask_less": "What is published does not say that it asks less of the region.",
    "present_lift_excluded": "The present lift is excluded: only another one is offered.",
    "raised_start_is_another_lift": "From a raised start it is another lift (block pull, high handles), which is tried as "
    "such.",
    "range_of_motion_at_its_shortest": "The range of motion is as short already as it is looked at.",
    "refused": "{detail}",
    "reps_below_one": "The repetitions are so few that the target would leave less than one.",
    "rest_not_stated": "The rest in the prescription is not stated.",
    "sets_below_one": "One set is the least that keeps strength (spiering_2021); a part of it is not offered.",
    "single_joint_without_ratio": "{exercise}: no ratio to the present load is published, and one joint alone moves it: "
    "find its load by a test.",
    "slow_tempo_needs_too_little_load": "At the slow tempo the repetitions would need less load than can be had.",
    "start_load_below_implement": "{exercise}: the start load of {load:.1f} kg is less than the empty bar or one step.",
    "tempo_alone": "A slower tempo alone leaves the load and the posture, and so the demand at rest, as they are; that "
    "slow lifting lowers the peak of a repetition is a direction only. It is offered with less load.",
    "wide_stance_not_computed": "A wide stance turns the thighs out; what that asks of ankle, knee and hip to the side is "
    "not computed.",
}
"""The words of every reason, with places for its facts."""


def reason_words(ruled_out: RuledOut) -> str:
    """Why a trial gave no option."""
    facts = dict(ruled_out.facts)
    if "exercise" in facts:
        facts["exercise"] = EXERCISES[str(facts["exercise"])].name
    return WORDS[ruled_out.reason].format(**facts)


def ruled_out_words(ruled_out: RuledOut, unit: MassUnit) -> str:
    """The same, led by the prescription that was tried where it came to one."""
    tried = "" if ruled_out.prescription is None else f"{prescription_words(ruled_out.prescription, unit)}: "
    return f"{tried}{reason_words(ruled_out)}"
