"""Pixels counted: how much of a picture is paper, ink, or a colour of the palette."""

from __future__ import annotations

from typing import Final, TypeAlias

from PIL import Image, ImageChops, ImageStat

Colour: TypeAlias = tuple[int, int, int]
Box: TypeAlias = tuple[float, float, float, float]

NEAR: Final = 10  # of 255, in each part of a colour: a renderer's rounding, and no other colour of the palette
LETTER: Final = 100  # of 255: a letter is drawn finely, so that most of its pixels are between its colour and the paper
BLOCK: Final = 8  # [px], of what is compared between renderers: about a letter


def colour(text: str) -> Colour:
    """A colour written as #rrggbb."""
    return int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16)


def part_of(picture: Image.Image, box: Box) -> Image.Image:
    """A part of a picture; box: its sides from the left and from above [px]."""
    left, top, right, bottom = map(round, box)
    return picture.crop((left, top, right, bottom))


def counted(picture: Image.Image, wanted: Colour, near: int = NEAR) -> int:
    """The pixels of about a colour; near: how far any part of theirs may be from it [of 255]."""
    return sum(_departure(picture, wanted).histogram()[: near + 1])


def share(picture: Image.Image, wanted: Colour, near: int = NEAR) -> float:
    """The share of pixels of about a colour [1]."""
    return counted(picture, wanted, near) / (picture.width * picture.height)


def apart(one: Image.Image, other: Image.Image) -> tuple[float, float]:
    """How far two pictures are apart in blocks, on average and at the most [of 255]; as far as both of them reach."""
    width, height = min(one.width, other.width), min(one.height, other.height)
    small = [
        picture.crop((0, 0, width, height)).convert("L").resize((width // BLOCK, height // BLOCK), Image.Resampling.BOX)
        for picture in (one, other)
    ]
    difference = ImageStat.Stat(ImageChops.difference(*small))
    return difference.mean[0], float(difference.extrema[0][1])


def _departure(picture: Image.Image, wanted: Colour) -> Image.Image:
    """How far each pixel is from a colour, by the part that is furthest from it."""
    red, green, blue = ImageChops.difference(picture, Image.new("RGB", picture.size, wanted)).split()
    return ImageChops.lighter(ImageChops.lighter(red, green), blue)
