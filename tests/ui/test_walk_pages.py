"""A walk over every page and sub page, in both schemes, as small as the window may be, at 100 and 200%.

On each: no control without a name, access keys used once, every control reached by Tab, nothing cut, no page or table
wider than its room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractScrollArea,
    QApplication,
    QComboBox,
    QLabel,
    QPushButton,
    QScrollArea,
    QTableView,
    QWidget,
)
from pytestqt.qtbot import QtBot

from desk.app.wiring import screens_of, words
from desk.ui.batch.view import BatchView
from desk.ui.bench.view import BenchScreen
from desk.ui.bridge import Desk, OngoingState
from desk.ui.customs.view import CustomsView
from desk.ui.kit.scheme import choose_scheme
from desk.ui.kit.strip import OneLineText
from desk.ui.setup.view import PAGES, SetupView
from desk.ui.window import Window
from tests.ui.test_walk import SMALLEST, controls, is_cut, parents

SLACK = 8  # pixels that a table may be too wide: less than the space around a text


@pytest.fixture(params=[("light", 2), ("dark", 2), ("light", 1)], ids=lambda kind: f"{kind[0]}-{kind[1]}00")
def look(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[None]:
    """A scheme and a size of type, for everything that is built after it."""
    scheme, times = request.param
    before, font = qapp.font(), qapp.font()
    font.setPointSizeF(before.pointSizeF() * times)
    qapp.setFont(font)
    choose_scheme(scheme)
    yield
    qapp.setFont(before)
    choose_scheme("system")


def opened(qtbot: QtBot, desk: Desk) -> Window:
    """The whole window, as small as it may be."""
    window = Window(words())
    qtbot.addWidget(window)
    window.seat(desk, screens_of(desk))
    window.resize(*SMALLEST)
    window.show()
    return window


def bench_pages(window: Window) -> dict[str, Callable[[], object]]:
    """The pages of the bench."""
    bench = window.screen_of("Bench")
    assert isinstance(bench, BenchScreen)

    def weight_refused() -> None:
        bench.weight_field.open("two")
        bench.weight_field.say("That is no weight. Type 4.2, 4.2 oz, 1 lb 3 or 119 g.")

    def lists() -> None:
        bench.weight_field.hide()
        bench.does.describing.offer_mailers()

    def number_unknown() -> None:
        bench.mailers.hide()
        bench.does.opening.find()
        bench.does.opening.found("9999")

    return {
        "a letter over an ounce": partial(bench.pose, "full"),
        "a stop": partial(bench.does.opening.open_piece, bench.desk.pile.find("1100")),
        "too close to call": partial(bench.pose, "trouble"),
        "a weight refused": weight_refused,
        "the mailers": lists,
        "a number nobody has": number_unknown,
        "all about a piece": bench.does.looking.open_page,
        "the keys": window.overlays.toggle_keys,
        "back": lambda: (window.overlays.toggle_keys(), bench.does.looking.leave_page()),
    }


def other_pages(window: Window) -> dict[str, dict[str, Callable[[], object]]]:
    """The further pages of other screens."""
    batch, customs = window.screen_of("Batch"), window.screen_of("Customs")
    setup, papers = window.screen_of("Setup"), window.screen_of("Papers")
    assert isinstance(batch, BatchView)
    assert isinstance(customs, CustomsView)
    assert isinstance(setup, SetupView)
    return {
        "Batch": {
            "what needs a look": partial(batch.pose, "trouble"),
            "all about a piece": batch.open_piece_page,
        },
        "Customs": {"complete": partial(customs.pose, "full"), "much is missing": partial(customs.pose, "trouble")},
        "Papers": {"labels": partial(papers.pose, "full"), "what was left out": partial(papers.pose, "trouble")},
        "Setup": {title: partial(setup._open, title) for title, _ in PAGES}
        | {"a weight nobody can read": partial(setup.pose, "trouble")},
    }


def faults(window: Window, name: str) -> list[str]:
    """What is wrong with what is shown, once layouts that are still under way had half a second to settle."""
    found = faults_now(window, name)
    for _ in range(25):
        if not found:
            break
        QTest.qWait(20)
        found = faults_now(window, name)
    return found


def faults_now(window: Window, name: str) -> list[str]:
    """What is wrong with what is shown now."""
    for _ in range(3):
        QApplication.processEvents()
    everything = window.centralWidget()
    assert (window.width(), window.height()) == SMALLEST
    shown = [one for one in everything.findChildren(QWidget) if one.isVisible()]
    found = [
        f"no name: {described(one)}" for one in controls(everything) if one.isVisible() and not one.accessibleName()
    ]
    found += [f"no label: {described(one)}" for one in shown if isinstance(one, QComboBox) and not labels_of(one)]
    found += [f"access key twice: {key}" for key in twice(shown)]
    found += [f"cut: {described(one)}" for one in shown if is_cut_off(one)]
    tables = [one for one in shown if isinstance(one, QTableView) and one.horizontalScrollBar().maximum() > SLACK]
    found += [f"scrolls sideways: {described(one)}" for one in tables]
    return [f"{window.screen_open}, {name}: {each}" for each in found]


def labels_of(box: QComboBox) -> list[object]:
    """The labels a screen reader reads before a list's choice: on Linux a list has no name of its own."""
    face = QAccessible.queryAccessibleInterface(box)
    return list(face.relations(QAccessible.RelationFlag.Label)) if face is not None else []


