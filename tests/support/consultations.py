"""Random consultations for `adjustments`, as requests: lifters, lifts, complaints and what there is to lift with.

Every exercise of the catalogue with every region that it loads, every lever, both units. What no method covers is
refused; whatever else is asked must be answered.
"""

from __future__ import annotations

from typing import Any, Final, get_args

from hypothesis import strategies as st

from service.adjustment.consultation import Case
from service.adjustment.prescription import lifts_the_body, may_be_unloaded
from service.api.operations.adjustments.consultation import Consultation, consult
from service.knowledge.catalogue import EXERCISES, REGIONS
from service.knowledge.posture_rules import EXERCISE_RULES
from service.units import MassUnit
from service.vocabulary import LEVERS, Onset, PainfulRange, Provocation, Side
from tests.support.asking import decoded

AIMS: Final = ("strength", "muscle_size", "tendon", "maintain")
UNITS: Final[tuple[MassUnit, ...]] = get_args(MassUnit)
PLATES: Final = {"kg": (0.5, 1.25, 2.5, 5, 10, 15, 20, 25), "lb": (1, 2.5, 5, 10, 25, 35, 45)}
BARS: Final = {"kg": (10, 15, 20), "lb": (35, 45)}
STEPS: Final = {"kg": (0.5, 1, 2, 2.5, 5), "lb": (1, 2.5, 5, 10)}
IN_ONE_KILOGRAM: Final = {"kg": 1, "lb": 2}  # near enough to make loads of like size

Request = dict[str, Any]


def case_of(request: Request) -> Case:
    """The case that a consultation has searched; the test fails where it is none to be searched."""
    consulted = consult(decoded("adjustments", request))
    assert isinstance(consulted, Consultation)
    return consulted.case


def quantity(value: float, unit: str) -> Request:
    return {"value": value, "unit": unit}


def on_a_grid(low: float, high: float, step: float, unit: str) -> st.SearchStrategy[Request]:
    """Quantities on a grid, so that no figure stands on the edge of a rounding."""
    return st.integers(round(low / step), round(high / step)).map(lambda n: quantity(n * step, unit))


def masses(low: float, high: float, step: float, unit: str) -> st.SearchStrategy[Request]:
    """Masses on a grid; the ends are in kilograms, and in pounds about the same."""
    times = IN_ONE_KILOGRAM[unit]
    return on_a_grid(low * times, high * times, step * times, unit)


lifters = st.fixed_dictionaries(
    {"body_mass": masses(50, 130, 0.5, "kg"), "stature": on_a_grid(150, 200, 1, "cm")},
    optional={
        "sex": st.sampled_from(["female", "male"]),
        "ankle_dorsiflexion": on_a_grid(22, 45, 1, "deg"),
        "hip_flexion": on_a_grid(100, 150, 5, "deg"),
        "segment_lengths": st.fixed_dictionaries({}, optional={"thigh": on_a_grid(40, 48, 1, "cm")}),
    },
)
depths = st.one_of(
    on_a_grid(-40, 25, 5, "deg").map(lambda angle: {"thigh_below_horizontal": angle}),
    on_a_grid(70, 115, 5, "deg").map(lambda angle: {"knee_flexion": angle}),
    on_a_grid(10, 50, 5, "cm").map(lambda height: {"box_height": height}),
)
techniques = st.fixed_dictionaries(
    {},
    optional={
        "heel_lift": on_a_grid(0, 4, 1, "cm"),
        "stance": st.sampled_from(["narrow", "shoulder", "wide"]),
        "shin_angle": on_a_grid(5, 35, 5, "deg"),
        "bar_forward_of_midfoot": on_a_grid(0, 4, 1, "cm"),
    },
)
tempos = st.sampled_from(["2-0-1-0", "3-0-3-0", "4-0-2-1", "3-1-X-1", "5-2-5-2"])
rests = st.sampled_from(
    [quantity(60, "s"), quantity(90, "s"), quantity(2, "min"), quantity(3, "min"), quantity(5, "min")]
)


