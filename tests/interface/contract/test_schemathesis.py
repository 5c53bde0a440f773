"""Every operation of the published description against the running application, with generated requests.

The requests are made from openapi/openapi.json as it is checked in: its examples, the bounds of every field, wrong
types, missing and unknown fields, methods that a path does not take, and random data, valid and invalid. All checks
are on.
"""

from __future__ import annotations

import json
from typing import Any, Final, TypeAlias

import pytest
import schemathesis
from hypothesis import settings
from schemathesis import Case
from schemathesis.config import SchemathesisConfig
from schemathesis.core.result import Ok
from schemathesis.generation.modes import GenerationMode
from schemathesis.python import asgi
from schemathesis.schemas import BaseSchema
from schemathesis.specs.openapi.checks import negative_data_rejection, response_schema_conformance

from service.api.bulk.batch import PATH as BATCH
from service.api.bulk.batch import Batch, cost_of, read_items
from service.api.operations.registry import OPERATIONS
from service.api.serialization.json import Reader
from service.app import create_asgi
from service.settings import Settings
from tests.support.paths import DESCRIPTION

SHAPES: Final[dict[str, Any]] = {operation.path: operation.request for operation in OPERATIONS} | {BATCH: Batch}
SLOWEST: Final = 30  # [s] for an answer: what takes half a second may take long on a busy machine
NIGHTLY: Final = settings.get_current_profile_name() == "nightly"
# Random requests for each operation by day, beside those made from every bound of its schema; by night 1,000 for each.
# Tables and resources are read by one piece of code whatever the operation: a few random texts for each are enough.
EXAMPLES: Final = {"with_rules": 100, "batch": 100, "query": 50, "table": 25, "others": 25}

