"""A desk for headless runs over files."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.app.headless import Desk


@pytest.fixture(autouse=True)
def collected_between_tests() -> Iterator[None]:
    """As in the program, no other thread may destroy a widget."""
    gc.disable()
    yield
    gc.enable()


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)
