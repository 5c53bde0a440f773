"""Scopes of uncertain inputs: which are the lifter's in every exercise, in the one order in which results keep them.

Setups of different families share the inputs of the lifter and no others, so these stand in one order in all of them.
Where a family is solved again with each input moved down and up, all that it does to the results is arranged here.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from service.mechanics.uncertainty.intervals import MEAN_SIZE, SPREAD_OF_SIZE, Changes, changes_of

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

_OF_LIFTER: Final = frozenset(LIFTER)

Sides = tuple[Sequence[float], Sequence[float]]
"""Changes of every result with an input moved down and moved up."""

Columns = tuple[Sequence[float], Sequence[float]]
"""The even and the uneven part of what an input does to every result, as of parts_of."""

_HALF_SPREAD: Final = SPREAD_OF_SIZE / 2.0
_SHIFT: Final = MEAN_SIZE / SPREAD_OF_SIZE
"""Mean of what goes with the size of a deviation, against its standard deviation [1]."""


def columns_of(down: Sequence[float], up: Sequence[float]) -> Columns:
    """The parts of an input, parts_of of every result.

    Args:
        down: changes with the input moved down [any]
        up: changes with the input moved up [any]
    """
    both = [*zip(down, up, strict=True)]
    return (
        [(above - below) / 2.0 for below, above in both],
        [(above + below) * _HALF_SPREAD for below, above in both],
    )


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
        sides: by input, moved by its standard deviation
        of_exercise: as of changes_by_columns
        own: as of changes_by_columns [1]
        repeated: as of changes_by_columns [1]
        of_setup: as of changes_by_columns
        of_repetition: as of changes_by_columns

    Returns:
        in the order of the results [any]
    """
    columns = {name: columns_of(down, up) for name, (down, up) in sides.items()}
    return changes_by_columns(columns, of_exercise, own, repeated, of_setup=of_setup, of_repetition=of_repetition)


def changes_by_columns(
    columns: Mapping[str, Columns],
    of_exercise: Sequence[str] = (),
    own: Mapping[str, float] | None = None,
    repeated: Mapping[str, float] | None = None,
    *,
    of_setup: Sequence[str] = (),
    of_repetition: Sequence[str] = (),
) -> list[Changes]:
    """The changes of every result from what each input does to them, arranged by the scopes of the inputs.

    Args:
        columns: by input; one that is neither in LIFTER nor named otherwise is the lifter's too, and shared with setups
            of the same inputs alone
        of_exercise: inputs that the exercise has for itself
        own: how far, besides, an exercise departs from the lifter's habit, by the habit's input, in its deviations [1]
        repeated: scatter from one repetition to the next, by input, in its deviations between lifters [1]
        of_setup: inputs that each setup has for itself
        of_repetition: inputs that each repetition has for itself

    Returns:
        in the order of the results [any]
    """
    own, repeated = own or {}, repeated or {}
    unmoved = [0.0] * len(next(iter(columns.values()))[0])
    not_moved = (unmoved, unmoved)
    named = _OF_LIFTER.union(of_exercise, of_setup, of_repetition)

    def both(names: Iterable[str]) -> list[Sequence[float]]:
        return [part for name in names for part in columns.get(name, not_moved)]

    def scaled(shares: Mapping[str, float]) -> list[Sequence[float]]:
        return [
            [share * value for value in part] for name, share in shares.items() for part in columns.get(name, not_moved)
        ]

    departing = scaled(own)
    uneven = [column for _, column in columns.values()] + departing[1::2]
    return changes_of_columns(
        of_lifter=[
            *[columns.get(name, not_moved)[0] for name in LIFTER],
            *[columns.get(name, not_moved)[1] for name in (*UNEVEN, *EVEN)],
            *both([name for name in columns if name not in named]),
        ],
        of_exercise=[*both(of_exercise), *departing],
        of_repetition=[*both(of_repetition), *scaled(repeated)],
        of_setup=both(of_setup),
        shift=[_SHIFT * sum(row) for row in zip(*uneven, strict=True)],
    )


def changes_of_columns(
    *,
    of_lifter: Sequence[Sequence[float]],
    of_exercise: Sequence[Sequence[float]],
    of_repetition: Sequence[Sequence[float]],
    shift: Sequence[float],
    of_setup: Sequence[Sequence[float]] = (),
) -> list[Changes]:
    """The changes of every result from one column for each part of an input, in which the results stand in order.

    Args:
        of_lifter: columns of the inputs of the lifter [any]
        of_exercise: of those of the exercise [any]
        of_repetition: of those of each repetition [any]
        shift: mean of every result less its central value [any]
        of_setup: columns of the inputs of each setup [any]

    Returns:
        in the order of the results [any]
    """
    none = [()] * len(shift)
    scopes = [
        zip(*scope, strict=True) if scope else none for scope in (of_lifter, of_exercise, of_repetition, of_setup)
    ]
    return [*map(changes_of, *scopes, shift)]