# What a JSON Schema cannot say. Only these operations may refuse (422) a request that fits their schema, and each rule
# stands here with a request that fits the schema and breaks it: no entry without a refusal that can be shown.
KG: Final = "kg"
LIFTER: Final = {"body_mass": {"value": 64, "unit": KG}, "stature": {"value": 168, "unit": "cm"}}
SQUAT: Final[dict[str, Any]] = {
    "lifter": LIFTER,
    "prescription": {
        "exercise": "front_squat",
        "sets": 4,
        "reps": {"low": 5, "high": 6},
        "load": {"value": 62.5, "unit": KG},
    },
    "complaint": {"region": "low_back", "pain_in_session": 4},
    "aim": "strength",
}
REVIEW: Final[dict[str, Any]] = {
    "prescription": SQUAT["prescription"],
    "region": "low_back",
    "sessions": [{"pain_in_session": 2}],
}
SET_OF_30: Final = {"load": {"value": 60, "unit": KG}, "reps": 30}
SET_OF_6: Final = {"load": {"value": 60, "unit": KG}, "reps": 6}
LOAD: Final = {"value": 60, "unit": KG}
RETURN: Final[dict[str, Any]] = {
    "lifter": LIFTER,
    "original": SQUAT["prescription"],
    "adjusted": SQUAT["prescription"] | {"load": {"value": 45, "unit": KG}},
    "region": "low_back",
}
IN_A_WEEK: Final = {name: value for name, value in SQUAT["prescription"].items() if name != "days_per_week"}
WEEK: Final[dict[str, Any]] = {"lifter": SQUAT["lifter"], "week": [{"day": 1, "prescription": IN_A_WEEK}]}
SORE_WEEK: Final[dict[str, Any]] = WEEK | {"complaint": SQUAT["complaint"], "aim": "strength"}
RULES: Final[dict[str, dict[str, dict[str, Any]]]] = {
    "/v1/adjustments": {
        "body mass and stature lie in the ranges of the segment tables, in whatever unit": SQUAT
        | {"lifter": {"body_mass": {"value": 20, "unit": KG}, "stature": {"value": 168, "unit": "cm"}}},
        "the low end of a range is not above its high end": SQUAT
        | {"prescription": SQUAT["prescription"] | {"reps": {"low": 6, "high": 5}}},
    },
    "/v1/load-for-reps": {
        "repetitions to failure lie in the range of the relation": {"set": SET_OF_30, "target": {"reps": 5}},
        "a load of nothing tells nothing": {
            "set": SET_OF_6 | {"load": {"value": 0, "unit": KG}},
            "target": {"reps": 5},
        },
    },
    "/v1/reps-for-load": {
        "the load lies in the share of the maximum that the relation covers": {
            "set": SET_OF_6,
            "target": {"load": {"value": 5, "unit": KG}},
        },
    },
    "/v1/estimated-max": {"repetitions to failure lie in the range of the relation": {"sets": [SET_OF_30]}},
    "/v1/rep-targets": {
        "the low end of a range is not above its high end": {
            "current": {"sets": 3, "reps": {"low": 6, "high": 5}, "load": LOAD},
        },
        "the exercise is one": {
            "current": {"exercise": "front_squat", "sets": 3, "reps": {"low": 5, "high": 6}, "load": LOAD},
            "exercise": "bench_press",
        },
    },
    "/v1/session-split": {
        "no more days than weekly sets": {"weekly_sets": {"low": 2, "high": 3}, "days": 5},
        "the sets of a week or of a session are stated": {"days": 2},
    },
    "/v1/leg-distribution": {
        "a stance without a published share needs one": {"stance": "kickstand", "load": LOAD},
        "the centre of mass lies between the feet": {
            "stance": "split_squat",
            "load": LOAD,
            "foot_spacing": {"value": 40, "unit": "cm"},
            "centre_of_mass_behind_lead_foot": {"value": 50, "unit": "cm"},
        },
        "a posture is one of a split stance": {"stance": "bilateral", "load": LOAD, "posture": {"lifter": LIFTER}},
        "what is stated of a posture is in balance together": {
            "stance": "split_squat",
            "load": LOAD,
            "foot_spacing": {"value": 45, "unit": "cm"},
            "posture": {
                "lifter": LIFTER,
                "trunk_lean": {"value": 60, "unit": "deg"},
                "shin_angle": {"value": 40, "unit": "deg"},
            },
        },
    },
    "/v1/spinal-load": {
        "each label once": {"setups": [{"label": "a", "exercise": "front_squat", "load": LOAD}] * 2},
    },
    "/v1/joint-demand": {
        "each label once": {
            "lifter": LIFTER,
            "setups": [{"label": "a", "exercise": "front_squat", "load": LOAD}] * 2,
        },
        "assistance belongs to lifts of one's own body": {
            "lifter": LIFTER,
            "setups": [{"label": "a", "exercise": "front_squat", "load": LOAD, "assistance": LOAD}],
        },
    },
    "/v1/tempo": {
        "the low end of a range is not above its high end": {"tempo": "3-1-1-0", "reps": {"low": 6, "high": 5}},
        "a tempo is stated": {"tempo": None, "reps": {"low": 5, "high": 6}},
    },
    "/v1/rest": {
        "the rest is one of those measured": {"sets": 3, "reps": 10, "rest": {"value": 20, "unit": "s"}},
        "the rest compared with is one of those measured": {
            "sets": 3,
            "reps": 10,
            "rest": {"value": 90, "unit": "s"},
            "compared_with": {"value": 10, "unit": "min"},
        },
        "the first set ends near the repetitions that were studied": {
            "sets": 3,
            "reps": 4,
            "rest": {"value": 90, "unit": "s"},
        },
        "a load of next to nothing tells nothing": {
            "sets": 3,
            "reps": 10,
            "rest": {"value": 60, "unit": "s"},
            "load": {"value": 0.05, "unit": KG},
        },
        "a rest is stated": {"sets": 3, "reps": 10, "rest": None},
        "between holds no rest was studied": {
            "sets": 3,
            "rest": {"value": 90, "unit": "s"},
            "hold": {"value": 45, "unit": "s"},
        },
    },
    "/v1/session-review": {
        "the low end of a range is not above its high end": REVIEW
        | {"prescription": SQUAT["prescription"] | {"reps": {"low": 6, "high": 5}}},
        "no repetitions for sets that were not prescribed": REVIEW
        | {"sessions": [{"pain_in_session": 2, "reps_done": [6, 6, 6, 6, 6]}]},
        "the bar can hold the load": REVIEW
        | {"prescription": SQUAT["prescription"] | {"load": {"value": 5, "unit": KG}}}
        | {"gym": {"bar": {"bar": {"value": 20, "unit": KG}}}},
        "without a hold the repetitions are stated": REVIEW | {"prescription": SQUAT["prescription"] | {"reps": None}},
        "a depth is stated in one way": REVIEW
        | {
            "prescription": SQUAT["prescription"]
            | {"depth": {"box_height": {"value": 40, "unit": "cm"}, "knee_flexion": {"value": 90, "unit": "deg"}}}
        },
        "a step of loads is more than nothing": REVIEW | {"increment": {"value": 0, "unit": KG}},
    },
    "/v1/week-demand": {
        "in a week each lift stands on its own day": WEEK
        | {"week": [{"day": 1, "prescription": IN_A_WEEK | {"days_per_week": 2}}]},
        "the low end of a range is not above its high end": WEEK
        | {"week": [{"day": 1, "prescription": IN_A_WEEK | {"reps": {"low": 6, "high": 5}}}]},
    },
    "/v1/week-adjustments": {
        "what hurts is a lift of the week": SORE_WEEK | {"hurts": [1]},
        "what must stay is a lift of the week": SORE_WEEK | {"constraints": {"staying": [1]}},
        "a tolerated load is one of a single lift": SORE_WEEK
        | {"complaint": SQUAT["complaint"] | {"tolerated": {"load": {"value": 30, "unit": KG}}}},
        "in a week each lift stands on its own day": SORE_WEEK
        | {"week": [{"day": 1, "prescription": IN_A_WEEK | {"days_per_week": 2}}]},
    },
    "/v1/return-plan": {
        "body mass and stature lie in the ranges of the segment tables, in whatever unit": RETURN
        | {"lifter": {"body_mass": {"value": 20, "unit": KG}, "stature": {"value": 168, "unit": "cm"}}},
        "the low end of a range is not above its high end": RETURN
        | {"adjusted": SQUAT["prescription"] | {"reps": {"low": 6, "high": 5}}},
        "the original lift loads the region": RETURN | {"original": SQUAT["prescription"] | {"exercise": "leg_press"}},
        "the plan is no longer than asked for": RETURN | {"longest": 1},
        "the original takes no more days than there are": RETURN
        | {"original": SQUAT["prescription"] | {"days_per_week": 3}, "days_per_week_max": 2},
        "a step of loads is more than nothing": RETURN | {"increment": {"value": 0, "unit": KG}},
    },
    "/v1/bar-loading": {
        "the bar can hold the target": {"target": {"value": 10, "unit": KG}, "rounding": "down"},
    },
}


