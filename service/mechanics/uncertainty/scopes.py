"""Scopes of uncertain inputs: which are the lifter's in every exercise, in the one order in which results keep them.

Setups of different families share the inputs of the lifter and no others, so these stand in one order in all of them.
Where a family is solved again with each input moved down and up, all that it does to the results is arranged here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from service.mechanics.uncertainty.intervals import Changes, changes_of, parts_of

EVEN: Final = (
    "shank",
    "thigh_and_trunk",
    "foot",
    "hip_centres",
    "balance",
    "lumbosacral_level",
    "thigh_angle",
    "segment_table",
    "trunk_residual",
)
"""Inputs of the lifter that move the results of a squat equally far down and up."""
UNEVEN: Final = ("shin_angle", "above_mass")
"""Inputs of the lifter that do not."""
LIFTER: Final = (*EVEN, *UNEVEN)
"""Inputs of the lifter in the order of their even parts; the uneven parts of UNEVEN follow, then those of EVEN."""

Sides = tuple[Sequence[float], Sequence[float]]
"""Changes of every result with an input moved down and moved up."""


def changes_by_sides(
    sides: Mapping[str, Sides],
    of_exercise: Sequence[str] = (),
    own: Mapping[str, float] | None = None,
    repeated: Mapping[str, float] | None = None,
    *,
    of_setup: Sequence[str] = (),
    of_repetition: Sequence[str] = (),
) -> list[Changes]:
    """The changes of every result of a setup that was solved again with each input moved down and up.

    Args:
        sides: by input, moved by its standard deviation; an input that is neither in LIFTER nor named otherwise is the
            lifter's too, and shared with setups of the same inputs alone
        of_exercise: inputs that the exercise has for itself
        own: how far, besides, an exercise departs from the lifter's habit, by the habit's input, in its deviations [1]
        repeated: scatter from one repetition to the next, by input, in its deviations between lifters [1]
        of_setup: inputs that each setup has for itself
        of_repetition: inputs that each repetition has for itself

    Returns:
        in the order of the results [any]
    """
    more = [name for name in sides if name not in (*LIFTER, *of_exercise, *of_setup, *of_repetition)]
    own, repeated = own or {}, repeated or {}
    even, uneven, shift = {}, {}, {}
    for name, (down, up) in sides.items():
        parts = [parts_of(below, above) for below, above in zip(down, up, strict=True)]
        even[name], uneven[name] = [one.even for one in parts], [one.uneven for one in parts]
        shift[name] = [one.shift for one in parts]
    unmoved = [0.0] * len(next(iter(shift.values())))

    def both(names: Iterable[str]) -> list[list[float]]:
        return [part.get(name, unmoved) for name in names for part in (even, uneven)]

    def scaled(shares: Mapping[str, float]) -> list[list[float]]:
        columns = zip(both(shares), [share for share in shares.values() for _ in (even, uneven)], strict=True)
        return [[share * value for value in column] for column, share in columns]

    lifter = [even.get(name, unmoved) for name in LIFTER]
    lifter += [uneven.get(name, unmoved) for name in (*UNEVEN, *EVEN)]
    shifts = [*shift.values(), *[[own[name] * value for value in shift[name]] for name in own if name in shift]]
    rows = zip(
        _rows([*lifter, *both(more)], unmoved),
        _rows([*both(of_exercise), *scaled(own)], unmoved),
        _rows([*both(of_repetition), *scaled(repeated)], unmoved),
        _rows(both(of_setup), unmoved),
        map(sum, zip(*shifts, strict=True)),
        strict=True,
    )
    return [
        changes_of(one_lifter, exercise, repetition, setup, shift=moved)
        for one_lifter, exercise, repetition, setup, moved in rows
    ]


def _rows(columns: list[list[float]], unmoved: list[float]) -> list[tuple[float, ...]]:
    """The columns of inputs as one row for each result, also where there are none."""
    return [*zip(*columns, strict=True)] if columns else [()] * len(unmoved)
