"""Forty bought labels and forty packages, from PDF to handed over, with keyboard and a typed scanner only."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.labels.scan import match_state
from desk.ui import common_keys as keys
from desk.ui.bridge import Desk
from desk.ui.handover.view import HandOverView, build
from tests.paper.bought.made import Parcel, write_labels_like
from tests.session import made
from tests.ui.handover.test_acts import press

NUMBERS = tuple(str(number) for number in range(2001, 2041))
OPEN = "2007"  # its label says too little, so a person types its number


def parcel(number: str) -> Parcel:
    reference = "" if number == OPEN else f"{number}-1"
    return Parcel("SOMEONE", "1 QUILL ROW", "NO TOWN", "00000", reference, "3 oz", int(number))


@pytest.fixture
def view(qtbot: QtBot, empty_desk: Desk) -> Iterator[HandOverView]:
    sitting = empty_desk.sitting
    import_shop(sitting, made.shop())
    import_orders(sitting, [made.order(number) for number in NUMBERS])
    weigh(sitting, [(PieceKey(number), made.weighing("3", "Padded")) for number in NUMBERS])
    found = build(empty_desk)
    assert isinstance(found, HandOverView)
    qtbot.addWidget(found)
    found.resize(1200, 680)
    found.add_keys()
    found.show()
    found.activateWindow()
    with qtbot.waitActive(found):
        pass
    found.open_labels()
    yield found
    found.labels.end_jobs()


def test_forty_packages_are_handed_over_with_their_own_labels(
    qtbot: QtBot, view: HandOverView, empty_desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    page, file, out = view.labels, tmp_path / "bought.pdf", tmp_path / "out.pdf"
    shuffled = random.Random(21).sample(NUMBERS, len(NUMBERS))
    file.write_bytes(write_labels_like([parcel(number) for number in shuffled], "frame"))
    monkeypatch.setattr(QFileDialog, "getOpenFileNames", lambda *_: ([str(file)], ""))
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(out), ""))
    page.rule.box.setFocus()
    qtbot.keyClick(page.rule.box, Qt.Key.Key_Space)  # only what was matched may leave
    page.open.setFocus()
    qtbot.keyClick(page.open, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: bool(page.matches), timeout=60_000)
    assert page.counts.text() == "39 of 40 matched"
    qtbot.keyClicks(page.number.edit, OPEN)
    qtbot.keyClick(page.number.edit, Qt.Key.Key_Return)
    page.accept.setFocus()
    qtbot.keyClick(page.accept, Qt.Key.Key_Space)
    qtbot.waitUntil(lambda: out.exists() and not page.matches, timeout=60_000)
    for number in reversed(NUMBERS):  # as they lie on the floor
        for code in (f"{number}-1", parcel(number).tracking):
            qtbot.keyClicks(page.scan.edit, code)
            qtbot.keyClick(page.scan.edit, Qt.Key.Key_Return)
    state = match_state(empty_desk.sitting, empty_desk.pile)
    assert (len(state.matched), state.mismatched, state.unscanned) == (40, (), ())
    press(qtbot, page.scan.edit, "Escape")
    press(qtbot, view.focusWidget(), keys.HAND_ALL_OVER)
    left = [verdict.case.handed_over for verdict in empty_desk.pile.verdicts.values()]
    assert left == [True] * 40
