"""Markup in text from buyers, files and the shop is shown as written, in every widget of every screen."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import fields, replace
from importlib import import_module
from pathlib import Path

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QTextDocumentFragment
from PySide6.QtWidgets import QAbstractItemView, QApplication, QLabel, QListWidget, QWidget
from pytestqt.qtbot import QtBot

from desk.app.wiring import PLACES, words
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.ui.bridge import Desk, Event, OngoingState
from desk.ui.kit.plain import PlainLabel, plain_tip
from desk.ui.window import Window
from tests.conftest import ROOT

MARKUP = '<h1>&amp;<img src="file:///nowhere/at/all.png"><a href="x">y</a>'


def marked(record: object, *keep: str) -> dict[str, str]:
    """Every text field of a record with markup behind it."""
    texts = {field.name: getattr(record, field.name) for field in fields(record)}  # type: ignore[arg-type]
    return {name: text + MARKUP for name, text in texts.items() if type(text) is str and name not in keep}


def marked_order(order: Order) -> Order:
    address = replace(order.address, **marked(order.address, "country", "postal_code"))
    lines = tuple(replace(line, **marked(line, "sku")) for line in order.lines)
    return replace(order, address=address, lines=lines, **marked(order, "currency", "status", "source"))


def marked_shop(shop: Shop) -> Shop:
    def each(records: tuple[object, ...], *keep: str) -> tuple[object, ...]:
        return tuple(replace(one, **marked(one, *keep)) for one in records)  # type: ignore[type-var]

    sender: Address = replace(shop.sender, **marked(shop.sender, "country", "postal_code"))
    mailers: tuple[Mailer, ...] = each(shop.mailers, "only_service")  # type: ignore[assignment]
    products: tuple[Product, ...] = each(shop.products, "sku", "hs", "hs_edition", "origin", "mailer")  # type: ignore[assignment]
    choices = {name + MARKUP: services for name, services in shop.choices.items()}
    return replace(shop, sender=sender, mailers=mailers, products=products, choices=choices)


@pytest.fixture
def hostile(desk: Desk, demo: tuple[Shop, tuple[Order, ...]]) -> Desk:
    """The demo with markup in every text, weighed."""
    shop, orders = marked_shop(demo[0]), [marked_order(order) for order in demo[1]]
    import_shop(desk.sitting, shop)
    import_orders(desk.sitting, orders)
    from desk.intake.weights import read_weights

    rows = read_weights(ROOT / "resources" / "demo" / "weights.csv", shop=demo[0])

    def in_mailer(weighing: Weighing) -> Weighing:
        return replace(weighing, mailer=weighing.mailer + MARKUP if weighing.mailer else "")

    weigh(desk.sitting, [(PieceKey(row.key.order + MARKUP, row.key.piece), in_mailer(row.weighing)) for row in rows])
    desk.read_all()
    return desk


def tips(widget: QWidget) -> Iterator[str]:
    yield widget.toolTip()
    yield widget.statusTip()
    yield widget.whatsThis()
    if isinstance(widget, QListWidget):
        yield from (widget.item(row).toolTip() for row in range(widget.count()))
    elif isinstance(widget, QAbstractItemView) and (model := widget.model()) is not None:
        for row in range(min(model.rowCount(QModelIndex()), 200)):
            for column in range(20):
                yield str(model.index(row, column).data(Qt.ItemDataRole.ToolTipRole) or "")


def check(root: QWidget) -> int:
    """How many texts hold markup; each must be shown as it is written."""
    seen = 0
    for widget in (root, *root.findChildren(QWidget)):
        if isinstance(widget, QLabel):
            assert widget.textFormat() is Qt.TextFormat.PlainText, widget.text()
            seen += MARKUP in widget.text()
        for tip in tips(widget):
            assert "<h1>" not in tip, (widget, tip)
    return seen


@pytest.mark.parametrize("title", words())
def test_no_screen_interprets_markup(qtbot: QtBot, hostile: Desk, title: str) -> None:
    window, view = Window(words()), import_module(PLACES[title])
    qtbot.addWidget(window)
    window.seat(hostile, [(view.TITLE, view.SHORTCUT, view.build(hostile))])
    window.resize(1366, 768)
    window.show()
    window.open_screen(title)
    for piece in [number for number, one in hostile.pile.verdicts.items() if one.case.weighing][:12]:
        hostile.piece_opened.emit(piece)
        QApplication.processEvents()
        check(window)
    assert sum(MARKUP in one.case.key.order for one in hostile.pile.verdicts.values()) > 50


def test_messages_and_strips_show_markup_as_text(qtbot: QtBot, hostile: Desk) -> None:
    window = Window(words())
    qtbot.addWidget(window)
    view = import_module(PLACES["Costs"])
    window.seat(hostile, [(view.TITLE, view.SHORTCUT, view.build(hostile))])
    window.show()
    hostile.happened.emit(Event(f"Weighed {MARKUP}"))
    hostile.state("x", OngoingState(f"{MARKUP} cannot be read."))
    QApplication.processEvents()
    assert check(window) >= 2


@pytest.mark.parametrize("text", [MARKUP, "a < b & c", "line\nline <b>", "plain", "R&D"])
def test_a_tooltip_shows_its_text_as_written(qapp: QApplication, text: str) -> None:
    tip = plain_tip(text)
    shown = QTextDocumentFragment.fromHtml(tip).toPlainText().replace("\u2028", "\n") if tip != text else tip
    assert shown == text
    assert tip != text or "<" not in text


def test_a_label_stays_plain_text_whatever_it_contains(qtbot: QtBot) -> None:
    label = PlainLabel(MARKUP)
    qtbot.addWidget(label)
    assert (label.textFormat(), label.text()) == (Qt.TextFormat.PlainText, MARKUP)


def calls() -> Iterator[tuple[Path, str]]:
    for path in [*(ROOT / "desk" / "ui").rglob("*.py"), *(ROOT / "desk" / "app").rglob("*.py")]:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = node.func
                name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
                yield path, name


def test_labels_and_tooltips_are_created_in_one_place() -> None:
    ruled_out = {
        "QLabel",
        "setToolTip",
        "setTextFormat",
        "setHtml",
        "insertHtml",
        "showText",
        "QMessageBox",
        "setWhatsThis",
    }
    elsewhere = [(path.name, name) for path, name in calls() if name in ruled_out and path.name != "plain.py"]
    assert elsewhere == []
