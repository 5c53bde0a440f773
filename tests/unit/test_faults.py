"""The kept faults can all be put in: none has been left behind by a change of the code or of the tests."""

from __future__ import annotations

import re

from tests.support.faults import SNAPSHOTS, read_faults
from tests.support.paths import ROOT

FAULTS = read_faults()
FEWEST = 200


def test_there_are_enough_and_none_twice() -> None:
    assert len(FAULTS) >= FEWEST
    assert len({(fault.file, fault.old, fault.new) for fault in FAULTS}) == len(FAULTS)


def test_each_old_text_stands_once_in_its_file() -> None:
    lost = []
    for fault in FAULTS:
        try:
            fault.line()
        except (OSError, ValueError) as error:
            lost.append(str(error))
    assert lost == []


def test_each_changes_something() -> None:
    assert [fault for fault in FAULTS if fault.old == fault.new] == []


def test_each_names_tests_that_exist_and_are_no_snapshots() -> None:
    lost = []
    for test in sorted({test for fault in FAULTS for test in fault.tests}):
        file, _, function = test.partition("::")
        name = function.partition("[")[0]
        text = (ROOT / file).read_text(encoding="utf-8") if (ROOT / file).is_file() else ""
        if file.startswith(SNAPSHOTS) or not text or (name and not re.search(rf"def {name}\(", text)):
            lost.append(test)
    assert lost == []
    assert [fault for fault in FAULTS if not fault.tests] == []
