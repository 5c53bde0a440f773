"""Random consultations for `adjustments`, as requests: lifters, squats, complaints and what there is to lift with."""

from __future__ import annotations

from typing import Any, Final

from hypothesis import strategies as st

SQUATS: Final = ("back_squat_high_bar", "back_squat_low_bar", "front_squat", "safety_bar_squat")
LEVERS: Final = ("load", "reps", "variation", "exercise", "days")
EXERCISES: Final = (*SQUATS, "split_squat", "rear_foot_elevated_split_squat", "belt_squat")


def kilograms(low: float, high: float, step: float) -> st.SearchStrategy[dict[str, Any]]:
    """Masses on a grid, so that no figure stands on the edge of a rounding."""
    return st.integers(round(low / step), round(high / step)).map(lambda n: {"value": n * step, "unit": "kg"})


lifters = st.fixed_dictionaries(
    {
        "body_mass": kilograms(50, 130, 0.5),
        "stature": st.integers(150, 200).map(lambda n: {"value": n, "unit": "cm"}),
    },
    optional={"sex": st.sampled_from(["female", "male"])},
)
prescriptions = st.builds(
    lambda exercise, sets, low, more, load, rest: {
        "exercise": exercise, "sets": sets, "reps": {"low": low, "high": low + more}, "load": load, **rest,
    },
    st.sampled_from(SQUATS),
    st.integers(1, 6),
    st.integers(1, 10),
    st.integers(0, 3),
    kilograms(40, 180, 2.5),
    st.fixed_dictionaries(
        {}, optional={"reps_in_reserve": st.sampled_from([0, 1, 2.5, 4]), "days_per_week": st.integers(1, 4)}
    ),
)  # fmt: skip
complaints = st.fixed_dictionaries(
    {"region": st.sampled_from(["low_back", "hip", "knee"]), "pain_in_session": st.sampled_from([3, 4.5, 5, 6, 8])}
)
bars = st.builds(
    lambda bar, kinds: {"bar": bar, "plates": [{"plate": plate, "pairs": 4} for plate in kinds]},
    st.sampled_from([15, 20]).map(lambda n: {"value": n, "unit": "kg"}),
    st.lists(st.sampled_from([0.5, 1.25, 2.5, 5, 10, 15, 20, 25]), min_size=3, max_size=8, unique=True).map(
        lambda found: [{"value": plate, "unit": "kg"} for plate in found]
    ),
)
constraints = st.fixed_dictionaries(
    {"bar": bars},
    optional={
        "levers": st.lists(st.sampled_from(LEVERS), min_size=1, max_size=5, unique=True),
        "exercises": st.lists(st.sampled_from(EXERCISES), max_size=7, unique=True),
        "exclude": st.lists(st.sampled_from(EXERCISES), max_size=3, unique=True),
        "days_per_week_max": st.integers(1, 7),
    },
)
consultations = st.fixed_dictionaries(
    {
        "lifter": lifters,
        "prescription": prescriptions,
        "complaint": complaints,
        "aim": st.sampled_from(["strength", "muscle_size", "tendon", "maintain"]),
        "constraints": constraints,
        "limit": st.just(20),
    }
)
