"""Measures how often intervals hold: `python -m tests.science.calibration.measure LABEL`.

The figures are kept under their label in measured.csv, and RESULTS.md is written anew from all that is there.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from service.knowledge.evidence_records import Coverage as EvidenceOfCoverage
from tests.science.calibration.cells import OF_MECHANICS, OF_SEEN, coverages
from tests.science.calibration.repetitions import Coverage
from tests.science.calibration.slices import (
    AT_A_LIMIT,
    BOUNDS,
    BOUNDS_AT_A_LIMIT,
    BOUNDS_OF_PARTS,
    NEAR_NIL,
    by_estimate,
    overall,
    parts,
    whole_cells,
)
from tests.support.evidence import write

FOLDER: Final = Path(__file__).parent
MEASURED: Final = FOLDER / "measured.csv"
RESULTS: Final = FOLDER / "RESULTS.md"
COUNT: Final = 1500
COLUMNS: Final = ("label", "estimate", "answers", "coverage", "below", "above", "least", "most", "anyone", "meaning")
HEAD: Final = f"""# How often intervals hold

Written by `python -m tests.science.calibration.measure LABEL`, and by nothing else.

In each cell of a grid {COUNT:,} lifters are drawn from the distributions that the service states: their place between
people (nuzzo_2024), what was truly left of a stated reserve (helms_2017a, refalo_2023b, halperin_2022, zourdos_2021),
and the day (mitter_2022). Each does a set at 62.5 to 97.5 % of the maximum with 0 to 4 repetitions stated to be left,
in lifts in general and in the bench press; the service is asked, and its interval is held against what the same lifter
can do on another day. So the figures say whether intervals are what they say they are, not whether people are as
published.

For the mechanics {COUNT // OF_MECHANICS} lifters are drawn for each question, with lengths, masses and habits from the
stated spreads, and every repetition of theirs, with its scatter, is solved anew by statics: nothing of the
propagation is used. Asked is about four lifters (one measured, one with stiff ankles), every lift with a posture, two
loads, and the same with less load, with less depth or in another lift. The force of the turn (`dynamic`) is drawn too.

Of presses, pulls and raises the arm of each of as many lifters is solved anew, with shoulders, upper arm and strengths
of their own, hands of their own place and sideways force in each lift, from the stated spans, of which each holds nine
in ten.

Of estimates with "seen" {COUNT // OF_SEEN} lifters in each cell do a repetition in which trunk, shin or all three
angles are read by eye, on a phone's video or with an inclinometer, with the stated error; each asks with what was
read, and another repetition is held against the answer.

Counted are the cells in which nine of ten lifters could do the set and were answered. `anyone` has the others as well,
which are a choice of people: whoever has three left at 95 % is no usual lifter. A coverage of 68 % is to lie between
{BOUNDS[0]:.2f} and {BOUNDS[1]:.2f}, in each part of the grid (a lift and a share, reserve or question) between
{BOUNDS_OF_PARTS[0]:.2f} and {BOUNDS_OF_PARTS[1]:.2f}. Where `interval` says "at least", or where an end is one that it
names (what was lifted, the 4.2 % of a test), it may be more; and where a moment is near nil and its largest on the way
is taken ({", ".join(NEAR_NIL)}).
In some lifts ({", ".join(AT_A_LIMIT)})
many lifters stand at one balance point, where they would tip backward, or the largest moment is met at a straight or a
folded arm: there parts of the grid have {BOUNDS_AT_A_LIMIT[0]:.2f} to {BOUNDS_AT_A_LIMIT[1]:.2f}.
"""


def main(label: str) -> None:
    """Measure, keep the figures and write the page."""
    kept = [row for row in _measured() if row["label"] != label]
    rows = [*kept, *_rows(label, coverages(COUNT))]
    with MEASURED.open("w", encoding="utf-8", newline="") as lines:
        out = csv.DictWriter(lines, COLUMNS, lineterminator="\n")
        out.writeheader()
        out.writerows(rows)
    RESULTS.write_text("\n".join([HEAD, *_page(rows)]) + "\n", encoding="utf-8")
    write("coverages.csv", evidence())


def evidence() -> list[EvidenceOfCoverage]:
    """What the page of evidence says: the figures of the last label."""
    rows = _measured()
    return [
        EvidenceOfCoverage(
            row["estimate"],
            int(row["answers"]),
            float(row["coverage"]),
            float(row["below"]),
            float(row["above"]),
            row["meaning"],
        )
        for row in rows
        if row["label"] == rows[-1]["label"]
    ]


def _measured() -> list[dict[str, str]]:
    if not MEASURED.exists():
        return []
    with MEASURED.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines, strict=True))


def _rows(label: str, cells: Sequence[Coverage]) -> Iterator[dict[str, str]]:
    counted, all_cells = by_estimate(whole_cells(cells)), by_estimate(cells)
    for estimate, some in counted.items():
        whole, shares = overall(some), [part.coverage for part in parts(some)]
        yield {
            "label": label,
            "estimate": estimate,
            "answers": str(whole.answers),
            "coverage": f"{whole.coverage:.3f}",
            "below": f"{whole.below:.3f}",
            "above": f"{whole.above:.3f}",
            "least": f"{min(shares):.2f}",
            "most": f"{max(shares):.2f}",
            "anyone": f"{overall(all_cells[estimate]).coverage:.3f}",
            "meaning": some[0].meaning,
        }


def _page(rows: Sequence[dict[str, str]]) -> Iterator[str]:
    labels = list(dict.fromkeys(row["label"] for row in rows))
    yield "| estimate | " + " | ".join(f"{label} | in parts" for label in labels) + " |"
    yield "| --- |" + " ---: | ---: |" * len(labels)
    for estimate in dict.fromkeys(row["estimate"] for row in rows):
        by_label = {row["label"]: row for row in rows if row["estimate"] == estimate}
        cells = [
            f"{by_label[label]['coverage']} | {by_label[label]['least']} to {by_label[label]['most']}"
            if label in by_label
            else " | "
            for label in labels
        ]
        yield f"| {estimate} | " + " | ".join(cells) + " |"
    yield ""
    yield f"## {labels[-1]}"
    yield ""
    yield "| estimate | answers | held | below | above | anyone | what `interval` says |"
    yield "| --- | ---: | ---: | ---: | ---: | ---: | --- |"
    for row in rows:
        if row["label"] == labels[-1]:
            yield "| " + " | ".join(row[name] for name in ("estimate", *COLUMNS[2:6], "anyone", "meaning")) + " |"


if __name__ == "__main__":
    main(*sys.argv[1:])
