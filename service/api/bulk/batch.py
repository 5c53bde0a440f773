"""Batch: POST /v1/batch with many questions of any operations, each answered alone and in the order sent.

Every item is decoded straight to its struct and every answer is encoded once, as it is sent. A fault in one item is its
own answer; pointers of its problem lead into the item.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import reduce
from itertools import count
from operator import or_
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

import msgspec
from msgspec import UNSET, Meta, Raw, UnsetType

from service.api.bulk.streaming import Bounds, Questions, mounted_stream, without_query
from service.api.models.base import RequestModel, ResponseModel
from service.api.models.common import Label
from service.api.operations.registry import OPERATIONS
from service.api.refusals import answered, from_refusal, outcome
from service.api.routes import ENCODER, UTF_8
from service.api.serialization.answer_fields import DESCRIPTION, FIELDS, AnswerFields, chosen, cut
from service.api.serialization.json import Reader, check_repeats, fault_from_message
from service.api.serialization.shown_faults import plain_fault
from service.api.serialization.suggestions import near, question
from service.api.serialization.unreadable import NOT_READABLE, Unreadable, unreadable
from service.errors import Fault, Refusal
from service.http.media_types import JSON
from service.http.problems import HttpProblem, Problem, ProblemFault, invalid

if TYPE_CHECKING:
    from litestar.handlers.asgi_handlers import ASGIRouteHandler

    from service.api.models.operation import Operation

PATH: Final = "/v1/batch"
MOST_ITEMS: Final = 5_000
MOST_EXPLAINED: Final = 262_144  # bytes of problems with every fault in one answer; those after them are brief
NAMES: Final = tuple(operation.name for operation in OPERATIONS)
BY_NAME: Final = {operation.name: operation for operation in OPERATIONS}


def _item_shape(operation: Operation) -> type[Any]:
    shape = msgspec.defstruct(
        f"{operation.title}Item",
        [
            ("body", operation.request),
            ("id", Label | UnsetType, UNSET),
            (FIELDS, AnswerFields(operation.answer).list_type | UnsetType, UNSET),
        ],
        bases=(RequestModel,),
        tag_field="operation",
        tag=operation.name,
        kw_only=True,
        frozen=True,
    )
    shape.__doc__ = f"""A question to the operation {operation.name}.

    Attributes:
        operation: Always `{operation.name}`.
        body: The question, as by itself.
        id: A name of your own, given back with the answer. Left out: none.
        fields: {DESCRIPTION}
    """
    return shape


def _result_shape(operation: Operation) -> type[Any]:
    shape = msgspec.defstruct(
        f"{operation.title}Result",
        [("status", Literal[200]), ("answer", operation.answer), ("id", str | UnsetType, UNSET)],
        bases=(ResponseModel,),
        tag_field="result",
        tag=operation.name,
        kw_only=True,
        frozen=True,
    )
    shape.__doc__ = f"""An answer of the operation {operation.name}.

    Attributes:
        result: Always `{operation.name}`.
        status: Always 200.
        answer: The answer, as by itself.
        id: The id that the question gave. Left out where it gave none.
    """
    return shape


class Refused(ResponseModel, kw_only=True, frozen=True, tag_field="result", tag="problem"):
    """A question without an answer.

    Attributes:
        result: Always `problem`.
        status: The HTTP status that it would have had by itself.
        problem: The problem; its pointers lead into the question.
        id: The id that the question gave. Left out where it gave none.
    """

    status: int
    problem: Problem
    id: str | UnsetType = UNSET


ITEMS: Final = {operation.name: _item_shape(operation) for operation in OPERATIONS}
RESULTS: Final = tuple(_result_shape(operation) for operation in OPERATIONS)
if TYPE_CHECKING:
    AnyItem = Any
    AnyResult = Any
else:
    AnyItem = reduce(or_, ITEMS.values())
    AnyResult = reduce(or_, RESULTS, Refused)


class Batch(RequestModel, kw_only=True, frozen=True):
    """Questions to any operations, in one request.

    Attributes:
        requests: The questions, up to 5,000.
    """

    requests: Annotated[
        list[Annotated[AnyItem, Meta(title="BatchQuestion", description="A question to any operation.")]],
        Meta(min_length=1, max_length=MOST_ITEMS),
    ]


class BatchAnswer(ResponseModel, kw_only=True, frozen=True):
    """One result for each question.

    Attributes:
        results: The results in the order of the questions.
    """

    results: list[
        Annotated[AnyResult, Meta(title="BatchResult", description="The answer of an operation, or a problem.")]
    ]


class _Envelope(RequestModel, kw_only=True, frozen=True):
    """A batch with its list as it was sent."""

    requests: Raw


class _Named(msgspec.Struct, frozen=True):
    """What an item costs by."""

    operation: Any = None


class _Counted:
    """An item that is only counted."""


class _Label(msgspec.Struct, frozen=True):
    """The operation and id of an item that does not fit, by which its fault is reported."""

    operation: Any = None
    id: Any = None


ENVELOPE_DECODER: Final = msgspec.json.Decoder(_Envelope)
LIST_DECODER: Final = msgspec.json.Decoder(Annotated[list[Raw], Meta(min_length=1, max_length=MOST_ITEMS)])
ENVELOPE: Final = f"an object with requests, a list of 1 to {MOST_ITEMS} items with operation and body"
DENSE: Final = 10  # bytes; questions have fewer commas than one in as many
ITEM_DECODER: Final = msgspec.json.Decoder(AnyItem)
NAME_DECODER: Final = msgspec.json.Decoder(_Named)
LABEL_DECODER: Final = msgspec.json.Decoder(_Label)


EXAMPLE: Final = {
    "requests": [
        min(
            ({"operation": operation.name, "body": asked} for operation in OPERATIONS for asked in operation.questions),
            key=lambda item: len(ENCODER.encode(item)),
        )
    ]
}
"""A short batch."""


def read_items(body: bytes) -> list[Raw]:
    """The items of a batch as they were sent, unread. Raises HttpProblem if there is no list of them."""
    try:
        msgspec.json.decode(body, type=Raw)
        listed = bytes(ENVELOPE_DECODER.decode(body).requests)
        check_repeats(body.replace(listed, b"[]", 1))
    except msgspec.ValidationError as error:
        detail = f"{fault_from_message(str(error)).detail} Questions to many operations stand in one list."
        raise from_refusal(Refusal((Fault("", detail, ENVELOPE, ENCODER.encode(EXAMPLE)),))) from None
    except msgspec.DecodeError as error:
        raise HttpProblem("unreadable", str(unreadable(body, str(error)))) from None
    except Unreadable as error:
        raise HttpProblem("unreadable", str(error)) from None
    except (RecursionError, ValueError):
        raise HttpProblem("unreadable", NOT_READABLE) from None
    try:
        _check_count(listed)
        items: list[Raw] = LIST_DECODER.decode(listed)
    except msgspec.ValidationError as error:
        raise from_refusal(Refusal((fault_from_message(str(error)),)).under("/requests")) from None
    return items


def cost_of(items: list[Raw]) -> int:
    """What the items of a batch cost together, each as by itself; one that will be refused costs a unit, if that is seen."""
    return sum(map(_cost_of, items))


def _cost_of(item: Raw) -> int:
    try:
        name = NAME_DECODER.decode(item).operation
        operation = BY_NAME.get(name) if isinstance(name, str) else None
        if operation is None:
            return 1
        return operation.cost if operation.cost_of is None else operation.cost_of(ITEM_DECODER.decode(item).body)
    except (msgspec.DecodeError, ValueError, RecursionError):
        return 1


def _check_count(listed: bytes) -> None:
    """Raise msgspec.ValidationError for a list of too many small items, before each is kept in thirty times its bytes."""
    if listed.count(b",") < max(MOST_ITEMS, len(listed) // DENSE):
        return
    seen = count(1)

    def counted(shape: type[_Counted], _: object) -> _Counted:
        if next(seen) > MOST_ITEMS:
            raise ValueError(f"Expected `array` of length <= {MOST_ITEMS}")
        return shape()

    msgspec.json.decode(listed, type=list[_Counted], dec_hook=counted)


class Answering:
    """Answers the items of a batch, none of which may be larger than a question by itself [bytes]."""

    def __init__(self, max_body: int) -> None:
        self._max_body = max_body
        self._readers: dict[str, Reader[Any]] = {
            operation.name: Reader(ITEMS[operation.name], _item_examples(operation)) for operation in OPERATIONS
        }
        self._computes = {
            ITEMS[operation.name]: (
                operation.compute,
                b'{"result":"%s","status":200,"answer":' % operation.name.encode(),
            )
            for operation in OPERATIONS
        }

    def read(self, body: bytes) -> Questions:
        """The questions of a batch, with the pieces of its answer. Raises HttpProblem if there is no list of them."""
        items = read_items(body)
        return Questions(map(_cost_of, items), self._pieces(items))

    def _pieces(self, items: list[Raw]) -> Iterator[bytes]:
        """The bytes of the answer, an item at a time."""
        opening = b'{"results":['
        explained = 0
        for item in items:
            yield opening
            opening = b","
            brief = explained > MOST_EXPLAINED
            try:
                yield self._answered(item, brief=brief)
            except HttpProblem as problem:
                refused = _refused(problem.brief if brief else problem, item)
                explained += len(refused)
                yield refused
        yield b"]}"

    def _answered(self, raw: Raw, *, brief: bool) -> bytes:
        """The result of an item. Raises HttpProblem with every fault, or with the first if it is to be brief."""
        item = self._read(memoryview(raw), brief=brief)
        compute, start = self._computes[type(item)]
        answer = outcome(lambda: _encoded(answered(compute, item.body), item.fields), PATH, _in_body)
        if isinstance(item.id, UnsetType):
            return b"%b%b}" % (start, answer)
        return b'%b%b,"id":%b}' % (start, answer, ENCODER.encode(item.id))

    def _read(self, text: memoryview, *, brief: bool) -> Any:
        """The item as its struct."""
        if len(text) > self._max_body:
            raise HttpProblem("too-large", f"The item is larger than {self._max_body} bytes.")
        try:
            item = ITEM_DECODER.decode(text)
            check_repeats(bytes(text))
        except (msgspec.DecodeError, Unreadable, ValueError, RecursionError):
            return self._explained(bytes(text), brief=brief)
        return item

    def _explained(self, text: bytes, *, brief: bool) -> Any:
        try:
            name = LABEL_DECODER.decode(text).operation
        except (msgspec.DecodeError, ValueError, RecursionError):
            name = None
        reader = self._readers.get(name) if isinstance(name, str) else None
        if reader is None:
            raise invalid([_no_operation(name)])
        return outcome(lambda: reader.read(text, brief=brief), PATH)


def _item_examples(operation: Operation) -> list[dict[str, Any]]:
    """The questions of an operation's examples as items."""
    return [{"operation": operation.name, "body": asked} for asked in operation.questions]


