"""Where the answer of a consultation comes from, and the cautions that go with it and with each option."""

from __future__ import annotations

from service.adjustment.consultation import Candidate, Case
from service.adjustment.options.result import Outcome
from service.adjustment.text.decision import unchanged_rule
from service.adjustment.text.option import caution_facts
from service.adjustment.triage import Pain
from service.api.models.clearance import once_confirmed
from service.api.models.common import Basis, Caution, cautions, cautions_of_part
from service.api.models.setup import CAUTION_TEXTS
from service.api.operations.adjustments.consultation import Consultation
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Evidence


def basis_of_consultation(case: Case) -> Basis:
    """The basis of the whole answer."""
    return _basis("computed" if case.present.uncertain else "published", ())


def basis_of_option(option: Outcome, case: Case) -> Basis:
    """The basis of one option."""
    return _basis(_evidence(option.candidate, case), option.sources)


def basis_of_no_change(pain: Pain) -> Basis:
    """The basis of a prescription that stays as it is."""
    return Basis(
        method=unchanged_rule(pain),
        sources=["thomee_1997", "silbernagel_2007", "childs_2005", "design_choice"],
        assumptions=["A change of one point is noise; missing mornings never count as good ones."],
        evidence="practice",
    )


def _basis(evidence: Evidence, sources: tuple[str, ...]) -> Basis:
    return Basis(
        method="sagittal balance of the lifter at rest for each candidate that the planar model covers, peak moment of a repetition against the present one; published findings for presses, pulls and the arms; general load–repetition table for effort",
        sources=list(
            dict.fromkeys(
                [*sources, "de_leva_1996", "winter_2009", "nuzzo_2024", "thomee_1997", "statics", "design_choice"]
            )
        ),
        assumptions=[
            "Each variation is done with its usual shin angle, or what the ankle allows (our own rule).",
            "A load for a new exercise: published ratio × 0.90, the ratio less one SD where that is published, or half of the intended load where no ratio is; never above the present load.",
            "Presses and pulls: with the posture kept, what shoulder, elbow and wrist hold rises in proportion to the load; the limb's own weight is left out.",
            "Swept one by one: posture habit, bar place, balance, unmeasured lengths and joint places; what both setups share is moved together.",
            "The effect kept is an index of our own.",
        ],
        evidence=evidence,
    )


def _evidence(candidate: Candidate, case: Case) -> Evidence:
    if candidate.meets_by == "direction_only":
        return "direction_only"
    if candidate.meets_by == "session_exposure":
        return "computed"
    if candidate.trial.untested:
        return "practice"
    return candidate.effects[case.region].evidence


def cautions_of_consultation(consultation: Consultation, *, reserve_assumed: bool) -> list[Caution]:
    """The cautions of the whole answer; reserve_assumed: whether no repetitions in reserve were stated."""
    propagated = consultation.case.present.uncertain is not None
    codes = ["half_load_no_pain", "posture_is_a_rule" if propagated else "directions_not_numbers"]
    if consultation.level == "red":
        codes.insert(0, "moderate_pain")
    if reserve_assumed:
        codes.append("reserve_assumed")
    codes.append("spotter_or_safeties")
    return [
        *once_confirmed(consultation.circumstances),
        *cautions(*codes, limit=f"{CHOICES.adjustments.amber_up_to:g}", reserve=f"{CHOICES.effort.assumed_reserve:g}"),
    ]


def cautions_of_option(option: Outcome, case: Case) -> list[Caution]:
    """The cautions of one option."""
    modelled = [Caution(code=code, text=CAUTION_TEXTS[code]) for code in option.model_cautions]
    return [*modelled, *cautions_of_part(*option.caution_codes, **caution_facts(option, case))]
