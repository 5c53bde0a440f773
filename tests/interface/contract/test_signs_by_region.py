"""GET /v1/signs?region=…: the signs to ask about where something hurts, and what is not taken."""

from __future__ import annotations

import pytest

from service.vocabulary import REGIONS
from tests.support.live import Live

ALL = "/v1/signs"


@pytest.mark.parametrize("region", REGIONS)
def test_the_signs_of_a_region_are_entries_of_the_whole_list(region: str, served: Live) -> None:
    whole = {entry["id"]: entry for entry in served.ask("GET", ALL).json()["signs"]}
    reply = served.ask("GET", f"{ALL}?region={region}")
    assert reply.status == 200
    listed = reply.json()["signs"]
    assert all(entry == whole[entry["id"]] for entry in listed)
    assert {entry["id"] for entry in listed} == {
        entry["id"] for entry in whole.values() if not entry["regions"] or region in entry["regions"]
    }
    assert 0 < len(listed) < len(whole)
    head = served.ask("HEAD", f"{ALL}?region={region}")
    assert (head.status, head.headers["etag"]) == (200, reply.headers["etag"])


@pytest.mark.parametrize(
    "query",
    [
        "region=foot",
        "region=",
        "region=Ankle",
        "region=ankle&region=knee",
        "age=16",
        "region=ankle&age=16",
        "region=%00",
    ],
)
def test_another_parameter_or_a_region_that_is_none_is_refused(query: str, served: Live) -> None:
    reply = served.ask("GET", f"{ALL}?{query}")
    problem = reply.json()
    assert (reply.status, problem["type"]) == (400, "/problems/unknown-parameter")
    assert "region" in problem["detail"]


@pytest.mark.parametrize("path", ["/v1/signs/bladder_change", "/v1/regions", "/v1/sources"])
def test_other_lists_and_single_signs_take_no_region(path: str, served: Live) -> None:
    assert served.ask("GET", f"{path}?region=ankle").status == 400
