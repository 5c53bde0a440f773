"""Writes RESULTS.md: `python -m tests.science.search.write`."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from service.adjustment.week.search import search
from tests.science.search.weeks import BEAMS, WHOLE, Gap, drawn, gap

SEEDS: Final = range(60)


def measured() -> dict[int, list[Gap]]:
    """By beam, what it misses in each drawn week."""
    found: dict[int, list[Gap]] = {beam: [] for beam in BEAMS}
    for seed in SEEDS:
        case = drawn(seed)
        exact = search(case, WHOLE)
        for beam in BEAMS:
            found[beam].append(gap(search(case, beam), exact))
    return found


def rendered(found: dict[int, list[Gap]]) -> str:
    """The table as the file has it."""
    lines = [
        "# The search of a week against all there is",
        "",
        f"{len(SEEDS)} small weeks drawn at random (two to five lifts that load legs and back), each searched with",
        "a beam and with every partial week kept. Missed: more changes than needed, or nothing found where there is.",
        "Lost more: training effect of the least costly week with as many changes, each lift counting one.",
        "",
        "| beam | held whole | missed | lost more in | at most |",
        "| ---: | ---: | ---: | ---: | ---: |",
    ]
    for beam, gaps in found.items():
        lost = [one.lost for one in gaps if one.lost > 1e-9]
        missed = sum(one.changes != 0 for one in gaps)
        whole = sum(one.whole for one in gaps)
        lines.append(f"| {beam} | {whole} | {missed} | {len(lost)} | {max(lost, default=0.0):.3f} |")
    return "\n".join(lines) + "\n"


def main() -> None:
    """Measures and writes."""
    Path(__file__).with_name("RESULTS.md").write_text(rendered(measured()), encoding="utf-8")


if __name__ == "__main__":
    main()
