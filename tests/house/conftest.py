"""Shared by the tests of the house: reading the program's own source."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

DESK = Path(__file__).resolve().parents[2] / "desk"
MODULES = sorted(DESK.rglob("*.py"))


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run every test that takes `module` once per module."""
    if "module" in metafunc.fixturenames:
        metafunc.parametrize("module", MODULES, ids=[str(path.relative_to(DESK)) for path in MODULES])


@pytest.fixture
def tree(module: Path) -> ast.Module:
    """Return the module's syntax tree."""
    return ast.parse(module.read_text(encoding="utf-8"))
