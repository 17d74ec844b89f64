"""Bought labels by keyboard and a typed scanner: from PDF to matched, while the label is seen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot
from reportlab.pdfgen.canvas import Canvas

from desk.domain.finding import Severity
from desk.domain.status import PieceStatus
from desk.session.labels.matching import candidates_of
from desk.session.papers.bought_labels import bought_labels
from desk.session.papers.printing import PrintResult
from desk.session.pile.bulk_changes import set_beside
from desk.session.sitting import Sitting
from desk.ui.bridge import Desk, Event
from desk.ui.handover import labels_page
from desk.ui.handover.labels_page import LabelsPage
from desk.ui.handover.view import HandOverView, build
from tests.paper.bought.made import Parcel, write_labels_like


@pytest.fixture
def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


@pytest.fixture
def page(qtbot: QtBot, desk: Desk, weigh_demo: Callable[[], None], messages: list[Event]) -> Iterator[LabelsPage]:
    weigh_demo()
    messages.clear()
    view = build(desk)
    assert isinstance(view, HandOverView)
    qtbot.addWidget(view)
    view.resize(1200, 680)
    view.show()
    view.open_labels()
    yield view.labels
    view.labels.end_jobs()


def parcels(desk: Desk) -> list[Parcel]:
    """A label for two packages of the demo, and one that says too little."""
    first, second, *_ = candidates_of(desk.pile)
    made = [Parcel("A", "B", "C", "D", one.reference, "1 lb", number) for number, one in enumerate((first, second), 1)]
    return [*made, Parcel("NOBODY", "NOWHERE", "NO CITY", "00000", "", "", 3)]


def load(qtbot: QtBot, page: LabelsPage, tmp_path: Path, messages: list[Event]) -> None:
    file = tmp_path / "bought.pdf"
    file.write_bytes(write_labels_like(parcels(page.desk), "frame"))
    page.load([file])
    qtbot.waitUntil(lambda: bool(page.matches) or bool(messages), timeout=30_000)


def test_labels_are_matched_from_pdf_by_keyboard_alone(
    qtbot: QtBot, page: LabelsPage, desk: Desk, messages: list[Event], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    third = candidates_of(desk.pile)[2]
    load(qtbot, page, tmp_path, messages)
    assert [row[2] for row in page.model.rows] == ["matched", "matched", "no match"]
    assert page.counts.text() == "2 of 3 matched"
    assert page.table.chosen_rows() == [2]  # the one that waits for a person
    qtbot.waitUntil(lambda: not page.picture.pixmap().isNull(), timeout=30_000)
    qtbot.keyClicks(page.number.edit, "99999")
    qtbot.keyClick(page.number.edit, Qt.Key.Key_Return)
    assert page.number.fault.label.text() == "No package has the number 99999."
    page.number.edit.clear()
    qtbot.keyClicks(page.number.edit, third.reference)
    qtbot.keyClick(page.number.edit, Qt.Key.Key_Return)
    assert page.model.rows[2][1:3] == (desk.pile.number_of(third.reference), "typed")
    out = tmp_path / "out.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(out), ""))
    page.accept.click()
    qtbot.waitUntil(lambda: out.exists() and not page.matches, timeout=30_000)
    assert desk.pile.verdicts[third.piece_id].case.postage_on
    assert messages[-1].words.startswith("Saved 3 labels in the order weighed")
    tracking = parcels(desk)[0].tracking if candidates_of(desk.pile) else ""
    first = candidates_of(desk.pile)[0].reference
    page.scan.edit.setFocus()
    for code in (first, tracking):
        qtbot.keyClicks(page.scan.edit, code)
        qtbot.keyClick(page.scan.edit, Qt.Key.Key_Return)
    assert (page.scan.result.text(), page.scan.mark.kind) == (f"MATCH {desk.pile.number_of(first)}", "fine")
    for code in (first, parcels(desk)[1].tracking):
        qtbot.keyClicks(page.scan.edit, code)
        qtbot.keyClick(page.scan.edit, Qt.Key.Key_Return)
    assert page.scan.result.text().startswith(f"MISMATCH {desk.pile.number_of(first)}")
    assert page.scan.mark.kind == "stop"
    assert "1 mismatched" in page.scan.state.text()


def test_a_repeated_file_and_a_damaged_one_are_refused_with_sentences(
    qtbot: QtBot, page: LabelsPage, messages: list[Event], tmp_path: Path
) -> None:
    file = tmp_path / "broken.pdf"
    file.write_bytes(b"no pdf")
    page.load([file])
    qtbot.waitUntil(lambda: bool(messages), timeout=30_000)
    assert (messages[-1].words, messages[-1].mark) == ("broken.pdf is not a PDF, or it is damaged.", "stop")


def test_the_rule_to_require_a_match_is_saved(page: LabelsPage, desk: Desk) -> None:
    page.rule.box.click()
    assert bought_labels(desk.sitting).must_match
    page.rule.box.click()
    assert not bought_labels(desk.sitting).must_match


def test_an_unknown_slip_starts_over(qtbot: QtBot, page: LabelsPage) -> None:
    page.scan.edit.setFocus()
    for code in ("9999-1", "1"):
        qtbot.keyClicks(page.scan.edit, code)
        qtbot.keyClick(page.scan.edit, Qt.Key.Key_Return)
    assert page.scan.result.text() == "Scan the slip first, then its label."


def test_printing_again_asks_which_label_came_out_last(
    qtbot: QtBot, page: LabelsPage, desk: Desk, messages: list[Event], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def take(_sitting: Sitting, last_good: str) -> PrintResult:
        asked.append(last_good)
        return PrintResult(Severity.FINE, "Printed on desk.", ("1", "2"))

    monkeypatch.setattr(labels_page, "print_labels", take)
    assert not page.print.isEnabled()
    load(qtbot, page, tmp_path, messages)
    page.accept_to(tmp_path / "out.pdf")
    qtbot.waitUntil(page.print.isEnabled, timeout=30_000)
    page.print.click()
    page._print("0")  # a second press before the printer has answered
    assert not page.print.isEnabled()
    qtbot.waitUntil(
        lambda: messages[-1].words == "Printed on desk. 2 labels." and page.print.isEnabled(), timeout=30_000
    )
    assert asked == ["0"]
    page.print.click()
    assert messages[-1].words.startswith("These labels were printed before.")
    assert asked == ["0"]  # nothing is printed until the question is answered
    qtbot.keyClicks(page.came_out.edit, "1004")
    qtbot.keyClick(page.came_out.edit, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: asked == ["0", "1004"] and page.came_out.isHidden(), timeout=30_000)


def test_a_label_without_a_number_stays_in_the_list_when_the_others_are_accepted(
    qtbot: QtBot, page: LabelsPage, desk: Desk, messages: list[Event], tmp_path: Path
) -> None:
    """Its file can't be imported twice, so that the label would be lost."""
    third = candidates_of(desk.pile)[2]
    load(qtbot, page, tmp_path, messages)
    page.accept_to(tmp_path / "first.pdf")
    qtbot.waitUntil(lambda: len(page.matches) == 1 and page.work.is_free, timeout=30_000)
    assert messages[-1].words.endswith("Still waiting for a number: 1 label.")
    assert messages[-1].mark == "look"
    assert page.table.chosen_rows() == [0]  # the next number typed is for it
    page.number.put(third.reference)
    page.settle()
    page.accept_to(tmp_path / "second.pdf")
    qtbot.waitUntil(lambda: not page.matches, timeout=30_000)
    assert desk.pile.verdicts[third.piece_id].case.postage_on


