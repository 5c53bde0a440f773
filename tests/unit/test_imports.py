"""No module of the service imports itself, by whatever way."""

from __future__ import annotations

from graphlib import CycleError, TopologicalSorter

import grimp
import pytest


def check_acyclic(graph: grimp.ImportGraph) -> None:
    """Raise CycleError naming modules that import each other in a circle."""
    TopologicalSorter({module: graph.find_modules_directly_imported_by(module) for module in graph.modules}).prepare()


def test_no_module_imports_itself() -> None:
    graph = grimp.build_graph("service", cache_dir=None)
    assert len(graph.modules) > 200
    check_acyclic(graph)


def test_a_package_and_its_module_that_import_each_other_are_a_cycle() -> None:
    graph = grimp.build_graph("service", cache_dir=None)
    graph.add_import(importer="service", imported="service.cli")
    with pytest.raises(CycleError, match="cycle"):
        check_acyclic(graph)
