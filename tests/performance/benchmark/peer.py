"""The same computation as POST /v1/load-for-reps in another framework: FastAPI with pydantic, under the same server.

Data and pure functions are the service's own; request and answer have models of this framework, as strict and as
bounded. So only the way from bytes to the computation and back differs. The computation reads attributes by name, which
these models have as well, and its result is read into the answer's model as the framework does by itself.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import FastAPI
from msgspec import UNSET, UnsetType
from pydantic import BaseModel, ConfigDict, Field

from service.api.models.ids import ExerciseId, RelationId
from service.api.operations.load_for_reps import load_for_reps


class Request(BaseModel):
    """Closed and strict, as the service's requests are."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True, arbitrary_types_allowed=True)


class Mass(Request):
    value: Annotated[float, Field(ge=0, le=2000)]
    unit: Literal["kg", "lb"]


Reps = Annotated[float, Field(ge=1, le=100, multiple_of=1)]
Reserve = Annotated[float, Field(ge=0, le=4)]


class DoneSet(Request):
    load: Mass
    reps: Reps
    reps_in_reserve: Reserve = 0
    assistance: Mass | UnsetType = UNSET


class Target(Request):
    reps: Reps
    reps_in_reserve: Annotated[float, Field(ge=0, le=10)] = 0


class Plate(Request):
    plate: Mass
    pairs: Annotated[float, Field(ge=1, le=10, multiple_of=1)] = 4


class Bar(Request):
    bar: Mass
    plates: Annotated[list[Plate], Field(min_length=1, max_length=12)] | UnsetType = UNSET
    collars: Mass | UnsetType = UNSET


class LoadForReps(Request):
    set: DoneSet
    target: Target
    exercise: ExerciseId | UnsetType = UNSET
    relation: RelationId | UnsetType = UNSET
    own_sets: Annotated[list[DoneSet], Field(max_length=20)] = []
    bar: Bar | UnsetType = UNSET
    body_mass: Mass | UnsetType = UNSET


class Answer(BaseModel):
    """Read from the attributes of what the computation gives."""

    model_config = ConfigDict(from_attributes=True)


class Estimate(Answer):
    value: float
    low: float
    high: float
    interval: str
    unit: str


class AnswerMass(Answer):
    value: float
    unit: Literal["kg", "lb"]


class RelationLoad(Answer):
    relation: RelationId
    estimated_max: AnswerMass
    load: AnswerMass


class Message(Answer):
    code: str
    values: dict[str, Any]
    text: str


class Basis(Answer):
    method: Message
    sources: list[str]
    assumptions: list[Message]
    evidence: Literal["computed", "published", "direction_only", "practice"]


class LoadForRepsAnswer(Answer):
    load: Estimate
    loadable: AnswerMass | None
    assistance: AnswerMass | None
    percent_of_max: Estimate
    estimated_max: Estimate
    relations: list[RelationLoad]
    basis: Basis
    cautions: list[Message]


peer = FastAPI(openapi_url=None)


@peer.get("/readyz")
async def readyz() -> dict[str, str]:
    """Answers as soon as the application does."""
    return {"status": "ready"}


@peer.post("/v1/load-for-reps", response_model=LoadForRepsAnswer)
async def answer(question: LoadForReps) -> Any:  # noqa: ANN401 - the framework reads it into the answer's model
    """The service's own computation."""
    return load_for_reps(question)  # type: ignore[arg-type]