def _no_operation(name: object) -> ProblemFault:
    """That an item is for no operation; name: what stands in the place of one."""
    meant = near(name, NAMES)
    detail = f"The item names no operation. {question(meant)}".rstrip()
    allowed = f"one of: {', '.join(NAMES)}"
    return ProblemFault(
        "/operation", detail=detail, allowed=allowed, example=(meant or NAMES)[0], did_you_mean=meant or UNSET
    )


def _encoded(answer: msgspec.Struct, fields: list[str] | UnsetType) -> bytes:
    return ENCODER.encode(answer if isinstance(fields, UnsetType) else cut(answer, chosen(fields)))


def _refused(problem: HttpProblem, raw: Raw) -> bytes:
    """The result of an item without an answer."""
    return ENCODER.encode(Refused(status=problem.kind.status, problem=problem.problem, id=_id_of(raw)))


def _in_body(fault: Fault) -> ProblemFault:
    """A fault that a computation found in its question, with the pointer into the item."""
    return plain_fault(msgspec.structs.replace(fault, pointer=f"/body{fault.pointer}"))


def _id_of(raw: Raw) -> str | UnsetType:
    """The id of an item that does not fit otherwise, if it has a usable one."""
    try:
        return msgspec.convert(LABEL_DECODER.decode(raw).id, Label)
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return UNSET


def mounted_batch(bounds: Bounds, max_body: int) -> ASGIRouteHandler:
    """Batches as a Litestar handler; max_body: of an item [bytes]."""
    return mounted_stream(PATH, JSON, UTF_8, bounds, without_query(Answering(max_body).read))
