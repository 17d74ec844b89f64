"""The page of price lists in Setup, in front."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from desk.ui.bridge import Desk
from desk.ui.setup.prices.page import PriceListsPage
from desk.ui.setup.view import SetupView
from tests.ui.screens import show_screen


@pytest.fixture
def page(qtbot: QtBot, desk: Desk) -> PriceListsPage:
    view = show_screen(qtbot, SetupView(desk), (1100, 640))
    view.activateWindow()
    with qtbot.waitActive(view):
        pass
    view.open_page("Price lists")
    view.arrive()
    found = view.page
    assert isinstance(found, PriceListsPage)
    return found
