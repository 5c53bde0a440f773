"""What the catalogue makes obvious is looked at: situations with what a coach would think of at once, row by row.

obvious.csv: the lift, its load [kg], what hurts, the gym, the tolerated load [kg] where one is told, days a week, and
an option that has to be among the candidates, by its exercise, implement and a lever. What is shown of them is a matter
of rank. not_offered: why it is none here, where that is known; such a row fails as soon as it is offered after all.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any, Final

import pytest

from service.adjustment.consultation import Candidate
from service.adjustment.options.search import candidates
from service.knowledge.catalogue import EXERCISES, SOURCES
from service.vocabulary import LEVERS
from tests.support.asking import kg
from tests.support.consultations import case_of

STEPS: Final = {"dumbbells": (2, 32), "kettlebell": (4, 32), "machine": (5, 300), "cable": (2.5, 100)}
GYMS: Final = {"everything": (), "dumbbells": ("dumbbells", "kettlebell"), "machines": ("machine", "cable")}
with (Path(__file__).parent / "obvious.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS: Final = tuple(csv.DictReader(_lines, strict=True))


def request(row: dict[str, str]) -> dict[str, Any]:
    gym = [{"implement": name, "step": kg(STEPS[name][0]), "heaviest": kg(STEPS[name][1])} for name in GYMS[row["gym"]]]
    tolerated = {"tolerated": {"load": kg(float(row["tolerated"]))}} if row["tolerated"] else {}
    return {
        "lifter": {"body_mass": kg(79), "stature": {"value": 178, "unit": "cm"}, "sex": "male"},
        "prescription": {
            "exercise": row["exercise"],
            "sets": 4,
            "reps": {"low": 6, "high": 8},
            "load": kg(float(row["load"])),
            "reps_in_reserve": 2,
            "days_per_week": int(row["days"]),
        },
        "complaint": {"region": row["region"], "pain_in_session": 4, **tolerated},
        "aim": "muscle_size",
        "constraints": {"gym": {"implements": gym}} if gym else {},
    }


def looked_at(row: dict[str, str]) -> list[Candidate]:
    return [one for one in candidates(case_of(request(row))) if isinstance(one, Candidate)]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: "-".join(row[name] for name in list(row)[:8] if row[name]))
def test_what_is_obvious_is_among_the_candidates(row: dict[str, str]) -> None:
    found = [
        one
        for one in looked_at(row)
        if one.prescription.exercise == row["offered"]
        and row["lever"] in one.levers
        and (not row["implement"] or one.prescription.held == row["implement"])
    ]
    tried = sorted({(one.prescription.exercise, one.prescription.held, one.levers) for one in looked_at(row)})
    assert bool(found) == (row["not_offered"] == ""), tried
    there = GYMS[row["gym"]]
    allowed = {*there, "body_weight", *(["one_dumbbell"] if "dumbbells" in there else [])}
    assert not there or all(one.prescription.held in allowed for one in found)


def test_every_row_names_what_there_is_and_how_it_is_known() -> None:
    assert len(ROWS) >= 50
    assert sum(bool(row["not_offered"]) for row in ROWS) <= 3
    for row in ROWS:
        assert {row["exercise"], row["offered"]} <= EXERCISES.keys()
        assert row["lever"] in LEVERS
        assert row["because"]
        assert row["known"] == "common practice" or row["known"] in SOURCES
