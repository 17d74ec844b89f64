"""The parts of Customs: the list of pieces abroad, and one line with its fields."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from desk.domain.severity import Severity
from desk.session.customs.declarations import DeclarationView, LineView, Missing, customs_views, is_declared
from desk.session.customs.product_goods import HsChoice, hs_choices
from desk.session.setup.change_shop import FieldFault
from desk.ui.bridge import Desk
from desk.ui.customs.editor import facts_of
from desk.ui.customs.line import FIELDS, LineCard, texts_of
from desk.ui.customs.model import (
    ALIGN,
    DISPLAY,
    HEADS,
    MARK,
    MISSING,
    NUMBER,
    RIGHT,
    VALUE,
    CustomsModel,
    row_of,
)


@pytest.fixture
def views(weighed_desk: Desk) -> dict[int, DeclarationView]:
    return dict(customs_views(weighed_desk.pile.verdicts, weighed_desk.pile.terms))


@pytest.fixture
def model(views: dict[int, DeclarationView]) -> CustomsModel:
    made = CustomsModel()
    made.take(views)
    return made


def lacking_line(views: Mapping[int, DeclarationView], field: str) -> LineView:
    return next(line for view in views.values() for line in view.lines if line.at(field))


# --- the list


@pytest.mark.parametrize("count", [0, 1, 5])
def test_the_model_passes_the_tests_of_qt(
    qtmodeltester: ModelTester, views: dict[int, DeclarationView], count: int
) -> None:
    model = CustomsModel()
    model.take(dict(list(views.items())[:count]))
    qtmodeltester.check(model)
    assert (model.rowCount(), model.columnCount()) == (count, len(HEADS))


def test_every_piece_abroad_has_its_row_in_the_order_of_the_pile(weighed_desk: Desk, model: CustomsModel) -> None:
    declared = [number for number, verdict in weighed_desk.pile.verdicts.items() if is_declared(verdict)]
    assert [row.piece_id for row in model.rows] == declared
    assert sum(verdict.is_abroad for verdict in weighed_desk.pile.verdicts.values()) < len(declared)


def test_only_the_last_column_has_a_mark_and_only_values_are_aligned_right(model: CustomsModel) -> None:
    marked = {column for column in range(len(HEADS)) if model.data(model.index(0, column), MARK)}
    right = {column for column in range(len(HEADS)) if model.data(model.index(0, column), ALIGN) == RIGHT}
    heads = {c for c in range(len(HEADS)) if model.headerData(c, Qt.Orientation.Horizontal, ALIGN) == RIGHT}
    assert (marked, right, heads) == ({MISSING}, {VALUE}, {VALUE})
    assert model.headerData(NUMBER, Qt.Orientation.Horizontal) == "Number"
    assert model.headerData(NUMBER, Qt.Orientation.Vertical) is None


def test_a_complete_declaration_says_so(views: dict[int, DeclarationView]) -> None:
    complete = replace(next(iter(views.values())), lines=(), missing=())
    row = row_of(1, complete)
    assert (row.cells[MISSING], row.mark, row.is_lacking) == ("nothing", Severity.FINE, False)
    origin = Missing("origin", Severity.LOOK, "origin", "Country of origin missing")
    row = row_of(1, replace(complete, missing=(origin, replace(origin, field="hs", short="HS code"))))
    assert (row.cells[MISSING], row.mark, row.is_lacking) == ("origin, HS code", Severity.LOOK, True)


def test_a_piece_is_found_by_its_id(model: CustomsModel) -> None:
    for place, row in enumerate(model.rows):
        assert model.place_of(row.piece_id) == place
    assert (model.place_of(None), model.place_of(987654)) == (None, None)


def test_the_next_incomplete_declaration_is_found_by_wrapping_around(model: CustomsModel) -> None:
    lacking = [place for place, row in enumerate(model.rows) if row.is_lacking]
    assert len(lacking) >= 2
    found, at = [], -1
    for _ in range(len(lacking) + 1):
        at = model.next_lacking(at)  # type: ignore[assignment]
        found.append(at)
    assert found == [*lacking, lacking[0]]


def test_a_single_incomplete_declaration_is_found_again(model: CustomsModel) -> None:
    first = next(place for place, row in enumerate(model.rows) if row.is_lacking)
    model.rows = [row._replace(is_lacking=place == first) for place, row in enumerate(model.rows)]
    assert model.next_lacking(first) == first
    model.rows = []
    assert model.next_lacking(-1) is None


def test_the_table_is_reset_for_other_pieces_but_not_for_other_texts(
    qtbot: QtBot, model: CustomsModel, views: dict[int, DeclarationView]
) -> None:
    resets: list[int] = []
    changed: list[tuple[int, int]] = []
    model.modelReset.connect(lambda: resets.append(1))
    model.dataChanged.connect(lambda first, last, *_: changed.append((first.row(), last.column())))
    second = list(views)[1]
    model.take(views | {second: replace(views[second], to="Somebody else")})
    assert (resets, changed) == ([], [(1, MISSING)])
    assert model.data(model.index(1, 1), DISPLAY) == "Somebody else"
    del views[second]
    model.take(views)
    assert resets == [1]


# --- what the declaration says as a whole


def test_unknown_facts_are_left_out(views: dict[int, DeclarationView]) -> None:
    view = next(iter(views.values()))
    bare = replace(view, form="none", goods_value="", net="", gross="", export="", tax_number="")
    assert facts_of(bare) == ["no form", view.category, "gross not weighed yet"]
    full = replace(view, form="CN22", net="100 g", gross="120 g", tax_number="…456")
    assert {"CN22", "net 100 g", "gross 120 g", "tax number …456"} <= set(facts_of(full))


# --- one line


class Kept:
    """Notes what is kept, and answers with the faults it was given."""

    def __init__(self, faults: Sequence[FieldFault] | None = ()) -> None:
        self.faults = faults
        self.values: list[dict[str, Any]] = []

    def __call__(self, _line: LineView, values: Mapping[str, Any]) -> Sequence[FieldFault] | None:
        self.values.append(dict(values))
        return self.faults


@pytest.fixture
def line(views: dict[int, DeclarationView]) -> LineView:
    return lacking_line(views, "hs")


def card_of(qtbot: QtBot, line: LineView, save: Kept, hints: Sequence[HsChoice] = ()) -> LineCard:
    card = LineCard(line, save, lambda _text: hints)
    qtbot.addWidget(card)
    card.show()
    return card


def edit(card: LineCard, name: str) -> QLineEdit:
    editor = card.form.fields[name].editor()
    assert isinstance(editor, QLineEdit)
    return editor


def test_the_heading_names_quantity_and_item(qtbot: QtBot, line: LineView) -> None:
    card = card_of(qtbot, line, Kept())
    assert card.head.text().startswith(f"{line.quantity} × {line.item}")
    assert card.accessibleName() == line.item
    card.show_line(replace(line, quantity=7, net_g="", value=""))
    assert card.head.text() == f"7 × {line.item}"


def test_a_description_used_in_place_of_a_missing_one_is_only_a_hint(qtbot: QtBot, line: LineView) -> None:
    card = card_of(qtbot, line, Kept())
    assert edit(card, "customs_words").placeholderText() == line.declared.description
    assert card.form.values()["customs_words"] == texts_of(line).get("customs_words", "")


def test_an_unknown_product_has_empty_fields_in_grams(line: LineView) -> None:
    assert texts_of(replace(line, product=None)) == {"weight_unit": "g", "unit_value": ""}


@pytest.mark.parametrize("name", ["customs_words", "hs", "origin", "unit_weight"])
def test_enter_in_a_field_names_it(qtbot: QtBot, line: LineView, name: str) -> None:
    card = card_of(qtbot, line, Kept())
    with qtbot.waitSignal(card.entered) as entered:
        qtbot.keyClick(edit(card, name), Qt.Key.Key_Return)
    assert entered.args == [name]


def test_leaving_a_field_saves_the_whole_line_once(qtbot: QtBot, line: LineView) -> None:
    save = Kept()
    card = card_of(qtbot, line, save)
    edit(card, "origin").setText("MX")
    card.form.fields["origin"].commit()
    assert [values["origin"] for values in save.values] == ["MX"]
    assert set(save.values[0]) == set(FIELDS)


@pytest.mark.parametrize("name", FIELDS)
def test_each_fault_is_at_its_own_field(qtbot: QtBot, line: LineView, name: str) -> None:
    save = Kept([FieldFault(name, "Expected something else.")])
    card = card_of(qtbot, line, save)
    edit(card, "origin").setText("Nowhere")
    card.form.fields["origin"].commit()
    field_faults = {field: card.form.fields[field].fault.label.text() for field in FIELDS}
    assert field_faults[name] == "Expected something else."
    assert list(field_faults.values()).count("Expected something else.") == 1
    assert card.form.fields[name].editor().accessibleDescription() == "Expected something else."


def test_a_refusal_leaves_the_other_faults_shown(qtbot: QtBot, line: LineView) -> None:
    card = card_of(qtbot, line, Kept(None))
    before = card.form.fields["hs"].fault.label.text()
    assert before
    edit(card, "origin").setText("MX")
    card.form.fields["origin"].commit()
    assert card.form.fields["hs"].fault.label.text() == before


def test_missing_values_are_found_in_the_order_of_the_fields(qtbot: QtBot, line: LineView) -> None:
    card = card_of(qtbot, line, Kept())
    missing = [name for name in FIELDS if line.at(name)]
    found, after = [], ""
    while name := card.first_missing(after):
        found.append(name)
        after = name
    assert found == missing
    assert card.first_missing("no field of this form") == missing[0]


def test_a_code_chosen_from_the_hints_is_saved(qtbot: QtBot, line: LineView, weighed_desk: Desk) -> None:
    hints = hs_choices(weighed_desk.pile.terms.rulebook, "art print on paper")[:3]
    save = Kept()
    card = card_of(qtbot, line, save, hints)
    assert [button.isVisible() for button in card.hints.buttons] == [True] * len(hints)
    card.hints.buttons[0].click()
    assert save.values[-1]["hs"] == hints[0].code


def test_hints_are_offered_only_where_a_code_is_wanted(
    qtbot: QtBot, views: dict[int, DeclarationView], weighed_desk: Desk
) -> None:
    fine = next(line for view in views.values() for line in view.lines if not line.at("hs"))
    hints = hs_choices(weighed_desk.pile.terms.rulebook, "art print on paper")[:3]
    assert card_of(qtbot, fine, Kept(), hints).hints.isHidden()
