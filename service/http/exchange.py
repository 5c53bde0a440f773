"""What every ASGI handler here does with a request and an answer: bodies, headers, media types."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final, TypeAlias

from service.http.headers import value_of
from service.http.problems import MEDIA_TYPE, HttpProblem

if TYPE_CHECKING:
    from litestar.types import Receive, Scope, Send

Headers: TypeAlias = tuple[tuple[bytes, bytes], ...]

JSON: Final = b"application/json"
SVG: Final = b"image/svg+xml"
CSV: Final = b"text/csv"
TEXT: Final = b"text/plain"
FULL_TYPES: Final = {CSV: b"text/csv; charset=utf-8; header=present", TEXT: b"text/plain; charset=utf-8"}
NO_STORE: Final = b"no-store"
MOST_MEMBERS: Final = 64  # of a header such as Accept that are looked at
VARY: Final = ((b"vary", b"accept"),)
SECURITY_HEADERS: Final = (
    (b"x-content-type-options", b"nosniff"),
    (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'"),
    (b"referrer-policy", b"no-referrer"),
)
# a picture opened by itself carries its own style sheet
PICTURE_HEADERS: Final = (
    (b"x-content-type-options", b"nosniff"),
    (b"content-security-policy", b"default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"),
    (b"referrer-policy", b"no-referrer"),
)


async def send_bytes(
    send: Send, status: int, body: bytes, media_type: bytes, headers: Headers = (), cache: bytes = NO_STORE
) -> None:
    """One whole answer."""
    await send(
        {
            "type": "http.response.start",
            "status": status,
            "headers": [
                (b"content-type", FULL_TYPES.get(media_type, media_type)),
                (b"content-length", b"%d" % len(body)),
                (b"cache-control", cache),
                *(PICTURE_HEADERS if media_type == SVG else SECURITY_HEADERS),
                *headers,
            ],
        }
    )
    await send({"type": "http.response.body", "body": body, "more_body": False})


async def send_problem(send: Send, found: HttpProblem, *, as_line: bool = False) -> None:
    """One problem; as one line of plain text where the client asked for cells and not for JSON."""
    headers = tuple((name.lower().encode(), value.encode()) for name, value in found.headers.items())
    body, media_type = (found.line.encode(), TEXT) if as_line else (found.body, MEDIA_TYPE.encode())
    await send_bytes(send, found.kind.status, body, media_type, headers)


async def read_body(receive: Receive, limit: int) -> bytes:
    """The whole body, refused as soon as it grows beyond the limit [bytes]."""
    parts: list[bytes] = []
    size = 0
    while True:
        message: Any = await receive()
        if message["type"] != "http.request":
            raise HttpProblem("unreadable", "The client left before the body was complete.")
        part: bytes = message.get("body", b"")
        parts.append(part)
        size += len(part)
        if size > limit:
            raise HttpProblem("too-large", f"The body is larger than {limit} bytes.")
        if not message.get("more_body", False):
            return part if len(parts) == 1 else b"".join(parts)


def quality(accept: bytes, media_type: bytes) -> float:
    """The quality at which an Accept header (RFC 9110 §12.5.1) takes a media type, by its most specific range; 0: not."""
    best = (-1, 0.0)
    ranks = {b"*/*": 0, media_type.split(b"/")[0] + b"/*": 1, media_type: 2}
    for media, given in weighted(accept):
        rank = ranks.get(media, -1)
        if rank > best[0]:
            best = (rank, given)
    return best[1]


def weighted(header_value: bytes) -> list[tuple[bytes, float]]:
    """The first members of a header such as Accept, in lower case, each with its quality; one that is no number is 0."""
    members = []
    for part in header_value.split(b",", MOST_MEMBERS)[:MOST_MEMBERS]:
        member, *parameters = (piece.strip().lower() for piece in part.split(b";"))
        given = 1.0
        for parameter in parameters:
            if parameter.startswith(b"q="):
                try:
                    given = float(parameter[2:])
                except ValueError:
                    given = 0.0
        members.append((member, given))
    return members


def accepts_json(accept: bytes) -> bool:
    """Whether an Accept header takes application/json at a quality above nought."""
    return quality(accept, JSON) > 0


def check_content(scope: Scope, media_type: bytes, parameters: frozenset[bytes]) -> None:
    """Refuse a body that is coded (415), of another media type, or with parameters that change how it would be read."""
    coding = value_of(scope["headers"], b"content-encoding")
    if coding and any(given.strip().lower() not in (b"", b"identity") for given in coding.split(b",")):
        # RFC 9110 §12.5.3
        raise HttpProblem(
            "unsupported-media-type", "Send the request without a content coding.", {"Accept-Encoding": "identity"}
        )
    content_type = value_of(scope["headers"], b"content-type")
    if content_type == media_type:
        return
    media, *given = (piece.strip().lower() for piece in content_type.split(b";"))
    if media != media_type or any(parameter and parameter not in parameters for parameter in given):
        taken = media_type.decode()
        raise HttpProblem("unsupported-media-type", f"Send the request as {taken} in UTF-8.", {"Accept": taken})


def chosen(scope: Scope, offered: tuple[bytes, ...]) -> bytes:
    """The media type to answer in: by the Accept header, the first offered where it has no preference (else 406)."""
    accept = value_of(scope["headers"], b"accept")
    if not accept or accept in (b"*/*", offered[0]):
        return offered[0]
    best = max(offered, key=lambda media_type: quality(accept, media_type))
    if quality(accept, best) <= 0:
        raise HttpProblem("not-acceptable", f"The answer can be given as {b' or '.join(offered).decode()}.")
    return best
