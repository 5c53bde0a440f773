"""The ids that requests and answers may name: decoding checks them against the data that the service was started with."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from service.knowledge.catalogue import EXERCISES
from service.knowledge.cues import CUES
from service.knowledge.signs import SIGNS
from service.training.load_repetition import RELATIONS

if TYPE_CHECKING:
    CueId = str
    ExerciseId = str
    RelationId = str
    SignId = str
else:
    CueId = Literal[tuple(CUES)]
    ExerciseId = Literal[tuple(EXERCISES)]
    RelationId = Literal[tuple(RELATIONS)]
    SignId = Literal[tuple(SIGNS)]
