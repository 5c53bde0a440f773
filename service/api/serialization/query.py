"""A question as query parameters: GET with the flat names of service.api.serialization.flattening, for a cell's formula or a link.

Strict like the JSON form, through the same decoder: an unknown, repeated or misfitting parameter is refused by name.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cached_property
from typing import TYPE_CHECKING, Any, Final
from urllib.parse import parse_qsl, urlencode

import msgspec
from msgspec import UNSET, UnsetType

from service.api.serialization.answer_fields import FIELDS, AnswerFields, Chosen, chosen
from service.api.serialization.field_faults import shortened
from service.api.serialization.flattening import FlatForm, Leaf, Mismatch
from service.api.serialization.json import Reader
from service.api.serialization.language_parameter import LANGUAGE, language_faults
from service.api.serialization.mistyped import mistyped
from service.api.serialization.picture_parameters import PAGE, SCALE, picture_faults, repeated
from service.api.serialization.report_parameters import FOR, WRITTEN, audience_faults
from service.api.serialization.shown_faults import plain_fault
from service.api.serialization.suggestions import near, question
from service.errors import Fault, Refusal
from service.http.media_types import CSV, JSON, PNG, SVG, TEXT
from service.http.negotiation import negotiated
from service.http.problems import HttpProblem, ProblemFault, invalid
from service.http.types import Scope

if TYPE_CHECKING:
    from service.api.models.operation import Operation

MOST_CHARACTERS: Final = 2048
FORM: Final = "as"
SELECT: Final = "select"
ERRORS: Final = "errors"
IN_CELLS: Final = "text"
RESERVED: Final = frozenset({FORM, SELECT, FIELDS, PAGE, SCALE, FOR, ERRORS, LANGUAGE})
FORMS: Final = {"json": JSON, "csv": CSV, "text": TEXT}
DRAWN: Final = {"svg": SVG, "png": PNG}
SHOWN: Final = "png"
"""The form of a picture that every program shows."""
OTHER_FORM: Final = "The text does not have the form asked for."
SELECTING: Final = (CSV, TEXT)


class Question(msgspec.Struct, frozen=True):
    """What a query asks: the media type of the answer, the pointer to a part of it, the fields that are chosen of it, and the parameters with their repeats."""

    media_type: bytes
    select: str | None
    fields: Chosen | None
    parameters: list[tuple[str, str]]


class QueryForm:
    """Reads the queries of one operation."""

    def __init__(self, operation: Operation, reader: Reader[Any]) -> None:
        self.flat: Final = FlatForm(operation.request, operation.leading)
        if reserved := RESERVED & self.flat.leaves.keys():
            raise TypeError(f"{operation.name} has a value of a reserved name: {reserved}")
        self.answer_fields: Final = AnswerFields(operation.answer)
        self._reader = reader
        self._path = operation.path
        self._forms = FORMS | (DRAWN if operation.picture else {}) | (WRITTEN if operation.report else {})

    def question(self, scope: Scope) -> Question:
        """The question in a request's address. Raises HttpProblem where it cannot be read or no form of answer suits."""
        query = scope["query_string"]
        if len(self._path) + 1 + len(query) > MOST_CHARACTERS:
            raise HttpProblem("uri-too-long", f"Path and query are longer than {MOST_CHARACTERS} characters; use POST.")
        try:
            parameters = parse_qsl(query.decode("ascii"), keep_blank_values=True, errors="strict")
        except ValueError:
            raise HttpProblem("unreadable", "The query is not percent-encoded UTF-8.") from None
        form = next((text for name, text in parameters if name == FORM), None)
        if form is not None and form not in self._forms:
            meant = near(form, self._forms)
            detail = f"The answer has no such form. {question(meant)}".rstrip()
            allowed = f"one of: {', '.join(self._forms)}"
            raise invalid(
                [ProblemFault("", FORM, detail, allowed, (*meant, *self._forms)[0], did_you_mean=meant or UNSET)]
            )
        media_type = negotiated(scope, tuple(self._forms.values())) if form is None else self._forms[form]
        names = _field_names(parameters)
        return Question(
            media_type,
            next((text for name, text in parameters if name == SELECT), None),
            None if names is None else chosen(names),
            parameters,
        )

    def request(self, question: Question) -> Any:
        """The request that the parameters make. Raises HttpProblem with every fault, each by its parameter's name."""
        faults = [
            _fault(name, "This parameter is given more than once.", "once")
            for name, count in Counter(
                name for name, _ in question.parameters if name not in (FIELDS, LANGUAGE)
            ).items()
            if count > 1
        ]
        if question.media_type == TEXT and question.select is None:
            faults.append(_fault(SELECT, "One bare cell needs a pointer into the answer.", "such as /load/value"))
        if question.media_type not in SELECTING and question.select is not None:
            faults.append(_fault(SELECT, "Only cells select a part of the answer.", "with as=csv or as=text"))
        faults += _error_faults(question)
        faults += self.field_faults(_field_names(question.parameters), question.media_type)
        faults += picture_faults(question.parameters, question.media_type)
        faults += audience_faults(question.parameters, question.media_type)
        faults += language_faults(question.parameters)
        texts = {name: text for name, text in question.parameters if name not in RESERVED}
        return self.read(texts, faults)

    def field_faults(self, names: list[str] | None, media_type: bytes) -> list[ProblemFault]:
        """What is wrong with the fields that are chosen of an answer of this form."""
        if names is None:
            return []
        if media_type != JSON:
            return [_fault(FIELDS, "Only an answer in JSON is cut to some of its fields.", "with as=json")]
        return self.answer_fields.faults(names)

    def read(self, texts: dict[str, str], faults: list[ProblemFault], *, brief: bool = False) -> Any:
        """The request that texts by their names make; faults: those seen already; brief: the first more is enough."""
        known = {name: text for name, text in texts.items() if name in self.flat.leaves}
        if len(known) != len(texts):
            faults += [self._unknown(name) for name in texts if name not in known]
        named = {fault.parameter for fault in faults}
        values, mismatches = self.flat.from_texts(known)
        faults += map(_mismatch, mismatches)
        try:
            request = self._reader.fit(values, brief=brief)
        except Refusal as refusal:
            others = (fault for fault in map(self.shown, refusal.faults) if fault.parameter not in named)
            raise invalid([*faults, *self._advised(others, known)]) from None
        if faults:
            raise invalid(faults)
        return request

    def _advised(self, faults: Iterable[ProblemFault], texts: dict[str, str]) -> Iterator[ProblemFault]:
        """The faults, of which one of a text that is almost right says how it is written, once a parameter."""
        said: set[object] = set()
        for fault in faults:
            name = fault.parameter
            leaf = self.flat.leaves.get(name) if isinstance(name, str) and name in texts else None
            advice = None if leaf is None or leaf.item is not None else mistyped(texts[leaf.name], leaf.text_form)
            if leaf is None or advice is None:
                yield fault
            elif name not in said:
                said.add(name)
                detail, allowed = f"{OTHER_FORM} {advice[0]}", leaf.text_form.description or fault.allowed
                yield msgspec.structs.replace(fault, detail=detail, allowed=allowed, example=advice[1])

    def shown(self, fault: Fault) -> ProblemFault:
        """A fault of the JSON form by the name of its parameter, and what may be written there."""
        leaf = self.flat.leaf_at(fault.pointer)
        if leaf is None:
            return plain_fault(fault)
        as_text = leaf.text_form.description if fault.of_json != "none" else None
        return ProblemFault(
            fault.pointer,
            leaf.name,
            f"{OTHER_FORM} {leaf.description}".rstrip() if fault.of_json == "all" else fault.detail,
            as_text or fault.allowed or UNSET,
            self._example(leaf, fault),
            fault.did_you_mean or UNSET,
        )

    def _example(self, leaf: Leaf, fault: Fault) -> str | UnsetType:
        """A text that a parameter takes."""
        if fault.example is None:
            return UNSET
        if leaf.pointer == fault.pointer:
            return leaf.text_form.write(msgspec.json.decode(fault.example))
        if fault.change is not None:  # of one entry, or one end, of what the parameter states
            return UNSET
        if leaf.name in self._texts:
            return self._texts[leaf.name]
        steps: tuple[str | int, ...] = leaf.path if leaf.item is None else (*leaf.path, 0, *leaf.item)
        return leaf.text_form.write(msgspec.json.decode(self._reader.example_at(steps) or b"null"))

    @cached_property
    def _texts(self) -> dict[str, str]:
        """The shortest text of each parameter in the examples."""
        texts: dict[str, str] = {}
        for values in self._reader.examples:
            for name, text in self.flat.to_texts(self._reader.fit(values)).items():
                texts[name] = min(texts.get(name, text), text, key=len)
        return texts

    def _unknown(self, name: str) -> ProblemFault:
        meant = near(name, self.flat.leaves)
        detail = f"This parameter is not known here. {question(meant)}".rstrip()
        allowed = "one of: " + ", ".join(self.flat.leaves)
        return ProblemFault("", shortened(name), detail, allowed, did_you_mean=meant or UNSET)

    def query(self, request: Any) -> str:
        """The query that asks a request (its struct), percent-encoded."""
        return urlencode(self.flat.to_texts(request))

    def picture_address(self, request: Any) -> str:
        """The address of the picture of a request's answer; empty where there is none, or where it would be too long."""
        address = f"{self._path}?{self.query(request)}&{FORM}={SHOWN}" if SHOWN in self._forms else ""
        return address if len(address) <= MOST_CHARACTERS else ""


