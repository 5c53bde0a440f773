"""Forms of the relations: the share falls with each repetition, and its inverse leads back."""

from __future__ import annotations

from typing import Any, Final, get_args

import msgspec
import pytest

from service.training.load_repetition import RELATIONS
from service.training.relation_forms import Cubic, CurveForm, Exponential, Form, Hyperbolic, Linear, Power, Tabulated

CURVES: Final[dict[str, CurveForm]] = {
    "linear": Linear(1 / 25),
    "hyperbolic": Hyperbolic(100, 102, 2.5),
    "power": Power(0.12),
    "exponential": Exponential(100, 50, 52, 0.06),
    "cubic": Cubic(0.99, 0.012, 0.0018, -0.00005),
    "table": Tabulated("textbook"),
}


def test_every_form_is_used_by_a_relation() -> None:
    assert {type(relation.formula) for relation in RELATIONS.values()} == set(get_args(Form))
    assert set(CURVES) == {form.__struct_config__.tag for form in get_args(CurveForm)}


@pytest.mark.parametrize("form", CURVES)
def test_share_falls_and_its_inverse_leads_back(form: str) -> None:
    share_at, reps_at = CURVES[form].share_function(), CURVES[form].reps_at
    shares = [share_at(reps) for reps in range(2, 13)]
    assert shares == sorted(shares, reverse=True)
    assert [reps_at(share) for share in shares] == pytest.approx(range(2, 13))


@pytest.mark.parametrize(
    ("formula", "fault"),
    [
        ({"form": "linear"}, "missing required field `slope`"),
        ({"form": "linear", "slope": 0.03, "start": 1}, "unknown field `start`"),
        ({"form": "quintic", "slope": 0.03}, "Invalid value 'quintic'"),
        ({"form": "table", "table": "deadlift"}, "Invalid enum value 'deadlift'"),
    ],
)
def test_constants_are_those_of_the_form(formula: dict[str, Any], fault: str) -> None:
    with pytest.raises(msgspec.ValidationError, match=fault):
        msgspec.convert(formula, Form)
