"""An unknown file of 25 columns: at most four keys the first time, none the second."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from desk.domain.orders.order import Order
from desk.session.importing.preview import Pasted
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from tests.ui.batch.test_view import button, numbers, show

SHIFT, PLAIN = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.NoModifier
HEADER = (
    "ORDERNUMBER,QTYORDERED,PRICEEACH,ORDERLINENUMBER,SALES,ORDERDATE,STATUS,QUARTER_ID,MONTH_ID,YEAR_ID,PRODUCTLINE,LISTPRICE,"
    "PRODUCTCODE,CUSTOMERNAME,PHONE,ADDRESSLINE1,ADDRESSLINE2,CITY,STATE,POSTALCODE,COUNTRY,AREA,CONTACTLASTNAME,CONTACTFIRSTNAME,DEALSIZE\n"
)
ROWS = (
    "10107,30,9.50,2,285.00,2/24/2026 0:00,paid,1,2,2026,Notebooks,10,NB-1,Quill & Daughters,555-0101,897 Long Lane,,Bend,OR,97701,USA,NA,Yarrow,Kay,Small\n"
    "10121,3,5.25,1,15.75,5/7/2026 0:00,paid,2,5,2026,Bookmarks,6,BM-1,Papeterie du Port,555-0102,59 rue Sans Nom,Level 3,Reims,,51100,France,EMEA,Huret,Paule,Small\n"
)


def keys_until_imported(qtbot: QtBot, view: BatchView, text: str) -> int:
    """Import a pasted table as a person would; how many keys it took."""
    view.look_into(Pasted(text, "A market"))
    pressed = 0
    done: list[bool] = []
    view.importing.ended.connect(lambda: done.append(True))
    qtbot.waitUntil(lambda: view.importing.preview is not None and not view.importing.is_busy)
    while not done and pressed < 10:
        focus = QApplication.focusWidget() or view.focusWidget()
        columns = view.importing.columns.columns
        if button(view.importing, "Import").isEnabled():
            qtbot.keyClick(view.importing, Qt.Key.Key_Return)
        elif view.importing.columns.offers_country or any(column.offered for column in columns):
            qtbot.keyClick(view.importing.columns, Qt.Key.Key_Space, SHIFT)
        else:
            qtbot.keyClick(view.importing.columns, Qt.Key.Key_Delete, SHIFT)
        assert focus is not None
        pressed += 1
        qtbot.waitUntil(lambda: bool(done) or not view.importing.is_busy)
    return pressed


def test_an_unknown_file_takes_four_keys_the_first_time_and_no_choices_the_second(
    qtbot: QtBot, empty_desk: Desk
) -> None:
    view = show(qtbot, empty_desk)
    assert len(HEADER.split(",")) == 25
    assert keys_until_imported(qtbot, view, HEADER + ROWS) <= 4
    assert numbers(view) == ["10107", "10121"]
    found = empty_desk.pile.find("10121")
    assert found is not None
    order = empty_desk.pile.verdicts[found].case.order
    assert (order.address.address2, order.address.recipient, str(order.placed)) == (
        "Level 3",
        "Papeterie du Port",
        "2026-05-07",
    )
    again = ROWS.replace("10107", "10207").replace("10121", "10221")
    assert keys_until_imported(qtbot, view, HEADER + again) == 1  # Enter: to import it


def test_a_street_line_is_never_skipped_silently(qtbot: QtBot, empty_desk: Desk) -> None:
    """In one public list the apartment of 8 of 39 orders was dropped unseen."""
    view = show(qtbot, empty_desk)
    text = (
        "Order Number,Ship To Name,Ship To Street 1,Ship To Street 2,Ship To City,Ship To State,Ship To Zip,Ship To Country,Item\n"
        "1,Ada Finch,12 Ink Lane,Apt 3,Bend,OR,97701,US,Card\n"
    )
    assert keys_until_imported(qtbot, view, text) == 1
    found = empty_desk.pile.find("1")
    assert found is not None
    assert empty_desk.pile.verdicts[found].case.order.address.address2 == "Apt 3"


def imported(desk: Desk, number: str) -> Order:
    found = desk.pile.find(number)
    assert found is not None
    return desk.pile.verdicts[found].case.order


def test_a_list_without_a_country_takes_two_keys_and_none_the_second_time(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = "Order Number,Name,Street,City,State,Zip,Item\n{},Ada Finch,12 Ink Lane,Bend,OR,97701,Card\n"
    view.look_into(Pasted(text.format(1), "Homes"))
    qtbot.waitUntil(lambda: view.importing.preview is not None and not view.importing.is_busy)
    assert not button(view.importing, "Import").isEnabled()
    assert "The postal codes look like those of the United States" in spoken(view.importing)
    assert keys_until_imported(qtbot, view, text.format(1)) == 2
    assert imported(empty_desk, "1").address.country == "US"
    assert keys_until_imported(qtbot, view, text.format(2)) == 1
    assert imported(empty_desk, "2").address.country == "US"


def test_another_country_for_all_orders_can_be_chosen(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = "Order Number,Name,Street,City,Zip,Item\n1,Ada Finch,12 Ink Lane,Bath,BA1 1AA,Card\n"
    view.look_into(Pasted(text, "Abroad"))
    qtbot.waitUntil(lambda: view.importing.preview is not None and not view.importing.is_busy)
    box = view.importing.choices.boxes["country"]
    assert box.isVisible()
    assert box.hasFocus()
    box.setCurrentIndex(box.findText("United Kingdom"))
    box.activated.emit(box.currentIndex())
    qtbot.waitUntil(lambda: button(view.importing, "Import").isEnabled())
    assert "all orders go to the United Kingdom" in spoken(view.importing)


def test_a_whole_address_in_one_cell_is_shown_split_before_it_is_imported(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = 'Order Number,Name,Full Address,Item\n1,Ada Finch,"12 Ink Lane, Apt 3, Bend, OR 97701, United States",Card\n'
    view.look_into(Pasted(text, "Whole"))
    qtbot.waitUntil(lambda: button(view.importing, "Import").isEnabled())
    assert (
        "“12 Ink Lane, Apt 3, Bend, OR 97701, United States” is read as street 12 Ink Lane, second line Apt 3, city Bend, state OR, "
        "ZIP or postal code 97701, country United States."
    ) in spoken(view.importing)


def test_items_in_one_cell_are_shown_as_lines_before_they_are_imported(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = "Order Number,Name,Street,City,State,Zip,Country,Items,Quantity\n"
    text += "1,Ada Finch,12 Ink Lane,Bend,OR,97701,US,2x Card; 1x Pen,1\n"
    view.look_into(Pasted(text, "Items"))
    qtbot.waitUntil(lambda: button(view.importing, "Import").isEnabled())
    assert "“2x Card; 1x Pen” is read as 2 × Card, 1 × Pen." in spoken(view.importing)
    qtbot.keyClick(view.importing, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: numbers(view) == ["1"])
    assert [(line.item, line.quantity) for line in imported(empty_desk, "1").lines] == [("Card", 2), ("Pen", 1)]


def test_every_column_that_is_not_read_is_listed_with_examples(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    head = "Order Number,Name,Street,City,State,Zip,Country,Item,Quarter,Door text,Batch code\n"
    text = f"{head}1,Ada Finch,12 Ink Lane,Bend,OR,97701,US,Card,4,Please ring the upper bell twice,B-17\n"
    view.look_into(Pasted(text, "Doors"))
    qtbot.waitUntil(lambda: view.importing.preview is not None and not view.importing.is_busy)
    lines = spoken(view.importing).splitlines()
    assert "Choose or skip before importing: Door text (Please ring the upper b…)." in lines
    assert "Not read: Quarter (4), Batch code (B-17)." in lines
    assert not button(view.importing, "Import").isEnabled()
    qtbot.keyClick(view.importing.columns, Qt.Key.Key_Delete, SHIFT)
    qtbot.waitUntil(lambda: button(view.importing, "Import").isEnabled())
    qtbot.keyClick(view.importing, Qt.Key.Key_Return)
    view.look_into(Pasted(text.replace("1,Ada", "2,Ada"), "Doors"))
    qtbot.waitUntil(lambda: button(view.importing, "Import").isEnabled())
    assert "Skipped as you chose: “Door text”." in spoken(view.importing)


def spoken(panel: QWidget) -> str:
    return "\n".join(label.text() for label in panel.findChildren(QLabel) if label.isVisible())