class Posted(msgspec.Struct, frozen=True):
    """The query of a question in a body: the media type that `as` names, None where it does not, and all its parameters."""

    media_type: bytes | None = None
    parameters: list[tuple[str, str]] = []

    @property
    def names(self) -> list[str] | None:
        """The fields that are chosen; None where nothing is chosen."""
        return _field_names(self.parameters)

    def faults(self, media_type: bytes) -> list[ProblemFault]:
        """What is wrong with what is wanted of a picture or a report, of a media type, and with the language."""
        return [
            *repeated(self.parameters, (PAGE, SCALE, FOR)),
            *picture_faults(self.parameters, media_type),
            *audience_faults(self.parameters, media_type),
            *language_faults(self.parameters),
        ]


def posted_parameters(query: bytes, offered: dict[str, bytes]) -> Posted:
    """What a POST's query asks for: `as`, which outranks Accept, fields of the answer, a picture's page and scale, and a report's reader.

    Raises HttpProblem for anything else in the query.
    """
    if not query:
        return Posted()
    try:
        parameters = parse_qsl(query[:MOST_CHARACTERS].decode("ascii"), keep_blank_values=True, errors="strict")
    except ValueError:
        parameters = [("", "")]
    forms = [text for name, text in parameters if name == FORM]
    of_picture = (PAGE, SCALE) if offered.keys() & DRAWN.keys() else ()
    of_report = (FOR,) if offered.keys() & WRITTEN.keys() else ()
    names = (FORM, FIELDS, LANGUAGE, *of_picture, *of_report)
    known = all(name in names for name, _ in parameters) and offered.keys() >= set(forms)
    if not known or len(forms) > 1 or len(query) > MOST_CHARACTERS:
        listed = " or ".join(f"{FORM}={form}" for form in offered)
        raise HttpProblem(
            "unknown-parameter",
            f"The question goes into the body; the query may hold {listed}, and {', '.join(names[1:])}, and nothing else.",
        )
    return Posted(offered[forms[0]] if forms else None, parameters)


