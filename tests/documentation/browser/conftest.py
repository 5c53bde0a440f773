"""Chromium without a window on the page at /docs of the running service; the rest of the network is cut off."""

from __future__ import annotations

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, Route, sync_playwright

from tests.support.live import Live

PATIENCE: Final = 20_000  # [ms] for what takes less than one second where nothing else runs
# the browser notes each refused question, which is no complaint of the page; a part of the page that is missing is 404
REFUSED: Final = re.compile("status of (400|422)")
# the browser itself finds no other machine either
ALONE: Final = "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"


class Watched:
    """A page with what it asked for and what it complained about."""

    def __init__(self, page: Page, address: str) -> None:
        self.page = page
        self.address = address
        self.asked: list[str] = []
        self.foreign: list[str] = []
        self.complaints: list[str] = []
        page.set_default_timeout(PATIENCE)
        page.on("request", self._note)
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.route("**/*", self._let_pass)

    def _note(self, request: Request) -> None:
        self.asked.append(request.url)

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning") and not REFUSED.search(message.text):
            self.complaints.append(message.text)

    def _let_pass(self, route: Route) -> None:
        if route.request.url.startswith((f"{self.address}/", "data:", f"blob:{self.address}/")):
            route.continue_()
        else:
            self.foreign.append(route.request.url)
            route.abort()


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    program = shutil.which("chromium")
    assert program is not None, "chromium is not installed: ./tests/run browser installs it"
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=program, args=[ALONE])
        yield found
        found.close()


@pytest.fixture(params=["light", "dark"])
def scheme(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def watched(browser: Browser, served: Live, width: int, height: int, scheme: str) -> Iterator[Watched]:
    """The page at a size [px] and in a colour scheme; what it complained about or asked elsewhere fails the test."""
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme="dark" if scheme == "dark" else "light"
    )
    found = Watched(context.new_page(), f"http://127.0.0.1:{served.port}")
    found.page.goto(f"{found.address}/docs", timeout=4 * PATIENCE)  # the first time it is made
    yield found
    context.close()
    assert found.complaints == []
    assert found.foreign == []
    assert [address for address in found.asked if not address.startswith((f"{found.address}/", "data:", "blob:"))] == []
    assert {f"{found.address}/docs/page.js", f"{found.address}/docs/reading.js"} <= set(found.asked)


@pytest.fixture
def desk(browser: Browser, served: Live) -> Iterator[Watched]:
    yield from watched(browser, served, 1200, 900, "light")


@pytest.fixture
def desk_in(browser: Browser, served: Live, scheme: str) -> Iterator[Watched]:
    yield from watched(browser, served, 1200, 900, scheme)


@pytest.fixture
def phone(browser: Browser, served: Live) -> Iterator[Watched]:
    """As narrow as the guidelines ask a page to go without scrolling sideways (WCAG 2.2, 1.4.10)."""
    yield from watched(browser, served, 320, 640, "dark")


@pytest.fixture(scope="session")
def artifacts() -> Path:
    """Where screenshots are kept: BROWSER_ARTIFACTS, or a folder beside the tests that is not committed."""
    folder = Path(os.environ.get("BROWSER_ARTIFACTS") or Path(__file__).parent / "artifacts")
    folder.mkdir(parents=True, exist_ok=True)
    return folder
