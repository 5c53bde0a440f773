"""The words of a shape come from its docstring, those of inherited fields from where these are."""

from __future__ import annotations

from service.api.models.base import RequestModel
from service.api.models.by_region import DirectionByRegion
from service.api.serialization.words import words_of


class Lift(RequestModel, kw_only=True, frozen=True):
    """A lift.

    What else there is to say of it.

    Attributes:
        load: How much
            is lifted: all of it.
        sets: How often.
    """

    load: float
    sets: float


class LiftToday(Lift, kw_only=True, frozen=True):
    """A lift of today.

    Attributes:
        sets: How often today.
        side: Which side.
    """

    side: str


def test_a_shape_has_its_summary_and_its_fields_in_one_line_each() -> None:
    words = words_of(Lift)
    assert words.summary == "A lift. What else there is to say of it."
    assert words.fields == {"load": "How much is lifted: all of it.", "sets": "How often."}


def test_fields_of_another_shape_keep_their_words_unless_said_anew() -> None:
    words = words_of(LiftToday)
    assert words.summary == "A lift of today."
    assert words.fields == {"load": "How much is lifted: all of it.", "sets": "How often today.", "side": "Which side."}


def test_a_shape_of_shapes_has_the_words_of_the_one_that_it_is_made_of() -> None:
    assert "knee" in words_of(DirectionByRegion).fields
