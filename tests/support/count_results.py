"""Prints how many tests passed and failed, from the report that pytest leaves: `count_results.py REPORT EXIT_CODE`.

A skipped test counts as failed, since it showed nothing. A run that ended badly never counts as free of failures, and
one without any test counts as a failure.
"""

from __future__ import annotations

import sys
from pathlib import Path
from xml.etree import ElementTree as ET


def passes(case: ET.Element) -> bool:
    """Whether the test ran and did as it should; a failure that the test declares as expected is as it should be."""
    skipped = case.find("skipped")
    if skipped is not None:
        return skipped.get("type") == "pytest.xfail"
    return case.find("failure") is None and case.find("error") is None


def count(report: Path, exit_code: int) -> tuple[int, int]:
    """The numbers of tests that passed and that failed, where the run as a whole may add one failure."""
    if not report.exists():
        return 0, 1
    cases = list(ET.parse(report).iter("testcase"))  # noqa: S314  # written by pytest a moment ago
    passed = sum(passes(case) for case in cases)
    failed = len(cases) - passed
    if failed == 0 and (exit_code != 0 or passed == 0):
        failed = 1
    return passed, failed


if __name__ == "__main__":
    print(*count(Path(sys.argv[1]), int(sys.argv[2])))
