"""The import panel: changes accepted one by one, questions answered in the preview, mappings remembered, paste."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from pytestqt.qtbot import QtBot

from desk.session.importing.mappings import saved_mappings
from desk.session.importing.preview import Pasted, Source
from desk.ui.batch.view import BatchView
from desk.ui.bridge import Desk
from tests.ui.batch.test_view import button, messages, numbers, show

HEAD = "order,recipient,address1,city,region,postal_code,country,item,quantity\n"
ONE = "7001,Ada Quist,1 Quire St,Bath,ME,04530,US,Letterpress card,1\n"
TWO = "7002,Bo Finch,2 Quire St,Bath,ME,04530,US,Letterpress card,1\n"


def previewed(qtbot: QtBot, view: BatchView, text: str) -> None:
    view.look_into(Pasted(text))
    qtbot.waitUntil(lambda: view.importing.outcome is not None)


def looked(qtbot: QtBot, view: BatchView, source: Source) -> None:
    """The first rows are shown, and what comes of it has been worked out as far as it can be."""
    view.look_into(source)
    qtbot.waitUntil(lambda: view.importing.preview is not None and not view.importing.is_busy)


def taken(qtbot: QtBot, view: BatchView, text: str) -> None:
    previewed(qtbot, view, text)
    with qtbot.waitSignal(view.importing.ended):
        qtbot.keyClick(view.importing, Qt.Key.Key_Return)


def city(desk: Desk, number: str) -> str:
    piece = desk.pile.find(number)
    assert piece is not None
    return desk.pile.verdicts[piece].case.order.address.city


def choose(view: BatchView, name: str, value: str) -> None:
    box = view.importing.choices.boxes[name]
    box.setCurrentIndex(box.findData(value))
    box.activated.emit(box.currentIndex())


def test_a_change_is_made_only_if_accepted_and_undone_in_one_step(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    taken(qtbot, view, HEAD + ONE + TWO)
    previewed(
        qtbot, view, HEAD + ONE.replace("Bath", "Bend") + TWO.replace("Bath", "Bend") + TWO.replace("7002", "7003")
    )
    lines = [(line.name, line.field, line.before, line.after) for line in view.importing.outcome.lines]
    assert lines == [("7001", "city", "Bath", "Bend"), ("7002", "city", "Bath", "Bend")]
    view.importing.lines.setCurrentIndex(view.importing.lines.model().index(1, 0))
    qtbot.keyClick(view.importing.lines, Qt.Key.Key_Space)
    assert view.importing.lines.accepted == {"7002"}
    with qtbot.waitSignal(view.importing.ended):
        qtbot.keyClick(view.importing.lines, Qt.Key.Key_Return)
    assert (city(empty_desk, "7001"), city(empty_desk, "7002"), city(empty_desk, "7003")) == ("Bath", "Bend", "Bath")
    empty_desk.undo()
    assert (city(empty_desk, "7002"), empty_desk.pile.find("7003")) == ("Bath", None)


def test_shift_and_space_accept_all(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    taken(qtbot, view, HEAD + ONE + TWO)
    previewed(qtbot, view, (HEAD + ONE + TWO).replace("Bath", "Bend"))
    qtbot.keyClick(view.importing.lines, Qt.Key.Key_Space, Qt.KeyboardModifier.ShiftModifier)
    assert view.importing.lines.accepted == {"7001", "7002"}
    qtbot.keyClick(view.importing.lines, Qt.Key.Key_Space)
    assert view.importing.lines.accepted == {"7002"}


def test_an_ambiguous_date_is_asked_about_and_remembered(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    text = HEAD.replace("order,", "order,placed,") + ONE.replace("7001,", "7001,03/04/2026,")
    looked(qtbot, view, Pasted(text, "Spring fair"))
    assert view.importing.outcome is None
    assert not button(view.importing, "Import").isEnabled()
    assert view.focusWidget() is view.importing.choices.boxes["dates"]
    choose(view, "dates", "day first")
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    with qtbot.waitSignal(view.importing.ended):
        view.importing.import_list()
    piece = empty_desk.pile.find("7001")
    assert str(empty_desk.pile.verdicts[piece].case.order.placed) == "2026-04-03"
    assert [saved.name for saved in saved_mappings(empty_desk.sitting)] == ["Spring fair"]
    previewed(qtbot, view, text)
    assert view.importing.choices.mapping.formats == {"placed": ("day first",)}
    assert view.importing.outcome.same == 1


def test_a_column_and_a_prefix_are_changed_in_the_preview(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    previewed(qtbot, view, HEAD.replace("city", "Whereabouts") + ONE)
    view.importing.columns.choose(3)
    view.importing.columns.meanings.chosen.emit("city")
    view.importing.kept.prefix.setText("B-")
    view.importing.kept.prefix.editingFinished.emit()
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    with qtbot.waitSignal(view.importing.ended):
        view.importing.import_list()
    assert city(empty_desk, "B-7001") == "Bath"


def test_the_delimiter_is_shown_and_changeable(qtbot: QtBot, empty_desk: Desk) -> None:
    view = show(qtbot, empty_desk)
    previewed(qtbot, view, (HEAD + ONE).replace(",", ";"))
    assert view.importing.choices.boxes["delimiter"].currentText() == "semicolon"
    choose(view, "delimiter", ",")
    qtbot.waitUntil(lambda: not view.importing.is_busy)
    assert view.importing.preview.missing
    assert not button(view.importing, "Import").isEnabled()


def test_products_and_mailers_are_recognized_by_their_headers(qtbot: QtBot, desk: Desk) -> None:
    view = show(qtbot, desk)
    taken(qtbot, view, "sku,name,unit_weight,weight_unit\nNEW-1,Glue pot,120,g\n")
    assert "NEW-1" in {product.sku for product in desk.pile.terms.shop.products}
    desk.undo()
    assert "NEW-1" not in {product.sku for product in desk.pile.terms.shop.products}


def test_a_pasted_table_works_like_a_file(qtbot: QtBot, empty_desk: Desk) -> None:
    view, events = show(qtbot, empty_desk), messages(empty_desk)
    QGuiApplication.clipboard().setText("7001")
    qtbot.keyClick(view, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    assert events[-1].words == "There is no table on the clipboard. Copy one and try again."
    QGuiApplication.clipboard().setText((HEAD + ONE).replace(",", "\t"))
    qtbot.keyClick(view, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    with qtbot.waitSignal(view.importing.ended):
        view.importing.import_list()
    assert numbers(view) == ["7001"]


def test_every_choice_has_a_name_and_its_own_access_key(qtbot: QtBot, empty_desk: Desk, tmp_path: Path) -> None:
    view = show(qtbot, empty_desk)
    previewed(qtbot, view, HEAD + ONE)
    assert [box.accessibleName() for box in view.importing.choices.boxes.values()].count("") == 0


def test_an_unreadable_cell_is_counted_and_does_not_stop_the_import(
    qtbot: QtBot, empty_desk: Desk, tmp_path: Path
) -> None:
    view = show(qtbot, empty_desk)
    (tmp_path / "bad.csv").write_text("order,recipient,country,item,quantity\n7001,Ada Quist,US,Card,many\n")
    view.look_into(tmp_path / "bad.csv")
    qtbot.waitUntil(lambda: view.importing.outcome is not None)
    assert "1 to check after the import." in view.importing._does.text()
    assert button(view.importing, "Import").isEnabled()


def test_a_row_without_a_number_is_a_fault_and_nothing_is_imported(
    qtbot: QtBot, empty_desk: Desk, tmp_path: Path
) -> None:
    view = show(qtbot, empty_desk)
    (tmp_path / "bad.csv").write_text("order,recipient,country,item\n,Ada Quist,US,Card\n7001,Bo Reed,US,Card\n")
    before = empty_desk.sitting.store.revision
    view.look_into(tmp_path / "bad.csv")
    qtbot.waitUntil(lambda: view.importing.preview is not None)
    assert "line 2, order" in view.importing._sentences.text()
    assert not button(view.importing, "Import").isEnabled()
    assert empty_desk.sitting.store.revision == before
