from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from desk.domain.finding import Severity
from desk.session.papers import printing
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.printing import PrintResult
from desk.ui.bridge import Desk, Event
from desk.ui.setup.papers import printer_card
from desk.ui.setup.papers.page import PapersPage


@pytest.fixture
def messages(desk: Desk) -> list[Event]:
    events: list[Event] = []
    desk.happened.connect(events.append)
    return events


@pytest.fixture
def page(qtbot: QtBot, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> Iterator[PapersPage]:
    monkeypatch.setattr(printing, "queue_names", lambda: ("desk", "shelf"))
    made = PapersPage(desk)
    qtbot.addWidget(made)
    desk.sitting.listeners.append(lambda _changes: made.refresh())  # as the screen does
    made.refresh()
    made.show()
    made.arrive()
    qtbot.waitUntil(lambda: made.queues == ("desk", "shelf"))
    yield made
    made._end_job()


def put(page: PapersPage, name: str, value: str) -> None:
    field = page.form.fields[name]
    field.put(value)
    field.commit()


def test_each_document_has_its_stock_and_printer(page: PapersPage, desk: Desk) -> None:
    put(page, "slips.stock", "letter")
    put(page, "slips.queue", "shelf")
    settings = paper_settings(desk.sitting)
    assert settings.stock_of(Paper.SLIPS).id == "letter"
    assert settings.choice(Paper.SLIPS).queue == "shelf"
    offered = page.stock_fields[Paper.HAND_OVER].box
    assert "roll-4x2" not in [offered.itemData(at) for at in range(offered.count())]


def test_the_settings_of_a_printer_are_saved_and_its_measurements_applied(page: PapersPage, desk: Desk) -> None:
    card = page.printer
    card.which.put("desk")
    card.which.commit()
    card.form.fields["stock"].put("roll-4x2")
    card.form.fields["stock"].commit()
    assert paper_settings(desk.sitting).printer("desk").stock == "roll-4x2"
    for name, value in (("left", "16"), ("bottom", "15"), ("length", "x")):
        card.measured.fields[name].put(value)
    card.apply.click()
    assert card.measured.fields["length"].fault.label.text() == "Enter millimeters between 45 and 55."
    card.measured.fields["length"].put("50")
    card.apply.click()
    assert str(paper_settings(desk.sitting).printer("desk").right_mm) == "-1"
    page.refresh()
    assert card.form.fields["right_mm"].value() == "-1"
    assert card.measured.values() == {"left": "", "bottom": "", "length": ""}


def test_the_test_page_is_printed_and_saved(
    qtbot: QtBot, page: PapersPage, messages: list[Event], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    card = page.printer
    assert not card.print.isEnabled()
    card.which.put("desk")
    card.which.commit()
    monkeypatch.setattr(printer_card, "print_test_page", lambda *_: PrintResult(Severity.FINE, "Printed on desk."))
    card.print.click()
    qtbot.waitUntil(lambda: card._job is None)
    assert messages[-1].words == "Printed on desk."
    file = tmp_path / "test.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file), ""))
    card.save.click()
    assert file.read_bytes().startswith(b"%PDF")
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(file / "below"), ""))
    card.save.click()
    assert (messages[-1].mark, messages[-1].words.startswith("Can't write")) == ("stop", True)


def test_a_custom_size_can_be_chosen_for_a_document(page: PapersPage, desk: Desk) -> None:
    for name, value in (("words", "Half sheet"), ("width", "5.5"), ("height", "wide")):
        page.own.form.fields[name].put(value)
    page.own.add.click()
    assert page.own.form.fields["height"].fault.label.text() == "Enter a number, such as 4 or 2.25."
    page.own.form.fields["height"].put("8.5")
    page.own.add.click()
    page.refresh()
    put(page, "slips.stock", "own-Half sheet")
    assert paper_settings(desk.sitting).stock_of(Paper.SLIPS).page == (396, 612)


def test_thanks_and_small_labels_are_saved(page: PapersPage, desk: Desk) -> None:
    page.general.fields["thanks"].put("Enjoy!")
    page.general.fields["thanks"].commit()
    page.general.fields["small_labels"].put("several")
    page.general.fields["small_labels"].commit()
    settings = paper_settings(desk.sitting)
    assert (settings.thanks, settings.small_labels) == ("Enjoy!", "several")
