"""Which candidates are worth showing, and in which order.

What keeps little of the training effect is unloading, and dropped where anything better is to be had, unless it is a
program for tendons. An option is dropped when another is at least as good in all of: the sore region's demand, the
relief beyond what is asked for, the training effect kept, the number of changes; and when the same lift with a lever
less does nearly as well, for the smallest change is wanted. Only like is compared with like: an untested load with
untested ones (what it keeps of the effect is not known), relief of a session with relief of a session, a direction with
a direction, a program with its own kind, what asks more of another region or in all of a session with its like, the
lift done as now with its like (that another technique keeps the whole effect is taken, not measured). The same lift
merely lighter is the simplest change of all, and dropped for none. Figures are compared rounded, so that the unit of
the request cannot change an order.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from operator import le
from typing import Final, NamedTuple

from service.adjustment.complaint import is_one_sided
from service.adjustment.consultation import Candidate, Case, RuledOut
from service.adjustment.options.faults import elsewhere, faults, is_easy, raises_another, rises, to_failure, unloads
from service.knowledge.design_choices import CHOICES
from service.vocabulary import Lever, MeetsBy, Region

_CHOICE: Final = CHOICES.adjustments
_ORDER: Final[dict[MeetsBy, int]] = {
    "peak": 0,
    "posture": 1,
    "direction_only": 2,
    "session_exposure": 3,
    "week_exposure": 4,
}
_MERELY_LIGHTER: Final[tuple[tuple[Lever, ...], ...]] = (("load",), ("load", "reps"))
_FEW_CHANGES: Final = 2
"""Changes that are made at once without a further cost [count]."""
_DECIMALS: Final = 4
"""Decimals to which figures are compared."""


class Merits(NamedTuple):
    """What candidates are compared by, each better the smaller it is.

    Attributes:
        demand: what the sore region has to carry, against the present [1]
        overshoot: relief beyond the target that is not free [1]
        lost: index of the training effect kept, taken negative [1]
        changes: levers changed, repetitions that go with less load not counted but where a tempo does too [count]
    """

    demand: float
    overshoot: float
    lost: float
    changes: int


def relief(candidate: Candidate, region: Region) -> float:
    """What the sore region has to carry, against the present [1].

    The peak of a repetition, or the sum of a session or a week where that is what falls; the whole's for a part that
    cannot be told apart; where only a direction is known, the load is all there is to go by.
    """
    ratio = candidate.effects[region].searched
    if candidate.meets_by == "week_exposure":
        return round(candidate.stimulus.hard_sets, _DECIMALS)
    if candidate.meets_by == "session_exposure" and candidate.exposure is not None:
        return round(candidate.exposure, _DECIMALS)
    return round(ratio, _DECIMALS) if ratio is not None else 1.0


def merits(candidate: Candidate, case: Case) -> Merits:
    """What a candidate is compared by."""
    demand, levers = relief(candidate, case.region), candidate.levers
    beyond = max(0.0, case.target - demand - _CHOICE.overshoot_free)
    with_load = {"load", "reps"} <= set(levers) and "tempo" not in levers
    return Merits(
        demand, round(beyond, _DECIMALS), -round(candidate.stimulus.kept.value, _DECIMALS), len(levers) - with_load
    )


def _kind(candidate: Candidate, case: Case) -> tuple[object, ...]:
    """Candidates of one kind may be compared with each other."""
    exercise = candidate.prescription.exercise if candidate.meets_by == "direction_only" else None
    trial = candidate.trial
    raised = any(rises(effect, _CHOICE.rise_worth_telling) for effect in elsewhere(candidate, case.region))
    return (
        candidate.meets_by,
        trial.untested,
        is_unfamiliar(candidate, case),
        trial.program,
        exercise,
        candidate.prescription.cues,
        _session_grows(candidate, case) or raised,
        trial.likeness == "same",
        preference(candidate, case),
        case.sore_side is not None and is_one_sided(candidate.prescription.exercise),
        is_easy(candidate, case),
        to_failure(candidate),
        raises_another(candidate, case.region),
    )


def preference(candidate: Candidate, case: Case) -> float:
    """How far the complaint as it is told speaks for an option in all (up to 1) or against it (-1) [1].

    What one rule speaks against no other brings forward, and however much speaks for an option, it comes forward once.
    What takes something off every further sore region counts like a lever that is preferred.
    """
    if not case.rules:
        return 0.0
    told = [rule.weighs(candidate.levers) for rule in case.rules]
    if min(told) < 0:
        return -1.0
    return min(1.0, sum(told) + bool(case.also and all(_relieves(candidate, region) for region in case.also)))


def _relieves(candidate: Candidate, region: Region) -> bool:
    """Whether a region is asked for less, of a repetition or over a session, if either lift loads it."""
    effect = candidate.effects.get(region)
    return effect is None or effect.direction == "lower" or candidate.meets_by == "session_exposure"


def _takes_load_off(candidate: Candidate, case: Case) -> bool:
    """Whether the pain takes some load off beside another technique or range, which is then no choice of its own."""
    otherwise = {"technique", "range_of_motion"}.intersection(candidate.levers)
    return "load" in candidate.levers and bool(otherwise) and (case.pain or 0.0) > _CHOICE.load_off_above


def is_unfamiliar(candidate: Candidate, case: Case) -> bool:
    """Whether a load has still to be found or a tempo to be got used to; a program for tendons is what is asked for."""
    slow = "tempo" in candidate.levers and case.aim != "tendon"
    return candidate.trial.program is None and (candidate.trial.untested or slow)


def _session_grows(candidate: Candidate, case: Case) -> bool:
    """Whether a session asks more of the sore region in all than is taken, though each repetition asks less."""
    return candidate.exposure is not None and candidate.exposure > case.most_exposure + 10**-_DECIMALS


def without_unloading(candidates: list[Candidate]) -> list[Candidate]:
    """The candidates that are more than unloading, or a program of their own; all of them where none is.

    Days further apart are no better than unloading: no session asks less.
    """
    if all(unloads(one) or one.meets_by == "week_exposure" for one in candidates):
        return candidates
    return [one for one in candidates if not unloads(one) or one.trial.program is not None]


def without_plain_slow(candidates: list[Candidate]) -> list[Candidate]:
    """The candidates, less the lift merely slow where heavy slow lifting is one: the program says it in full."""
    if all(one.trial.program != "heavy_slow" for one in candidates):
        return candidates
    return [one for one in candidates if "tempo" not in one.levers or one.trial.program is not None]


def merely_lighter(candidates: Iterable[Candidate], case: Case) -> Candidate | None:
    """The present lift with less load and nothing else, or with repetitions where those make it better; None if none.

    Better is what is no unloading, then what has fewer faults.
    """
    own = [one for one in candidates if one.prescription.exercise == case.now.exercise and one.trial.program is None]
    plain = [one for one in own if one.levers in _MERELY_LIGHTER]
    return min(plain, key=lambda one: (unloads(one), faults(one, case), len(one.levers)), default=None)


def pareto(candidates: list[Candidate], case: Case) -> list[Candidate]:
    """The candidates that no other one of their kind beats in everything."""
    kinds: dict[tuple[object, ...], list[Merits]] = defaultdict(list)
    judged = [(candidate, _kind(candidate, case), merits(candidate, case)) for candidate in candidates]
    for _, kind, own in judged:
        kinds[kind].append(own)
    return [candidate for candidate, kind, own in judged if not any(_beats(other, own) for other in kinds[kind])]


def _beats(other: Merits, own: Merits) -> bool:
    return other != own and all(map(le, other, own))


def smallest(candidates: list[Candidate], case: Case) -> list[Candidate]:
    """The candidates without those that the same lift with a lever less nearly equals in what it keeps.

    The one that keeps the most stays, so that a stricter target never looks better than a milder one; so does what
    makes easy sets hard, and in the red tier, where little else is left, less of the range with less of the load off.
    """
    worth = _CHOICE.second_lever_worth
    most_kept: dict[MeetsBy, float] = {}
    for candidate in candidates:
        most_kept[candidate.meets_by] = max(candidate.stimulus.kept.value, most_kept.get(candidate.meets_by, 0.0))

    def needless(candidate: Candidate) -> bool:
        kept = candidate.stimulus.kept.value
        keeps_most = kept == most_kept[candidate.meets_by]
        return any(
            other.prescription.exercise == candidate.prescription.exercise
            and other.meets_by == candidate.meets_by
            and set(other.levers) < set(candidate.levers)
            and other.trial.program == candidate.trial.program
            and kept < other.stimulus.kept.value + worth
            and not (case.only_sure and "range_of_motion" in set(candidate.levers) - set(other.levers))
            and not (keeps_most and kept > other.stimulus.kept.value)
            and faults(other, case) <= faults(candidate, case)
            and preference(other, case) >= preference(candidate, case)
            for other in candidates
        )

    return [candidate for candidate in candidates if not needless(candidate)]


def by_session(case: Case) -> bool:
    """Whether it hurts with the amount, so that the sum over a session is the relief that counts first."""
    return any(rule.by_session for rule in case.rules)


RankGroup = tuple[bool, int, int, bool]
"""Whether it unloads, its faults [count], the position of the kind [count], and whether the session grows."""


def rank_group(candidate: Candidate, case: Case) -> RankGroup:
    """What comes before every merit: unloading last, then faults, then numbers, directions, sessions.

    The number of a lift whose load has still to be found is that of its first load, and is worth no more than a
    direction. Where it hurts with the amount, sessions that ask for less come first.
    """
    exposure = candidate.exposure
    eases_session = exposure is not None and round(exposure, _DECIMALS) <= round(case.target, _DECIMALS)
    place = max(_ORDER[candidate.meets_by], _ORDER["direction_only"] if candidate.trial.untested else 0)
    kind = 0 if by_session(case) and eases_session else by_session(case) + place
    return unloads(candidate), faults(candidate, case), kind, _session_grows(candidate, case)


def ranked(candidates: list[Candidate], case: Case) -> list[Candidate]:
    """The candidates worth showing, the first to try first.

    By their group; then most of the training effect kept, each further change, relief beyond the target and what is
    less familiar counted off, and what the complaint as it is told speaks for counted on; then least demand.
    """

    def order(candidate: Candidate) -> tuple[object, ...]:
        own = merits(candidate, case)
        cost = _CHOICE.second_lever_worth * (own.changes - 1) + _CHOICE.overshoot_cost * own.overshoot
        if candidate.trial.program is None:
            cost += _CHOICE.third_lever_cost * max(0, own.changes - _FEW_CHANGES - _takes_load_off(candidate, case))
        if is_unfamiliar(candidate, case):
            cost += _CHOICE.unfamiliar_cost
        cost -= CHOICES.complaint.preference_worth * preference(candidate, case)
        score = round(own.lost + cost, _DECIMALS)
        exercise = candidate.prescription.exercise
        return *rank_group(candidate, case), score, own.changes, own.demand, exercise, candidate.levers

    shown = smallest(pareto(without_plain_slow(without_unloading(candidates)), case), case)
    plain = merely_lighter(candidates, case)
    if plain is not None and all(one is not plain for one in shown):
        shown.append(plain)
    return sorted(shown, key=order)


def beaten(candidates: list[Candidate], kept: list[Candidate]) -> list[RuledOut]:
    """The candidates that are not among those worth showing, as ruled out."""
    shown = {id(one) for one in kept}
    unloading = {id(one) for one in candidates} - {id(one) for one in without_unloading(candidates)}
    return [
        RuledOut(one.levers, "unloading_not_needed", one.prescription, {"share": _CHOICE.unloading_below})
        if id(one) in unloading
        else RuledOut(one.levers, "beaten", one.prescription)
        for one in candidates
        if id(one) not in shown
    ]
