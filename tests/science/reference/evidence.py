"""What the page of evidence says of the published observations, of what they would notice, and of figures and cases.

The rows of service/knowledge/data/evidence that this group measures; `python -m tests.science.reference.write`.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

import msgspec

from service.knowledge.evidence_records import Check, Comparison, Fault, Finding, Half, Told
from service.knowledge.records import Record
from tests.science.reference.comparisons import Comparison as Row
from tests.science.reference.comparisons import parts, rows_computed
from tests.science.reference.power import Measured, computed, measured
from tests.science.reference.results import lifts_modelled, parts_modelled, told_by
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
OF_THE_BODY: Final = ("ankle", "knee", "hip", "lumbosacral", "lean")


class Cases(NamedTuple):
    """A file of cases or figures that the service is held against.

    Attributes:
        file: of data
        measured: what is compared
        about: lifts, stances or figures; where empty, as the file is called
        compared_with: what was known beforehand
        test: module of this group
        filled: column that a case has to have
        begins: how the id of a case begins
        tolerance: greatest deviation allowed, None where each case has its own
        unit: of the tolerance
    """

    file: str
    measured: tuple[str, ...]
    about: str = ""
    compared_with: str = PUBLISHED
    test: str = "test_published_figures.py"
    filled: str = "source"
    begins: str = ""
    tolerance: float | None = 0.0
    unit: str = ""

    def check(self) -> Check:
        """The cases as a row of evidence."""
        cases = [row for row in rows(self.file) if row[self.filled] and row.get("id", "").startswith(self.begins)]
        test = f"tests/science/reference/{self.test}"
        called = self.file.removesuffix(".csv").removeprefix("printed_").replace("_", " ")
        return Check(
            self.measured, self.about or called, self.compared_with, test, len(cases), self.tolerance, unit=self.unit
        )


WORKED: Final = "cases published or worked beforehand"
TEXTBOOKS: Final = "cases of physics texts and measured figures"
OF_REPETITIONS: Final = "test_load_repetition.py"
OF_SUPPORTS: Final = "test_spine_and_stance.py"
OF_THE_VALUE: Final = "of the value"
SPINE: Final = ("spine_compression", "spine_shear")
CASES: Final = (
    Cases(
        "load_repetition_cases.csv",
        ("reps",),
        "loads, repetitions, volume",
        WORKED,
        OF_REPETITIONS,
        "answered_by",
        tolerance=None,
    ),
    Cases(
        "maximum_check_values.csv",
        ("reps",),
        "each relation",
        "maxima worked from the printed equations",
        OF_REPETITIONS,
        "maximum",
        tolerance=0.00051,
        unit="kg",
    ),
    Cases(
        "spine_and_stance_cases.csv",
        SPINE,
        "trunk bent forward",
        TEXTBOOKS,
        OF_SUPPORTS,
        "answered_by",
        "S",
        0.005,
        OF_THE_VALUE,
    ),
    Cases(
        "spine_and_stance_cases.csv",
        ("lead_share",),
        "two supports",
        TEXTBOOKS,
        OF_SUPPORTS,
        "answered_by",
        "L",
        0.005,
        OF_THE_VALUE,
    ),
    Cases(
        "sign_urgencies.csv",
        ("signs",),
        "red flags",
        "urgencies as their sources say them, keyed in a second time",
        "test_signs.py",
        "sign",
    ),
    Cases(
        "sign_evidence.csv",
        ("signs",),
        "red flags",
        "statements of the evidence, and the words in which signs say them",
        "test_signs.py",
        "subject",
    ),
    Cases(
        "dynamics_cases.csv",
        ("turn_factor",),
        "force at the turn over the weight",
        "published and worked factors, those included that the constants were made from",
        "test_dynamics.py",
        tolerance=None,
    ),
    Cases("printed_repetitions.csv", ("reps",)),
    Cases("printed_repetition_errors.csv", ("reps",)),
    Cases("printed_effort_accuracy.csv", ("reps",)),
    Cases("printed_ratios.csv", ("strength_ratio",)),
    Cases("printed_rest.csv", ("rest",)),
    Cases("printed_tempo.csv", ("tempo",)),
    Cases("printed_muscle_shares.csv", ("muscle_sets",), test="test_muscle_shares.py"),
    Cases("printed_leg_share.csv", ("lead_share",)),
    Cases("printed_segments.csv", OF_THE_BODY),
    Cases("printed_lengths.csv", OF_THE_BODY),
    Cases("printed_lift_demand.csv", ("direction",)),
    Cases("printed_spinal_load.csv", ("spine_compression",)),
)


def evidence() -> dict[str, Sequence[Record]]:
    """The rows by the name of their file. Takes as long as measuring does."""
    found = measured()
    return {
        "comparisons.csv": list(map(_comparison, rows_computed())),
        "faults.csv": _faults(found),
        "lifts.csv": _told(found),
        "worked_cases.csv": [each.check() for each in CASES],
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
    told = [
        {"lift": lift, "part": part, "by": told_by(found, lift, part)}
        for lift in lifts_modelled()
        for part in parts_modelled(lift)
    ]
    return msgspec.convert(told, list[Told])
