"""A picture in pixels, for programs that show no SVG: rendered by resvg, in letters that come with the service.

No fonts of the machine are looked at, so that a picture is the same everywhere, in a container without any too. The
rendering leaves the interpreter free, so that other threads go on.
"""

from __future__ import annotations

from importlib.resources import as_file, files
from typing import Final

from resvg_py import svg_to_bytes

_FAMILY: Final = "Noto Sans"  # Latin, Greek and Cyrillic letters; SIL Open Font License 1.1
_FILE: Final = files("fontpkg_noto_sans") / "files" / "NotoSans[wdth,wght].ttf"


def png(svg: str, zoom: int = 1) -> bytes:
    """A picture as PNG.

    Args:
        svg: one that this package drew
        zoom: pixels for each of its own, across and down [count]

    Returns:
        The file's bytes.
    """
    with as_file(_FILE) as face:
        return svg_to_bytes(
            svg_string=svg,
            zoom=zoom,
            skip_system_fonts=True,
            font_files=[str(face)],
            font_family=_FAMILY,
            sans_serif_family=_FAMILY,
        )
