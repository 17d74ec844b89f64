from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desk.domain.money import Money
from desk.session.lists.postage_list import left_out_rows
from desk.ui.bridge import Desk, Event
from desk.ui.handover.list_files import save_list
from desk.ui.handover.model import POSTAGE, hand_over_list
from desk.ui.handover.view import HandOverView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import BESIDE
from tests.ui.conftest import ON

pytestmark = pytest.mark.screen.with_args(HandOverView)


def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


def test_without_a_weighed_piece_there_is_nothing_to_hand_over(view: HandOverView) -> None:
    assert view.nothing.isVisible()
    assert not view.save.isEnabled()
    view.arrive()
    view.ask_where()
    assert not view.sheet.is_busy


def test_every_ready_piece_is_in_its_group(view: HandOverView, desk: Desk, weigh_demo: Callable[[], None]) -> None:
    weigh_demo()
    found = hand_over_list(desk.pile)
    ready = {v.case.number: v for v in desk.pile.verdicts.values() if str(v.status) == "ready"}
    listed = [row for at, row in enumerate(found.rows) if at not in found.headings]
    assert sorted(row[0] for row in listed) == sorted(ready)
    assert found.headings[0] == 0
    cents = sum(v.offer.price.minor for v in ready.values() if v.offer)
    assert found.total == f"{len(ready)} pieces, ${Money(cents).text()}"
    assert view.model.rows[: len(found.rows)] == found.rows
    assert view.total.text() == found.total
    ages, note = view.model.rows[len(found.rows) :]
    assert ages[0] == "Includes prices that may be out of date (valid through October 3, 2026)."
    assert note[0].startswith("Not listed: ")
    assert sum(map(int, re.findall(r"\d+", note[0]))) == len(desk.pile.verdicts) - len(ready)
    assert view.table.columnSpan(0, 0) == 6


def test_postage_past_its_list_shows_the_last_day_beside_it(
    view: HandOverView, desk: Desk, weigh_demo: Callable[[], None]
) -> None:
    weigh_demo()
    found = hand_over_list(desk.pile)
    past = {v.case.number for v in desk.pile.verdicts.values() if v.offer and v.offer.chart.is_past(ON)}
    assert found.ages
    assert {found.rows[at][0] for at in found.ages} == past & {row[0] for row in found.rows}
    assert view.model.index(next(iter(found.ages)), POSTAGE).data(BESIDE) == "Oct 3"
    assert view.model.index(found.headings[0], POSTAGE).data(BESIDE) is None


def test_the_sheet_is_saved_as_pdf(
    qtbot: QtBot,
    view: HandOverView,
    desk: Desk,
    weigh_demo: Callable[[], None],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    weigh_demo()
    events, file = messages(desk), tmp_path / "sheet.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    with qtbot.waitSignal(desk.happened, timeout=10_000):
        view.ask_where()
    assert events == [Event(f"Saved: {file}")]
    pages = pypdfium2.PdfDocument(file)
    text = "".join(page.get_textpage().get_text_range() for page in pages)
    assert "1041" in text
    pages.close()


def test_a_folder_that_cannot_be_written_is_reported(
    qtbot: QtBot, view: HandOverView, desk: Desk, weigh_demo: Callable[[], None], tmp_path: Path
) -> None:
    weigh_demo()
    events, in_the_way = messages(desk), tmp_path / "a file"
    in_the_way.write_text("no folder")
    with qtbot.waitSignal(desk.happened, timeout=10_000):
        view.save_to(in_the_way / "sheet.pdf")
    (event,) = events
    assert (event.mark, event.words.startswith(f"Can't write {in_the_way / 'sheet.pdf'}: ")) == ("stop", True)


def test_closing_the_window_ends_background_work(
    view: HandOverView, desk: Desk, weigh_demo: Callable[[], None], tmp_path: Path
) -> None:
    weigh_demo()
    view.save_to(tmp_path / "sheet.pdf")
    job = view.sheet._job
    assert job is not None
    desk.closing.emit()
    assert not job.is_running()
    assert not (tmp_path / "sheet.pdf").exists()


def test_the_model_passes_the_tests_of_qt(qtmodeltester: ModelTester) -> None:
    rows = TextRows(("Number", "Postage"), (1,))
    rows.show_rows([("1041", "0.82"), ("1042", "1.11")])
    qtmodeltester.check(rows)
    assert rows.data(rows.index(1, 1)) == "1.11"


def test_the_postage_to_buy_is_saved_as_a_list(
    view: HandOverView, desk: Desk, weigh_demo: Callable[[], None], tmp_path: Path
) -> None:
    weigh_demo()
    events, file = messages(desk), tmp_path / "list.csv"
    save_list(view.desk, file)
    rows = file.read_text(encoding="utf-8").splitlines()
    assert rows[0].startswith("reference,recipient,company")
    left_out = len(left_out_rows(view.desk.pile.batch()))
    assert left_out
    reported = f"Saved {len(rows) - 1} pieces: {file}. {left_out} left out: Batch > Save tables says why."
    assert [event.words for event in events] == [reported]
    save_list(view.desk, file / "inside")
    assert events[-1].words.startswith(f"Can't write {file / 'inside'}: ")
