"""Tries whether the tests see each fault of faults.toml: `./tests/run mutation`.

    python -m tests.mutation.run                  all
    python -m tests.mutation.run --sample 20      so many, spread over the file
    python -m tests.mutation.run --file http      those in files whose path holds this

Each fault is put by itself into a copy of the tree, where its tests run until the first fails. Ends with the rate of
faults seen and the list of those that were not; non-zero below the aim, or where a fault cannot be tried.
"""

from __future__ import annotations

import argparse
import compileall
import os
import py_compile
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import SimpleQueue
from typing import Final

import msgspec

from tests.support.faults import Fault, read_faults
from tests.support.paths import ROOT

AIM: Final = 0.97  # of the faults
PATIENCE: Final = 600.0  # [s] for the tests of one fault: one that makes the service run for ever is seen by that
PASSED, FAILED, INTERRUPTED = 0, 1, 2  # exit codes of pytest; interrupted: a test file could not be read
NODE_MODULES: Final = "tests/support/npm/node_modules"


class Verdict(msgspec.Struct, frozen=True):
    """What the tests of a fault did; judged: whether they could say anything; seconds: that this took [s]."""

    fault: Fault
    line: int
    judged: bool
    seen: bool
    seconds: float
    words: str


def copy_tree(folder: Path) -> Path:
    """A copy of what is committed or about to be, with bytecode that is checked by content: a fault is never missed."""
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    for name in filter(None, listed.split("\0")):
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(ROOT / name, folder / name)
    if (ROOT / NODE_MODULES).exists() and not (folder / NODE_MODULES).exists():
        (folder / NODE_MODULES).symlink_to((ROOT / NODE_MODULES).resolve())
    checked = py_compile.PycInvalidationMode.CHECKED_HASH
    compileall.compile_dir(folder / "service", quiet=1, invalidation_mode=checked)
    return folder


def run_tests(folder: Path, tests: Sequence[str]) -> tuple[int | None, str]:
    """Exit code of pytest, None where it took too long, and the end of what it said."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", *tests]
    environment = os.environ | {"PYTHONDONTWRITEBYTECODE": "1"}
    try:
        done = subprocess.run(
            command, cwd=folder, env=environment, capture_output=True, text=True, timeout=PATIENCE, check=False
        )
    except subprocess.TimeoutExpired:
        return None, "took too long"
    return done.returncode, (done.stdout + done.stderr)[-2000:]


def judge(fault: Fault, folder: Path) -> Verdict:
    """Put the fault into the copy, run its tests, and take it out again."""
    line, path = fault.line(folder), folder / fault.file
    right = path.read_bytes()
    began = time.monotonic()
    try:
        path.write_bytes(right.replace(fault.old.encode(), fault.new.encode()))
        code, words = run_tests(folder, fault.tests)
    finally:
        path.write_bytes(right)
    judged = code in (None, PASSED, FAILED, INTERRUPTED)
    return Verdict(fault, line, judged, judged and code != PASSED, time.monotonic() - began, words)


def judge_all(faults: Sequence[Fault], folder: Path, at_once: int) -> list[Verdict]:
    """The verdicts in the order of the faults; so many copies work at the same time."""
    free: SimpleQueue[Path] = SimpleQueue()
    for number in range(at_once):
        free.put(copy_tree(folder / f"copy-{number}"))

    def one(fault: Fault) -> Verdict:
        copy = free.get()
        try:
            verdict = judge(fault, copy)
        finally:
            free.put(copy)
        state = "seen" if verdict.seen else "NOT SEEN" if verdict.judged else "CANNOT BE TRIED"
        print(f"{state:8} {verdict.seconds:5.0f} s  {fault.file}:{verdict.line}", flush=True)
        return verdict

    with ThreadPoolExecutor(at_once) as pool:
        return list(pool.map(one, faults))


def report(verdicts: Sequence[Verdict]) -> bool:
    """Print the rate and what was not seen; whether the aim is reached and every fault could be tried."""
    judged = [verdict for verdict in verdicts if verdict.judged]
    seen = sum(verdict.seen for verdict in judged)
    for verdict in verdicts:
        if not verdict.seen:
            kind = "Not seen" if verdict.judged else f"Cannot be tried ({verdict.words.strip()[-400:]})"
            fault = verdict.fault
            print(
                f"\n{kind}: {fault.file}:{verdict.line} by {', '.join(fault.tests)}\n- {fault.old!r}\n+ {fault.new!r}"
            )
    rate = seen / len(judged) if judged else 0.0
    print(f"\n{seen} of {len(judged)} faults seen without snapshots: {rate:.1%}; the aim is {AIM:.0%}")
    return len(judged) == len(verdicts) and rate >= AIM


def main() -> int:
    """Judge the faults that are asked for; 0 where the aim is reached."""
    parser = argparse.ArgumentParser(description="Try whether the tests see each kept fault.")
    parser.add_argument("--sample", type=int, default=0, help="so many faults, spread over the file (default: all)")
    parser.add_argument("--file", default="", help="only faults in files whose path holds this")
    parser.add_argument("--at-once", type=int, default=2, help="faults tried at the same time (default: 2)")
    asked = parser.parse_args()
    faults = [fault for fault in read_faults() if asked.file in fault.file]
    if 0 < asked.sample < len(faults):
        faults = [faults[index * len(faults) // asked.sample] for index in range(asked.sample)]
    tests = sorted({test for fault in faults for test in fault.tests})
    with tempfile.TemporaryDirectory(prefix="mutation-") as scratch:
        code, words = run_tests(copy_tree(Path(scratch) / "right"), ["-n", str(asked.at_once), *tests])
        if code != PASSED:
            print(f"The tests fail without any fault:\n{words}")
            return 1
        return 0 if report(judge_all(faults, Path(scratch), asked.at_once)) else 1


if __name__ == "__main__":
    sys.exit(main())
