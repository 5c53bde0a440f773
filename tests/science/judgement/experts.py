"""How many lines of the consultations hold, for the page of evidence: `python -m tests.science.judgement.experts`."""

from __future__ import annotations

from service.knowledge.evidence_records import Experts
from tests.science.judgement.verdicts import answer, verdicts
from tests.science.judgement.wanted import consultations, files
from tests.support.evidence import write


def experts() -> Experts:
    """The row of experts.csv."""
    asked = [one for path in files() for one in consultations(path)]
    found = [verdict for one in asked for verdict in verdicts(one, answer(one.asked))]
    wanted, unwanted = ([one for one in found if one.must is must] for must in (True, False))
    return Experts(
        len(asked), len(wanted), sum(one.holds for one in wanted), len(unwanted), sum(one.holds for one in unwanted)
    )


if __name__ == "__main__":
    write("experts.csv", [experts()])
