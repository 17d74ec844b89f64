"""The shipped lists and rules, read once for all checks against published values."""

from __future__ import annotations

from pathlib import Path

import pytest

from desk.rates.lists.chart import Charts
from desk.session.rulebook import Rulebook, read_rulebook


@pytest.fixture(scope="session")
def rulebook(resources: Path) -> Rulebook:
    return read_rulebook(resources)


@pytest.fixture(scope="session")
def charts(resources: Path) -> Charts:
    return Charts.read(resources / "charts")