def cells_for_errors(query: bytes) -> bytes | None:
    """The media type of the cells in which a query wants to read why it has no answer; None where it does not."""
    parts = query.split(b"&")
    if f"{ERRORS}={IN_CELLS}".encode() not in parts:
        return None
    forms = (form for form in ("text", "csv") if f"{FORM}={form}".encode() in parts)
    return next((FORMS[form] for form in forms), None)


def _error_faults(question: Question) -> list[ProblemFault]:
    """What is wrong with how an error is to be said."""
    texts = [text for name, text in question.parameters if name == ERRORS]
    if not texts:
        return []
    if question.media_type not in SELECTING:
        return [_fault(ERRORS, "Only cells can say it in place of an answer.", "with as=csv or as=text")]
    return [] if texts[0] == IN_CELLS else [_fault(ERRORS, "An error can be said as text alone.", IN_CELLS)]


def _field_names(parameters: list[tuple[str, str]]) -> list[str] | None:
    """The names that are chosen, separated by commas or each in a parameter of its own; None where nothing is chosen."""
    texts = [text for name, text in parameters if name == FIELDS]
    return [name for text in texts for name in text.split(",")] if texts else None


def _fault(name: str, detail: str, allowed: str) -> ProblemFault:
    return ProblemFault("", shortened(name), detail, allowed)


def _mismatch(mismatch: Mismatch) -> ProblemFault:
    return ProblemFault(
        mismatch.leaf.pointer.partition("/*")[0],
        mismatch.leaf.name,
        f"This lists {mismatch.count}, and {mismatch.first} lists {mismatch.expected}; the lists of the same objects go together.",
        f"{mismatch.expected} entries separated by commas, empty where left out",
    )