@st.composite
def prescriptions(draw: st.DrawFn, exercise: str, unit: str) -> Request:
    low = draw(st.integers(1, 12))
    given: Request = {
        "exercise": exercise,
        "sets": draw(st.integers(1, 6)),
        "reps": {"low": low, "high": low + draw(st.integers(0, 3))},
        "load": draw(masses(5, 160, 2.5, unit)),
    }
    optional: dict[str, st.SearchStrategy[Any]] = {
        "reps_in_reserve": st.sampled_from([0, 1, 2.5, 4]),
        "days_per_week": st.integers(1, 4),
        "tempo": tempos,
        "rest": rests,
    }
    if exercise in EXERCISE_RULES:
        optional |= {"depth": depths, "technique": techniques}
    if may_be_unloaded(exercise) and draw(st.integers(0, 9)) == 0:
        given["load"] = quantity(0, unit)
    if lifts_the_body(exercise):
        given["load"] = draw(masses(0, 40, 2.5, unit))
        optional["assistance"] = masses(0, 45, 2.5, unit)
    return {**given, **draw(st.fixed_dictionaries({}, optional=optional))}


def bars(unit: str) -> st.SearchStrategy[Request]:
    return st.builds(
        lambda bar, plates, pairs: {
            "bar": quantity(bar, unit),
            "plates": [{"plate": quantity(plate, unit), "pairs": pairs} for plate in plates],
        },
        st.sampled_from(BARS[unit]),
        st.lists(st.sampled_from(PLATES[unit]), min_size=3, max_size=7, unique=True),
        st.integers(2, 6),
    )


def constraints(unit: str) -> st.SearchStrategy[Request]:
    """What may be changed; bar and increment always stated, since the usual ones depend on the unit."""
    others = st.sampled_from(sorted(EXERCISES))
    return st.fixed_dictionaries(
        {"bar": bars(unit), "increment": st.sampled_from(STEPS[unit]).map(lambda step: quantity(step, unit))},
        optional={
            "levers": st.lists(st.sampled_from(LEVERS), min_size=1, max_size=11, unique=True),
            "exercises": st.lists(others, max_size=30, unique=True),
            "exclude": st.lists(others, max_size=10, unique=True),
            "days_per_week_max": st.integers(1, 7),
            "lightest_load": masses(5, 20, 2.5, unit),
        },
    )


def complaints(region: str) -> st.SearchStrategy[Request]:
    scores = st.integers(0, 20).map(lambda n: n / 2)
    return st.fixed_dictionaries(
        {"region": st.just(region), "pain_in_session": st.sampled_from([3, 4.5, 5, 6, 8])},
        optional={
            "pain_next_morning": scores,
            "usual_pain": scores,
            "pain_at_rest": st.sampled_from([0, 1, 2.5, 4, 5, 5.5]),
            "after_adjustment": st.booleans(),
            "also": st.lists(st.sampled_from([one for one in REGIONS if one != region]), max_size=2, unique=True),
            "side": st.sampled_from(get_args(Side)),
            "provoked_by": st.lists(st.sampled_from(get_args(Provocation)), max_size=4),
            "painful_range": st.sampled_from(get_args(PainfulRange)),
            "weeks": st.integers(0, 30),
            "onset": st.sampled_from(get_args(Onset)),
        },
    )


CONFIRMED: Final = st.fixed_dictionaries(
    {"confirmed_by_professional": st.just(value=True)},
    optional={
        "age": st.integers(12, 80),
        "pregnant": st.booleans(),
        "osteoporosis": st.booleans(),
        "post_operative": st.booleans(),
    },
)


@st.composite
def _consultations(draw: st.DrawFn) -> Request:
    unit = draw(st.sampled_from(UNITS))
    exercise = draw(st.sampled_from(sorted(EXERCISES)))
    request: Request = {
        "lifter": draw(lifters),
        "prescription": draw(prescriptions(exercise, unit)),
        "complaint": draw(complaints(draw(st.sampled_from(EXERCISES[exercise].regions)))),
        "aim": draw(st.sampled_from(AIMS)),
        "constraints": draw(constraints(unit)),
        "limit": 20,
    }
    return request | draw(st.fixed_dictionaries({}, optional={"circumstances": CONFIRMED}))


consultations = _consultations()
