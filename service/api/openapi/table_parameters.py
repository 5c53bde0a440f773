"""The description of what the query of a table may ask for."""

from __future__ import annotations

from typing import Any, Final

from service.api.bulk.table_query import COLUMNS, DECIMAL, KEEP, MARKS, ROWS, listed_rows
from service.api.bulk.tables import COST_OF_ITEMS
from service.api.models.operation import Operation

MOST_ITEMS: Final = 200  # of short names; a query has 2,048 characters


def table_parameters(operation: Operation) -> list[dict[str, Any]]:
    """The parameters of an operation's tables."""
    lists = listed_rows(operation.answer)
    keep = (
        "Names of columns of your own, which come back as they are; any other column that is no parameter is refused."
    )
    parameters = [
        _listed(
            COLUMNS,
            "The columns of the answer that are wanted, in this order; the columns of the question always come back. Each is a JSON Pointer into the answer with * for every item of a list: "
            "those of a whole answer, such as /basis/method/text, and besides one item of a list by its number, a field that only some answers have, and what questions take as they write it. What stops the training and errors have their columns always. Left out: all columns.",
        ),
        _listed(KEEP, keep),
        {
            "name": DECIMAL,
            "in": "query",
            "required": False,
            "description": "The decimal mark of the answer's numbers. Left out: a comma where semicolons separate, else a point.",
            "schema": {"type": "string", "enum": list(MARKS)},
        },
    ]
    if lists:
        parameters.append(
            {
                "name": ROWS,
                "in": "query",
                "required": False,
                "description": f"A list of the answer whose items have a row each, below each other, with the question in every one; where it is empty, one row. A question then costs {COST_OF_ITEMS} more. Left out: one row for each question.",
                "schema": {"type": "string", "enum": lists},
            }
        )
    return parameters


def _listed(name: str, description: str) -> dict[str, Any]:
    return {
        "name": name,
        "in": "query",
        "required": False,
        "style": "form",
        "explode": False,
        "description": f"{description} Separated by commas.",
        "schema": {
            "type": "array",
            "items": {"type": "string", "minLength": 1, "maxLength": 200},
            "minItems": 1,
            "maxItems": MOST_ITEMS,
        },
    }
