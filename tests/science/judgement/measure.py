"""Counts what stands first in plausible consultations: `python -m tests.science.judgement.measure LABEL`.

Two draws of 500: plausible.py, the same for every version, and told.py, complaints as they are told from 0.5.0 on. The
counts are kept under their label in measured.csv, and RESULTS.md is written anew from all that is there.
"""

from __future__ import annotations

import csv
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, Final

import msgspec

from service.errors import Refusal
from tests.science.judgement import plausible, told
from tests.science.judgement.plausible import Request
from tests.support.asking import ask, in_full
from tests.support.work import calls

FOLDER: Final = Path(__file__).parent
MEASURED: Final = FOLDER / "measured.csv"
RESULTS: Final = FOLDER / "RESULTS.md"
COUNT: Final = 500
DRAWS: Final[Mapping[str, tuple[Callable[[int], Request], int]]] = {
    "plausible": (plausible.consultation, plausible.FIRST_SEED),
    "told": (told.told, told.FIRST_SEED),
}
"""Each draw, the request of a seed and the first seed."""
MOST_RESERVE: Final = 5.0
LEAST_KEPT: Final = 0.5
MOST_ELSEWHERE: Final = 1.10
AMBER_UP_TO: Final = 5.0
_ROUNDING: Final = 1e-6
EXCEPTIONS: Final = {
    "reserve": ("easy_set", "reserve_is_a_bound"),
    "kept": ("unloading",),
    "elsewhere": ("other_region_rises",),
}
"""Codes of the cautions by which an option says that it is an exception."""
SIZES: Final = "bytes of an answer with up to five options"
OUTCOMES: Final = ("with options", "without an option", "pause_and_review", "no_change_needed", "refused", "trials")
FAULTS: Final = {
    "reserve": f"more than {MOST_RESERVE:g} repetitions in reserve",
    "kept": "under half of the training effect kept",
    "elsewhere": "another region up by more than 10 %",
}


class First(msgspec.Struct, frozen=True):
    """What stands first in one consultation.

    Attributes:
        seed: of the consultation
        pain: in the session [points]
        levers: what it changes
        faults: which of FAULTS it has
        unsaid: those of them that it does not state as an exception
    """

    seed: int
    pain: float
    levers: tuple[str, ...]
    faults: tuple[str, ...]
    unsaid: tuple[str, ...]


def faults_of(option: Any, request: Request) -> tuple[str, ...]:  # noqa: ANN401 (an answer's option)
    """What a coach would not put first about an option."""
    stimulus, region = option.stimulus, request["complaint"]["region"]
    present = request["prescription"]["reps_in_reserve"]
    elsewhere = (ratio.value for name, ratio in option.demand.items() if name != region)
    held = option.prescription.hold is not None
    has = {
        "reserve": not held and stimulus.reps_in_reserve > max(MOST_RESERVE, present) + _ROUNDING,
        "kept": stimulus.kept is None or stimulus.kept.value < LEAST_KEPT - _ROUNDING,
        "elsewhere": any(ratio > MOST_ELSEWHERE + _ROUNDING for ratio in elsewhere),
    }
    return tuple(name for name, fault in has.items() if fault)


def seeds(draw: str, count: int = COUNT) -> range:
    """The first seeds of a draw."""
    first = DRAWS[draw][1]
    return range(first, first + count)


def firsts(draw: str, seeds: Iterable[int]) -> tuple[list[First], Counter[str]]:
    """What stands first in the consultations of some seeds, and how many came to what."""
    found, outcomes = [], Counter[str]()
    for seed in seeds:
        request = DRAWS[draw][0](seed)
        try:
            answer = ask("adjustments", in_full(request))
        except Refusal:
            outcomes["refused"] += 1
            continue
        outcomes[_outcome(answer)] += 1
        outcomes["trials"] += answer.considered
        if answer.options:
            option = answer.options[0]
            faults = faults_of(option, request)
            said = set(option.cautions)
            unsaid = tuple(fault for fault in faults if not said.intersection(EXCEPTIONS[fault]))
            pain = request["complaint"]["pain_in_session"]
            found.append(First(seed, pain, tuple(option.levers), faults, unsaid))
    return found, outcomes


def _outcome(answer: Any) -> str:  # noqa: ANN401 (an answer)
    if answer.decision != "adjust":
        return str(answer.decision)
    return "with options" if answer.options else "without an option"


