"""The page RESULTS.md: what is published, what the service makes of it, and what the comparisons would notice."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import cache
from math import isinf
from typing import Final

from service.knowledge.catalogue import EXERCISES
from tests.science.reference.comparisons import (
    ASSUMED_SD,
    NOT_COMPUTED,
    Comparison,
    comparisons,
    rows_computed,
)
from tests.science.reference.power import LEAN_WRONG_BY, MOMENT_WRONG_BY, REGIONS, Measured, Noticed, computed, measured
from tests.support.asking import ask, kg

GOALS: Final = {"directions": 0.95, "magnitudes": 0.80}
HEADING: Final = """\
# Published observations, and what the service makes of them

Written by `python -m tests.science.reference.write`, and by nothing else; a test holds it current.

Every observation that we hold is a row of data/comparisons.csv. A row **checks**, or rules may be **fitted** to it: as
its collection marked it, fitted where a rule of the service was made from it, and otherwise by a hash of its id. Only
rows that check are counted. A direction agrees if it is the published one, and where there is none if the change is
less than a spread; a magnitude agrees within one published standard deviation between lifters, or in the published
range. Where no spread is published, {ratio:.0%} of a ratio, {absolute:.0%} of a moment or force, {deg:g}° of an angle
and {points:g} points of a share stand for it (*).

How the arms do each press and pull was chosen by someone who had read most of the observations of them (ids that begin
with U): an agreement of a usual pose proves less than that of a moment.

