"""The description of many questions at once: tables and batches."""

from __future__ import annotations

import csv
import io
from typing import Any, Final

import msgspec

from service.api.bulk.batch import MOST_ITEMS, Answering, Batch, BatchAnswer
from service.api.bulk.dialects import LONGEST_ROW, MOST_ROWS
from service.api.bulk.tables import ERROR, Tables, most_rows
from service.api.models.operation import Operation
from service.api.models.stop_line import STOP, can_stop
from service.api.openapi.post_operations import PROBLEMS
from service.api.openapi.problem_responses import problem_responses
from service.api.openapi.table_parameters import table_parameters
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.api.serialization.query import QueryForm
from service.api.serialization.typed import UNIT_NAMES
from service.settings import Settings

TAG: Final = "Many at once"
MOST_COST: Final = Settings().most_cost
BROKEN_OFF: Final = (
    "Sent as it is made: an answer that the service cannot finish ends without its last chunk, which HTTP clients report as a failed transfer; "
    "whatever came of it is incomplete."
)
HOW_WRITTEN: Final = (
    "separated by commas, semicolons or tabs: by the first of them in the line of names, or as a first line sep=; says. Names in capitals or with blanks are taken, "
    "and empty cells at the ends of rows. A cell may have blanks around and inside a quantity or range, units in capitals, in the plural and by name "
    f"({', '.join(UNIT_NAMES)}), TRUE and FALSE, a number where a range is taken (5 is 5-5), and, where no commas separate, a decimal comma; 1,250 is refused there, since it may be a thousand. "
    "A unit in brackets at the end of a heading, such as load (kg), is that of numbers alone beneath."
)
IN_EXAMPLE: Final = ("load-for-reps", "bar-loading")


def table(operation: Operation) -> dict[str, Any]:
    """POST of a table of one operation's questions."""
    sent = example_table(operation, most=1)
    answered = b"".join(Tables(operation).read(sent).pieces).decode()
    name = operation.examples[0].name
    return {
        "operationId": f"tabulate{operation.title}",
        "tags": [TAG],
        "summary": f"Table: {operation.summary[0].lower()}{operation.summary[1:]}"[:80],
        "description": (
            f"CSV (RFC 4180, UTF-8) with a question in each row, {_rows(operation)} of up to {LONGEST_ROW:,} characters: a row costs {'' if operation.cost_of is None else 'what its question costs by itself, at most '}{operation.cost} of the {MOST_COST:,} units of work that one table may cost, "
            f"if the server is not set otherwise; more is 413, before anything is computed. The columns are the query parameters of GET {operation.path}, in any order; "
            f"an empty cell is a parameter left out. How tables and cells may be written stands once, with {TAG}. The rows come back in order with the answer behind them: each column is called by the JSON Pointer of its value, "
            f'with * for every item of a list, whose values are joined by " | ". The answer is CSV whatever the Accept header asks for. A row that cannot be answered says why in the last column, {ERROR}, and leaves the others unharmed; {_stops(operation)}where these words have grown to 256 KiB, the first fault alone. '
            f"The example has all of them. The answer is written as the table is, with a byte order mark and a line sep= where it has them, and no cell of it is a formula. {BROKEN_OFF}"
        ),
        "x-cost-of-row": operation.cost,
        "parameters": table_parameters(operation),
        "requestBody": {
            "required": True,
            "content": {
                "text/csv": {
                    "schema": {"type": "string", "format": "binary"},
                    "examples": {name: {"summary": "One question, in a row.", "value": sent.decode()}},
                }
            },
        },
        "responses": {
            "200": {
                "description": "The rows with their answers.",
                "content": {"text/csv": {"schema": {"type": "string"}, "examples": {name: {"value": answered}}}},
            },
            **problem_responses(PROBLEMS | {"414": "uri-too-long"}),
        },
    }


def _stops(operation: Operation) -> str:
    """That the column of stops is always there, where an answer may stop the training."""
    return (
        f"the column before it, {STOP}, says what stops the training, whichever columns are chosen; "
        if can_stop(operation.answer)
        else ""
    )


def _rows(operation: Operation) -> str:
    """How many rows a table may have."""
    at_most = most_rows(operation, MOST_COST)
    most = f"up to {at_most:,} rows"
    return most if operation.cost_of is None else f"{most} however much they cost, {MOST_ROWS:,} where they cost less,"


def example_table(operation: Operation, most: int | None = None) -> bytes:
    """The operation's examples as a table, all of them or so many."""
    reader: Reader[Any] = Reader(operation.request)
    form = QueryForm(operation, reader).flat
    rows = [form.to_texts(reader.fit(example.request)) for example in operation.examples[:most]]
    columns = [name for name in form.leaves if any(name in row for row in rows)]
    buffer = io.StringIO()
    writer = csv.DictWriter(buffer, columns)
    writer.writeheader()
    writer.writerows(rows)
    return buffer.getvalue().encode()


def batch(by_shape: dict[Any, Any]) -> dict[str, Any]:
    """POST of a batch."""
    sent = example_batch()
    body = msgspec.json.encode(sent)
    results = b"".join(Answering(len(body)).read(body).pieces)
    summary = "Two questions, and one that cannot be answered."
    return {
        "operationId": "computeBatch",
        "tags": [TAG],
        "summary": "Many questions to any operations",
        "description": (
            f"Up to {MOST_ITEMS} questions, each answered alone and in the order sent: its answer as the operation gives it by itself, or the status and problem that it would have had. "
            "One bad question never spoils the rest, and none may be larger than by itself. Pointers of a problem lead into its question. "
            "Where the problems of one answer have grown to 256 KiB, those after them say the first fault alone. "
            f"A batch costs the sum of its questions (x-cost of each operation; 1 for one that names none) and may cost {MOST_COST:,} units of work, if the server is not set otherwise; "
            f"more is 413, before anything is computed. {BROKEN_OFF}"
        ),
        "requestBody": {
            "required": True,
            "content": {
                "application/json": {
                    "schema": by_shape[Batch],
                    "examples": {"mixed": {"summary": summary, "value": sent}},
                }
            },
        },
        "responses": {
            "200": {
                "description": "A result for each question.",
                "content": {
                    "application/json": {
                        "schema": by_shape[BatchAnswer],
                        "examples": {"mixed": {"summary": summary, "value": msgspec.json.decode(results)}},
                    }
                },
            },
            **problem_responses(PROBLEMS),
        },
    }


def example_batch() -> dict[str, Any]:
    """Questions to two operations with ids, and one whose repetitions lie outside every published range."""
    first = {operation.name: operation.examples[0].request for operation in OPERATIONS}
    items: list[dict[str, Any]] = [
        {"operation": name, "body": first[name], "id": f"row {row}"} for row, name in enumerate(IN_EXAMPLE, start=1)
    ]
    bad = first["load-for-reps"] | {"target": {"reps": 99}}
    return {"requests": [*items, {"operation": "load-for-reps", "body": bad, "id": "row 3"}]}
