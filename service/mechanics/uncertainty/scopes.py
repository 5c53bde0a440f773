"""Scopes of uncertain inputs: which are the lifter's in every exercise, in the one order in which results keep them.

Setups of different families share the inputs of the lifter and no others, so these stand in one order in all of them.
Where a family is solved again with each input moved down and up, all that it does to the results is arranged here.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from service.mechanics.uncertainty.intervals import UNMOVED, Changes, Parts, changes_of, parts_of

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
    found = []
    for position in range(len(next(iter(sides.values()))[0])):
        parts: defaultdict[str, Parts] = defaultdict(lambda: UNMOVED)
        parts.update({name: parts_of(down[position], up[position]) for name, (down, up) in sides.items()})
        lifter = [parts[name].even for name in LIFTER] + [parts[name].uneven for name in (*UNEVEN, *EVEN)]
        departing = [part for name, share in own.items() for part in _scaled(parts[name], share)]
        found.append(
            changes_of(
                (*lifter, *_columns(parts[name] for name in more)),
                (*_columns(parts[name] for name in of_exercise), *departing),
                (
                    *_columns(parts[name] for name in of_repetition),
                    *[part for name, share in repeated.items() for part in _scaled(parts[name], share)],
                ),
                tuple(_columns(parts[name] for name in of_setup)),
                shift=sum(one.shift for one in parts.values())
                + sum(share * parts[name].shift for name, share in own.items()),
            )
        )
    return found


def _columns(parts: Iterable[Parts]) -> Iterator[float]:
    for one in parts:
        yield from _scaled(one, 1.0)


def _scaled(parts: Parts, factor: float) -> tuple[float, float]:
    return factor * parts.even, factor * parts.uneven
