"""What the tests of the window share: a desk on the demo, in a store of its own, and an application that looks the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.app.wiring import prepare
from desk.domain.order import Order
from desk.domain.shop import Shop
from desk.intake.shop_file import read_shop
from desk.intake.weights import read_weights
from desk.session.pile import Pile
from desk.session.preview import read_orders_of
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.sitting import Sitting
from desk.session.take_in import take_in_orders, take_in_shop
from desk.session.verdict import Terms
from desk.session.weigh import weigh
from desk.store.store import open_store
from desk.ui.bridge import Desk
from tests.conftest import StillClock

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
    yield
    QSettings().clear()


@pytest.fixture
def empty_desk(qtbot: QtBot, tmp_path: Path, rulebook: Rulebook, resources: Path, clock: StillClock) -> Iterator[Desk]:
    """A desk with nothing in its store."""
    sitting = Sitting(open_store(tmp_path / "store.sqlite", clock), clock, rulebook, ON)
    desk = Desk(sitting, Pile(sitting), resources)
    yield desk
    desk.closing.emit()
    sitting.store.close()


@pytest.fixture
def desk(empty_desk: Desk, demo: tuple[Shop, tuple[Order, ...]]) -> Desk:
    """A desk on the demo, nothing weighed."""
    shop, orders = demo
    take_in_shop(empty_desk.sitting, shop)
    take_in_orders(empty_desk.sitting, orders)
    return empty_desk


@pytest.fixture
def weigh_demo(desk: Desk, resources: Path) -> Callable[[], None]:
    """Weighs the demo with the weights it comes with."""

    def weigh_all() -> None:
        rows = read_weights(resources / "demo" / "weights.csv", shop=desk.pile.terms.shop)
        weigh(desk.sitting, [(row.key, row.weighing) for row in rows])

    return weigh_all
