"""The programs that show a picture: Chromium, resvg (as the service uses it), CairoSVG and LibreOffice."""

from __future__ import annotations

import io
import shutil
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Final, Literal, TypeAlias

import cairosvg
from PIL import Image
from playwright.sync_api import Page, sync_playwright

from service.charts.png import png
from tests.support.drawn import read

Pages: TypeAlias = Mapping[str, str]
"""Pages of pictures as SVG text, by name."""
Shown: TypeAlias = dict[str, Image.Image]
"""The same as pixels."""

PATIENCE: Final = 300.0  # [s], for all pages together
ALONE: Final = "--host-resolver-rules=MAP * ~NOTFOUND"


def by_resvg(pages: Pages) -> Shown:
    return {name: _opened(png(svg)) for name, svg in pages.items()}


def by_cairo(pages: Pages) -> Shown:
    return {name: _opened(cairosvg.svg2png(bytestring=svg.encode())) for name, svg in pages.items()}


def by_libreoffice(pages: Pages, folder: Path) -> Shown:
    """All pages in one run of the office, which writes its pictures to a folder."""
    program = shutil.which("soffice")
    assert program is not None, "LibreOffice is not installed: ./tests/run pictures installs it"
    files = [folder / f"{name}.svg" for name in pages]
    for file, svg in zip(files, pages.values(), strict=True):
        file.write_text(svg)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = [program, profile, "--headless", "--norestore", "--convert-to", "png", "--outdir", str(folder)]
    subprocess.run([*command, *map(str, files)], check=True, capture_output=True, timeout=PATIENCE)
    return {name: _opened((folder / f"{name}.png").read_bytes()) for name in pages}


def by_chromium(pages: Pages, scheme: Literal["light", "dark"] = "light") -> Shown:
    """Each page as a picture in a page of a browser whose reader has a scheme."""
    program = shutil.which("chromium")
    assert program is not None, "chromium is not installed: ./tests/run pictures installs it"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=[ALONE])
        page = browser.new_page(color_scheme=scheme)
        shown = {name: _opened(_screenshot(page, svg)) for name, svg in pages.items()}
        browser.close()
    return shown


def _screenshot(page: Page, svg: str) -> bytes:
    root = read(svg)
    page.set_viewport_size({"width": int(root.attrib["width"]), "height": int(root.attrib["height"])})
    page.set_content(f"<body style='margin: 0'>{svg.partition('?>')[2]}</body>")
    return page.screenshot()


def _opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data)).convert("RGB")


LIGHT: Final[Mapping[str, Callable[[Pages, Path], Shown]]] = {
    "resvg": lambda pages, _: by_resvg(pages),
    "CairoSVG": lambda pages, _: by_cairo(pages),
    "LibreOffice": by_libreoffice,
    "Chromium": lambda pages, _: by_chromium(pages),
}
"""How each of them shows pages to a reader whose scheme is light."""
