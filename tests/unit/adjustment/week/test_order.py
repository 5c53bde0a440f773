"""Of weeks that are equally fit the smallest departure from the week as it is comes first."""

from __future__ import annotations

import pytest

from service.adjustment.week.alternatives import Alternative, alternatives, leading, part_alone
from service.adjustment.week.order import order
from service.api.operations.week_adjustments.consultation import WeekConsultation, consult
from service.api.operations.week_adjustments.examples import EXAMPLES
from service.api.operations.week_adjustments.models import WeekOption
from service.vocabulary import Lever
from tests.support.asking import ask, decoded

SORE = {**EXAMPLES[0].request, "hurts": []}
DEADLIFT = 2


def options(**changed: object) -> list[WeekOption]:
    return list(ask("week-adjustments", {**SORE, **changed}).options)


def levers(option: WeekOption) -> list[tuple[str, ...]]:
    return [tuple(one.levers) for one in option.changes if one.kind in ("changed", "replaced")]


@pytest.mark.parametrize("aim", ["strength", "maintain"])
def test_where_every_muscle_stays_above_its_floor_the_same_lift_lighter_comes_first(aim: str) -> None:
    first = options(aim=aim)[0]
    assert [(one.kind, one.entries, list(one.levers)) for one in first.changes] == [("changed", [DEADLIFT], ["load"])]
    assert not any(one.under_floor for one in first.muscles.values())
    assert 0.85 < first.demand["low_back"].tenth_power.value <= 0.90, "no more off than the next lighter load"


def test_where_easy_sets_would_leave_muscles_short_what_keeps_them_hard_comes_first() -> None:
    first, *others = options(aim="muscle_size")
    assert levers(first) == [("load", "tempo")]
    assert not any(one.after < one.before for one in first.muscles.values())
    lighter = next(one for one in others if levers(one) == [("load",)])
    assert {one.kind for one in lighter.changes} == {"changed", "added"}
    assert any(one.code == "week_unloads_above_floors" for one in lighter.why)


def of_deadlift() -> dict[tuple[Lever, ...], tuple[WeekConsultation, Alternative]]:
    verdict = consult(decoded("week-adjustments", SORE))
    assert isinstance(verdict, WeekConsultation)
    unit = leading(verdict.case)[0]
    part = part_alone(verdict.case, unit)
    assert part is not None
    return {one.candidate.levers: (verdict, one) for one in alternatives(verdict.case, unit, part)}


def test_less_load_alone_is_always_tried() -> None:
    verdict, lighter = of_deadlift()[("load",)]
    assert lighter.prescription.exercise == verdict.case.week[DEADLIFT].prescription.exercise
    assert lighter.prescription.reps == verdict.case.week[DEADLIFT].prescription.reps


def test_fewer_things_otherwise_come_before_less_beyond_the_target_and_that_before_the_effect_kept() -> None:
    changes = of_deadlift()
    case, lighter = changes[("load",)][0].case, changes[("load",)][1]
    slower, other = changes[("load", "tempo")][1], changes[("range_of_motion",)][1]
    equal = {"falls": 3}
    assert order(case, [lighter], 0.5, **equal) < order(case, [slower], 0.9, **equal)
    assert order(case, [slower], 0.5, **equal) < order(case, [other], 0.9, **equal), "its load has to be found"
    assert order(case, [slower], 0.84, **equal) < order(case, [lighter], 0.80, given_back=2, **equal)
    assert order(case, [lighter], 0.89, given_back=2, **equal) < order(case, [slower], 0.80, **equal)
    assert order(case, [slower], 0.5, **equal) < order(case, [lighter], 0.89, short=1, **equal)
    assert order(case, [slower], 0.5, **equal) < order(case, [lighter], 0.89, elsewhere_more=1, **equal)
    assert order(case, [slower], 0.5, **equal) < order(case, [lighter], 0.89, falls=2)
    assert order(case, [slower, other], 0.5, falls=1) < order(case, [lighter], 0.89, falls=0), "relief of none is last"


@pytest.mark.parametrize("region", ["low_back", "neck"])
def test_one_exercise_is_eased_in_one_way_on_all_its_days(region: str) -> None:
    complaint = {"region": region, "pain_in_session": 4}
    first = options(complaint=complaint, hurts=[0, 3])[0]
    squats = [change.levers for change in first.changes if change.entries in ([0], [3])]
    assert len(squats) == 2
    assert squats[0] == squats[1]
