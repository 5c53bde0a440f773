"""deploy/examples/episode.http: the guide's consultation as requests, current, and each answered as the guide says."""

from __future__ import annotations

import re
from typing import Final

import msgspec
import pytest

from deploy.examples.make_http import FILE, episode
from service.api.docs.guide import ADDRESS, guide
from tests.support.live import Live

TEXT: Final = FILE.read_text(encoding="utf-8")
STEPS: Final = guide()


class Request(msgspec.Struct):
    """One request of the file."""

    title: str
    method: str
    target: str
    headers: dict[str, str]
    body: str


def requests(text: str, variables: dict[str, str]) -> list[Request]:
    """The requests of a file as an editor reads them, but for the values of some variables."""
    start, *parts = re.split(r"^###", text, flags=re.MULTILINE)
    values = dict(re.findall(r"^@(\w+) *= *(\S+)$", start, re.MULTILINE)) | variables
    found = []
    for part in parts:
        title, _, rest = re.sub(r"\{\{(\w+)\}\}", lambda name: values[name[1]], part).partition("\n")
        head, _, body = rest.partition("\n\n")
        first, *fields = (line for line in head.splitlines() if not line.startswith("#"))
        method, url = first.split()
        headers = {name: value for name, _, value in (field.partition(": ") for field in fields)}
        found.append(Request(title.strip(), method, url, headers, body.strip()))
    return found


def test_it_is_what_the_script_writes() -> None:
    """Not so: python -m deploy.examples.make_http."""
    assert episode() == TEXT
    assert f"@service = {ADDRESS}\n" in TEXT


@pytest.mark.parametrize("number", range(len(STEPS)), ids=[step.id for step in STEPS])
def test_a_request_is_answered_as_the_guide_says(number: int, served: Live) -> None:
    asked, step = requests(TEXT, {"service": ""})[number], STEPS[number]
    assert asked.title == f"{number + 1}. {step.title}"
    reply = served.ask(asked.method, asked.target, asked.body.encode() or None, asked.headers)
    assert reply.status == 200
    if step.request is not None:
        assert reply.json() == step.answer
    else:
        assert [sign["id"] for sign in step.answer["signs"]] == [sign["id"] for sign in reply.json()["signs"]][:2]


def test_every_step_has_its_request() -> None:
    assert len(requests(TEXT, {})) == len(STEPS)
