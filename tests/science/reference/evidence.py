"""What the page of evidence says of the published observations, of what they would notice, and of figures and cases.

The rows of service/knowledge/data/evidence that this group measures; `python -m tests.science.reference.write`.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import Final

import msgspec

from service.knowledge.evidence_records import Check, Comparison, Fault, Finding, Half, Told
from service.knowledge.records import Record
from tests.science.reference.comparisons import Comparison as Row
from tests.science.reference.comparisons import parts, rows_computed
from tests.science.reference.power import REGIONS, Measured, computed, measured
from tests.science.reference.results import lifts_modelled, told_by
from tests.support.asking import rows

FINDINGS: Final[dict[str, Finding]] = {
    "higher": "difference",
    "lower": "difference",
    "no_difference": "no_difference",
    "bound": "bound",
    "value": "magnitude",
    "range": "magnitude",
}
PUBLISHED: Final = "figures as printed, keyed in a second time from their sources and compared row by row"
TRANSCRIBED: Final = "tests/science/reference/test_published_figures.py"
KEYED_TWICE: Final[dict[str, tuple[str, ...]]] = {
    "printed_repetitions.csv": ("reps",),
    "printed_effort_accuracy.csv": ("reps",),
    "printed_ratios.csv": ("strength_ratio",),
    "printed_rest.csv": ("rest",),
    "printed_tempo.csv": ("tempo",),
    "printed_muscle_shares.csv": ("muscle_sets",),
    "printed_leg_share.csv": ("lead_share",),
    "printed_segments.csv": ("ankle", "knee", "hip", "lumbosacral", "lean"),
    "printed_lengths.csv": ("ankle", "knee", "hip", "lumbosacral", "lean"),
    "printed_lift_demand.csv": ("direction",),
    "printed_spinal_load.csv": ("spine_compression",),
}


def evidence() -> dict[str, Sequence[Record]]:
    """The rows by the name of their file. Takes as long as measuring does."""
    found = measured()
    return {
        "comparisons.csv": list(map(_comparison, rows_computed())),
        "faults.csv": _faults(found),
        "lifts.csv": _told(found),
        "worked_cases.csv": [*_worked_cases(), *_keyed_twice()],
    }


def _comparison(row: Row) -> Comparison:
    number = computed()[row.id]
    return Comparison(
        id=row.id,
        half=_half(row),
        finding=FINDINGS[row.expected],
        assumed_spread=row.assumes_spread,
        study=row.study,
        subject=f"{row.subject}; {row.condition}" if row.condition else row.subject,
        quantity=row.quantity,
        measured=tuple(sorted({name for _, name in parts(row.measure)} - {"body_mass"})),
        printed=row.printed,
        computed=None if number is None else float(f"{number:.3g}"),
        agrees=row.agrees(number),
        cause=row.cause,
        citation=row.source,
        known=row.known,
    )


def _half(row: Row) -> Half:
    return row.split


def _faults(found: Measured) -> list[Fault]:
    return [
        Fault(each.what, each.change, len(each.ids("check")), len(each.ids("fit")), each.lift) for each in found.matrix
    ]


def _told(found: Measured) -> list[Told]:
    pairs = product(lifts_modelled(), (*REGIONS, "lean"))
    return msgspec.convert(
        [{"lift": lift, "part": part, "by": told_by(found, lift, part)} for lift, part in pairs], list[Told]
    )


def _worked_cases() -> list[Check]:
    """Cases whose answer was known beforehand; their tolerances are their own, or the last printed digit."""
    repetitions = [row for row in rows("load_repetition_cases.csv") if row["answered_by"]]
    maxima = [row for row in rows("maximum_check_values.csv") if row["maximum"]]
    supports = [row for row in rows("spine_and_stance_cases.csv") if row["answered_by"]]
    spine = [row for row in supports if row["id"].startswith("S")]
    stance = [row for row in supports if row["id"].startswith("L")]
    of_repetitions = "tests/science/reference/test_load_repetition.py"
    of_supports = "tests/science/reference/test_spine_and_stance.py"
    return [
        Check(
            ("reps",), "loads and repetitions", "cases published or worked beforehand", of_repetitions, len(repetitions)
        ),
        Check(
            ("reps",),
            "each relation",
            "maxima worked from the printed equations",
            of_repetitions,
            len(maxima),
            5.1e-4,
            unit="kg",
        ),
        Check(
            ("spine_compression", "spine_shear"),
            "trunk bent forward",
            "cases of physics texts",
            of_supports,
            len(spine),
            0.005,
            unit="of the value",
        ),
        Check(
            ("lead_share",),
            "two supports",
            "cases of physics texts and measured shares",
            of_supports,
            len(stance),
            0.005,
            unit="of the value",
        ),
    ]


def _keyed_twice() -> list[Check]:
    return [
        Check(measured_, file.removesuffix(".csv").replace("_", " "), PUBLISHED, TRANSCRIBED, len(rows(file)), 0.0)
        for file, measured_ in KEYED_TWICE.items()
    ]
