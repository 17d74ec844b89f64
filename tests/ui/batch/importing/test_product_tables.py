"""Tables of every kind in the window: mailers and products, sheets of a workbook, ambiguous amounts, canceled orders."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
import xlsxwriter
from pytestqt.qtbot import QtBot

from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.status import PieceStatus
from desk.session.importing.preview import Pasted
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from tests.intake.tables import put, xlsx
from tests.ui.batch.importing.test_import_panel import HEAD, ONE, TWO, choose, city, looked, taken
from tests.ui.batch.test_view import button, messages, numbers, show

MAILERS = [
    ["Mailer", "Type", "Length", "Width", "Height", "Size unit", "Price", "Pack size"],
    ["Long tube", "tube", "24", "3", "3", "in", "30.00", "20"],
]
TUBE = Mailer("Long tube", MailerKind.TUBE, Size.of("24", "3", "3", "in"), None, Money(3000), 20)


def take(qtbot: QtBot, view: BatchView) -> None:
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    with qtbot.waitSignal(view.importing.ended):
        button(view.importing, "Import").click()


def workbook(sheets: dict[str, str]) -> bytes:
    """A workbook of these sheets, each as comma separated text."""
    buffer = io.BytesIO()
    book = xlsxwriter.Workbook(buffer, {"in_memory": True})
    for name, text in sheets.items():
        sheet = book.add_worksheet(name)
        for down, line in enumerate(text.splitlines()):
            sheet.write_row(down, 0, line.split(","))
    book.close()
    return buffer.getvalue()


@pytest.mark.parametrize("form", ["csv", "xlsx", "paste"])
def test_mailers_are_imported_and_undone(qtbot: QtBot, desk: Desk, tmp_path: Path, form: str) -> None:
    view, text = show(qtbot, desk), "\n".join(";".join(row) for row in MAILERS)
    before = desk.pile.terms.shop
    raw = xlsx(MAILERS) if form == "xlsx" else text.encode()
    source = Pasted(text.replace(";", "\t")) if form == "paste" else put(tmp_path, f"mailers.{form}", raw)
    looked(qtbot, view, source)
    assert view.importing.choices.kind == "mailers"
    assert not view.importing.kept.isVisible()
    take(qtbot, view)
    assert desk.pile.terms.shop.mailer("Long tube") == TUBE
    assert desk.steps()[0] == "Mailers imported"
    desk.undo()
    assert desk.pile.terms.shop == before


def test_a_known_mailer_is_changed_only_if_accepted(qtbot: QtBot, desk: Desk) -> None:
    view, name = show(qtbot, desk), desk.pile.terms.shop.mailers[0].name
    text = f"mailer\ttype\tpack price\tpack size\n{name}\t\t99.00\t7\nLong tube\ttube\t30.00\t20\n"
    looked(qtbot, view, Pasted(text))
    assert {line.name for line in view.importing.outcome.lines} == {name}
    take(qtbot, view)
    assert desk.pile.terms.shop.mailer(name).pack_count != 7
    looked(qtbot, view, Pasted(text))
    view.importing.lines.toggle()
    take(qtbot, view)
    assert desk.pile.terms.shop.mailer(name).pack_count == 7


def test_the_kind_of_a_table_can_be_changed(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    looked(qtbot, view, Pasted("name\tnotes\nGlue pot\tnone\n"))
    choose(view, "kind", "products")
    qtbot.waitUntil(lambda: view.importing.choices.kind == "products" and not view.importing.is_busy)
    take(qtbot, view)
    assert "Glue pot" in {product.name for product in desk.pile.terms.shop.products}


def test_the_chosen_sheet_of_a_workbook_is_remembered(qtbot: QtBot, empty_desk: Desk, tmp_path: Path) -> None:
    raw = workbook({"March": HEAD + ONE, "April": HEAD + TWO, "Notes": "a,b\n1,2\n"})
    view, file = show(qtbot, empty_desk), put(tmp_path, "fair.xlsx", raw)
    looked(qtbot, view, file)
    box = view.importing.choices.boxes["sheet"]
    assert box.isVisible()
    assert [box.itemText(at) for at in range(box.count())] == ["March", "April", "Notes"]
    assert not view.importing.choices.boxes["delimiter"].isVisible()
    choose(view, "sheet", "April")
    qtbot.waitUntil(lambda: view.importing.preview.sheet == "April" and view.importing.outcome is not None)
    take(qtbot, view)
    assert numbers(view) == ["7002"]
    looked(qtbot, view, file)
    assert (view.importing.preview.sheet, view.importing.outcome.same) == ("April", 1)


def test_ambiguous_amounts_are_asked_about(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = HEAD.replace("quantity", "unit_price") + ONE.replace(",1\n", ",1.250\n")
    looked(qtbot, view, Pasted(text))
    box = view.importing.choices.boxes["decimal"]
    assert view.focusWidget() is box
    assert not button(view.importing, "Import").isEnabled()
    assert "1 cell could be 1.25 or 1250 (“1.250”). Choose above." in view.importing._sentences.text()
    assert [box.itemText(at) for at in range(box.count())] == [
        "Choose…", "point before cents: 1.25", "comma before cents: 1250",
    ]  # fmt: skip
    choose(view, "decimal", "point decimals")
    take(qtbot, view)
    order = empty_desk.pile.verdicts[empty_desk.pile.find("7001")].case.order
    assert order.lines[0].unit_price == Money(125)


def test_two_questions_are_asked_one_after_the_other(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    head = HEAD.replace("quantity", "unit_price").replace("order,", "order,placed,")
    looked(qtbot, view, Pasted(head + ONE.replace(",1\n", ",1.250\n").replace("7001,", "7001,03/04/2026,")))
    for about, answer in (("dates", "month first"), ("decimal", "comma decimals")):
        assert view.importing.outcome is None
        view.importing.arrive()
        assert view.focusWidget() is view.importing.choices.boxes[about]
        choose(view, about, answer)
        qtbot.waitUntil(lambda: not view.importing.is_busy)
    take(qtbot, view)
    order = empty_desk.pile.verdicts[empty_desk.pile.find("7001")].case.order
    assert (str(order.placed), order.lines[0].unit_price) == ("2026-03-04", Money(125000))


def test_canceled_orders_are_reported_and_set_aside(qtbot: QtBot, desk: Desk) -> None:
    view, events = show(qtbot, desk), messages(desk)
    head = HEAD.replace("quantity", "status")
    paid, canceled = ONE.replace(",1\n", ",paid\n"), ONE.replace(",1\n", ",canceled\n")
    taken(qtbot, view, head + paid)
    looked(qtbot, view, Pasted(head + canceled + canceled.replace("7001", "7005")))
    (line,) = [line for line in view.importing.outcome.lines if line.what == "canceled"]
    assert (line.name, line.after) == ("7001", "canceled")
    assert "Left out: 2 canceled." in view.importing._does.text()
    view.importing.lines.accept_all()
    assert view.importing.lines.accepted == set()  # it is reported and needs no answer
    take(qtbot, view)
    piece = desk.pile.find("7001")
    assert desk.pile.verdicts[piece].status is PieceStatus.CANCELED
    assert "1 canceled and set aside." in events[-1].words
    assert desk.pile.find("7005") is None
    looked(qtbot, view, Pasted(head + paid))
    assert "no longer canceled" in {line.what for line in view.importing.outcome.lines}
    take(qtbot, view)
    assert desk.pile.verdicts[piece].status is PieceStatus.TO_WEIGH
    assert "1 no longer canceled, back to the queue." in events[-1].words
    desk.undo()
    desk.undo()
    assert desk.pile.verdicts[piece].status is PieceStatus.TO_WEIGH


def test_one_undo_reverses_a_whole_import(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    taken(qtbot, view, HEAD + ONE)
    looked(qtbot, view, Pasted(HEAD + ONE.replace("Bath", "Bend") + TWO + TWO.replace("7002", "7003")))
    view.importing.lines.accept_all()
    take(qtbot, view)
    assert (numbers(view), city(empty_desk, "7001")) == (["7001", "7002", "7003"], "Bend")
    empty_desk.undo()
    assert (numbers(view), city(empty_desk, "7001")) == (["7001"], "Bath")
    empty_desk.redo()
    assert (numbers(view), city(empty_desk, "7001")) == (["7001", "7002", "7003"], "Bend")


def test_a_change_made_during_the_preview_is_reported_and_compared_again(qtbot: QtBot, empty_desk: Desk) -> None:
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    looked(qtbot, view, Pasted(HEAD + ONE))
    other = show(qtbot, empty_desk)
    taken(qtbot, other, HEAD + ONE)
    view.importing.import_list()
    assert "changed since the preview" in events[-1].words
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert (view.importing.outcome.new, view.importing.outcome.same) == (0, 1)
