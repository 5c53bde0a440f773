"""Which media type is sent and which is taken (RFC 9110 §12): Accept, Content-Type and Content-Encoding."""

from __future__ import annotations

from typing import Final

from service.http.headers import value_of
from service.http.media_types import JSON
from service.http.problems import HttpProblem
from service.http.types import Scope

MOST_MEMBERS: Final = 64
"""How many members of a header such as Accept are read."""


def negotiated(scope: Scope, offered: tuple[bytes, ...]) -> bytes:
    """The media type to answer in: the one that Accept prefers, the first where it has no preference.

    Raises HttpProblem (406) where Accept takes none of them.
    """
    accept = value_of(scope["headers"], b"accept")
    if not accept or accept in (b"*/*", offered[0]):
        return offered[0]
    best = max(offered, key=lambda media_type: quality(accept, media_type))
    if quality(accept, best) <= 0:
        raise HttpProblem("not-acceptable", f"The answer can be given as {b' or '.join(offered).decode()}.")
    return best


def quality(accept: bytes, media_type: bytes) -> float:
    """The quality at which an Accept header (RFC 9110 §12.5.1) takes a media type, by its most specific range; 0 if it does not."""
    best = (-1, 0.0)
    ranks = {b"*/*": 0, media_type.split(b"/")[0] + b"/*": 1, media_type: 2}
    for media_range, weight in weighted_members(accept):
        rank = ranks.get(media_range, -1)
        if rank > best[0]:
            best = (rank, weight)
    return best[1]


def accepts_json(accept: bytes) -> bool:
    """Whether an Accept header takes application/json at a quality above 0."""
    return quality(accept, JSON) > 0


def weighted_members(header_value: bytes) -> list[tuple[bytes, float]]:
    """The first members of a header such as Accept, in lower case, each with its quality; a quality that is not a number counts as 0."""
    members = []
    for part in header_value.split(b",", MOST_MEMBERS)[:MOST_MEMBERS]:
        member, *parameters = (piece.strip().lower() for piece in part.split(b";"))
        weight = 1.0
        for parameter in parameters:
            if parameter.startswith(b"q="):
                try:
                    weight = float(parameter[2:])
                except ValueError:
                    weight = 0.0
        members.append((member, weight))
    return members


def check_content_type(scope: Scope, media_type: bytes, parameters: frozenset[bytes]) -> None:
    """Check that a body has the one media type accepted, no content coding, and no parameter that changes how it is read.

    Raises HttpProblem (415).
    """
    coding = value_of(scope["headers"], b"content-encoding")
    if coding and any(name.strip().lower() not in (b"", b"identity") for name in coding.split(b",")):
        # RFC 9110 §12.5.3
        raise HttpProblem(
            "unsupported-media-type", "Send the request without a content coding.", {"Accept-Encoding": "identity"}
        )
    content_type = value_of(scope["headers"], b"content-type")
    if content_type == media_type:
        return
    sent, *sent_parameters = (piece.strip().lower() for piece in content_type.split(b";"))
    if sent != media_type or any(parameter and parameter not in parameters for parameter in sent_parameters):
        taken = media_type.decode()
        fault = "is of another media type or coding" if content_type else "has no Content-Type"
        detail = f"The request {fault}: send it with Content-Type: {taken}, in UTF-8."
        raise HttpProblem("unsupported-media-type", detail, {"Accept": taken})
