"""Lifts of a week as a request states them."""

from __future__ import annotations

from typing import Any

from tests.support.asking import kg


def lift(
    day: int, exercise: str, sets: int, reps: int | tuple[int, int], load: float, reserve: float = 2, **more: object
) -> dict[str, Any]:
    """One lift on one day.

    Args:
        day: of the week, 1 to 7
        exercise: its id
        sets: of the day
        reps: of each set, or the least and the most
        load: on the implement [kg]
        reserve: repetitions left after a set
        more: other fields of the prescription
    """
    low, high = reps if isinstance(reps, tuple) else (reps, reps)
    prescription = {
        "exercise": exercise,
        "sets": sets,
        "reps": {"low": low, "high": high},
        "load": kg(load),
        "reps_in_reserve": reserve,
    }
    return {"day": day, "prescription": prescription | more}
