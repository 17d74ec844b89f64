"""Plain tables: what keys do in them, what is left out where there is no room, and rows of text as a model."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex, QRect, Qt
from PySide6.QtGui import QFontMetrics, QImage, QStandardItemModel
from PySide6.QtWidgets import QApplication, QStackedWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desk.ui.kit import type as typeface
from desk.ui.kit.palette import DARK, LIGHT
from desk.ui.kit.rows import TextRows
from desk.ui.kit.scheme import choose_scheme, chosen_scheme
from desk.ui.kit.table import ALIGN, LEFT, RIGHT, PlainCells, PlainTable
from tests.ui.kit.pictures import columns, grabbed, has, rows

HEADS = ("Number", "Recipient", "Postage")
ROWS = [("1041", "Wren Abara", "0.82"), ("1042", "Ivo Lindqvist", "1.11"), ("1043", "Ada Quist", "5.30")]


@pytest.fixture
def model() -> TextRows:
    made = TextRows(HEADS, (2,))
    made.show_rows(ROWS)
    return made


@pytest.fixture
def table(qtbot: QtBot, model: TextRows) -> PlainTable:
    choose_scheme("light")
    made = PlainTable("What each piece cost")
    qtbot.addWidget(made)
    made.setModel(model)
    made.set_widths((100, 200, 100), dropped_first=(1, 2))
    made.resize(600, 240)
    made.show()
    return made


def typed_into(table: PlainTable) -> list[str]:
    heard: list[str] = []
    table.typed.connect(heard.append)
    return heard


def entered_in(table: PlainTable) -> list[int]:
    heard: list[int] = []
    table.entered_row.connect(heard.append)
    return heard


def test_a_remark_is_painted_before_its_amount(table: PlainTable) -> None:
    model = TextRows(HEADS, (2,), remarked=2)
    table.setModel(model)
    table.set_widths((100, 200, 200))
    model.show_rows(ROWS)
    box = table.visualRect(model.index(1, 2))
    figure = box.adjusted(box.width() - 40, 0, 0, 0)
    before = box.adjusted(0, 0, -40, 0)

    def cell(part: QRect) -> QImage:
        return grabbed(table.viewport()).copy(part)

    bare = cell(before), cell(figure)
    model.show_rows(ROWS, {1: ("3 Oct 2026", "list of 2026-07-12, known until 2026-10-03")})
    assert cell(before) != bare[0]
    assert cell(figure) == bare[1]
    assert cell(table.visualRect(model.index(0, 2)).adjusted(0, 0, -40, 0)) == bare[0]


# --- rows of text


@pytest.mark.parametrize("count", [0, 1, 3])
def test_the_model_passes_the_tests_of_qt(qtmodeltester: ModelTester, model: TextRows, count: int) -> None:
    model.show_rows(ROWS[:count])
    qtmodeltester.check(model)
    assert (model.rowCount(), model.columnCount()) == (count, 3)


@pytest.mark.parametrize(("column", "side"), [(0, None), (1, None), (2, RIGHT)])
def test_amounts_and_their_headers_are_aligned_right(model: TextRows, column: int, side: int | None) -> None:
    assert model.data(model.index(0, column), ALIGN) == side
    assert model.headerData(column, Qt.Orientation.Horizontal, ALIGN) == side
    assert model.headerData(column, Qt.Orientation.Horizontal) == HEADS[column]


def test_rows_have_no_headers_and_no_child_rows(model: TextRows) -> None:
    assert model.headerData(0, Qt.Orientation.Vertical) is None
    assert (model.rowCount(model.index(0, 0)), model.columnCount(model.index(0, 0))) == (0, 0)
    assert model.data(model.index(0, 0), int(Qt.ItemDataRole.ToolTipRole)) is None


def test_other_rows_reset_the_table_once(qtbot: QtBot, model: TextRows) -> None:
    resets: list[int] = []
    model.modelReset.connect(lambda: resets.append(1))
    model.show_rows([("1", "2", "3")])
    assert (len(resets), model.rows) == (1, (("1", "2", "3"),))


# --- texts too long for their column


LONG = "Letterpress card heron, Bookplates, set of 25"


@pytest.fixture
def wide_texts(table: PlainTable, model: TextRows) -> PlainTable:
    table.set_widths((100, 200, 100), dropped_first=(2,), grows=(1,))
    model.show_rows([("1041", LONG, "$0.82"), *ROWS[1:]])
    return table


def cell_of(table: PlainTable, row: int, column: int) -> QImage:
    return grabbed(table.viewport()).copy(table.visualRect(table.model().index(row, column)))


def test_rows_have_two_lines_only_where_a_text_would_be_cut(wide_texts: PlainTable) -> None:
    wide_texts.resize(320, 300)
    assert wide_texts.rowHeight(0) > 36
    assert wide_texts.cut_texts(0) == ["$0.82"]
    ink = rows(cell_of(wide_texts, 0, 1), LIGHT.ink)
    assert ink[0] < wide_texts.rowHeight(0) / 2 < ink[-1]
    wide_texts.resize(900, 300)
    assert wide_texts.rowHeight(0) == 36
    assert wide_texts.cut_texts(0) == []


def test_rows_are_low_with_one_line_where_few_would_be_visible(wide_texts: PlainTable) -> None:
    wide_texts.resize(320, 150)
    assert wide_texts.rowHeight(0) < 36
    assert wide_texts.cut_texts(0) == [LONG, "$0.82"]
    assert wide_texts.cut_texts(1) == ["1.11"]


def test_rows_are_low_where_fewer_than_five_would_be_visible(wide_texts: PlainTable) -> None:
    head = wide_texts.horizontalHeader().height()
    wide_texts.resize(900, 5 * 36 + head)
    assert wide_texts.rowHeight(0) == 36
    wide_texts.resize(900, 5 * 36 + head - 1)
    assert wide_texts.rowHeight(0) < 36


# --- keys


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter])
@pytest.mark.parametrize("row", [0, 2])
def test_enter_opens_the_row(qtbot: QtBot, table: PlainTable, key: Qt.Key, row: int) -> None:
    heard = entered_in(table)
    table.selectRow(row)
    qtbot.keyClick(table, key)
    assert heard == [row]


def test_enter_without_a_row_opens_nothing(qtbot: QtBot, table: PlainTable) -> None:
    heard = entered_in(table)
    table.setCurrentIndex(QModelIndex())
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert heard == []


def test_a_double_click_opens_the_row(qtbot: QtBot, table: PlainTable, model: TextRows) -> None:
    heard = entered_in(table)
    where = table.visualRect(model.index(1, 0)).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    qtbot.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert heard == [1]


@pytest.mark.parametrize("key", ["1", "x", "X", "é", "#"])
def test_characters_are_passed_on_and_start_no_search(qtbot: QtBot, table: PlainTable, key: str) -> None:
    heard = typed_into(table)
    table.selectRow(0)
    if key == "é":
        table.keyPressEvent(key_event(key))
    else:
        qtbot.keyClicks(table, key)
    assert heard == [key]
    assert table.currentIndex().row() == 0


def key_event(text: str):  # type: ignore[no-untyped-def]
    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QKeyEvent

    return QKeyEvent(QEvent.Type.KeyPress, 0, Qt.KeyboardModifier.NoModifier, text)


@pytest.mark.parametrize("held", [Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.AltModifier])
def test_keys_with_ctrl_or_alt_are_not_passed_on_as_characters(
    qtbot: QtBot, table: PlainTable, held: Qt.KeyboardModifier
) -> None:
    heard = typed_into(table)
    qtbot.keyClick(table, Qt.Key.Key_J, held)
    assert heard == []


def test_a_space_does_not_start_typing(qtbot: QtBot, table: PlainTable) -> None:
    heard = typed_into(table)
    qtbot.keyClick(table, Qt.Key.Key_Space)
    assert heard == []


def test_arrows_move_through_the_rows_and_tab_leaves_the_table(qtbot: QtBot, table: PlainTable) -> None:
    table.selectRow(0)
    qtbot.keyClick(table, Qt.Key.Key_Down)
    assert table.currentIndex().row() == 1
    qtbot.keyClick(table, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert table.chosen_rows() == [1, 2]
    assert not table.tabKeyNavigation()


def test_selecting_rows_uses_as_few_ranges_as_possible(table: PlainTable, model: TextRows) -> None:
    for wanted, runs in (([0, 1, 2], [(0, 2)]), ([0, 2], [(0, 0), (2, 2)])):
        table.choose_rows(wanted)
        assert table.chosen_rows() == wanted
        assert table.currentIndex().row() == 0
        assert sorted((run.top(), run.bottom()) for run in table.selectionModel().selection()) == runs
    table.choose_rows([])
    assert table.chosen_rows() == []


def test_selected_rows_are_reported_in_order(table: PlainTable, model: TextRows) -> None:
    choice = table.selectionModel()
    for row in (2, 0):
        choice.select(model.index(row, 0), choice.SelectionFlag.Select | choice.SelectionFlag.Rows)
    assert table.chosen_rows() == [0, 2]


# --- room


@pytest.mark.parametrize(
    ("kept", "short_of", "hidden"),
    [((0, 1, 2), 0, []), ((0, 1, 2), 1, [1]), ((0, 2), 0, [1]), ((0, 2), 1, [1, 2]), ((0,), 1, [1, 2])],
)
def test_columns_are_hidden_in_their_order(
    table: PlainTable, kept: tuple[int, ...], short_of: int, hidden: list[int]
) -> None:
    table.resize(sum(table._rule.widths[column] for column in kept) - short_of, 240)
    assert [column for column in range(3) if table.isColumnHidden(column)] == hidden


def test_hidden_columns_return_when_there_is_room_again(table: PlainTable) -> None:
    for wide in (90, 600):
        table.resize(wide, 240)
    assert not any(table.isColumnHidden(column) for column in range(3))


def test_rows_are_high_enough_to_be_clicked(table: PlainTable) -> None:
    assert {table.rowHeight(row) for row in range(3)} == {table.verticalHeader().defaultSectionSize()}
    assert table.rowHeight(0) >= 36


# --- paint


def test_a_selected_row_has_a_bar_and_not_only_a_color(table: PlainTable) -> None:
    table.clearSelection()
    table.setCurrentIndex(QModelIndex())
    bare = grabbed(table)
    table.selectRow(1)
    chosen = grabbed(table)
    assert not has(bare, LIGHT.teal)
    assert columns(chosen, LIGHT.teal)[:4] == [0, 1, 2, 3]
    assert has(chosen, LIGHT.hairline)


def test_the_table_follows_the_scheme(table: PlainTable) -> None:
    choose_scheme("dark")
    image = grabbed(table)
    assert has(image, DARK.ink)
    assert not has(image, LIGHT.ink)


def test_text_too_long_for_its_column_ends_with_an_ellipsis(qtbot: QtBot, table: PlainTable, model: TextRows) -> None:
    model.show_rows([("1", "W" * 200, "2")])
    table.setColumnHidden(2, True)
    right = table.columnViewportPosition(1) + table.columnWidth(1)
    inked = [x for x in columns(grabbed(table), LIGHT.ink) if x > table.columnViewportPosition(1)]
    assert inked
    assert max(inked) < right


def test_cells_without_an_alignment_are_aligned_left(qtbot: QtBot) -> None:
    plain = QStandardItemModel(1, 1)
    plain.setData(plain.index(0, 0), "word")
    table = PlainTable("Table")
    qtbot.addWidget(table)
    table.setModel(plain)
    assert isinstance(table.itemDelegate(), PlainCells)
    assert plain.data(plain.index(0, 0), ALIGN) in (None, LEFT)


def test_headers_follow_another_scheme_even_on_hidden_pages(qtbot: QtBot) -> None:
    before = chosen_scheme()
    pages = QStackedWidget()
    qtbot.addWidget(pages)
    for _ in range(2):
        table = PlainTable("Prices")
        model = TextRows(HEADS)
        model.setParent(table)
        table.setModel(model)
        pages.addWidget(table)
    pages.resize(500, 300)
    pages.show()
    try:
        colors = []
        for scheme in ("light", "dark"):
            choose_scheme(scheme)
            QApplication.processEvents()
            for page in range(2):
                pages.setCurrentIndex(page)
                image = pages.grab().toImage()
                colors.append((image.pixelColor(490, 10).name(), image.pixelColor(490, 200).name()))
    finally:
        choose_scheme(before)
    assert [head == body for head, body in colors] == [True] * 4
    assert colors[0] != colors[2]


@pytest.mark.parametrize(("text", "is_wider"), [("TK-1", False), ("TK-3012-2 and more", True)])
def test_the_first_column_widens_to_a_long_number(table: PlainTable, text: str, is_wider: bool) -> None:
    before = table.columnWidth(0)
    table.fit_first_column(["1", text])
    assert (table.columnWidth(0) > before) is is_wider
    table.fit_first_column(["x" * 200])
    assert table.columnWidth(0) == 2 * before
    table.fit_first_column([])
    assert table.columnWidth(0) == before


def test_a_row_the_program_selects_is_the_only_one_even_while_ctrl_is_held(qtbot: QtBot, table: PlainTable) -> None:
    table.selectRow(1)
    qtbot.keyPress(table, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.keyboardModifiers() == Qt.KeyboardModifier.ControlModifier
    try:
        table.selectRow(1)
        assert table.chosen_rows() == [1]
        table.selectRow(2)
        assert table.chosen_rows() == [2]
    finally:
        qtbot.keyRelease(table, Qt.Key.Key_Z)
    table.selectRow(-1)
    table.selectRow(9)
    assert table.chosen_rows() == [2]


def test_a_column_of_long_texts_is_as_wide_as_its_longest_text_where_there_is_room(qtbot: QtBot) -> None:
    made, rows = PlainTable("Rows"), TextRows(("Number", "Contents", "Postage"), figures=(2,), remarked=2)
    qtbot.addWidget(made)
    made.setModel(rows)
    made.set_widths((60, 120, 140), grows=(1,), fits=(2,))
    made.resize(700, 200)
    made.show()
    rows.show_rows([("1041", "Letterpress card heron, plum and fern", "$0.82")])
    metrics = QFontMetrics(typeface.font(typeface.BODY))
    assert made.columnWidth(1) > metrics.horizontalAdvance("Letterpress card heron, plum and fern") + 16
    without = made.columnWidth(2)
    assert metrics.horizontalAdvance("$0.82") + 16 < without < 140
    rows.show_rows([("1041", "Card", "$0.82")], {0: ("Oct 3", "price list valid through October 3, 2026")})
    assert made.columnWidth(2) > without
