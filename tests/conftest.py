"""Shared by all tests: no window unless requested, no folders of the user, a clock that does not move."""

from __future__ import annotations

import atexit
import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before anything imports Qt
os.environ["LC_ALL"] = "C.UTF-8"  # dates and money as in the United States, whatever the machine's locale
_home = Path(tempfile.mkdtemp(prefix="desk-tests-"))
atexit.register(shutil.rmtree, _home, ignore_errors=True)
for _name in ("DATA", "CONFIG", "CACHE", "STATE"):
    os.environ[f"XDG_{_name}_HOME"] = str(_home / _name.lower())

settings.register_profile("desk", deadline=None, max_examples=60, derandomize=True, database=None)
settings.load_profile("desk")

ROOT = Path(__file__).resolve().parents[1]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out what needs a real window where there is none; scripts/test runs it under a virtual display."""
    if os.environ["QT_QPA_PLATFORM"] == "offscreen":
        for item in items:
            if item.get_closest_marker("window"):
                item.add_marker(pytest.mark.skip(reason="needs a real window"))


class StillClock:
    """A clock that moves only when a test moves it."""

    def __init__(self, now: datetime) -> None:
        self._now = now
        self._seconds = 0.0

    def now(self) -> datetime:
        """The wall time, in UTC."""
        return self._now

    def monotonic(self) -> float:
        """Seconds since the clock was made."""
        return self._seconds

    def forward(self, seconds: float) -> None:
        """Let time pass."""
        self._now += timedelta(seconds=seconds)
        self._seconds += seconds


@pytest.fixture
def clock() -> StillClock:
    """A clock at noon UTC on 2026-07-15, after the price change of that month."""
    return StillClock(datetime(2026, 7, 15, 12, 0, tzinfo=UTC))


@pytest.fixture(scope="session")
def resources() -> Path:
    """The program's own files, as they lie in the checkout."""
    return ROOT / "resources"


@pytest.fixture(scope="session")
def root() -> Path:
    """The checkout."""
    return ROOT


@pytest.fixture(scope="session")
def demo_out(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The results of a headless run over the demo, made once for all tests; read only."""
    from desk.app.demo import DEMO_DATE
    from desk.app.run import run

    out, demo = tmp_path_factory.mktemp("demo") / "out", ROOT / "resources" / "demo"
    files = ["--orders", demo / "orders.csv", "--weights", demo / "weights.csv", "--shop", demo / "shop.toml"]
    assert run([str(word) for word in [*files, "--date", DEMO_DATE, "--out", out]]) == 1
    return out


def _forget_locale() -> None:
    from desk.session.words import figures

    for kept in vars(figures).values():
        if hasattr(kept, "cache_clear"):
            kept.cache_clear()


@pytest.fixture
def locale(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str], None]]:
    """Return what sets the system's locale; what was kept for another one is forgotten, before and after."""

    def choose(name: str) -> None:
        monkeypatch.setenv("LC_ALL", name)
        _forget_locale()

    for name in ("LC_ALL", "LC_MONETARY", "LANG", "LANGUAGE"):
        monkeypatch.delenv(name, raising=False)
    _forget_locale()
    yield choose
    _forget_locale()
