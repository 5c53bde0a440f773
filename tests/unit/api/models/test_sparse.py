"""An object with a field for each of a closed list is a mapping of what it states, and written without the rest."""

from __future__ import annotations

import msgspec
import pytest

from service.api.models.by_region import ByRegion, DirectionByRegion
from service.api.operations.adjustments.models import Option
from service.api.serialization.columns import columns_of
from service.vocabulary import REGIONS

STATED = DirectionByRegion(knee="higher", low_back="lower")


def test_it_is_a_mapping_of_what_is_stated() -> None:
    assert dict(STATED.items()) == {"low_back": "lower", "knee": "higher"}
    assert (list(STATED), STATED.keys(), STATED.values()) == (
        ["low_back", "knee"],
        ["low_back", "knee"],
        ["lower", "higher"],
    )
    assert ("knee" in STATED, "hip" in STATED, "title" in STATED, len(STATED)) == (True, False, False, 2)
    assert (STATED["knee"], STATED.get("hip"), STATED.get("hip", "unknown")) == ("higher", None, "unknown")


@pytest.mark.parametrize("name", ["hip", "no_region"])
def test_what_is_not_stated_is_missed(name: str) -> None:
    with pytest.raises(KeyError):
        STATED[name]


def test_json_has_what_is_stated_alone() -> None:
    assert msgspec.json.decode(msgspec.json.encode(STATED)) == {"low_back": "lower", "knee": "higher"}


def test_every_region_has_its_field() -> None:
    assert ByRegion.__struct_fields__ == REGIONS


def test_a_table_has_one_column_for_all_of_it() -> None:
    parts = ("/demand", "/direction", "/stimulus/kept/parts")
    assert [name for name in columns_of(Option).names if name.startswith(parts)] == list(parts)
