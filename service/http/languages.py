"""Which language an answer is given in (RFC 9110 §12.5.4): the query's `language`, else what Accept-Language prefers."""

from __future__ import annotations

from typing import Final

from service.http.negotiation import weighted_members

PARAMETER: Final = "language"
_STATED: Final = PARAMETER.encode() + b"="
_ANY: Final = b"*"


def preferred_language(accept_language: bytes, offered: tuple[bytes, ...]) -> bytes:
    """The language that a header prefers, by its first subtag (the lookup of RFC 4647 §3.4): es-MX is answered in es.

    Args:
        accept_language: the header's value
        offered: tags of one subtag in lower case, the first of which is taken where none is preferred
    """
    weights: dict[bytes, float] = {}
    for stated, weight in weighted_members(accept_language):
        language = stated.partition(b"-")[0]
        if language == _ANY or language in offered:
            weights[language] = max(weights.get(language, 0.0), weight if 0 < weight <= 1 else 0.0)
    if _ANY in weights:
        others = weights.pop(_ANY)
        weights |= {language: others for language in offered if language not in weights}
    best = max(weights, key=lambda language: weights[language], default=offered[0])
    return best if weights.get(best) else offered[0]


def without_language(query: bytes, offered: tuple[bytes, ...]) -> tuple[bytes | None, bytes]:
    """The language that a query states, and the query without it; as it is where it states none, several or another."""
    if _STATED not in query:
        return None, query
    parts = query.split(b"&")
    stated = [part.removeprefix(_STATED) for part in parts if part.startswith(_STATED)]
    if len(stated) != 1 or stated[0] not in offered:
        return None, query
    return stated[0], b"&".join(part for part in parts if not part.startswith(_STATED))
