"""What an operation is: everything that serving, describing and testing it needs, in one record."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Final

import msgspec

from service.api.models.deprecation import Retirement
from service.api.models.report import Report
from service.charts.elements.layout import Sheet

COST_OF_PIXELS: Final = 1500
"""Of the pixels of a picture's page, by its scale, besides the picture [0.1 ms of processor time on the machine of the benchmark]."""

COST_OF_REPORT: Final = 20
"""Of writing a report, besides the answer and the picture in it [0.1 ms of processor time on the machine of the benchmark]."""


class Example(msgspec.Struct, frozen=True):
    """A realistic question, by name; the description shows it with the answer that the operation gives."""

    name: str
    summary: str
    request: dict[str, Any]


class Operation(msgspec.Struct, frozen=True):
    """One computation.

    Attributes:
        name: the last step of its path
        tag: group in the description
        summary: in one line
        description: with ranges and limits
        request: shape of the question
        answer: shape of the answer
        compute: from request to answer, a pure function
        examples: questions of the demo scenario
        picture: the same answer as sheets to look at, where there is one
        report: the same answer as people read it, where there is such a form
        leading: object of the request whose fields go without its name where the question is flat, as in a query
        tried: how many prescriptions an answer comes from, for the metrics, where that is the work
        retirement: when it goes, once that is announced
        cost: of an answer, at least 1 [0.1 ms of processor time on the machine of the benchmark]
        cost_of: what a single question costs where that depends on what it asks; cost is then the most, and what one costs
            among many [0.1 ms of processor time on the machine of the benchmark]
        picture_cost: of its picture, at least 1 [0.1 ms of processor time on the machine of the benchmark]
        picture_cost_of: what the picture of a single question costs where that depends on it; picture_cost is then the
            most [0.1 ms of processor time on the machine of the benchmark]
    """

    name: str
    tag: str
    summary: str
    description: str
    request: type[Any]
    answer: type[Any]
    compute: Callable[[Any], Any]
    examples: tuple[Example, ...]
    picture: Callable[[Any], Sequence[Sheet]] | None = None
    report: Callable[[Any], Report] | None = None
    leading: str | None = None
    tried: Callable[[Any], int] | None = None
    retirement: Retirement | None = None
    cost: int = 1
    cost_of: Callable[[Any], int] | None = None
    picture_cost: int = 1
    picture_cost_of: Callable[[Any], int] | None = None

    @property
    def path(self) -> str:
        """Where it is served."""
        return f"/v1/{self.name}"

    @property
    def questions(self) -> tuple[dict[str, Any], ...]:
        """The questions of its examples, as JSON values."""
        return tuple(example.request for example in self.examples)

    @property
    def operation_id(self) -> str:
        """Its id in the description, unique: "compute" and the name in camel case."""
        return "compute" + self.title

    @property
    def cost_sentence(self) -> str:
        """What it costs, as a sentence of the description."""
        most_drawn = "" if self.picture_cost_of is None else "up to "
        picture = (
            f", its picture {most_drawn}{self.picture_cost}, as PNG {COST_OF_PIXELS} more for each step of scale"
            if self.picture
            else ""
        )
        with_picture = ", its report as HTML the answer, the picture" if self.picture else ", its report the answer"
        report = f"{with_picture} and {COST_OF_REPORT}" if self.report else ""
        most = "" if self.cost_of is None else "up to "
        return f"Costs {most}{self.cost} of the units of work that quotas count{picture}{report}."

    def charged_for_report(self, request: Any, *, pictures: bool) -> int:
        """What the report of a question costs: its answer, and its picture where that goes with it [0.1 ms as above]."""
        drawn = self.charged(request, picture=True) if pictures and self.picture else 0
        return self.charged(request) + drawn + COST_OF_REPORT

    def charged(self, request: Any, *, picture: bool = False, scale: int = 0) -> int:
        """What a question costs, or its picture [0.1 ms of processor time on the machine of the benchmark].

        scale: of a picture in pixels, 0 for one in lines.
        """
        most, of = (self.picture_cost, self.picture_cost_of) if picture else (self.cost, self.cost_of)
        return (most if of is None else of(request)) + scale * COST_OF_PIXELS

    @property
    def costs(self) -> dict[str, int]:
        """What it costs, as extensions of the description."""
        drawn = {"x-cost-of-picture": self.picture_cost, "x-cost-of-png": self.picture_cost + COST_OF_PIXELS}
        return {"x-cost": self.cost} | (drawn if self.picture else {})

    @property
    def title(self) -> str:
        """Its name in camel case, from which the names of its shapes in other forms are made."""
        return "".join(part.capitalize() for part in self.name.split("-"))