REFUSALS: Final = ["400", "404", "405", "406", "414", "415", "422"]


Checks: TypeAlias = dict[str, dict[str, Any]]
NAMES: Final = "|".join(operation.name for operation in OPERATIONS)


def accepting(*statuses: str) -> Checks:
    """The checks of operations that may answer so to a request that fits their schema."""
    return {"positive_data_acceptance": {"expected-statuses": list(statuses)}}


# What holds for every question in a query and every table, beside the rules of their operations: lists of the same
# objects have the same length, `select` goes with as=text and as=csv and leads to something in the answer, a number
# in a text with its unit lies in the bounds of its quantity; path and query are not too long (414); a table begins
# with known columns, each once. One bad question never spoils a batch: it is refused in its own result; one too many
# may also be too large, and so may those that cost too much together, and they alone.
SELECTIONS: Final[dict[str, tuple[dict[str, Any], Checks]]] = {
    "table": ({"path_regex": f"^/v1/tables/({NAMES})$"}, accepting("2xx", "400", "414", "422")),
    "query": ({"path_regex": f"^/v1/({NAMES})$", "method": "GET"}, accepting("2xx", "414", "422")),
    "batch": (
        {"path": BATCH},
        {"negative_data_rejection": {"expected-statuses": ["200", "413", *REFUSALS]}, **accepting("2xx", "413")},
    ),
    "with_rules": ({"path_regex": f"^({'|'.join(RULES)})$", "method": "POST"}, accepting("2xx", "422")),
}


def examples(kind: str) -> int:
    """How many random requests each operation of a kind gets."""
    return 1000 if NIGHTLY else EXAMPLES[kind]


def configuration(kind: str, checks: Checks) -> SchemathesisConfig:
    """All checks, these of them with settings of their own.

    A configuration each and no list of exceptions in one: that list is searched again for every request, which takes as
    long as the request itself. What a batch holds are the questions of all operations, whose bounds are tried in their
    own requests: there they are tried once more by night alone.
    """
    return SchemathesisConfig.from_dict(
        {
            "seed": 1,
            "phases": {"coverage": {"enabled": NIGHTLY or kind != "batch"}},
            "generation": {"mode": "all", "deterministic": True, "max-examples": examples(kind)},
            "checks": {
                "enabled": True,
                "max_response_time": SLOWEST,
                "positive_data_acceptance": {"expected-statuses": ["2xx"]},
                "negative_data_rejection": {"expected-statuses": REFUSALS},
                "not_a_server_error": {"expected-statuses": ["2xx", "4xx"]},
                **checks,
            },
        }
    )


APPLICATION: Final = create_asgi(Settings(log_level="error"))


# One client for all requests. It asks nothing of the environment, in which each would look for a proxy again.
CLIENT: Final = asgi.get_client(APPLICATION)
CLIENT.trust_env = False


def described(kind: str, checks: Checks) -> BaseSchema:
    """The published description with the application that it describes."""
    schema = schemathesis.openapi.from_path(DESCRIPTION, config=configuration(kind, checks))
    schema.app = APPLICATION
    return schema


description = described("others", {})
tables, queries, batches, posts_with_rules = (
    described(kind, checks).include(**selected) for kind, (selected, checks) in SELECTIONS.items()
)
all_others = description
for excluded, _ in SELECTIONS.values():
    all_others = all_others.exclude(**excluded)
