"""Shared by the tests of the window: a desk on the demo in its own store, and the application with its real style."""

from __future__ import annotations

import gc
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.app.wiring import prepare
from desk.domain.orders.order import Order
from desk.domain.shop.shop import Shop
from desk.intake.shop.shop_file import read_shop
from desk.intake.weights import read_weights
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.importing.preview import read_orders_of
from desk.session.pile.pile import Pile
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.setup.own_rules import shelf_in, use_own
from desk.session.sitting import Sitting
from desk.session.verdict.verdict import Terms
from desk.store.store import open_store
from desk.ui.bridge import Desk
from desk.ui.screen import Screen
from tests.conftest import StillClock
from tests.ui.screens import show_screen

ON = date(2026, 11, 25)


@pytest.fixture(scope="session")
def rulebook(resources: Path) -> Rulebook:
    """The shipped rulebook, read once."""
    return read_rulebook(resources)


@pytest.fixture(scope="session")
def demo(resources: Path, rulebook: Rulebook) -> tuple[Shop, tuple[Order, ...]]:
    """The shop and the orders of the demo, read once."""
    shop = read_shop(resources / "demo" / "shop.toml")
    return shop, read_orders_of(resources / "demo" / "orders.csv", Terms(shop, rulebook, ON))


@pytest.fixture(autouse=True)
def looks_the_same(qapp: QApplication, tmp_path: Path) -> Iterator[None]:
    """Style, fonts and settings as the program has them, in a folder of this test."""
    QSettings.setPath(QSettings.Format.NativeFormat, QSettings.Scope.UserScope, str(tmp_path / "settings"))
    QSettings.setPath(QSettings.Format.IniFormat, QSettings.Scope.UserScope, str(tmp_path / "settings"))
    prepare(qapp)
    gc.disable()  # as in the program, no other thread may destroy a widget
    yield
    gc.enable()
    QSettings().clear()


@pytest.fixture(scope="session")
def demo_store(
    tmp_path_factory: pytest.TempPathFactory, rulebook: Rulebook, demo: tuple[Shop, tuple[Order, ...]]
) -> Path:
    """A store with the demo imported, made once and copied by each test."""
    file, clock = tmp_path_factory.mktemp("demo") / "store.sqlite", StillClock(datetime(2026, 11, 25, 9, 0, tzinfo=UTC))
    sitting = Sitting(open_store(file, clock), clock, rulebook, ON)
    import_shop(sitting, demo[0])
    import_orders(sitting, demo[1])
    sitting.store.close_in_order()
    return file


def copied(store: Path, to: Path) -> Path:
    """Copy a store with the mark that it was closed properly, so that opening the copy needs no full check."""
    shutil.copy2(store.with_name(f"{store.name}-checked"), to.with_name(f"{to.name}-checked"))
    return Path(shutil.copy2(store, to))


@pytest.fixture
def open_desk(qtbot: QtBot, rulebook: Rulebook, resources: Path, clock: StillClock) -> Iterator[Callable[[Path], Desk]]:
    """Opens a desk on a store, and closes it after the test."""
    opened: list[Desk] = []

    def open_it(file: Path) -> Desk:
        sitting = Sitting(open_store(file, clock), clock, rulebook, ON)
        shelf = shelf_in(file.parent, resources)
        use_own(sitting, shelf)
        opened.append(Desk(sitting, Pile(sitting), resources))
        opened[-1].own_lists = shelf.own
        return opened[-1]

    yield open_it
    for desk in opened:
        desk.closing.emit()
        desk.sitting.store.close()


@pytest.fixture
def empty_desk(open_desk: Callable[[Path], Desk], tmp_path: Path) -> Desk:
    """A desk with nothing in its store."""
    return open_desk(tmp_path / "store.sqlite")


@pytest.fixture
def desk(open_desk: Callable[[Path], Desk], demo_store: Path, tmp_path: Path) -> Desk:
    """A desk on the demo, nothing weighed."""
    return open_desk(copied(demo_store, tmp_path / "store.sqlite"))


@pytest.fixture(scope="session")
def weighed_store(demo_store: Path, rulebook: Rulebook, resources: Path, demo: tuple[Shop, tuple[Order, ...]]) -> Path:
    """A store with the demo weighed, made once and copied by each test."""
    file, clock = demo_store.with_name("weighed.sqlite"), StillClock(datetime(2026, 11, 25, 9, 30, tzinfo=UTC))
    shutil.copy(demo_store, file)
    sitting = Sitting(open_store(file, clock), clock, rulebook, ON)
    rows = read_weights(resources / "demo" / "weights.csv", shop=demo[0])
    weigh(sitting, [(row.key, row.weighing) for row in rows])
    sitting.store.close_in_order()
    return file


@pytest.fixture
def weighed_desk(open_desk: Callable[[Path], Desk], weighed_store: Path, tmp_path: Path) -> Desk:
    """A desk on the demo, weighed."""
    return open_desk(copied(weighed_store, tmp_path / "weighed.sqlite"))


@pytest.fixture
def weigh_demo(desk: Desk, resources: Path) -> Callable[[], None]:
    """Weighs the demo with the weights it comes with."""

    def weigh_all() -> None:
        rows = read_weights(resources / "demo" / "weights.csv", shop=desk.pile.terms.shop)
        weigh(desk.sitting, [(row.key, row.weighing) for row in rows])

    return weigh_all


@pytest.fixture
def view(request: pytest.FixtureRequest, qtbot: QtBot) -> Screen:
    """The screen that `pytest.mark.screen` names, on the desk of that fixture, shown as the mark says."""
    mark = request.node.get_closest_marker("screen")
    desk: Desk = request.getfixturevalue(mark.kwargs.get("desk", "desk"))
    if mark.kwargs.get("weighed"):
        request.getfixturevalue("weigh_demo")()
    how = {name: value for name, value in mark.kwargs.items() if name in ("size", "in_front")}
    return show_screen(qtbot, mark.args[0](desk), **how)
