"""The forms of the page at /docs: opened, sent, and where their answers are."""

from __future__ import annotations

import re
from typing import Final

from playwright.sync_api import Locator, Page

ANSWERED: Final = re.compile("^Answered: 200, ")
MAIN_JOB: Final = "adjustments"


def opened(page: Page, key: str) -> Locator:
    """An operation, opened by its line."""
    operation = page.locator(f"#{key}")
    operation.locator("> summary").click()
    return operation


def open_all(page: Page) -> None:
    """Open every disclosure."""
    page.evaluate("() => document.querySelectorAll('details').forEach((one) => { one.open = true; })")


def send(form: Locator, button: str = "Send") -> None:
    """Press a button of a form."""
    form.get_by_role("button", name=button, exact=True).click()


def answer_of(form: Locator) -> tuple[Locator, Locator]:
    """The status below a form, and the answer below that."""
    return form.locator(".status"), form.locator(".answer")