def described(widget: QWidget) -> str:
    text = widget.text() if isinstance(widget, QLabel | QAbstractButton) else ""
    return f"{type(widget).__name__} {widget.accessibleName() or text!r} {widget.geometry().getRect()}"


def twice(shown: list[QWidget]) -> list[str]:
    texts = [one.text().replace("&&", "") for one in shown if isinstance(one, QLabel | QAbstractButton)]
    keys = [text[text.index("&") + 1].lower() for text in texts if "&" in text[:-1] and "<" not in text]
    return sorted({key for key in keys if keys.count(key) > 1})


def is_cut_off(widget: QWidget) -> bool:
    """Words that need more room than they have, or a widget that reaches sideways out of what scrolls."""
    if isinstance(widget, QScrollArea) and not isinstance(widget, QLabel):
        inside = widget.widget()
        return inside is not None and inside.width() > widget.viewport().width()
    if isinstance(widget, OneLineText):
        return False  # a strip is one line: what is cut there is in its tip
    if isinstance(widget, QLabel) and widget.text() and widget.pixmap().isNull():
        if not widget.wordWrap():
            return widget.width() + 1 < widget.sizeHint().width()
        return widget.height() + 1 < widget.heightForWidth(widget.width())
    if not isinstance(widget, QAbstractButton):
        return False
    if any(isinstance(up, QAbstractScrollArea) for up in parents(widget)):
        return widget.width() + 1 < widget.minimumSizeHint().width()
    return is_cut(widget)


def not_reached(qtbot: QtBot, window: Window) -> list[str]:
    """Controls of the open screen that Tab never comes to, by pressing it until it comes back."""
    screen = window.screen_of(window.screen_open)
    seen: list[QWidget] = []
    for _ in range(200):
        now = window.focusWidget()
        if now is None or (now in seen and now is not seen[-1]):  # Tab goes through the parts of a date first
            break
        seen.append(now)
        qtbot.keyClick(now, Qt.Key.Key_Tab)
    wanted = (one for one in controls(screen) if one.isVisible() and one.isEnabled())
    near = [each for one in seen for each in (one, *parents(one))]
    return [
        f"not reached by Tab: {described(one)}" for one in wanted if one not in near and one.focusProxy() not in near
    ]


def walked(window: Window, pages: Mapping[str, Mapping[str, Callable[[], object]]]) -> list[str]:
    found = []
    for title in words():
        window.open_screen(title)
        found += faults(window, "as it opens")
        for name, go in pages.get(title, {}).items():
            go()
            found += faults(window, name)
    return found


@pytest.mark.usefixtures("look")
def test_every_page_passes_the_walk_with_the_demo_weighed(qtbot: QtBot, weighed_desk: Desk) -> None:
    window = opened(qtbot, weighed_desk)
    assert walked(window, {**other_pages(window), "Bench": bench_pages(window)}) == []


@pytest.mark.usefixtures("look")
def test_every_empty_screen_passes_the_walk(qtbot: QtBot, empty_desk: Desk) -> None:
    window = opened(qtbot, empty_desk)
    empty_desk.state(
        "scale", OngoingState("The scale does not answer. Type weights with T, or plug it in again.", "look")
    )
    setup = window.screen_of("Setup")
    assert isinstance(setup, SetupView)
    assert walked(window, {"Setup": {title: partial(setup._open, title) for title, _ in PAGES}}) == []


def test_tab_reaches_every_control(qtbot: QtBot, weighed_desk: Desk) -> None:
    window = opened(qtbot, weighed_desk)
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    pages, found = {**other_pages(window), "Bench": bench_pages(window)}, []
    for title in words():
        window.open_screen(title)
        for name, go in {"as it opens": lambda: None, **pages.get(title, {})}.items():
            go()
            QApplication.processEvents()
            if window.overlays.keys.isHidden():  # over which Tab goes nowhere, and Escape leaves
                found += [f"{title}, {name}: {each}" for each in not_reached(qtbot, window)]
    assert found == []


def test_the_walk_detects_cut_texts_and_missing_names(qtbot: QtBot, empty_desk: Desk) -> None:
    """The checks themselves can fail."""
    window = opened(qtbot, empty_desk)
    label, button = QLabel("Far too long for this", window.centralWidget()), QPushButton("", window.centralWidget())
    for widget in (label, button):
        widget.resize(30, 20)
        widget.show()
    assert {each.split(": ")[1] for each in faults(window, "posed")} == {"no name", "cut"}
