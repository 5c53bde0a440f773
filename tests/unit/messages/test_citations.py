"""Sources are named as a reader knows them: by authors and year, whatever is known of them."""

from __future__ import annotations

import re

import pytest

from service.knowledge.catalogue import SOURCES
from service.messages.citations import citation, cited


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("wilk_2020", "Wilk et al. 2020"),
        ("cappozzo_1985", "Cappozzo et al. 1985"),  # four are listed
        ("russell_phillips_1989", "Russell and Phillips 1989"),
        ("epley_1985", "Epley 1985"),
        ("common_practice", "facts of the trade without a source"),
    ],
)
def test_authors_and_year(source: str, said: str) -> None:
    assert citation(source) == said


@pytest.mark.parametrize("source", SOURCES)
def test_every_source_can_be_named_without_its_id(source: str) -> None:
    said = citation(source)
    assert said
    assert not re.search(r"[a-z]_[a-z0-9]|authors not|no author", said)
    year = SOURCES[source].year
    assert year is None or str(year) in said


def test_ids_in_a_text_are_named_and_all_else_stays() -> None:
    text = "Raised in one (cappozzo_1985), lowered in another (wolf_2023, pallares_2021); my_label and a_b_1999 stay."
    assert cited(text) == (
        "Raised in one (Cappozzo et al. 1985), lowered in another (Wolf et al. 2023, Pallarés et al. 2021); "
        "my_label and a_b_1999 stay."
    )
    assert cited("nothing to name") == "nothing to name"
