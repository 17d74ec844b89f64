"""A file of 25 columns nobody here wrote: at most four keys on the first day, none on the second."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

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
        elif any(column.offered for column in columns):
            qtbot.keyClick(view.importing.columns, Qt.Key.Key_Space, SHIFT)
        else:
            qtbot.keyClick(view.importing.columns, Qt.Key.Key_Delete, SHIFT)
        assert focus is not None
        pressed += 1
        qtbot.waitUntil(lambda: bool(done) or not view.importing.is_busy)
    return pressed


def test_four_keys_on_the_first_day_and_no_decision_on_the_second(qtbot: QtBot, empty_desk: Desk) -> None:
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


def test_a_street_line_is_never_left_out_without_a_word(qtbot: QtBot, empty_desk: Desk) -> None:
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
