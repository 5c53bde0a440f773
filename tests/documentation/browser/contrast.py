"""Contrast of what a page shows, from its computed styles (WCAG 2.2, 1.4.3 and 1.4.11)."""

from __future__ import annotations

import re
from typing import Any, Final

import msgspec
from playwright.sync_api import Page

# every element that shows text of its own or has an edge that shows where it can be used
COLLECT: Final = """() => {
  const seen = [];
  const ground = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if (!colour.endsWith(", 0)")) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  for (const element of document.body.querySelectorAll("*")) {
    const style = getComputedStyle(element);
    if (!element.checkVisibility() || style.opacity !== "1") continue;
    const words = [...element.childNodes].some((node) => node.nodeType === 3 && node.textContent.trim());
    const control = element.matches("textarea, input, select, button");
    const what = `${element.tagName}.${element.className} ${element.textContent.trim().slice(0, 30)}`;
    if (words || control) {
      seen.push({ what, kind: "text", colour: style.color, ground: ground(element),
                  size: parseFloat(style.fontSize), weight: Number(style.fontWeight) });
    }
    if (control) {
      seen.push({ what, kind: "edge", colour: style.borderTopColor, ground: ground(element.parentElement),
                  size: 0, weight: 0 });
    }
  }
  return seen;
}"""
LARGE: Final = 24.0  # [px], 18 points
LARGE_IF_BOLD: Final = 18.66  # [px], 14 points


class Shown(msgspec.Struct, frozen=True):
    """A colour on a ground: of a text with its size [px] and weight, or of the edge of a control."""

    what: str
    kind: str
    colour: str
    ground: str
    size: float
    weight: float

    @property
    def ratio(self) -> float:
        """Contrast ratio, 1 to 21."""
        lighter, darker = sorted((luminance(self.colour), luminance(self.ground)), reverse=True)
        return (lighter + 0.05) / (darker + 0.05)

    @property
    def least(self) -> float:
        """The ratio that level AA asks."""
        large = self.size >= LARGE or (self.size >= LARGE_IF_BOLD and self.weight >= 700)
        return 3.0 if self.kind == "edge" or large else 4.5


def luminance(colour: str) -> float:
    """Relative luminance of an opaque colour as computed styles write it."""
    found = re.fullmatch(r"rgb\((\d+), (\d+), (\d+)\)", colour)
    assert found is not None, colour
    red, green, blue = (linear(int(part) / 255) for part in found.groups())
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def linear(channel: float) -> float:
    """A channel of sRGB as a share of light."""
    return channel / 12.92 if channel <= 0.04045 else float(((channel + 0.055) / 1.055) ** 2.4)


def shown_on(page: Page) -> list[Shown]:
    """All texts and edges of controls that can be seen."""
    found: Any = page.evaluate(COLLECT)
    return msgspec.convert(found, list[Shown])
