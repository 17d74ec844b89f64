"""The walk over the pages inside Batch: an import preview, issues before weighing, one piece.

Each is walked with what asks the most of it, light and dark, at 100% and at 200%, in the smallest window.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from desk.session.importing.preview import Pasted
from desk.ui.batch.view import BatchView, build
from desk.ui.bridge import Desk
from desk.ui.kit.scheme import choose_scheme
from desk.ui.window import Window
from tests.ui.test_walk import SMALLEST, controls, double, is_cut, parents

ASKING = (
    "Ord. No,Bestellt am,Ship too,address1,city,region,postal_code,Land,item,unit_price,status,Shelf\n"
    "1041,03/04/2026,Ada Quist,41 Gluepot Rd,Duluth,MN,55804,US,Letterpress card,1.250,paid,A1\n"
    "7001,03/04/2026,Bo Finch,2 Quire St,Bath,ME,04530,US,Letterpress card,6.50,paid,A2\n"
)
READY = (
    "order,recipient,address1,city,region,postal_code,country,item,status\n"
    "1041,Ada Quist,1 Another Rd,Duluth,MN,55804,US,Letterpress card,paid\n"
    "1042,Walt Brinker,2207 Foldbone Loop,Bend,OR,97701,US,Letterpress bookmark,canceled\n"
)
FAULTY = "order,recipient,country,item,quantity\n" + "".join(f"{n},Ada Quist,US,Card,many\n" for n in range(20))
PAGES = ("asking", "ready", "faulty", "products", "before weighing", "one piece")
TABLES = {
    "asking": ASKING,
    "ready": READY,
    "faulty": FAULTY,
    "products": "Artikelnummer;Bezeichnung;Gewicht;Einheit\nCD-1;Letterpress card;18;g\nGP-1;Glue pot;120;g\n",
}
Go = Callable[[str], BatchView]
__all__ = ["double"]


@pytest.fixture
def go(qtbot: QtBot, desk: Desk) -> Go:
    """Opens a page in a window as small as it may be."""

    def open_it(page: str) -> BatchView:
        window, screen = Window(["Batch"]), build(desk)
        qtbot.addWidget(window)
        window.seat(desk, [("Batch", "Ctrl+1", screen)])
        window.resize(*SMALLEST)
        window.show()
        window.activateWindow()
        with qtbot.waitActive(window):
            pass
        assert isinstance(screen, BatchView)
        if page in TABLES:
            screen.look_into(Pasted(TABLES[page]))
            qtbot.waitUntil(lambda: screen.importing.preview is not None and not screen.importing.is_busy)
        elif page == "before weighing":
            screen.look_ahead()
        else:
            screen.open_piece_page()
        for _ in range(5):  # wrapped lines settle their heights one after the other
            QApplication.processEvents()
        return screen

    return open_it


def here(screen: BatchView) -> QWidget:
    page = screen.pages.currentWidget()
    assert page is not None
    return page


def seen(screen: BatchView) -> list[QWidget]:
    return [one for one in controls(here(screen)) if one.isVisible() and one.isEnabled()]


@pytest.mark.parametrize("page", PAGES)
def test_every_control_has_a_name_of_its_own(go: Go, page: str) -> None:
    page_shown = here(go(page))
    found = [one for one in controls(page_shown) if one.isVisible()] or [page_shown]
    names = [one.accessibleName() for one in found]
    assert [f"{type(one).__name__}" for one in found if not one.accessibleName()] == []
    assert sorted(names) == sorted(set(names))


@pytest.mark.parametrize("page", PAGES)
def test_no_access_key_is_used_twice(go: Go, page: str) -> None:
    parts = [one for kind in (QAbstractButton, QLabel) for one in here(go(page)).findChildren(kind) if one.isVisible()]
    texts = [one.text().replace("&&", "") for one in parts if getattr(one, "buddy", lambda: True)()]
    keys = [text[text.index("&") + 1].lower() for text in texts if "&" in text[:-1]]
    assert sorted(keys) == sorted(set(keys))


@pytest.mark.parametrize("page", PAGES)
def test_tab_reaches_every_control_from_top_to_bottom(qtbot: QtBot, go: Go, page: str) -> None:
    screen = go(page)
    wanted = seen(screen)
    if not wanted:  # a page that is only read takes the keys itself
        assert QApplication.focusWidget() is here(screen)
        return
    wanted[0].setFocus()
    reached: list[QWidget] = []
    for _ in range(60):
        one = QApplication.focusWidget()
        if one in wanted and one not in reached:
            reached.append(one)
        qtbot.keyClick(one, Qt.Key.Key_Tab)
    assert [one.accessibleName() for one in wanted if one not in reached] == []
    start = reached.index(min(reached, key=lambda one: top(one, screen)))
    tops = [top(one, screen) for one in (*reached[start:], *reached[:start])]
    assert tops == sorted(tops)


def top(one: QWidget, screen: BatchView) -> int:
    """How far down the middle of a control is on the page, in steps of a line, as if nothing were scrolled."""
    middle = QPoint(0, one.height() // 2) if one.height() < 60 else QPoint(0, 10)
    body = next((up.widget() for up in parents(one) if isinstance(up, QScrollArea)), None)
    down = one.mapTo(body, middle).y() if body else 10_000 + one.mapTo(screen, middle).y()
    return down // 12


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("size", ["100%", "200%"])
def test_no_text_is_cut_off(request: pytest.FixtureRequest, go: Go, page: str, scheme: str, size: str) -> None:
    if size == "200%":
        request.getfixturevalue("double")
    choose_scheme(scheme)
    screen = go(page)
    window = screen.window()
    assert (window.width(), window.height()) == SMALLEST
    for area in here(screen).findChildren(QScrollArea):
        assert area.horizontalScrollBar().maximum() == 0
    buttons = [one for one in here(screen).findChildren(QAbstractButton) if one.isVisible() and not inside_a_box(one)]
    assert [one.accessibleName() for one in buttons if is_cut(one)] == []
    assert [one.text() for one in here(screen).findChildren(QLabel) if one.isVisible() and is_short(one)] == []


def inside_a_box(one: QWidget) -> bool:
    return any(type(up).__name__ in ("ColumnTable", "PlainTable", "WhatItDoes") for up in parents(one))


def is_short(label: QLabel) -> bool:
    """Narrower than its words, or lower than they need at this width."""
    if label.wordWrap():
        return label.height() + 2 < label.heightForWidth(label.width())
    return label.width() + 1 < label.sizeHint().width()