EVERYTHING: Final = (tables, queries, batches, posts_with_rules, all_others)


def resolves(pointer: str, value: object) -> bool:
    """Whether a JSON Pointer (RFC 6901) leads to a value of the request, or to a field missing from an object of it."""
    steps = [step.replace("~1", "/").replace("~0", "~") for step in pointer.split("/")[1:]]
    for index, step in enumerate(steps):
        if isinstance(value, list) and step.isdecimal() and int(step) < len(value):
            value = value[int(step)]
        elif isinstance(value, dict) and step in value:
            value = value[step]
        else:
            return isinstance(value, dict) and index == len(steps) - 1
    return True


def generated(kind: str) -> settings:
    """The same requests on every machine."""
    return settings(max_examples=examples(kind), deadline=None, derandomize=True, database=None)


@tables.parametrize()
@generated("table")
def test_table(case: Case[Any]) -> None:
    check(case)


@queries.parametrize()
@generated("query")
def test_query(case: Case[Any]) -> None:
    check(case)


@batches.parametrize()
@generated("batch")
def test_batch(case: Case[Any]) -> None:
    check(case)


@posts_with_rules.parametrize()
@generated("with_rules")
def test_operation_with_rules(case: Case[Any]) -> None:
    check(case)


@all_others.parametrize()
@generated("others")
def test_operation(case: Case[Any]) -> None:
    check(case)


def is_cut(case: Case[Any]) -> bool:
    """Whether an answer is asked for without some of its fields: test_fields.py holds what then comes."""
    items = case.body.get("requests") if case.path == BATCH and isinstance(case.body, dict) else None
    return "fields" in (case.query or {}) or any(
        isinstance(item, dict) and "fields" in item for item in (items if isinstance(items, list) else [])
    )


def says_errors_in_cells(case: Case[Any]) -> bool:
    """Whether a refusal is asked for as a cell of an answer: test_errors_in_cells.py holds what then comes."""
    return "text" in str((case.query or {}).get("errors"))


def check(case: Case[Any]) -> None:
    """All checks of a generated request, that pointers lead into it, and that what fits the schema is also read."""
    left_out = [
        *([response_schema_conformance] if is_cut(case) else []),
        *([negative_data_rejection] if says_errors_in_cells(case) else []),
    ]
    response = case.call_and_validate(session=CLIENT, excluded_checks=left_out)
    body = response.request.body
    if case.method != "POST" or not isinstance(body, bytes) or case.path not in SHAPES:
        return
    if response.status_code == 422:
        sent = json.loads(body)
        lost = [fault["pointer"] for fault in response.json()["errors"] if not resolves(fault["pointer"], sent)]
        assert not lost, f"pointers that lead to nothing in the request: {lost}"
    if response.status_code != 405 and case.meta and case.meta.generation.mode is GenerationMode.POSITIVE:
        # what fits the schema is also read: a refusal can then only come from a rule
        Reader(SHAPES[case.path]).read(body)
        if case.path == BATCH:
            assert (response.status_code == 413) == (cost_of(read_items(body)) > Settings().most_cost)


@pytest.mark.parametrize(("path", "rule"), [(path, rule) for path, rules in RULES.items() for rule in rules])
def test_rule_that_a_schema_cannot_say(path: str, rule: str) -> None:
    request = RULES[path][rule]
    case = description[path]["POST"].Case(body=request, media_type="application/json")
    response = case.call()
    assert response.status_code == 422, response.text
    Reader(SHAPES[path]).read(json.dumps(request).encode())
    assert all(resolves(fault["pointer"], request) for fault in response.json()["errors"]), response.text


def test_no_check_is_off() -> None:
    """A check that a later release adds is on as well: nothing in the settings switches one off."""
    for schema in EVERYTHING:
        checks = schema.config.checks
        off = [name for name in schemathesis_checks() if not checks.get_by_name(name=name).enabled]
        assert off == []


def schemathesis_checks() -> list[str]:
    from schemathesis.checks import CHECKS, load_all_checks  # noqa: PLC0415 - filled only once it is asked for

    load_all_checks()
    names = list(CHECKS.get_all_names())
    assert len(names) >= 10
    return [*names, "max_response_time"]


def test_every_operation_is_driven() -> None:
    """The generated tests cover the document, and the document covers the service's computations."""
    published = json.loads(DESCRIPTION.read_bytes())["paths"]
    driven = [
        found.ok().label for schema in EVERYTHING for found in schema.get_all_operations() if isinstance(found, Ok)
    ]
    assert len(driven) == len(set(driven))
    assert set(driven) == {f"{method.upper()} {path}" for path, methods in published.items() for method in methods}
    assert set(SHAPES) <= set(published)
