"""Forms and type: the layout of fields, the effect of large type, and faults at their own fields."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication, QGridLayout
from pytestqt.qtbot import QtBot

from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading
from desk.ui.kit.fields.choice_fields import ChoiceField, ManyField, YesNoField
from desk.ui.kit.fields.field import Field
from desk.ui.kit.fields.framed import Choices, FramedCheckBox, FramedLine
from desk.ui.kit.fields.text_fields import LineField, WordsField
from desk.ui.kit.form import Form, Scrolled
from desk.ui.kit.palette import DARK, LIGHT, ColorSheet
from desk.ui.kit.scheme import choose_scheme
from tests.ui.kit.pictures import grabbed, where

OPTIONS = (("a", "first"), ("b", "second"), ("c", "third"))


@pytest.fixture
def font_size(qapp: QApplication) -> Iterator[QApplication]:
    before = qapp.font()
    yield qapp
    qapp.setFont(before)


def set_points(app: QApplication, points: float) -> None:
    font = app.font()
    font.setPointSizeF(points)
    app.setFont(font)


def places(form: Form) -> list[tuple[int, int, int]]:
    """Row, column and how many columns, of each part in order."""
    grid = form.layout()
    assert isinstance(grid, QGridLayout)
    found = [grid.getItemPosition(at) for at in range(grid.count())]
    return [(row, column, across) for row, column, _down, across in found]  # type: ignore[misc]


def wide(name: str) -> LineField:
    field = LineField(name, name)
    field.wide = True
    return field


def test_fields_are_laid_out_in_two_columns(qtbot: QtBot) -> None:
    form = Form([LineField(name, name) for name in "abc"])
    qtbot.addWidget(form)
    assert places(form) == [(0, 0, 1), (0, 1, 1), (1, 0, 1)]


def test_headings_and_wide_fields_take_a_whole_line(qtbot: QtBot) -> None:
    form = Form(
        [LineField("a", "A"), "Costs", wide("b"), LineField("c", "C"), LineField("d", "D"), LineField("e", "E")]
    )
    qtbot.addWidget(form)
    assert places(form) == [(0, 0, 1), (1, 0, 2), (2, 0, 2), (3, 0, 1), (3, 1, 1), (4, 0, 1)]
    assert [heading.text() for heading in form.findChildren(Heading)] == ["Costs"]


@pytest.mark.parametrize(("points", "columns"), [(10.0, 2), (14.9, 2), (15.0, 1), (20.0, 1)])
def test_large_type_takes_one_column(qtbot: QtBot, font_size: QApplication, points: float, columns: int) -> None:
    set_points(font_size, points)
    form = Form([LineField(name, name) for name in "ab"])
    qtbot.addWidget(form)
    assert max(column for _, column, _ in places(form)) + 1 == columns


def test_check_boxes_are_stacked_in_large_type(qtbot: QtBot, font_size: QApplication) -> None:
    set_points(font_size, 20.0)
    many = ManyField("x", "Services", OPTIONS)
    qtbot.addWidget(many)
    many.resize(500, 400)
    many.show()
    QApplication.processEvents()
    tops = [box.geometry().top() for box in many.boxes.values()]
    assert tops == sorted(set(tops))
    assert len({box.geometry().left() for box in many.boxes.values()}) == 1


def test_values_are_read_and_shown_by_name(qtbot: QtBot) -> None:
    form = Form([LineField("a", "A"), YesNoField("b", "B"), ChoiceField("c", "C", OPTIONS)])
    qtbot.addWidget(form)
    form.show_values({"a": "4", "b": True}, fresh=True)
    assert form.values() == {"a": "4", "b": True, "c": "a"}
    form.fields["a"].put("5")
    assert form.values()["a"] == "5"
    assert form.kept()["a"] == "4"


def test_a_form_reports_which_field_was_left(qtbot: QtBot) -> None:
    form = Form([LineField("a", "A"), LineField("b", "B")])
    qtbot.addWidget(form)
    form.show_values({"a": "1", "b": "2"}, fresh=True)
    heard: list[str] = []
    form.left.connect(heard.append)
    form.fields["b"].put("3")
    form.fields["b"].commit()
    form.fields["a"].commit()
    assert heard == ["b"]


def test_faults_are_shown_at_their_fields_and_disappear_when_corrected(qtbot: QtBot) -> None:
    form = Form([LineField("a", "A"), LineField("b", "B")])
    qtbot.addWidget(form)
    form.show_faults([("a", "stop", "Expected a number."), ("nobody", "stop", "Elsewhere.")])
    assert [field.fault.label.text() for field in form.fields.values()] == ["Expected a number.", ""]
    form.show_faults([("b", "look", "Needed.")])
    assert [field.fault.label.text() for field in form.fields.values()] == ["", "Needed."]
    assert [field.editor().accessibleDescription() for field in form.fields.values()] == ["", "Needed."]


@pytest.mark.parametrize(
    ("mark", "role"), [("stop", "stop"), ("look", "look"), ("note", "soft_ink"), ("fine", "fine"), ("", "soft_ink")]
)
def test_a_fault_has_the_color_and_the_shape_of_its_mark(qtbot: QtBot, mark: str, role: str) -> None:
    field = LineField("a", "A")
    qtbot.addWidget(field)
    field.say(mark, "Words.")
    assert field.fault.label.role == role
    assert field.fault._mark.kind == (mark or "note")


def test_a_field_without_a_fault_takes_no_room_for_one(qtbot: QtBot) -> None:
    field = LineField("a", "A")
    qtbot.addWidget(field)
    bare = field.sizeHint().height()
    field.say("stop", "Expected a number.")
    assert field.sizeHint().height() > bare
    field.say()
    assert field.sizeHint().height() == bare


@pytest.mark.parametrize(
    "field",
    [
        lambda: LineField("a", "Weight"),
        lambda: WordsField("a", "Weight"),
        lambda: YesNoField("a", "Weight"),
        lambda: ChoiceField("a", "Weight", OPTIONS),
        lambda: ManyField("a", "Weight", OPTIONS),
    ],
    ids=["line", "words", "yes-no", "choice", "many"],
)
def test_every_editor_is_named_and_reached_by_tab(qtbot: QtBot, field: object) -> None:
    made: Field = field()  # type: ignore[operator]
    qtbot.addWidget(made)
    assert made.editor().accessibleName().startswith("Weight")
    assert made.editor().focusPolicy() & Qt.FocusPolicy.TabFocus
    with pytest.raises(NotImplementedError):
        Field("x", "X").value()


def test_an_unknown_choice_shows_the_first(qtbot: QtBot) -> None:
    field = ChoiceField("a", "A", OPTIONS)
    qtbot.addWidget(field)
    heard: list[str] = []
    field.left.connect(heard.append)
    field.show_kept("z", fresh=True)
    assert (field.value(), heard) == ("a", [])


def test_words_are_separated_only_by_commas(qtbot: QtBot) -> None:
    field = WordsField("a", "A")
    qtbot.addWidget(field)
    field.edit.setText(" one two ,, three,")
    assert field.value() == ("one two", "three")


@pytest.mark.parametrize("kind", [FramedLine, FramedCheckBox, Choices])
@pytest.mark.parametrize(("scheme", "sheet"), [("light", LIGHT), ("dark", DARK)])
def test_every_control_has_a_visible_frame(qtbot: QtBot, kind: type, scheme: str, sheet: ColorSheet) -> None:
    made = kind()
    qtbot.addWidget(made)
    made.resize(120, 32)
    choose_scheme(scheme)
    image = grabbed(made)
    frame = where(image, sheet.soft_ink)  # the very color, not a paler one: WCAG 2.2, 1.4.11
    across, down = {x for x, _ in frame}, {y for _, y in frame}
    assert max(across) - min(across) >= 10
    assert max(down) - min(down) >= 10
    assert len(frame) >= 20


def test_the_focused_control_has_a_thicker_teal_frame(qtbot: QtBot) -> None:
    made = FramedLine()
    qtbot.addWidget(made)
    made.resize(120, 32)
    made.show()
    made.activateWindow()
    with qtbot.waitActive(made):
        pass
    made.setFocus()
    choose_scheme("light")
    teal = where(grabbed(made), LIGHT.teal)
    assert {(60, 0), (60, 1), (60, 30), (60, 31)} <= teal
    assert not where(grabbed(made), LIGHT.soft_ink)


def test_the_control_reached_by_tab_is_scrolled_into_view(qtbot: QtBot) -> None:
    form = Form([LineField(str(number), str(number)) for number in range(40)])
    page = Scrolled("Page", form)
    qtbot.addWidget(page)
    page.resize(400, 200)
    page.show()
    page.activateWindow()
    with qtbot.waitActive(page):
        pass
    form.fields["0"].editor().setFocus()
    for _ in range(39):
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
    last = form.fields["39"].editor()
    assert last.hasFocus()
    assert page.viewport().rect().contains(last.mapTo(page.viewport(), last.rect().center()))
    assert page.accessibleName() == "Page"
    assert page.horizontalScrollBar().maximum() == 0


# --- type


@pytest.mark.parametrize(("points", "scale"), [(10.0, 1.0), (20.0, 2.0), (7.5, 0.75)])
def test_type_sizes_follow_the_system(font_size: QApplication, points: float, scale: float) -> None:
    set_points(font_size, points)
    assert typeface.scale() == pytest.approx(scale)
    assert typeface.font(typeface.HEAD).pixelSize() == round(typeface.HEAD * scale)


def test_a_system_font_in_pixels_leaves_sizes_unchanged(font_size: QApplication) -> None:
    font = QFont(typeface.FAMILY)
    font.setPixelSize(30)
    font_size.setFont(font)
    assert typeface.scale() == 1.0


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("size", [typeface.SMALL, typeface.BODY, typeface.LIVE])
def test_digits_have_equal_widths(qapp: QApplication, size: int, bold: bool) -> None:
    from PySide6.QtGui import QFontMetricsF

    metrics = QFontMetricsF(typeface.font(size, bold=bold))
    assert len({round(metrics.horizontalAdvance(figure * 10), 2) for figure in "0123456789"}) == 1


def test_there_is_no_type_smaller_than_a_pixel() -> None:
    assert typeface.font(0).pixelSize() == 1
