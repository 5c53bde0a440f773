"""What the kinds of problem mean: GET /problems/{kind}, where the `type` of a problem leads."""

from __future__ import annotations

from litestar import Response, route
from litestar.params import FromPath

from service.api.replies import FOR_AN_HOUR, GET_AND_HEAD, reply
from service.http.problems import KINDS, HttpProblem


@route("/problems/{kind:str}", http_method=GET_AND_HEAD)
async def problem_page(kind: FromPath[str]) -> Response[bytes]:
    """One kind of problem in plain text."""
    if kind not in KINDS:
        raise HttpProblem("not-found", "No kind of problem has this name.")
    explained = KINDS[kind]
    page = f"{explained.title} ({explained.status})\n\n{explained.meaning}\n\nWhat to do: {explained.remedy}\n"
    return reply(page.encode(), FOR_AN_HOUR, "text/plain")
