from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QObject, QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desk.domain.shop.shop import Shop
from desk.domain.status import is_answerable
from desk.session.bench.answers import answer_looks
from desk.session.customs.declarations import is_declared
from desk.session.customs.details import set_detail
from desk.session.customs.product_goods import hs_choices
from desk.session.importing.import_orders import import_shop
from desk.ui.bridge import Desk, Event
from desk.ui.customs.details import DetailsCard
from desk.ui.customs.line import LineCard
from desk.ui.customs.model import COUNTRY, MISSING, NUMBER, VALUE, CustomsModel
from desk.ui.customs.view import CustomsView, build

LACKING = "1094"  # in the demo: words, code, origin and value are wanting


pytestmark = pytest.mark.screen(CustomsView, weighed=True, size=(1024, 560), in_front=True)


def choose(view: CustomsView, number: str) -> list[LineCard]:
    place = next(place for place, row in enumerate(view.model.rows) if row.cells[NUMBER] == number)
    view.table.selectRow(place)
    return view.editor.lines


def line_edit(card: LineCard, name: str) -> QLineEdit:
    editor = card.form.fields[name].editor()
    assert isinstance(editor, QLineEdit)
    return editor


def retype(qtbot: QtBot, line: QLineEdit, text: str, key: Qt.Key = Qt.Key.Key_Tab) -> None:
    line.setFocus()
    line.selectAll()
    qtbot.keyClick(line, Qt.Key.Key_Backspace)
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, key)


def mark_of(view: CustomsView, number: str) -> tuple[str, str]:
    return next((row.mark, row.cells[MISSING]) for row in view.model.rows if row.cells[NUMBER] == number)


def test_the_list_has_the_international_pieces_with_missing_values(view: CustomsView, desk: Desk) -> None:
    declared = sum(is_declared(verdict) for verdict in desk.pile.verdicts.values())
    assert len(view.model.rows) == declared > 5
    assert "Guam" in [row.cells[COUNTRY] for row in view.model.rows]
    row = next(row for row in view.model.rows if row.cells[NUMBER] == LACKING)
    assert row.cells[COUNTRY] == "United Kingdom"
    assert row.cells[VALUE].startswith("$")
    assert {"HS code", "description", "origin"} <= set(row.cells[MISSING].split(", "))
    assert row.is_lacking
    assert {row.mark for row in view.model.rows if not row.is_lacking} <= {"note", "fine"}


def test_the_model_passes_the_tests_of_qt(view: CustomsView, qtmodeltester: ModelTester) -> None:
    qtmodeltester.check(view.model)


def test_a_missing_value_is_shown_at_its_field_with_what_to_do(view: CustomsView) -> None:
    card = next(card for card in choose(view, LACKING) if card.view.at("hs"))
    messages = card.form.fields["hs"].fault.label.text()
    assert messages.endswith("isn't in HS 2022. Look up the current code and add it to the product.")
    assert line_edit(card, "hs").accessibleDescription() == messages
    assert view.editor.facts.text().startswith("CN22")
    assert "HS codes here are suggestions" in view.editor.cautions.text()


