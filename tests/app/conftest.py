"""A desk to bring files to."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.app.headless import Desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    return Desk(tmp_path)
