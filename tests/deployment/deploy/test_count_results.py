"""The counts at the end of ./tests/run hide nothing: a real pytest run of each kind is counted."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

COUNT = Path(__file__).resolve().parents[2] / "support" / "count_results.py"
HEAD = "import pytest\n"
KINDS = {
    "passes": ("def test_a(): pass\ndef test_b(): pass\n", "2 0"),
    "fails": ("def test_a(): pass\ndef test_b(): assert False\n", "1 1"),
    "skips": ("def test_a(): pass\ndef test_b(): pytest.skip('not here')\n", "1 1"),
    "fails as expected": ("@pytest.mark.xfail(strict=True)\ndef test_a(): assert False\n", "1 0"),
    "passes against expectation": ("@pytest.mark.xfail(strict=True)\ndef test_a(): pass\n", "0 1"),
    "cannot be set up": ("@pytest.fixture\ndef x(): raise OSError\ndef test_a(x): pass\n", "0 1"),
    "cannot be read": ("def test_a(: pass\n", "0 1"),
    "has no test": ("", "0 1"),
}


@pytest.mark.parametrize("kind", KINDS)
def test_a_run_is_counted(tmp_path: Path, kind: str) -> None:
    text, expected = KINDS[kind]
    file = tmp_path / "test_it.py"
    file.write_text(HEAD + text)
    report = tmp_path / "report.xml"
    plain = ["-p", "no:schemathesis", "-p", "no:hypothesispytest", "--rootdir", str(tmp_path), "-c", "/dev/null"]
    run = subprocess.run(
        [sys.executable, "-m", "pytest", *plain, "--junit-xml", str(report), str(file)], cwd=tmp_path, check=False
    )
    counted = subprocess.run(
        [sys.executable, str(COUNT), str(report), str(run.returncode)], capture_output=True, text=True, check=True
    )
    assert counted.stdout.strip() == expected


def test_a_run_without_a_report_is_a_failure(tmp_path: Path) -> None:
    counted = subprocess.run(
        [sys.executable, str(COUNT), str(tmp_path / "none.xml"), "0"], capture_output=True, text=True, check=True
    )
    assert counted.stdout.strip() == "0 1"
