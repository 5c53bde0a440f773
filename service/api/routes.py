"""From request bytes to answer bytes, in one way, for every computation: POST with JSON, GET with a flat query.

Mounted as a plain ASGI handler under Litestar's router: measured on one core, a computation of 26 µs takes 40 µs this
way, 58 to 61 µs as a Litestar handler that returns an ASGI callable, and 80 to 86 µs as one with its request and
response objects (25 against 11 thousand requests a second); and a computation needs nothing else of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, Final

import msgspec
from litestar.handlers import asgi

from service.api.models.report import AUDIENCES, Audience
from service.api.refusals import Presentation, answered, outcome
from service.api.reports.writing import POLICY, markdown, page
from service.api.serialization.answer_fields import Chosen, chosen, cut
from service.api.serialization.csv import csv_text, error_cells, selected_text
from service.api.serialization.json import Reader
from service.api.serialization.picture_parameters import PICTURES, PictureWanted, no_such_page, picture_wanted
from service.api.serialization.query import DRAWN, QueryForm, cells_for_errors, posted_parameters
from service.api.serialization.report_parameters import REPORTS, WRITTEN, audience_of
from service.api.serialization.shown_faults import plain_fault
from service.charts.elements.layout import Sheet
from service.charts.png import png
from service.errors import Refusal
from service.http.background import Background
from service.http.body import read_body
from service.http.cost import LONG, charge
from service.http.headers import VARY_ACCEPT, Headers
from service.http.media_types import CSV, HTML, JSON, PNG, TEXT
from service.http.negotiation import check_content_type, negotiated
from service.http.problems import HttpProblem, ProblemFault, invalid
from service.http.responses import send_bytes, send_problem
from service.http.types import Receive, Scope, Send
from service.knowledge.languages import ENGLISH
from service.messages import speaking
from service.observability.metrics import CANDIDATES

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler

    from service.api.models.operation import Operation

ENCODER: Final = msgspec.json.Encoder()
UTF_8: Final = frozenset({b"charset=utf-8", b'charset="utf-8"'})
METHODS: Final = "GET, HEAD, POST, OPTIONS"
HOW_ASKED: Final = "A question is the body of a POST, in JSON, or the query of a GET."
# the address holds data on somebody's health: no shared cache may keep it, and a new release may answer otherwise
PRIVATE: Final = b"private, no-cache"


class Part(msgspec.Struct, frozen=True):
    """What is shown of an answer: of cells the part at a pointer, of JSON some of its fields, None for all; of a picture a page; of a report its reader.

    by_address: the question came in an address, so that one with it may be said
    """

    select: str | None = None
    fields: Chosen | None = None
    picture: PictureWanted = PictureWanted()
    audience: Audience = AUDIENCES[0]
    by_address: bool = False


class Endpoint:
    """Answers one operation's path for every method."""

    def __init__(self, operation: Operation, max_body: int, background: Background) -> None:
        self._operation = operation
        self._background = background
        self._reader: Reader[Any] = Reader(operation.request, operation.questions)
        self._query = QueryForm(operation, self._reader)
        self._max_body = max_body
        self._posted_forms = (
            {"json": JSON} | (DRAWN if operation.picture else {}) | (WRITTEN if operation.report else {})
        )
        retiring = operation.retirement.fields if operation.retirement else ()
        self._posted_headers = (*(VARY_ACCEPT if len(self._posted_forms) > 1 else ()), *retiring)
        self._got_headers = (*VARY_ACCEPT, *retiring)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request, from its bytes to the bytes of its answer or problem."""
        method = scope["method"]
        if method == "POST":
            await self._post(scope, receive, send)
        elif method in ("GET", "HEAD"):
            await self._get(scope, send)
        elif method == "OPTIONS":
            await send_bytes(send, 204, b"", JSON, ((b"allow", METHODS.encode()),))
        else:
            await send_problem(
                send, HttpProblem("method-not-allowed", f"This path takes: {METHODS}. {HOW_ASKED}", {"Allow": METHODS})
            )

    async def _post(self, scope: Scope, receive: Receive, send: Send) -> None:
        try:
            posted = posted_parameters(scope["query_string"], self._posted_forms)
            check_content_type(scope, JSON, UTF_8)
            media_type = posted.media_type or negotiated(scope, tuple(self._posted_forms.values()))
            faults = self._query.field_faults(posted.names, media_type) + posted.faults(media_type)
            body = await read_body(receive, self._max_body)
            request = outcome(lambda: self._posted(body, faults), self._operation.path, example=self._reader.example_at)
            part = Part(
                fields=None if posted.names is None else chosen(posted.names),
                picture=picture_wanted(posted.parameters),
                audience=audience_of(posted.parameters),
            )
            answer, headers = await self._computed(scope, request, media_type, part)
        except HttpProblem as problem:
            await send_problem(send, problem)
        else:
            await send_bytes(send, 200, answer, media_type, (*headers, *self._posted_headers))

    def _posted(self, body: bytes, faults: list[ProblemFault]) -> Any:
        """The request in a body; faults: those of its query. Raises HttpProblem with every fault of both."""
        try:
            request = self._reader.read(body)
        except Refusal as refusal:
            raise invalid([*faults, *map(plain_fault, refusal.faults)]) from None
        if faults:
            raise invalid(faults)
        return request

    async def _get(self, scope: Scope, send: Send) -> None:
        as_line = False
        try:
            question = self._query.question(scope)
            as_line = question.media_type in (CSV, TEXT)
            request = outcome(lambda: self._query.request(question), self._operation.path, self._query.shown)
            parameters = question.parameters
            part = Part(
                question.select, question.fields, picture_wanted(parameters), audience_of(parameters), by_address=True
            )
            answer, headers = await self._computed(scope, request, question.media_type, part, self._query.shown)
        except HttpProblem as problem:
            cells = cells_for_errors(scope["query_string"])
            if cells is None or not problem.of_question:
                await send_problem(send, problem, as_line=as_line)
            else:
                said = error_cells(problem.line, cells).encode()
                await send_bytes(send, 200, said, cells, self._got_headers, PRIVATE)
        else:
            await send_bytes(send, 200, answer, question.media_type, (*headers, *self._got_headers), PRIVATE)

    async def _computed(
        self,
        scope: Scope,
        request: Any,
        media_type: bytes,
        part: Part,
        shown: Presentation = plain_fault,
    ) -> tuple[bytes, Headers]:
        """An answer with its own header fields: charged for first, and computed beside the event loop if that may take long."""

        def compute() -> tuple[bytes, Headers]:
            answer = partial(self._answer, media_type=media_type, part=part)
            return outcome(lambda: answered(answer, request), self._operation.path, shown)

        cost = self._cost(request, media_type, part)
        await charge(scope, cost)
        if cost < LONG:
            return compute()
        with self._background.admitted():
            return await self._background.run(compute)

    def _cost(self, request: Any, media_type: bytes, part: Part) -> int:
        if media_type in REPORTS:
            return self._operation.charged_for_report(request, pictures=media_type == HTML)
        scale = part.picture.scale if media_type == PNG else 0
        return self._operation.charged(request, picture=media_type in PICTURES, scale=scale)

    def _answer(self, request: Any, media_type: bytes, part: Part) -> tuple[bytes, Headers]:
        if media_type in PICTURES:
            return self._pictured(request, media_type, part.picture)
        if media_type in REPORTS:
            return self._reported(request, media_type, part)
        answer = self._operation.compute(request)
        if self._operation.tried is not None:
            CANDIDATES.observe(self._operation.tried(answer))
        if media_type == CSV:
            return csv_text(answer, part.select or "").encode(), ()
        if media_type == TEXT:
            return selected_text(answer, part.select or "").encode(), ()
        return ENCODER.encode(answer if part.fields is None else cut(answer, part.fields)), ()

    def _pictured(self, request: Any, media_type: bytes, wanted: PictureWanted) -> tuple[bytes, Headers]:
        """A page of the picture, and how many there are. Raises HttpProblem where it is not there."""
        pages = self._drawn(request)
        if wanted.page > len(pages):
            raise no_such_page(len(pages))
        svg = pages[wanted.page - 1].svg()
        headers = ((b"pages", b"%d" % len(pages)),)
        return (png(svg, wanted.scale) if media_type == PNG else svg.encode()), headers

    def _drawn(self, request: Any) -> Sequence[Sheet]:
        """The pages of the picture, which is in English whatever the answer is in."""
        if self._operation.picture is None:
            raise TypeError(f"{self._operation.name} has no picture")
        with speaking(ENGLISH.tag):
            return self._operation.picture(request)

    def _reported(self, request: Any, media_type: bytes, part: Part) -> tuple[bytes, Headers]:
        """The report; as a page with its pictures and the policy that goes with it."""
        if self._operation.report is None:
            raise TypeError(f"{self._operation.name} has no report")
        report = self._operation.report(request)
        if media_type != HTML:
            # health data gets into an address only where its asker put it there
            drawn = self._query.picture_address(request) if part.by_address else ""
            return markdown(report, part.audience, drawn).encode(), ()
        pictures = () if self._operation.picture is None else self._drawn(request)
        return page(report, part.audience, pictures).encode(), ((b"content-security-policy", POLICY.encode()),)


def mounted(operation: Operation, max_body: int, background: Background) -> ASGIRouteHandler:
    """The operation as a Litestar handler of its path."""
    endpoint = Endpoint(operation, max_body, background)

    async def handle(scope: Scope, receive: Receive, send: Send) -> None:
        await endpoint(scope, receive, send)

    return asgi(operation.path, copy_scope=False)(handle)
