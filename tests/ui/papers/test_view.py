from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.app.rebuild import end_jobs
from desk.domain.finding import Severity
from desk.domain.status import PieceStatus
from desk.session.papers import making, printing
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import paper_settings, save_printer
from desk.session.papers.printed import printed_at
from desk.session.papers.printing import PrintResult
from desk.session.pile.bulk_changes import set_beside
from desk.ui.bridge import Desk, Event
from desk.ui.papers.model import PaperScope
from desk.ui.papers.view import PapersView, build
from tests.ui.screens import show_screen


@pytest.fixture
def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


@pytest.fixture
def queues(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The print queues of the machine; empty at first."""
    names: list[str] = []
    monkeypatch.setattr(printing, "queue_names", lambda: tuple(names))
    return names


@pytest.fixture
def view(
    qtbot: QtBot, desk: Desk, weigh_demo: Callable[[], None], queues: list[str], messages: list[Event]
) -> Iterator[PapersView]:
    weigh_demo()
    messages.clear()
    view = build(desk)
    assert isinstance(view, PapersView)
    show_screen(qtbot, view, (1024, 560))
    view.arrive()
    qtbot.waitUntil(lambda: view.made is not None and not view.is_busy and view._asking is None, timeout=15_000)
    yield view
    view.close_all()


def want(qtbot: QtBot, view: PapersView, paper: Paper, which: PaperScope = PaperScope.READY, numbers: str = "") -> None:
    before = view.made
    view.side.numbers.put(numbers)
    view.side.paper.put(paper.value)
    view.side.which.put(which.value)
    view.side._hear("paper")
    qtbot.waitUntil(lambda: view.made is not before and not view.is_busy, timeout=15_000)


def test_labels_of_ready_pieces_are_shown_with_their_counts(view: PapersView) -> None:
    assert view.made is not None
    assert view.side.counts.text().startswith(f"{view.made.pages} pages, {len(view.made.references)} pieces")
    assert len(view.pages) == view.made.pages > 3
    assert "Label comes with the postage" in view.side.left.text()
    assert view.pages.accessibleName() == f"Preview, {view.made.pages} pages"


def test_only_visible_pages_are_drawn(qtbot: QtBot, view: PapersView) -> None:
    view.pages.repaint()
    assert 0 in view.pages.drawn
    assert view.made is not None
    assert view.made.pages - 1 not in view.pages.drawn
    qtbot.keyClick(view.pages, Qt.Key.Key_End)
    view.pages.repaint()
    assert view.made.pages - 1 in view.pages.drawn
    for key in (Qt.Key.Key_PageUp, Qt.Key.Key_Up, Qt.Key.Key_Home):
        qtbot.keyClick(view.pages, key)
    assert view.pages.verticalScrollBar().value() == 0


@pytest.mark.parametrize("paper", [Paper.SLIPS, Paper.PACKING_SLIPS, Paper.KEYING_SHEETS, Paper.HAND_OVER])
def test_every_document_can_be_made(qtbot: QtBot, view: PapersView, paper: Paper) -> None:
    want(qtbot, view, paper, PaperScope.ALL)
    assert view.made is not None
    assert view.made.paper is paper
    assert len(view.pages) == view.made.pages
    assert Path(view.side.file.text()).name == paper.file_name


def test_a_document_may_be_for_selected_pieces_only(qtbot: QtBot, view: PapersView) -> None:
    want(qtbot, view, Paper.LABELS, PaperScope.CHOSEN, "1041, 9999")
    assert view.made is not None
    assert view.made.references == ("1041-1",)
    assert view.side.numbers.isVisible()
    assert view.side.numbers.fault.label.text() == "No package has this number: 9999"


def test_a_document_is_made_again_when_one_of_its_pieces_changes(qtbot: QtBot, view: PapersView, desk: Desk) -> None:
    piece = desk.pile.find("1041")
    assert piece is not None
    before = view.made
    set_beside(desk.sitting, [piece], PieceStatus.SET_ASIDE)
    qtbot.waitUntil(lambda: view.made is not before and not view.is_busy, timeout=15_000)
    assert view.made is not None
    assert "1041-1" not in view.made.references


def test_a_document_is_saved_at_the_path_in_the_field(view: PapersView, messages: list[Event], tmp_path: Path) -> None:
    file = tmp_path / "new" / "labels.pdf"
    view.side.file.setText(str(file))
    view.side.save.click()
    assert view.made is not None
    assert file.read_bytes() == view.made.pdf
    assert messages[-1].words.startswith("Saved ")
    view.side.file.setText(str(file / "below.pdf"))
    view.save()
    assert messages[-1].mark == "stop"
    assert "Can't write" in messages[-1].words


def test_the_file_can_be_chosen_in_a_dialog(view: PapersView, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("/somewhere/mine.pdf", ""))
    view.side.choose.click()
    view.side.show_file(Paper.SLIPS)
    assert view.side.file.text() == "/somewhere/mine.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    view.side.ask_for_file()
    assert view.side.file.text() == "/somewhere/mine.pdf"


def test_a_missing_print_queue_is_reported(view: PapersView, messages: list[Event]) -> None:
    assert view.side.no_queue.isVisible()
    assert not view.side.print.isEnabled()
    view.print_it()
    assert messages[-1].words == "No printers on this computer. Save the PDF and print it elsewhere."


def with_queue(qtbot: QtBot, view: PapersView, queues: list[str]) -> None:
    queues.append("desk")
    view.arrive()
    qtbot.waitUntil(lambda: view.side.queue.currentText() == "desk")


def test_a_printing_is_recorded_and_can_be_canceled(
    qtbot: QtBot,
    view: PapersView,
    queues: list[str],
    messages: list[Event],
    monkeypatch: pytest.MonkeyPatch,
    desk: Desk,
) -> None:
    monkeypatch.setattr(
        printing,
        "print_paper",
        lambda made, queue, _first: PrintResult(Severity.FINE, f"Printed on {queue}.", made.references),
    )
    with_queue(qtbot, view, queues)
    view.side.print.click()
    qtbot.waitUntil(lambda: not view.is_busy)
    assert messages[-1].words == "Printed on desk."
    assert view.made is not None
    count = len(view.made.references)
    assert len(printed_at(desk.sitting, Paper.LABELS)) == count
    assert view.side.printed.text() == f"{count} printed before"
    view.side.void.click()
    assert printed_at(desk.sitting, Paper.LABELS) == {}
    view.void()
    assert messages[-1].words == "Nothing was printed for these packages."


@pytest.mark.parametrize("ends", ["the store closes", "the text size changes"])
def test_a_print_job_in_progress_is_recorded_when_its_screen_closes(
    qtbot: QtBot, view: PapersView, queues: list[str], monkeypatch: pytest.MonkeyPatch, desk: Desk, ends: str
) -> None:
    def slowly(made: making.MadePaper, queue: str, _first: int) -> PrintResult:
        time.sleep(0.2)
        return PrintResult(Severity.FINE, f"Printed on {queue}.", made.references)

    monkeypatch.setattr(printing, "print_paper", slowly)
    with_queue(qtbot, view, queues)
    view.side.print.click()
    if ends == "the store closes":
        desk.closing.emit()
    else:
        end_jobs(view)
    assert view.made is not None
    assert len(printed_at(desk.sitting, Paper.LABELS)) == len(view.made.references) > 0


def test_a_refused_print_job_is_reported_and_not_recorded(
    qtbot: QtBot,
    view: PapersView,
    queues: list[str],
    messages: list[Event],
    monkeypatch: pytest.MonkeyPatch,
    desk: Desk,
) -> None:
    monkeypatch.setattr(printing, "print_paper", lambda *_: PrintResult(Severity.STOP, "desk refused it: no paper."))
    with_queue(qtbot, view, queues)
    view.print_it()
    qtbot.waitUntil(lambda: not view.is_busy)
    assert (messages[-1].words, messages[-1].mark) == ("desk refused it: no paper.", "stop")
    assert printed_at(desk.sitting, Paper.LABELS) == {}


def test_only_pieces_sent_to_the_queue_are_recorded_as_printed(
    qtbot: QtBot, view: PapersView, queues: list[str], monkeypatch: pytest.MonkeyPatch, desk: Desk
) -> None:
    asked: list[int] = []

    def after_a_jam(made: making.MadePaper, _queue: str, first: int) -> PrintResult:
        asked.append(first)
        return PrintResult(Severity.FINE, "Printed.", made.references[first - 1 :])

    monkeypatch.setattr(printing, "print_paper", after_a_jam)
    with_queue(qtbot, view, queues)
    view.side.from_page.put("3")
    view.print_it()
    qtbot.waitUntil(lambda: not view.is_busy)
    assert view.made is not None
    assert asked == [3]
    assert len(printed_at(desk.sitting, Paper.LABELS)) == len(view.made.references) - 2
    assert view.side.first_page() == 1  # the next print begins at the beginning again


def test_pages_that_failed_their_check_are_shown_and_a_failed_sheet_is_not_printed(
    qtbot: QtBot, view: PapersView, queues: list[str], messages: list[Event]
) -> None:
    assert view.made is not None
    view._show(replace(view.made, failed=(making.LeftOut("1042-1", "Its code can't be read back."),)))
    assert "1042: Its code can't be read back." in view.side.left.accessibleName()
    with_queue(qtbot, view, queues)
    view._show(replace(view.made, faults=("Its code 1 can't be read back.",)))
    view.print_it()
    qtbot.waitUntil(lambda: not view.is_busy)
    assert (messages[-1].words, messages[-1].mark) == ("Not printed. Its code 1 can't be read back.", "stop")


def test_printer_and_order_are_remembered_for_each_document(
    qtbot: QtBot, view: PapersView, queues: list[str], desk: Desk
) -> None:
    queues.append("shelf")
    queues.append("desk")
    view.arrive()
    qtbot.waitUntil(lambda: view.side.queue.count() == 2)
    view.side.queue.setCurrentText("desk")
    view.side.choice_changed.emit("queue", "desk")
    view.side.order.put("reverse")
    view.side.order.commit()
    want(qtbot, view, Paper.SLIPS)
    assert view.side.order.value() == "pile"
    want(qtbot, view, Paper.LABELS)
    assert (view.side.order.value(), view.side.queue.currentText()) == ("reverse", "desk")
    assert paper_settings(desk.sitting).choice(Paper.LABELS).queue == "desk"


def test_no_earlier_document_is_printed_or_saved_while_another_is_made(
    qtbot: QtBot, view: PapersView, queues: list[str], messages: list[Event], tmp_path: Path, desk: Desk
) -> None:
    with_queue(qtbot, view, queues)
    piece, file = desk.pile.find("1041"), tmp_path / "labels.pdf"
    assert piece is not None
    view.side.file.setText(str(file))
    set_beside(desk.sitting, [piece], PieceStatus.SET_ASIDE)
    for act in (view.print_it, view.save):
        messages.clear()
        act()
        assert [event.words for event in messages] == ["The document is being rebuilt. Try again when it appears."]
    assert (view._printing, file.exists()) == (None, False)
    qtbot.waitUntil(lambda: not view.is_busy and not view._again.isActive(), timeout=15_000)
    view.save()
    assert view.made is not None
    assert file.read_bytes() == view.made.pdf
    assert "1041-1" not in view.made.references


def test_a_canceled_job_shows_no_more_progress(view: PapersView) -> None:
    view._advance(3, 7)
    assert not view.side.bar.isVisible()


def test_making_a_document_can_be_stopped(qtbot: QtBot, view: PapersView) -> None:
    before = view.made
    view.make()
    view.side.cancel.click()
    assert not view.is_busy
    qtbot.waitUntil(lambda: not any(job.is_running() for job in view._jobs))
    assert view.made is before
    assert not view.side.bar.isVisible()


def test_the_progress_of_making_a_document_is_shown(view: PapersView) -> None:
    view.side.show_progress(3, 7)
    assert (view.side.bar.value(), view.side.bar.maximum(), view.side.cancel.isVisible()) == (3, 7, True)


def test_closing_the_window_ends_running_work(view: PapersView, desk: Desk) -> None:
    view.make()
    desk.closing.emit()
    assert not any(job.is_running() for job in view._jobs)
    assert len(view.pages) == 0


def test_a_store_without_orders_says_what_will_be_here(qtbot: QtBot, empty_desk: Desk, queues: list[str]) -> None:
    assert queues == []
    view = build(empty_desk)
    assert isinstance(view, PapersView)
    qtbot.addWidget(view)
    view.show()
    assert (view.middle.nothing.isVisible(), view.pages.isVisible()) == (True, False)
    view.close_all()


@pytest.mark.parametrize(("pose", "most"), [("full", 20), ("trouble", 61)])
def test_the_screen_has_poses_for_pictures(qtbot: QtBot, view: PapersView, pose: str, most: int) -> None:
    view.pose(pose)
    qtbot.waitUntil(lambda: not view.is_busy)
    assert view.made is not None
    wanted = {"full": PaperScope.READY, "trouble": PaperScope.ALL}[pose]
    assert view.side.which.value() == wanted.value
    assert (len(view.made.references) + len(view.made.left_out) == most) == (pose == "trouble")


def test_a_printer_loaded_with_too_small_labels_is_refused_with_the_reason(
    qtbot: QtBot, view: PapersView, desk: Desk, queues: list[str], messages: list[Event]
) -> None:
    save_printer(desk.sitting, "small", {"stock": "roll-4x2"})
    queues.append("small")
    view.arrive()
    qtbot.waitUntil(lambda: view.side.queue.count() == 1)
    want(qtbot, view, Paper.HAND_OVER)
    view.side.choice_changed.emit("queue", "small")
    assert messages[-1].words.startswith("The hand-over sheet needs whole pages")
    assert view.side.queue.currentText() == ""
    assert paper_settings(desk.sitting).choice(Paper.HAND_OVER).queue == ""
    qtbot.waitUntil(lambda: not view.is_busy and not view._again.isActive(), timeout=15_000)
    view.print_it()
    assert messages[-1].words == "Choose a printer first."
