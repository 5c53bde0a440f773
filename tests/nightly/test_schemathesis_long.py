"""What tests/contract/test_schemathesis.py does, with ten times as many generated requests for each operation."""

from __future__ import annotations

import os

os.environ.setdefault("SCHEMATHESIS_EXAMPLES", "1000")

from tests.contract.test_schemathesis import (  # noqa: F401 - reads the number when it is imported
    test_batch,
    test_every_operation_is_driven,
    test_operation,
    test_operation_with_rules,
    test_query,
    test_table,
)
