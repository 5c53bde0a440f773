"""Where the answer of a consultation comes from, and the cautions that go with it and with each option."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from msgspec import UNSET, UnsetType
from msgspec.structs import replace

from service.adjustment.arm import REGIONS_OF_ARM
from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.result import Outcome
from service.adjustment.text.caution import caution
from service.adjustment.text.complaint import other_side
from service.api.models.clearance import once_confirmed
from service.api.models.common import CENTRAL_ONLY, OF_ARM, ONE_TO_ONE, Basis, cautions
from service.api.models.prescription import Prescription
from service.api.models.setup import describes_setup
from service.api.operations.adjustments.consultation import Consultation
from service.knowledge.design_choices import CHOICES
from service.messages import Message, message
from service.vocabulary import Evidence

_ASSUMED: Final = tuple(
    map(
        message,
        (
            "assumed_first_step",
            "assumed_usual_shin",
            "assumed_load_of_new_exercise",
            "assumed_arms_in_proportion",
            "assumed_options_swept",
            "assumed_index_of_effect",
        ),
    )
)

_CAVEATS: Final = frozenset({"lean_disputed", "slow_tempo_rough", "heavy_slow_from_memory", "reserve_is_a_bound"})
"""Cautions of options that say how far figures are known, and nothing of what to do."""
_ARM_SOURCES: Final = ("larsen_2021a", "gordon_2014", "shoulder_isokinetic_1985", "schoenfeld_2011")
_OF_THE_LIFT: Final = frozenset({"heel_lift_ankle_not_stated", "wide_stance_knee", "load_before_chest"})
"""Cautions of the model that say what to mind in doing the lift, and so go with every answer."""
_SAID_AS_REASONS: Final = frozenset(
    {"relief_uncertain", "session_exposure_only", "week_exposure_only", "session_exposure_rises"}
)
"""Cautions of options whose words the reasons of the same option have already."""
_GENERAL_SOURCES: Final = ("de_leva_1996", "winter_2009", "nuzzo_2024", "thomee_1997", "statics", "design_choice")


def basis_of_consultation(case: Case, of_the_bar: Iterable[Message] = (), *, full: bool) -> Basis:
    """The basis of the whole answer; of_the_bar: what was assumed of the bar; full: with all that was assumed."""
    told = (source for rule in case.rules for source in rule.sources)
    computed = case.present.uncertain is not None or by_arm(case)
    basis = _basis("computed" if computed else "published", ("downie_2013", *told), arm=case.present.covers_arm)
    assumptions = [message("assumed_no_sign"), *of_the_bar, *(basis.assumptions if full else ())]
    return replace(basis, assumptions=assumptions, interval=_usual_meaning(case))


def meaning_of_span(outcome: Outcome, case: Case, region: str) -> str | UnsetType:
    """What the span of a demand means, where the basis of the answer does not say it."""
    meaning = OF_ARM if region in outcome.of_arm else CENTRAL_ONLY
    if region in outcome.with_interval:
        meaning = ONE_TO_ONE
    return UNSET if meaning == _usual_meaning(case) else meaning


def _usual_meaning(case: Case) -> str:
    if by_arm(case):
        return OF_ARM
    return ONE_TO_ONE if case.present.uncertain else CENTRAL_ONLY


def by_arm(case: Case) -> bool:
    """Whether the sore region's demand is that of the model of one arm."""
    return case.region in REGIONS_OF_ARM and case.region in case.present.moments


def basis_of_option(option: Outcome, case: Case) -> Basis:
    """The basis of one option."""
    return _basis(_evidence(option.candidate, case), option.sources, arm=bool(option.of_arm))


def sources_of_option(option: Outcome) -> list[str]:
    """The sources that an option has beside those of the whole answer."""
    return [source for source in option.sources if source not in _GENERAL_SOURCES]


def _basis(evidence: Evidence, sources: tuple[str, ...], *, arm: bool) -> Basis:
    return Basis(
        method=message("method_adjustments"),
        sources=list(dict.fromkeys([*sources, *_GENERAL_SOURCES, *(_ARM_SOURCES if arm else ())])),
        assumptions=[*_ASSUMED, *([message("assumed_arm")] if arm else [])],
        evidence=evidence,
    )


def _evidence(candidate: Candidate, case: Case) -> Evidence:
    if candidate.meets_by in ("direction_only", "posture"):
        return "direction_only"
    if candidate.meets_by == "session_exposure":
        return "computed"
    if candidate.trial.untested or candidate.meets_by == "week_exposure":
        return "practice"
    return candidate.effects[case.region].evidence


def cautions_of_consultation(
    consultation: Consultation, given: Prescription, of_options: Iterable[str] = (), *, full: bool = True
) -> list[Message]:
    """The cautions of the whole answer, each once.

    Args:
        consultation: that was searched
        given: the present prescription as it was stated
        of_options: codes that its options name
        full: with what the model takes for granted
    """
    uncertain = consultation.case.present.uncertain
    propagated = uncertain is not None
    specific: list[str | Message] = [] if uncertain is None else [*uncertain.demand.of_seen]
    if consultation.judgement.tier == "red":
        specific.append(message("moderate_pain", limit=CHOICES.adjustments.amber_up_to))
    specific.append("half_load_no_pain")
    if consultation.case.present.covers_arm:
        specific.append("arm_moments_in_options")
    elif not propagated:
        specific.append("directions_not_numbers")
    elif full:
        specific.append("posture_is_a_rule")
    if uncertain is not None:
        specific += [code for code in uncertain.cautions if code in _OF_THE_LIFT]
    if consultation.case.now.pace.bounce_taken_away:
        specific.append("pause_takes_bounce_away")
    if given.reps_in_reserve is None:
        specific.append(message("reserve_assumed", reserve=CHOICES.effort.assumed_reserve))
    if not propagated and describes_setup(given):
        specific.append("setup_does_not_enter")
    return [
        *once_confirmed(consultation.circumstances),
        *cautions(*specific, "spotter_or_safeties", *(caution(code, consultation.case) for code in of_options)),
    ]


def cautions_of_option(option: Outcome, case: Case, *, full: bool) -> list[str]:
    """The codes of an option's cautions; full: with the caveats of the model, and with what its reasons say as well."""
    codes = [*other_side(option, case), *option.caution_codes]
    if full:
        return [*option.model_cautions, *codes]
    of_lift = [code for code in option.model_cautions if code in _OF_THE_LIFT]
    return [*of_lift, *(code for code in codes if code not in _CAVEATS | _SAID_AS_REASONS)]