def sizes(draw: str, seeds: Iterable[int], *, full: bool = False) -> list[int]:
    """The bytes of the answers to the consultations of some seeds that are not refused, the smallest first."""
    found = []
    for seed in seeds:
        request = DRAWS[draw][0](seed)
        with suppress(Refusal):
            answer = ask("adjustments", in_full(request) if full else request)
            found.append(len(msgspec.json.encode(answer)))
    return sorted(found)


def counted(found: Sequence[First]) -> dict[str, int]:
    """Counts of what stands first."""
    return {
        "first ranks": len(found),
        **{FAULTS[name]: sum(name in one.faults for one in found) for name in FAULTS},
        "any of these": sum(bool(one.faults) for one in found),
        "any of these and not said": sum(bool(one.unsaid) for one in found),
    }


def _rows(label: str, draw: str) -> list[dict[str, str]]:
    found, outcomes = firsts(draw, seeds(draw))
    groups = {
        "pain up to 5": [one for one in found if one.pain <= AMBER_UP_TO],
        "pain above 5": [one for one in found if one.pain > AMBER_UP_TO],
    }
    rows = [(group, name, count) for group, ones in groups.items() for name, count in counted(ones).items()]
    rows += [("all", name, outcomes[name]) for name in OUTCOMES]
    work = calls(lambda: firsts(draw, seeds(draw, 100)))
    rows.append(("all", "calls of functions a consultation, of the first hundred", round(work / 100)))
    for name, full in {"as asked": False, "in full": True}.items():
        found_sizes = sizes(draw, seeds(draw), full=full)
        rows += [
            (SIZES, f"{name}, median", found_sizes[len(found_sizes) // 2]),
            (SIZES, f"{name}, 95 of 100 at most", found_sizes[len(found_sizes) * 95 // 100]),
            (SIZES, f"{name}, largest", found_sizes[-1]),
        ]
    levers = Counter(", ".join(one.levers) for one in found)
    rows += [("levers of the first rank", name, count) for name, count in levers.most_common(12)]
    return [
        {"label": label, "draw": draw, "group": group, "count_of": name, "count": str(count)}
        for group, name, count in rows
    ]


def _table(rows: Sequence[dict[str, str]], group: str) -> list[str]:
    labels = list(dict.fromkeys(row["label"] for row in rows))
    cells = {(row["count_of"], row["label"]): row["count"] for row in rows if row["group"] == group}
    names = list(dict.fromkeys(name for name, _ in cells))
    whole = {label: int(cells.get(("first ranks", label), 0)) for label in labels}

    def cell(name: str, label: str) -> str:
        count = cells.get((name, label), "–" if group in (SIZES, "all") else "0")
        return f"{count} ({100 * int(count) / whole[label]:.1f} %)" if whole[label] else count

    return [
        f"| {group} | {' | '.join(labels)} |",
        f"| --- |{' ---: |' * len(labels)}",
        *(f"| {name} | {' | '.join(cell(name, label) for label in labels)} |" for name in names),
        "",
    ]


def write(label: str) -> None:
    """Measure, keep the counts under a label, and write all of them down."""
    before = []
    if MEASURED.exists():
        with MEASURED.open(encoding="utf-8", newline="") as lines:
            before = [row for row in csv.DictReader(lines, strict=True) if row["label"] != label]
    rows = [*before, *(row for draw in DRAWS for row in _rows(label, draw))]
    with MEASURED.open("w", encoding="utf-8", newline="") as lines:
        writer = csv.DictWriter(lines, ["label", "draw", "group", "count_of", "count"], lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    text = [
        f"# What stands first in {COUNT} plausible consultations",
        "",
        "Written by `python -m tests.science.judgement.measure LABEL`, and by nothing else. plausible.py draws 500,",
        "the same for all versions; told.py 500 more, with complaints as they are told: finer regions, lifts, gyms.",
        "",
    ]
    for draw in DRAWS:
        text += [f"## Drawn by {draw}.py", ""]
        of_draw = [row for row in rows if row["draw"] == draw]
        for group in dict.fromkeys(row["group"] for row in of_draw):
            text += _table(of_draw, group)
    RESULTS.write_text("\n".join(text), encoding="utf-8")


if __name__ == "__main__":
    write(sys.argv[1])
