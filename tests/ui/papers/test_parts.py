"""The parts of Papers: the pages as they are seen, and the side with what is wanted, saved and printed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import PaperSettings
from desk.session.papers.pictures import PagePictures
from desk.ui.bridge import Desk
from desk.ui.papers.model import PaperScope, wanted_of
from desk.ui.papers.papers_side import PapersSide
from desk.ui.papers.preview import GAP, KEPT, PagesView

MANY = 30


def pdf_of(count: int, wide: int = 288, high: int = 432) -> bytes:
    """A PDF of empty pages of that size in points, written by hand (ISO 32000-1, 7.5)."""
    kids = " ".join(f"{3 + number} 0 R" for number in range(count))
    objects = ["<< /Type /Catalog /Pages 2 0 R >>", f"<< /Type /Pages /Kids [{kids}] /Count {count} >>"]
    objects += [f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {wide} {high}] >>"] * count
    body, places = b"%PDF-1.4\n", []
    for number, words in enumerate(objects, 1):
        places.append(len(body))
        body += f"{number} 0 obj\n{words}\nendobj\n".encode()
    table = "".join(f"{place:010d} 00000 n \n" for place in places)
    head = f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n{table}"
    return body + f"{head}trailer << /Size {len(objects) + 1} /Root 1 0 R >>\nstartxref\n{len(body)}\n%%EOF".encode()


@pytest.fixture
def pages(qtbot: QtBot) -> Iterator[PagesView]:
    made = PagesView()
    qtbot.addWidget(made)
    made.resize(700, 500)
    made.show()
    yield made
    made.close_pages()


@pytest.mark.parametrize("count", [1, 2, MANY])
def test_pages_are_counted_and_named(pages: PagesView, count: int) -> None:
    pages.show_pdf(pdf_of(count))
    assert len(pages) == count
    assert pages.accessibleName() == f"Preview, {count} pages"


def test_without_a_pdf_there_are_no_pages(pages: PagesView) -> None:
    pages.show_pdf(pdf_of(3))
    pages.show_pdf(b"")
    pages.repaint()
    assert (len(pages), pages.drawn, pages.verticalScrollBar().maximum()) == (0, (), 0)
    assert pages.accessibleName() == "Preview, 0 pages"


def test_a_page_is_shown_at_its_size_on_paper(pages: PagesView) -> None:
    pages.show_pdf(pdf_of(2))  # 4 by 6 inches
    first, second = pages._box(0), pages._box(1)
    assert (first.width(), first.height()) == (4 * 96, 6 * 96)
    assert second.top() - first.bottom() == GAP + 1
    assert first.center().x() == pytest.approx(pages.viewport().width() / 2, abs=1)


def test_a_page_that_is_too_wide_is_scaled_down(pages: PagesView) -> None:
    pages.show_pdf(pdf_of(1, 612, 792))
    pages.resize(400, 500)
    box = pages._box(0)
    assert box.width() <= pages.viewport().width() - 2 * GAP + 1
    assert box.height() / box.width() == pytest.approx(792 / 612, abs=0.01)


def test_scrolling_stops_at_the_end(pages: PagesView) -> None:
    pages.show_pdf(pdf_of(4))
    bar = pages.verticalScrollBar()
    assert bar.maximum() == 4 * (6 * 96 + GAP) - pages.viewport().height()
    pages.show_pdf(pdf_of(1, 100, 100))
    assert (bar.maximum(), bar.value()) == (0, 0)


@pytest.mark.parametrize(
    ("keys", "screens"),
    [
        ([Qt.Key.Key_PageDown], 1.0),
        ([Qt.Key.Key_PageDown, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp], 1.0),
        ([Qt.Key.Key_Down], 0.1),
        ([Qt.Key.Key_PageDown, Qt.Key.Key_Up], 0.9),
        ([Qt.Key.Key_End, Qt.Key.Key_Home], 0.0),
        ([Qt.Key.Key_Up], 0.0),
    ],
)
def test_keys_turn_the_pages(qtbot: QtBot, pages: PagesView, keys: list[Qt.Key], screens: float) -> None:
    pages.show_pdf(pdf_of(MANY))
    for key in keys:
        qtbot.keyClick(pages, key)
    assert pages.verticalScrollBar().value() == pytest.approx(screens * pages.viewport().height(), abs=1)


def test_a_new_pdf_starts_at_its_first_page(qtbot: QtBot, pages: PagesView) -> None:
    pages.show_pdf(pdf_of(MANY))
    qtbot.keyClick(pages, Qt.Key.Key_End)
    pages.show_pdf(pdf_of(MANY))
    assert pages.verticalScrollBar().value() == 0


def test_only_a_few_pages_are_cached_and_none_is_drawn_twice(
    qtbot: QtBot, pages: PagesView, monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[int] = []
    draw = PagePictures.picture

    def counted(self: PagePictures, number: int, dpi: float) -> object:
        drawn.append(number)
        return draw(self, number, dpi)

    monkeypatch.setattr(PagePictures, "picture", counted)
    pages.show_pdf(pdf_of(MANY))
    for _ in range(2):
        pages.repaint()
    assert len(drawn) == len(set(drawn))
    for _ in range(MANY + 4):
        qtbot.keyClick(pages, Qt.Key.Key_PageDown)
        pages.repaint()
    assert set(drawn) == set(range(MANY))
    assert len(pages.drawn) == KEPT
    assert MANY - 1 in pages.drawn


def test_another_width_draws_the_pages_again(pages: PagesView) -> None:
    pages.show_pdf(pdf_of(2))
    pages.repaint()
    wide = pages._image(0).width()
    pages.resize(300, 500)
    QApplication.processEvents()
    assert pages._image(0).width() < wide


# --- the side


@pytest.fixture
def side(qtbot: QtBot) -> PapersSide:
    made = PapersSide()
    qtbot.addWidget(made)
    made.show()
    return made


@pytest.mark.parametrize("name", ["save", "print", "void", "cancel"])
def test_each_button_requests_its_action(qtbot: QtBot, side: PapersSide, name: str) -> None:
    signals = {
        "save": side.save_asked, "print": side.print_asked, "void": side.void_asked, "cancel": side.cancel_asked,
    }  # fmt: skip
    side.show_queues(("desk",))
    side.show_progress(1, 2)
    others: list[str] = []
    for other, signal in signals.items():
        if other != name:
            signal.connect(lambda other=other: others.append(other))
    with qtbot.waitSignal(signals[name]):
        getattr(side, name).click()
    assert others == []


def test_every_document_is_offered_and_labels_come_first(side: PapersSide) -> None:
    box = side.paper.box
    assert [box.itemData(at) for at in range(box.count())] == [paper.value for paper in Paper]
    assert side.paper.value() == Paper.LABELS.value
    assert side.which.value() == PaperScope.READY.value


@pytest.mark.parametrize("paper", Paper)
def test_the_suggested_file_name_follows_the_document_in_the_same_folder(side: PapersSide, paper: Paper) -> None:
    side.file.setText("/somewhere/labels.pdf")
    side.show_file(paper)
    assert side.file.text() == f"/somewhere/{paper.file_name}"


def test_a_typed_file_name_is_not_changed(side: PapersSide) -> None:
    side.file.setText("/somewhere/tuesday.pdf")
    side.show_file(Paper.SLIPS)
    assert side.file.text() == "/somewhere/tuesday.pdf"


def test_an_emptied_field_gets_a_suggested_name_again(side: PapersSide) -> None:
    side.file.setText("")
    side.show_file(Paper.SLIPS)
    assert Path(side.file.text()).name == "slips.pdf"


@pytest.mark.parametrize(
    ("which", "asked"), [(PaperScope.READY, False), (PaperScope.ALL, False), (PaperScope.CHOSEN, True)]
)
def test_numbers_are_asked_for_only_when_selecting_pieces(
    qtbot: QtBot, side: PapersSide, which: PaperScope, asked: bool
) -> None:
    with qtbot.waitSignal(side.wanted_changed):
        side.which.box.setCurrentIndex(side.which.box.findData(which.value)) if which is not PaperScope.READY else (
            side._hear("which")
        )
    assert side.numbers.isVisible() is asked


def test_the_same_numbers_again_make_no_new_document(qtbot: QtBot, side: PapersSide) -> None:
    side.numbers.edit.setText("1041")
    side.numbers.commit()
    heard: list[int] = []
    side.wanted_changed.connect(lambda: heard.append(1))
    side.numbers.commit()
    side.numbers.edit.setText("1042")
    side.numbers.commit()
    assert heard == [1]


@pytest.mark.parametrize("names", [(), ("desk",), ("desk", "attic")])
def test_print_queues_are_offered_or_their_absence_is_reported(side: PapersSide, names: tuple[str, ...]) -> None:
    side.show_queues(names)
    assert (side.queue.isVisible(), side.no_queue.isVisible(), side.print.isEnabled()) == (
        bool(names), not names, bool(names),
    )  # fmt: skip
    assert side.no_queue.text() == "No printers on this computer. Save the PDF instead."


def test_the_chosen_queue_stays_chosen(side: PapersSide) -> None:
    side.show_queues(("attic", "desk"))
    side.queue.setCurrentText("desk")
    side.show_queues(("attic", "cellar", "desk"))
    assert side.queue.currentText() == "desk"
    side.show_queues(("attic", "cellar"))
    assert side.queue.currentText() == "attic"


@pytest.mark.parametrize(("done", "of", "shown"), [(0, -1, False), (0, 0, True), (3, 7, True), (7, 7, True)])
def test_progress_is_shown_while_a_document_is_made(side: PapersSide, done: int, of: int, shown: bool) -> None:
    side.show_progress(done, of)
    assert (side.bar.isVisible(), side.cancel.isVisible()) == (shown, shown)
    assert side.bar.maximum() == max(of, 0)


def test_pieces_left_out_are_listed_under_their_heading(side: PapersSide) -> None:
    side.show_left_out([("Not weighed yet.", "1041-1"), ("No font here has: <b>", "1042-1")])
    shown = side.left.text()
    assert (side.left_head.isVisible(), shown.split()) == (
        True,
        "Not weighed yet. 1041-1 No font here has: <b> 1042-1".split(),
    )
    assert side.left.accessibleName() == "1041-1: Not weighed yet. 1042-1: No font here has: <b>"
    side.show_left_out([])
    assert not side.left_head.isVisible()


def test_a_document_is_for_the_current_pile(weighed_desk: Desk) -> None:
    wanted = wanted_of(weighed_desk.pile, Paper.SLIPS, frozenset({"1041-1"}), PaperSettings())
    assert (wanted.paper, wanted.only) == (Paper.SLIPS, frozenset({"1041-1"}))
    assert wanted.terms is weighed_desk.pile.terms
