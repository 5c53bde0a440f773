"""What an option asks of each region against the present, with intervals and verdicts, for what is shown of it."""

from __future__ import annotations

from msgspec.structs import replace

from service.adjustment.demand import effects, stands_for
from service.adjustment.pace import ADDUCTORS, JOINTS, paced
from service.adjustment.prescription import Prescription
from service.adjustment.present import Present
from service.adjustment.region_effect import ComparedDemand, Effect
from service.intervals import exactly
from service.knowledge.catalogue import REGIONS
from service.mechanics.lift_demand import standing_back, standing_lean
from service.mechanics.uncertainty.comparison import Comparison, at_pace, compare, verdict_of_ratio
from service.mechanics.uncertainty.propagation import UncertainDemand
from service.mechanics.uncertainty.spine import LeanFrom, against_reference
from service.vocabulary import Direction


def compared_demand(present: Present, new: Prescription) -> ComparedDemand:
    """What a prescription asks of every region, with intervals where both lifts have a posture rule.

    Raises Refusal as peak_moments does.
    """
    setup = present.setup_of(new)
    if setup.compared is None:
        setup.compared = _compared(present, new)
    return setup.compared


def _compared(present: Present, new: Prescription) -> ComparedDemand:
    by_region, paces = effects(present, new), present.setup_of(new).paces
    ratios = {region: exactly(effect.ratio) for region, effect in by_region.items() if effect.ratio is not None}
    directions = {region: effect.direction for region, effect in by_region.items()}
    posture = None if present.uncertain is None else present.posture_of(new)
    if present.uncertain is None or posture is None:
        of_arm = {region: effect.span for region, effect in by_region.items() if effect.span is not None}
        spans = paced(ratios | of_arm, paces)
        verdicts: dict[str, Direction] = {
            region: verdict_of_ratio(span) for region, span in spans.items() if not by_region[region].unsure
        }
        on_average, one = dict(spans), dict(of_arm)
        back = _standing_back(present, new)
        if back is not None and back.ratio is not None and "low_back" in ratios:
            one["low_back"], on_average["low_back"] = back.ratio.one, back.ratio.on_average
            verdicts["low_back"] = back.difference
        return ComparedDemand(ratios | spans | one, on_average, directions | verdicts, of_arm=frozenset(of_arm))
    joints = {
        region: joint for region in by_region if (joint := JOINTS.get(stands_for(present, new, region))) is not None
    }
    if stands_for(present, new, ADDUCTORS) == ADDUCTORS and ADDUCTORS in by_region:
        joints[ADDUCTORS] = "hip_adductor"
    uncertain = _repeated(posture.uncertain)
    by_joint = compare(uncertain, present.uncertain, tuple(dict.fromkeys(joints.values())))
    for region, joint in joints.items():
        if region in paces:
            by_joint[joint] = at_pace(by_joint[joint], paces[region])
    on_average = {}
    for region, joint in joints.items():
        ratio = by_joint[joint].ratio
        if region in ratios and ratio is not None:
            ratios[region], on_average[region] = ratio.one, ratio.on_average
    compared: dict[str, Direction] = {
        region: by_joint[joint].difference
        for region, joint in joints.items()
        if _seen_by_the_model(region, by_region[region])
    }
    return ComparedDemand(ratios, on_average, directions | compared, uncertain.cautions)


def _standing_back(present: Present, new: Prescription) -> Comparison | None:
    """The low back of one pull of a standing lifter against another, at the present pace or another; None elsewhere.

    A lean that is kept is kept with whatever is wrong in it.
    """
    old, body = present.prescription, present.body
    leans = standing_lean(new.exercise, new.technique), standing_lean(old.exercise, old.technique)
    if None in leans:
        return None
    kept: LeanFrom | None = "assumed" if leans[0] == leans[1] else None
    after = standing_back(body, new.exercise, new.load, new.technique, kept)
    before = standing_back(body, old.exercise, old.load, old.technique, kept)
    if after is None or before is None:
        return None
    one = against_reference(after, before).moment
    pace = present.setup_of(new).paces.get("low_back")
    return one if pace is None else at_pace(one, pace)


def _repeated(uncertain: UncertainDemand) -> UncertainDemand:
    """The same once more: one repetition differs from another, though both are the present lift's."""
    return replace(uncertain, changes={name: replace(one) for name, one in uncertain.changes.items()})


def _seen_by_the_model(region: str, effect: Effect) -> bool:
    """Whether the way a region's demand moves is the model's to say: not what a cue does or was found of a part."""
    if REGIONS[region].finer:
        return effect.searched is not None and not effect.sources
    return effect.evidence == "computed"
