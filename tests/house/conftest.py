"""What the tests of the house share: reading the program's own source."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

DESK = Path(__file__).resolve().parents[2] / "desk"
MODULES = sorted(DESK.rglob("*.py"))


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """One test a module for every test that takes `module`."""
    if "module" in metafunc.fixturenames:
        metafunc.parametrize("module", MODULES, ids=[str(path.relative_to(DESK)) for path in MODULES])


@pytest.fixture
def tree(module: Path) -> ast.Module:
    """The module's syntax tree."""
    return ast.parse(module.read_text(encoding="utf-8"))
