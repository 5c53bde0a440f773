"""The signs to ask about where a region hurts."""

from __future__ import annotations

import pytest

from service.api.catalogue.models import RESOURCES
from service.knowledge.signs import SIGNS, URGENCIES
from service.vocabulary import REGIONS, Region

(BY_REGION,) = (resource.filter for resource in RESOURCES if resource.filter is not None)


def test_signs_can_be_asked_for_by_every_region() -> None:
    assert BY_REGION.parameter == "region"
    assert list(BY_REGION.ids) == list(REGIONS)


@pytest.mark.parametrize("region", REGIONS)
def test_a_region_has_its_own_signs_and_those_of_every_region_the_most_urgent_first(region: Region) -> None:
    listed = [SIGNS[sign] for sign in BY_REGION.ids[region]]
    assert {sign.id for sign in listed} == {
        sign.id for sign in SIGNS.values() if not sign.regions or region in sign.regions
    }
    order = [(URGENCIES[sign.urgency].rank, not sign.regions) for sign in listed]
    assert order == sorted(order)


def test_a_sore_ankle_is_asked_about_bone_tendon_and_vein_and_not_about_the_neck() -> None:
    ankle = set(BY_REGION.ids["ankle"])
    assert {"ottawa_ankle", "ottawa_foot", "achilles_rupture", "dvt_suspected", "hot_swollen_joint"} <= ankle
    assert {"back_muscle_compartment", "chest_pain_exertional", "rhabdomyolysis_suspected"} <= ankle
    assert not {"arterial_event", "saddle_numbness", "acute_cuff_tear"} & ankle


def test_no_sign_is_left_out_of_every_region() -> None:
    assert {sign for ids in BY_REGION.ids.values() for sign in ids} == set(SIGNS)
