"""How far the shins of squats with a load on the trunk are best moved: `python -m tests.science.reference.fit`.

Least squares over the published magnitudes about squats that a rule may be fitted to, each deviation in the spread
within which its row agrees and none counted for more than three of them. Rows that check are not asked. What came of
it stands in postures.toml.
"""

from __future__ import annotations

import sys
from typing import Final

from service.knowledge.posture_rules import EXERCISE_RULES
from tests.science.reference.comparisons import Comparison, rows_computed
from tests.science.reference.power import Answers, answers_in
from tests.science.reference.worlds import World

OFFSETS: Final = range(-6, 7)
"""[deg]"""
MOST: Final = 3.0
SQUATS: Final = frozenset(
    name for name, rule in EXERCISE_RULES.items() if rule.family == "squat" and rule.carry == "trunk"
)


def rows() -> list[Comparison]:
    """The magnitudes that are asked."""
    return [
        row
        for row in rows_computed()
        if row.askable and row.split == "fit" and not row.is_direction and SQUATS.intersection(row.lifts)
    ]


def deviation(row: Comparison, answers: Answers) -> float:
    """How far a row is from what is published [1], in the spread within which it agrees."""
    low, high = row.accepted()
    computed = row.computed(answers)
    return MOST if computed is None else (computed - (low + high) / 2) / ((high - low) / 2)


def main() -> None:
    """Print the sum of squares and the rows that agree for each offset."""
    keys = {f"exercises.{name}.shin_angle.mean" for name in SQUATS}
    worlds = [World({"postures.toml": dict.fromkeys(keys, f"+ {offset}")}) for offset in OFFSETS]
    asked = rows()
    for offset, answers in zip(OFFSETS, answers_in(worlds), strict=True):
        squares = sum(min(deviation(row, answers) ** 2, MOST**2) for row in asked)
        agree = sum(row.agrees(row.computed(answers)) for row in asked)
        sys.stdout.write(f"{offset:+d} deg: {squares:6.1f}, {agree} of {len(asked)} rows agree\n")


if __name__ == "__main__":
    main()