Ratios of strength, repetitions at shares of the maximum, the accuracy of effort, what lifts train and the segments of
the body have tables of their own (data/printed_*.csv), compared where those are computed.
"""


def results() -> str:
    """The page. Takes as long as measuring does."""
    found = measured()
    return (
        "\n\n".join(
            [
                HEADING.format(**ASSUMED_SD).strip(),
                _counts(),
                _misses(),
                _by_lift(found),
                _matrix(found),
                _rows("check", "Rows that check"),
                _rows("fit", "Rows that may be fitted to, which are not counted"),
                _made_use_of(),
                _not_computed(),
            ]
        )
        + "\n"
    )


def _table(heading: Sequence[str], rows: Iterable[Sequence[str]], right: int = 0) -> str:
    """A table; the last `right` columns hold numbers."""
    rules = ["---"] * (len(heading) - right) + ["---:"] * right
    cells = [heading, rules, *rows]
    return "\n".join(
        "| " + " | ".join(cell.replace("|", "/").replace("\n", " ") for cell in row) + " |" for row in cells
    )


# --- the counts -------------------------------------------------------------------------------------------------------

_KINDS: Final[dict[str, Callable[[Comparison], bool]]] = {
    "directions": lambda row: row.is_direction,
    "… that there is a difference": lambda row: row.expected in {"higher", "lower"},
    "… that there is none": lambda row: row.expected == "no_difference",
    "… and bounds": lambda row: row.expected == "bound",
    "magnitudes": lambda row: not row.is_direction,
    "… with a published spread or range": lambda row: not row.is_direction and not row.assumes_spread,
    "… with an assumed spread": lambda row: not row.is_direction and row.assumes_spread,
    "… absolute: an angle, a moment, a force": lambda row: not row.is_direction and row.is_absolute,
}


def counted(split: str, kind: str) -> tuple[int, int]:
    """How many computed rows of a half and a kind agree, and how many there are.

    Args:
        split: check or fit
        kind: as the page names it
    """
    rows = [row for row in rows_computed() if row.split == split and _KINDS[kind](row)]
    return sum(row.agrees(computed()[row.id]) for row in rows), len(rows)


def _counts() -> str:
    lines = []
    for kind in _KINDS:
        check, fit = (counted(split, kind) for split in ("check", "fit"))
        goal = f"{GOALS[kind]:.0%}" if kind in GOALS else ""
        lines.append([kind, _of(*check), f"{check[0] / check[1]:.0%}" if check[1] else "", goal, _of(*fit)])
    total = len(comparisons())
    rest = total - len(rows_computed())
    text = f"Of {total} observations {total - rest} are computed and {rest} are not; why not stands at the end."
    return f"## Counts\n\n{_table(['', 'check', '', 'goal', 'fit'], lines, 4)}\n\n{text}"


def _of(agree: int, total: int) -> str:
    return f"{agree} of {total}"


# --- the rows ---------------------------------------------------------------------------------------------------------


def _shown(number: float | None) -> str:
    return "refused" if number is None else f"{number:.3g}"


def _accepted(row: Comparison) -> str:
    low, high = row.accepted()
    if isinf(high):
        return f"> {row.neutral:g}"
    if isinf(low):
        return f"< {row.neutral:g}"
    return f"{low:.3g} to {high:.3g}" + (" *" if row.assumes_spread else "")


def _about(row: Comparison) -> str:
    return f"{row.subject}; {row.condition}" if row.condition else row.subject


def _misses() -> str:
    missed = [row for row in rows_computed() if row.split == "check" and not row.agrees(computed()[row.id])]
    lines = [
        [f"`{row.id}`", row.study, _about(row), row.quantity, row.printed, _shown(computed()[row.id]), row.cause]
        for row in missed
    ]
    heading = ["row", "study", "what", "quantity", "printed", "computed", "physical cause"]
    return f"## Every miss among the rows that check ({len(missed)})\n\n{_table(heading, lines)}"


def _rows(split: str, title: str) -> str:
    lines = [
        [
            f"`{row.id}`",
            row.study,
            row.quantity,
            f"`{row.measure}` of {', '.join(row.setups)}",
            row.printed,
            _accepted(row),
            _shown(computed()[row.id]),
            "yes" if row.agrees(computed()[row.id]) else "**no**" if split == "check" else f"no: {row.cause}",
            row.remark,
        ]
        for row in rows_computed()
        if row.split == split
    ]
    heading = ["row", "study", "quantity", "asked", "printed", "accepted", "computed", "agrees", "remark"]
    return f"## {title}\n\n{_table(heading, lines)}"


def _made_use_of() -> str:
    lines = [[f"`{row.id}`", row.study, row.quantity, row.fitted] for row in comparisons() if row.mark == "fitted"]
    return f"## Rows that a constant was made from\n\n{_table(['row', 'study', 'quantity', 'constants'], lines)}"


def _not_computed() -> str:
    lines = []
    for code, words in NOT_COMPUTED.items():
        rows = [row for row in comparisons() if row.not_computed == code]
        named = [f"{row.id} ({row.remark})" if row.remark else row.id for row in rows]
        lines.append([words, str(len(rows)), ", ".join(named)])
    return f"## Observations that are not computed\n\n{_table(['why', 'rows', 'which'], lines)}"


# --- what would be noticed --------------------------------------------------------------------------------------------


_JOINTS: Final = {"low_back": "lumbosacral"}


@cache
def parts_modelled(exercise: str) -> tuple[str, ...]:
    """The regions of which joint-demand answers a moment of a lift, and the lean where it answers a posture."""
    lifter = {"body_mass": kg(80), "stature": {"value": 175, "unit": "cm"}}
    answered = ask("joint-demand", {"lifter": lifter, "setups": [{"label": "a", "exercise": exercise, "load": kg(60)}]})
    one = answered.setups[0]
    regions = [region for region in REGIONS if getattr(one.moments, _JOINTS.get(region, region), None) is not None]
    return (*regions, "lean") if one.posture is not None else tuple(regions)


def lifts_modelled() -> list[str]:
    """The exercises of which joint-demand answers moments."""
    return sorted(exercise for exercise in EXERCISES if parts_modelled(exercise))


def told_by(found: Measured, lift: str, what: str) -> str:
    """By which rows an error in a lift is told: check, fit, would (by rows that disagree as it is) or none.

    Args:
        found: what was measured
        lift: id of the exercise
        what: a region, or the lean
    """
    about = [noticed for noticed in found.by_lift if (noticed.lift, noticed.what) == (lift, what)]
    for split in ("check", "fit"):
        if any(noticed.ids(split) for noticed in about):
            return split
    return "would" if any(noticed.would for noticed in about) else "none"


_SENTENCES: Final = {
    "none": "nothing published could tell of {}",
    "would": "rows that disagree as it is would tell of {}",
    "fit": "only rows that may be fitted to tell of {}",
}


def _sentence(found: Measured, lift: str) -> str:
    told = {what: told_by(found, lift, what) for what in parts_modelled(lift)}
    parts = [
        words.format(", ".join(what.replace("_", " ") for what, by in told.items() if by == kind))
        for kind, words in _SENTENCES.items()
        if kind in told.values()
    ]
    return f"- {lift}: {'; '.join(parts) or 'rows that check tell of all that is computed of it'}."


def _by_lift(found: Measured) -> str:
    cells = {(one.lift, one.what, one.change): one for one in found.by_lift}
    changes = dict.fromkeys(REGIONS, (f"-{100 * MOMENT_WRONG_BY:.0f} %", f"+{100 * MOMENT_WRONG_BY:.0f} %"))
    changes["lean"] = (f"-{LEAN_WRONG_BY:.0f} deg", f"+{LEAN_WRONG_BY:.0f} deg")
    heading = ["lift", *(f"{what} {change}" for what in changes for change in changes[what])]
    lines = [
        [lift, *(_cell(cells.get((lift, what, change))) for what in changes for change in changes[what])]
        for lift in lifts_modelled()
    ]
    sentences = [_sentence(found, lift) for lift in lifts_modelled()]
    explained = (
        f"The moment of one region of one lift {MOMENT_WRONG_BY:.0%} too small or too large in every answer about it, "
        f"and its trunk leaning {LEAN_WRONG_BY:g}° less or more with what that does to the low back: how many rows "
        "that agreed no longer do (rows that check + rows that may be fitted to). A row of which the service is wrong "
        "already cannot notice; it would, once right."
    )
    table = _table(heading, lines, len(heading) - 1)
    return "\n\n".join(["## What would be noticed, lift by lift", explained, table, "\n".join(sentences)])


def _cell(noticed: Noticed | None) -> str:
    if noticed is None or not noticed.fails:
        return "–"
    return f"{len(noticed.ids('check'))} + {len(noticed.ids('fit'))}"


def _matrix(found: Measured) -> str:
    lines = [
        [
            noticed.what + (f", {noticed.lift}" if noticed.lift else ""),
            noticed.change,
            ", ".join(noticed.ids("check")) or "**none**",
            ", ".join(noticed.ids("fit")),
            ", ".join(row.id for row in noticed.begins),
        ]
        for noticed in found.matrix
    ]
    seen = sum(bool(noticed.ids("check")) for noticed in found.matrix)
    either = sum(bool(noticed.fails) for noticed in found.matrix)
    heading = ["made wrong", "by", "check and fail", "may be fitted to and fail", "begin to agree"]
    explained = (
        "Each figure, question or answer made wrong by itself (data/perturbations.toml), and the rows that notice. "
        f"Of {len(lines)} faults {seen} are noticed by rows that check, {either} by any row."
    )
    return "\n\n".join(["## Perturbation matrix", explained, _table(heading, lines)])
