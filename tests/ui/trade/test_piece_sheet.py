"""One piece's page: opened by a key from Batch and Bench, read, and left by Escape."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from desk.session.bench.piece_page import piece_page
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import holding, note_printed
from desk.session.pile.together import pack_together
from desk.store.tables.hand_overs import put_postage_on
from desk.ui.batch.view import BatchView
from desk.ui.bench.view import BenchScreen
from desk.ui.bridge import Desk
from desk.ui.screen import Screen
from desk.ui.trade.piece_sheet import PieceSheet
from tests.session.made import before_weighing


def shown(qtbot: QtBot, screen: Screen) -> Screen:
    qtbot.addWidget(screen)
    screen.add_keys()
    screen.resize(1280, 720)
    screen.show()
    screen.activateWindow()
    with qtbot.waitActive(screen):
        pass
    screen.arrive()
    return screen


def press(qtbot: QtBot, screen: Screen, key: Qt.Key) -> None:
    qtbot.keyClick(screen.focusWidget() or screen, key)


@pytest.fixture
def batch(qtbot: QtBot, weighed_desk: Desk) -> BatchView:
    screen = shown(qtbot, BatchView(weighed_desk))
    assert isinstance(screen, BatchView)
    return screen


@pytest.fixture
def bench(qtbot: QtBot, weighed_desk: Desk) -> BenchScreen:
    screen = shown(qtbot, BenchScreen(weighed_desk))
    assert isinstance(screen, BenchScreen)
    piece = weighed_desk.pile.find("1043")
    assert piece is not None
    screen.does.opening.open_piece(piece)
    return screen


def test_the_page_lists_every_eligible_service_with_its_price(
    qtbot: QtBot, bench: BenchScreen, weighed_desk: Desk
) -> None:
    press(qtbot, bench, Qt.Key.Key_I)
    about = bench.about
    assert about.isVisible()
    assert about.hasFocus()
    assert bench.verdict is not None
    page = piece_page(bench.verdict, weighed_desk.pile.terms)
    assert len(about.services.lines) == len(page.offers) + len(page.left_out) > 2
    assert [line[1] for line in about.services.lines[: len(page.offers)]] == [offer.price for offer in page.offers]
    assert next(line for line in about.services.lines if line[2])[0].endswith("used")
    assert about.head.text() == "1043 – 2 oz"
    assert about.why.facts
    assert about.past.lines


def test_savings_hints_are_shown_on_the_page(qtbot: QtBot, bench: BenchScreen, weighed_desk: Desk) -> None:
    pile = weighed_desk.pile
    near = {n: piece_page(v, pile.terms).near for n, v in pile.verdicts.items()}
    number = next(n for n, words in near.items() if "lighter would cost $" in words)
    bench.does.opening.open_piece(number)
    press(qtbot, bench, Qt.Key.Key_I)
    assert bench.about.near.lines[0][0] == near[number]


@pytest.mark.parametrize("key", [Qt.Key.Key_Escape, Qt.Key.Key_I])
def test_escape_or_the_same_key_goes_back_to_the_bench(qtbot: QtBot, bench: BenchScreen, key: Qt.Key) -> None:
    press(qtbot, bench, Qt.Key.Key_I)
    assert bench.about.isVisible()
    press(qtbot, bench, key)
    assert bench.about.isHidden()
    assert bench.write.isVisible()
    assert bench.hasFocus()


@pytest.mark.parametrize(("key", "shows"), [(Qt.Key.Key_M, "mailers"), (Qt.Key.Key_T, "weight_field")])
def test_the_keys_of_the_bench_work_on_the_page_and_close_it(
    qtbot: QtBot, bench: BenchScreen, key: Qt.Key, shows: str
) -> None:
    press(qtbot, bench, Qt.Key.Key_I)
    press(qtbot, bench, key)
    assert bench.about.isHidden()
    assert getattr(bench, shows).isVisible()


def test_a_piece_is_set_aside_on_its_page(qtbot: QtBot, bench: BenchScreen) -> None:
    press(qtbot, bench, Qt.Key.Key_I)
    press(qtbot, bench, Qt.Key.Key_A)
    assert bench.about.isVisible()
    assert "set aside" in bench.about.to.text()


def test_the_keys_of_the_list_work_on_the_page_of_a_piece(qtbot: QtBot, batch: BatchView) -> None:
    press(qtbot, batch, Qt.Key.Key_I)
    press(qtbot, batch, Qt.Key.Key_X)
    assert batch.list.many.size_field.isVisible()


def test_orders_sent_together_are_split_by_a_key_on_the_page(qtbot: QtBot, desk: Desk, packed: int) -> None:
    bench = shown(qtbot, BenchScreen(desk))
    assert isinstance(bench, BenchScreen)
    bench.does.opening.open_piece(packed)
    keys = (Qt.Key.Key_J, Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(bench, *keys)
    assert desk.pile.verdicts[packed].case.packed_with  # the page has to be open
    press(qtbot, bench, Qt.Key.Key_I)
    qtbot.keyClick(bench.about, *keys)
    assert desk.pile.verdicts[packed].case.packed_with == ()


def test_bare_digits_find_a_piece_from_the_page_too(qtbot: QtBot, bench: BenchScreen) -> None:
    press(qtbot, bench, Qt.Key.Key_I)
    press(qtbot, bench, Qt.Key.Key_1)
    assert bench.about.isHidden()
    assert bench.find_field.line.text() == "1"


def test_the_batch_opens_it_for_the_chosen_piece_and_goes_back(qtbot: QtBot, batch: BatchView) -> None:
    chosen = batch.list.chosen()[0]
    press(qtbot, batch, Qt.Key.Key_I)
    assert batch.piece.isVisible()
    assert batch.piece.piece == chosen
    press(qtbot, batch, Qt.Key.Key_Escape)
    assert batch.list.table.hasFocus()
    assert batch.list.chosen() == [chosen]


def test_a_piece_that_is_not_weighed_says_so(qtbot: QtBot, desk: Desk) -> None:
    batch = shown(qtbot, BatchView(desk))
    press(qtbot, batch, Qt.Key.Key_I)
    assert isinstance(batch, BatchView)
    assert batch.piece.services.lines == (("Weigh it to see its services.", "", False),)


@pytest.fixture
def packed(desk: Desk) -> int:
    """The piece that contains two orders of the demo to one address."""
    things = before_weighing(desk.sitting).things
    keys = next(thing.keys for thing in things if thing.found.code == "same-door")
    desk.do(pack_together, keys)
    piece = desk.pile.find(keys[0].order)
    assert piece is not None
    return piece


def test_orders_packed_together_are_shown_and_taken_apart_by_one_key(qtbot: QtBot, desk: Desk, packed: int) -> None:
    other = desk.pile.verdicts[packed].case.packed_with[0]
    sheet = PieceSheet(desk)
    qtbot.addWidget(sheet)
    sheet.show()
    sheet.show_piece(packed)
    assert sheet.to.text().endswith(f"sent with {other}")
    sheet.take_apart()
    assert desk.pile.verdicts[packed].case.packed_with == ()
    assert desk.pile.find(other) not in (None, packed)
    assert desk.steps()[0] == "Split orders sent together"
    sheet.refresh()
    assert sheet.apart.isHidden()


def test_a_parcel_with_postage_on_is_not_taken_apart(qtbot: QtBot, desk: Desk, packed: int) -> None:
    with desk.sitting.store.act("Put postage on") as tx:
        put_postage_on(tx, [packed])
    desk.sitting.announce(desk.sitting.store.last_changes)
    sheet = PieceSheet(desk)
    qtbot.addWidget(sheet)
    sheet.show_piece(packed)
    sheet.take_apart()
    assert sheet.apart.isHidden()
    assert desk.pile.verdicts[packed].case.packed_with


def typed_into(qtbot: QtBot, sheet: PieceSheet, name: str, text: str) -> None:
    assert sheet.order_form.form is not None
    editor = sheet.order_form.form.fields[name].editor()
    editor.setFocus()
    editor.selectAll()  # type: ignore[attr-defined]
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)


def test_the_page_shows_contents_buyers_note_and_address(qtbot: QtBot, desk: Desk) -> None:
    screen = shown(qtbot, BenchScreen(desk))
    assert isinstance(screen, BenchScreen)
    piece = desk.pile.find("1047")
    assert piece is not None
    screen.does.opening.open_piece(piece)
    press(qtbot, screen, Qt.Key.Key_I)
    lines = [words for words, _, _ in screen.about.package.lines]
    assert lines[0] == "1 × Letterpress card, plum"
    assert "Note: Please send it by stamp, I collect the postmarks." in lines
    assert "SAM OSTROW" in [words for words, _, _ in screen.about.address.lines]


def test_an_order_is_corrected_on_its_page_and_undone(qtbot: QtBot, desk: Desk) -> None:
    screen = shown(qtbot, BenchScreen(desk))
    assert isinstance(screen, BenchScreen)
    piece = desk.pile.find("1043")
    assert piece is not None
    screen.does.opening.open_piece(piece)
    qtbot.keyClick(screen, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    sheet = screen.about
    assert sheet.order_form.isVisible()
    assert sheet.order_form.note.text() == "A field is saved when you leave it. Undo restores it."
    typed_into(qtbot, sheet, "recipient", "Ruth Amsell")
    assert desk.pile.verdicts[piece].case.order.address.recipient == "Ruth Amsell"
    assert any(fact.head == "Edited by hand" for fact in sheet.why.facts)
    typed_into(qtbot, sheet, "quantity 0", "two")
    assert sheet.order_form.form is not None
    assert "as a quantity" in sheet.order_form.form.fields["quantity 0"].fault.label.text()
    desk.undo()
    assert desk.pile.verdicts[piece].case.order.address.recipient == "Ruth Amsel"
    qtbot.keyClick(sheet.order_form.form.fields["city"].editor(), Qt.Key.Key_Escape)
    assert sheet.order_form.isHidden()


@pytest.fixture
def correcting(qtbot: QtBot, bench: BenchScreen) -> PieceSheet:
    qtbot.keyClick(bench, Qt.Key.Key_E, Qt.KeyboardModifier.ControlModifier)
    return bench.about


def test_enter_saves_a_field_and_goes_to_the_next_without_reaching_the_bench(
    qtbot: QtBot, bench: BenchScreen, correcting: PieceSheet
) -> None:
    before = bench.piece
    form = correcting.order_form.form
    assert form is not None
    for field in form.fields.values():
        assert bench.focusWidget() is field.editor()
        qtbot.keyClick(field.editor(), Qt.Key.Key_Return)
    assert bench.focusWidget() is field.editor()  # the last one keeps it
    assert (bench.piece, correcting.isVisible()) == (before, True)


def test_a_printed_label_is_canceled_on_the_page_and_then_the_correction_is_saved(
    qtbot: QtBot, bench: BenchScreen, correcting: PieceSheet
) -> None:
    desk, piece, fields = bench.desk, bench.piece, correcting.order_form
    assert piece is not None
    assert fields.cancel.isHidden()
    note_printed(desk.sitting, [piece], Paper.LABELS)
    assert fields.cancel.isVisible()
    typed_into(qtbot, correcting, "recipient", "Ruth Amsell")
    assert desk.pile.verdicts[piece].case.order.address.recipient == "Ruth Amsel"
    assert fields.form is not None
    assert fields.form.fields["recipient"].fault.label.text() == "Not saved."
    fields.cancel.click()
    assert not holding(desk.sitting, Paper.LABELS)
    assert desk.pile.verdicts[piece].case.order.address.recipient == "Ruth Amsell"
    assert fields.form.fields["recipient"].fault.isHidden()
    assert fields.cancel.isHidden()