def test_a_number_typed_while_labels_are_saved_is_kept_for_its_label(
    qtbot: QtBot, page: LabelsPage, desk: Desk, messages: list[Event], tmp_path: Path
) -> None:
    third = candidates_of(desk.pile)[2]
    load(qtbot, page, tmp_path, messages)
    page.accept_to(tmp_path / "out.pdf")
    page.table.selectRow(2)
    page.number.put(third.reference)
    page.settle()
    qtbot.waitUntil(lambda: len(page.matches) == 1 and page.work.is_free, timeout=30_000)
    assert not desk.pile.verdicts[third.piece_id].case.postage_on
    assert page.model.rows[0][1:3] == (desk.pile.number_of(third.reference), "typed")


def test_the_picture_is_never_that_of_another_label(
    qtbot: QtBot, page: LabelsPage, messages: list[Event], tmp_path: Path
) -> None:
    load(qtbot, page, tmp_path, messages)
    qtbot.waitUntil(lambda: not page.picture.pixmap().isNull(), timeout=30_000)
    before, now = page.matches[2], page.matches[0]
    page.table.selectRow(0)
    assert page.picture.pixmap().isNull()
    page._paint(before, (1, 1, b"\x00"))  # it took longer than the arrow key
    assert page.picture.pixmap().isNull()
    page._paint(now, (1, 1, b"\x00"))
    assert not page.picture.pixmap().isNull()


def test_a_receipt_is_set_aside_and_can_be_shown(
    qtbot: QtBot, page: LabelsPage, messages: list[Event], tmp_path: Path
) -> None:
    file, out = tmp_path / "receipt.pdf", BytesIO()
    canvas = Canvas(out, pagesize=(288, 432))
    canvas.drawString(40, 300, "Thank you. You bought 2 labels.")
    canvas.showPage()
    canvas.save()
    file.write_bytes(out.getvalue())
    page.load([file])
    qtbot.waitUntil(lambda: bool(page.matches), timeout=30_000)
    assert page.model.rows[0][2:4] == ("set aside", "no label: no barcode and no address")
    assert page.counts.text() == "0 of 0 matched, 1 set aside"
    qtbot.waitUntil(lambda: not page.picture.pixmap().isNull(), timeout=30_000)


def test_print_and_save_apply_to_the_labels_while_they_are_in_front(
    qtbot: QtBot, desk: Desk, messages: list[Event], monkeypatch: pytest.MonkeyPatch
) -> None:
    view = HandOverView(desk)
    qtbot.addWidget(view)
    view.bring_up_to_date()
    asked: list[str] = []
    monkeypatch.setattr(view.sheet, "print_it", lambda _day: asked.append("sheet"))
    monkeypatch.setattr(view.labels, "ask_printing", lambda: asked.append("labels"))
    view.model.show_rows((("1041-1", "", "", "", "", ""),), ())
    view.print_it()
    view.open_labels()
    view.print_it()
    assert asked == ["sheet", "labels"]
    view.save_it()
    assert messages[-1].words == "No label is matched yet. Import labels, and match them first."
    assert [act.words for act in view.keys_in_front()][3] == "Print the labels"
    view.leave_labels()
    assert "Print the sheet" in [act.words for act in view.keys_in_front()]


def test_the_number_of_a_mailed_package_is_refused_at_its_field(
    qtbot: QtBot, page: LabelsPage, desk: Desk, messages: list[Event], tmp_path: Path
) -> None:
    load(qtbot, page, tmp_path, messages)
    third = candidates_of(desk.pile)[2]
    desk.do(lambda sitting: set_beside(sitting, [third.piece_id], PieceStatus.SET_ASIDE))
    page.table.selectRow(2)
    qtbot.keyClicks(page.number.edit, third.reference)
    qtbot.keyClick(page.number.edit, Qt.Key.Key_Return)
    assert page.number.fault.label.text().startswith(f"{third.order} is set aside.")
    assert not page.typed