def test_a_field_is_corrected_in_the_product_and_undone(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    card = next(card for card in choose(view, LACKING) if card.view.at("origin"))
    retype(qtbot, line_edit(card, "origin"), "Mexico")
    product = desk.pile.terms.shop.product_for(card.view.line)
    assert product is not None
    assert product.origin == "MX"
    assert line_edit(card, "origin").text() == "MX"
    assert card.form.fields["origin"].fault.isHidden()
    assert "origin" not in mark_of(view, LACKING)[1]
    desk.undo()
    assert "origin" in mark_of(view, LACKING)[1]
    assert not card.form.fields["origin"].fault.isHidden()


def test_unreadable_text_stays_with_its_fault(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    card = choose(view, LACKING)[0]
    retype(qtbot, line_edit(card, "unit_weight"), "heavy")
    assert card.form.fields["unit_weight"].fault.label.text() == "Expected a number such as 12.50."
    assert line_edit(card, "unit_weight").text() == "heavy"


def test_likely_codes_are_offered_as_hints_and_accepted(view: CustomsView, desk: Desk) -> None:
    card = next(card for card in choose(view, LACKING) if card.view.at("hs"))
    card.hints.show_choices(hs_choices(desk.pile.terms.rulebook, "art print on paper"))
    hint = card.hints.buttons[0]
    assert hint.accessibleName().startswith("Code that may fit: 491191")
    assert "suggestions, not rulings. Customs decides." in card.hints._caution.text()
    hint.click()
    product = desk.pile.terms.shop.product_for(card.view.line)
    assert product is not None
    assert product.hs == "491191"
    assert card.hints.isHidden()


def test_enter_moves_through_missing_values_to_the_next_piece(qtbot: QtBot, view: CustomsView) -> None:
    choose(view, LACKING)
    qtbot.keyClick(view.table, Qt.Key.Key_Return)
    seen = []
    for _ in range(12):
        here = QApplication.focusWidget()
        if view.editor.view is None or view.editor.view.number != LACKING:
            break
        assert isinstance(here, QLineEdit)
        seen.append(here.accessibleName())
        qtbot.keyClick(here, Qt.Key.Key_Return)
    assert set(seen) >= {"Customs description (what, material, use)", "HS code", "Country of origin"}
    assert len(seen) < 12
    assert view.editor.view is not None
    assert view.editor.view.is_lacking
    assert view.editor.view.number != LACKING


def test_complete_declarations_are_reported(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    view.model.rows = [row._replace(is_lacking=False) for row in view.model.rows]
    messages: list[Event] = []
    desk.happened.connect(messages.append)
    view.next_missing()
    assert messages[-1].words == "Every declaration is complete."


def test_the_focus_stays_in_the_field_while_the_list_is_updated(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    card = choose(view, LACKING)[0]
    words = line_edit(card, "customs_words")
    words.setFocus()
    shop = desk.pile.terms.shop
    import_shop(desk.sitting, replace(shop, tax_ids={}))
    assert QApplication.focusWidget() is words
    assert view.editor.lines[0] is card


def test_jumps_count_incomplete_declarations(view: CustomsView, desk: Desk) -> None:
    (jump,) = view.jumps()
    assert jump.words.split()[0].isdecimal()
    jump.go()
    assert view.editor.view is not None
    assert view.editor.view.is_lacking


def test_a_note_is_not_counted_and_a_value_to_fix_always_is(view: CustomsView, desk: Desk) -> None:
    shop = desk.pile.terms.shop
    words = "Letterpress printed greeting card of cotton paper with an envelope, " * 2
    import_shop(desk.sitting, replace(shop, products=tuple(replace(one, customs_words=words) for one in shop.products)))
    assert len(view.jumps()) == 1
    for piece, verdict in tuple(desk.pile.verdicts.items()):
        looks = [found.code for found in verdict.findings if is_answerable(found)]
        answer_looks(desk.sitting, piece, looks, number=verdict.case.key.reference)
    assert len(view.jumps()) == 1
    complete = [replace(one, hs="490900", origin="US", customs_words=words) for one in desk.pile.terms.shop.products]
    import_shop(desk.sitting, replace(shop, products=tuple(complete)))
    noted = [v for v in desk.pile.verdicts.values() if "words-too-long" in [found.code for found in v.findings]]
    assert noted
    assert [jump.words for jump in view.jumps()] == [
        "2 declarations are incomplete"
    ]  # one declared at 0.00, one without a CPF


def test_a_store_without_orders_says_what_will_be_here(qtbot: QtBot, empty_desk: Desk) -> None:
    view = build(empty_desk)
    assert isinstance(view, CustomsView)
    qtbot.addWidget(view)
    view.show()
    assert view.nothing.isVisible()
    assert view.jumps() == ()


def test_a_tax_number_is_masked(view: CustomsView, demo: tuple[Shop, object]) -> None:
    number = demo[0].tax_ids["ioss"]
    shown = " ".join(view.editor.facts.text() for row in view.model.rows if choose(view, row.cells[NUMBER]) is not None)
    assert number not in shown
    assert number[-3:] in shown


def test_cells_are_painted_with_their_marks(view: CustomsView) -> None:
    image = view.table.grab().toImage()
    colors = {image.pixelColor(x, y).name() for x in range(0, image.width(), 2) for y in range(0, image.height(), 2)}
    marks = view.table.itemDelegate().colors  # type: ignore[attr-defined]
    assert {marks["look"].name(), marks["stop"].name()} & colors


def test_rows_change_in_place(qtbot: QtBot, view: CustomsView) -> None:
    model = CustomsModel()
    model.take(view.views)
    heard: list[QObject] = []
    model.dataChanged.connect(lambda *_: heard.append(model))
    model.take(view.views)
    assert heard == []
    first = next(iter(view.views))
    model.take(dict(view.views) | {first: replace(view.views[first], to="Somebody else")})
    assert len(heard) == 1
    assert model.next_lacking(len(model.rows)) is not None


@pytest.mark.parametrize(("pose", "lacking"), [("full", False), ("trouble", True)])
def test_the_screen_has_poses_for_pictures(view: CustomsView, pose: str, lacking: bool) -> None:
    view.pose(pose)
    assert view.editor.view is not None
    assert view.editor.view.is_lacking is lacking


def test_the_buyers_number_is_asked_for_in_brazil_alone_and_saved(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    number = next(row.cells[NUMBER] for row in view.model.rows if row.cells[COUNTRY] == "Brazil")
    choose(view, number)
    details = view.editor.details
    assert details is not None
    editor = details.form.fields["buyer_tax_id"].editor()
    assert isinstance(editor, QLineEdit)
    view.editor.focus_first_missing()
    assert QApplication.focusWidget() is editor
    qtbot.keyClicks(editor, "390.533.447-05")
    qtbot.keyClick(editor, Qt.Key.Key_Tab)
    assert "buyer's number" not in mark_of(view, number)[1]
    desk.undo()
    assert "buyer's number" in mark_of(view, number)[1]
    choose(view, next(row.cells[NUMBER] for row in view.model.rows if row.cells[COUNTRY] == "France"))
    assert view.editor.details is not None
    assert "buyer_tax_id" not in view.editor.details.names
    assert "ioss" in view.editor.details.names


def test_enter_moves_on_from_a_list_of_choices_too(qtbot: QtBot, view: CustomsView) -> None:
    choose(view, LACKING)
    assert view.editor.details is not None
    box = view.editor.details.form.fields["category"].editor()
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Return)
    here = QApplication.focusWidget()
    assert here is not None
    assert here.accessibleName() == "HS code"


def test_a_complete_declaration_has_no_selected_field(view: CustomsView) -> None:
    whole = next(
        row
        for row in view.model.rows
        if row.is_lacking and not any(card.first_missing() for card in _cards_of(view, row.cells[NUMBER]))
    )
    choose(view, whole.cells[NUMBER])
    view.editor.focus_first_missing()
    assert QApplication.focusWidget() is view.editor


def _cards_of(view: CustomsView, number: str) -> list[DetailsCard | LineCard]:
    choose(view, number)
    return view.editor.cards


def complete(view: CustomsView) -> str:
    return next(
        row.cells[NUMBER]
        for row in view.model.rows
        if not view.desk.pile.verdicts[row.piece_id].customs_open and row.cells[VALUE] != "$0.00"
    )


def test_one_key_copies_each_field_in_turn_and_undo_steps_back(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    choose(view, complete(view))
    clipboard = QGuiApplication.clipboard()
    view.copy_next()
    first = clipboard.text()
    view.copy_next()
    second = clipboard.text()
    assert (first, second) == ("June", "Alder")
    assert view.editor.copying.now.text().startswith("2 of ")
    steps = desk.steps()
    view.undo()
    assert (clipboard.text(), desk.steps()) == (first, steps)
    view.leave()
    assert (view.editor.copying.is_on, clipboard.text()) == (False, "")


def test_copying_ends_behind_the_last_field_with_every_field_once(view: CustomsView) -> None:
    choose(view, complete(view))
    messages: list[str] = []
    view.desk.happened.connect(lambda event: messages.append(event.words))
    names = []
    for _ in range(80):
        view.copy_next()
        if messages:
            break
        names.append(view.editor.copying.now.text().split(". ", 1)[1].split(":")[0])
    assert messages == ["All fields were copied."]
    assert len(names) == len(set(names)) > 20
    order = [
        "From, City",
        "To, City",
        "Package, Reason for export",
        "Totals, Total value in USD",
        "Also asked, Export filing",
    ]
    assert [name for name in names if name in order] == order


def test_a_field_edited_while_copying_is_copied_as_it_is_now(view: CustomsView, desk: Desk) -> None:
    piece = complete(view)
    choose(view, piece)
    view.copy_next()
    view.copy_next()
    assert desk.do(set_detail, desk.pile.find(piece), "customs_value", "12.34") == ()
    assert view.editor.copying.is_on
    while not view.editor.copying.now.text().split(". ", 1)[1].startswith("Totals, Total value in USD"):
        view.copy_next()
        assert view.editor.copying.is_on
    assert QGuiApplication.clipboard().text() == "12.34"


def test_an_incomplete_declaration_is_not_copied(view: CustomsView) -> None:
    choose(view, LACKING)
    messages: list[Event] = []
    view.desk.happened.connect(messages.append)
    view.copy_next()
    assert messages[0].words.startswith("1094 is not complete. Fix this first:")
    assert not view.editor.copying.is_on


def test_details_of_another_product_are_copied_in_two_steps(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    card = next(card for card in choose(view, LACKING) if card.view.at("hs"))
    card.form.fields["hs"].setFocus()
    view.editor.ask_source()
    box = card.source.box
    assert (box.count() > 3, QApplication.focusWidget()) == (True, box)
    qtbot.keyClick(box, Qt.Key.Key_Return)
    product = desk.pile.terms.shop.product_for(card.view.line)
    assert product is not None
    source = next(one for one in desk.pile.terms.shop.products if one.key == card.source.value())
    assert (product.hs, product.origin, product.customs_words) == (source.hs, source.origin, source.customs_words)
    assert desk.steps()[0].startswith(f"Customs details of {card.view.item} copied from")
    assert not card.source.isVisible()


def test_a_value_of_zero_is_fixed_on_the_line(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    number = next(row.cells[NUMBER] for row in view.model.rows if "value" in row.cells[MISSING].split(", "))
    card = next(card for card in choose(view, number) if card.view.at("unit_value"))
    retype(qtbot, line_edit(card, "unit_value"), "4.50")
    assert "value" not in mark_of(view, number)[1].split(", ")
    desk.undo()
    assert "value" in mark_of(view, number)[1].split(", ")


def test_enter_saves_a_value_to_the_declaration_it_was_typed_in(qtbot: QtBot, view: CustomsView, desk: Desk) -> None:
    """Enter in the last incomplete field showed the next declaration first, and the value went to its order."""
    view.pose("trouble")
    piece = view.editor.piece
    assert piece is not None
    card = next(card for card in view.editor.lines if card.view.at("unit_value"))
    for name, text in (("customs_words", "Sample cards of printed paper"), ("hs", "442019"), ("origin", "MX")):
        card.form.fields[name].put(text)
        card.form.fields[name].commit()
    edit = card.form.fields["unit_value"].editor()
    edit.setFocus()
    qtbot.keyClicks(edit, "0.50")
    qtbot.keyClick(edit, Qt.Key.Key_Return)
    values = {number: verdict.case.order.customs.unit_values for number, verdict in desk.pile.verdicts.items()}
    assert [value.text() for _, value in values[piece]] == ["0.50"]
    assert [number for number, entered in values.items() if entered] == [piece]
    assert view.editor.piece != piece


def test_a_missing_field_is_scrolled_into_view_at_once(view: CustomsView) -> None:
    choose(view, "1090-1")
    view.editor.focus_first_missing()
    assert view.editor.split is not None
    field, seen = view.editor.split.fields[0][0], view.editor.viewport()
    assert view.window().focusWidget() is field
    assert seen.rect().contains(field.geometry().translated(field.parentWidget().mapTo(seen, QPoint(0, 0))))
