"""The shipped rulebook, read once; terms of a made shop; a sitting on a store of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.sitting import Sitting
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict
from desk.store.store import open_store
from tests.conftest import ROOT, StillClock
from tests.session import made

Judge = Callable[..., Verdict]


@pytest.fixture(scope="session")
def rulebook() -> Rulebook:
    return read_rulebook(ROOT / "resources")


@pytest.fixture
def terms(rulebook: Rulebook) -> Terms:
    return Terms(made.shop(), rulebook, made.ON)


@pytest.fixture
def judged(rulebook: Rulebook) -> Judge:
    """Judge a made case: `judged(value, mailer, shop=..., on=..., **fields of case or order)`."""

    def one(*words: Any, shop: Any = None, on: Any = made.ON, **fields: Any) -> Verdict:
        return judge(made.case(*words, **fields), Terms(shop or made.shop(), rulebook, on))

    return one


@pytest.fixture
def sitting(rulebook: Rulebook, clock: StillClock, tmp_path: Path) -> Iterator[Sitting]:
    store = open_store(tmp_path / "store.sqlite", clock)
    yield Sitting(store, clock, rulebook, made.ON)
    store.close()
