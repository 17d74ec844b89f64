from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from desk.ui.kit import sound
from desk.ui.kit.fields.choice_fields import ChoiceField, ManyField, YesNoField
from desk.ui.kit.fields.field import Field
from desk.ui.kit.fields.text_fields import LineField, WordsField
from desk.ui.kit.form import Form, keep

OPTIONS = (("a", "first"), ("b", "second"), ("c", "third"))


@dataclass(frozen=True)
class Fault:
    field: str
    sentence: str
    kept: bool = False


def field(kind: str) -> Field:
    return {
        "line": lambda: LineField("x", "Weight"),
        "words": lambda: WordsField("x", "Weight"),
        "yes-no": lambda: YesNoField("x", "Weight"),
        "choice": lambda: ChoiceField("x", "Weight", OPTIONS),
        "many": lambda: ManyField("x", "Weight", OPTIONS),
    }[kind]()


CASES: list[tuple[str, Any, Any]] = [
    ("line", None, ""),
    ("line", "4.2", "4.2"),
    ("line", 7, "7"),
    ("words", ["p", "q r"], ("p", "q r")),
    ("words", None, ()),
    ("yes-no", None, False),
    ("yes-no", True, True),
    ("choice", "b", "b"),
    ("many", ("c", "a"), ("c", "a")),
    ("many", ("a", "nobody knows"), ("a", "nobody knows")),
]


@pytest.mark.parametrize(("kind", "kept", "shown"), CASES)
def test_showing_a_saved_value_is_not_a_change(qtbot: QtBot, kind: str, kept: Any, shown: Any) -> None:
    one = field(kind)
    qtbot.addWidget(one)
    heard: list[str] = []
    one.left.connect(heard.append)
    one.show_kept(kept, fresh=True)
    one.commit()
    assert (one.value(), heard) == (shown, [])
    assert one.editor().accessibleName().startswith("Weight")


def test_a_line_field_reports_a_changed_text_when_it_is_left(qtbot: QtBot) -> None:
    one = LineField("tare", "Tare")
    qtbot.addWidget(one)
    one.show_kept("4")
    with qtbot.waitSignal(one.left) as left:
        one.edit.clear()
        qtbot.keyClicks(one.edit, " 5 ")
        qtbot.keyClick(one.edit, Qt.Key.Key_Return)
    assert left.args == ["tare"]
    assert one.value() == "5"


@pytest.mark.parametrize(("kind", "pressed"), [("yes-no", True), ("choice", "c"), ("many", ("a", "b"))])
def test_other_fields_report_a_change_at_once(qtbot: QtBot, kind: str, pressed: Any) -> None:
    one = field(kind)
    qtbot.addWidget(one)
    one.show_kept(("a",) if kind == "many" else None, fresh=True)
    with qtbot.waitSignal(one.left):
        if isinstance(one, YesNoField):
            one.box.click()
        elif isinstance(one, ChoiceField):
            one.box.setCurrentIndex(2)
        elif isinstance(one, ManyField):
            one.boxes["b"].click()
    assert one.value() == pressed


def test_unsaved_text_stays_until_another_record_is_shown(qtbot: QtBot) -> None:
    one = LineField("x", "Weight")
    qtbot.addWidget(one)
    one.show_kept("4")
    one.edit.setText("much")
    one.show_kept("4")
    assert one.value() == "much"
    one.say("stop", "Expected a number.")
    one.show_kept("6", fresh=True)
    assert (one.value(), one.fault.isHidden()) == ("6", True)
    one.show_kept("7")
    assert one.value() == "7"


def test_a_fault_is_shown_below_and_reaches_screen_readers(qtbot: QtBot) -> None:
    one = LineField("x", "Weight")
    qtbot.addWidget(one)
    one.show()
    one.say("look", "Needed.")
    assert (one.fault.label.text(), one.fault.isVisible()) == ("Needed.", True)
    assert one.edit.accessibleDescription() == "Needed."
    one.say()
    assert not one.fault.isVisible()


def test_scrolling_over_a_choice_does_not_change_it(qtbot: QtBot) -> None:
    one = ChoiceField("x", "Kind", OPTIONS)
    qtbot.addWidget(one)
    wheel = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(), QPoint(0, -120), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(one.box, wheel)
    assert one.value() == "a"


@pytest.fixture
def form(qtbot: QtBot) -> Form:
    made = Form([LineField("a", "A"), "Heading", LineField("b", "B")])
    qtbot.addWidget(made)
    made.show_values({"a": "1", "b": "2"}, fresh=True)
    return made


def put(form: Form, **values: str) -> None:
    for name, value in values.items():
        form.fields[name].put(value)


def test_a_fault_elsewhere_does_not_hold_back_the_field_that_was_left(form: Form) -> None:
    put(form, a="11", b="x")
    saved = []

    def save(values: Any) -> list[Fault]:
        faults = [Fault("b", "Expected a number.")] if values["b"] == "x" else []
        if not faults:
            saved.append(dict(values))
        return faults

    assert not keep(form, "a", save)
    assert saved == [{"a": "11", "b": "2"}]
    assert form.fields["b"].fault.label.text() == "Expected a number."
    assert form.fields["b"].value() == "x"
    put(form, b="22")

    def save_and_show(values: Any) -> list[Fault]:
        form.show_values({"a": "11", "b": "22.00"})  # as the screen does after the act
        return save(values)

    assert keep(form, "b", save_and_show)
    assert form.fields["b"].value() == "22.00"
    assert saved[-1] == {"a": "11", "b": "22"}
    assert form.fields["b"].fault.isHidden()


def test_a_missing_value_has_a_softer_mark(form: Form) -> None:
    keep(form, "a", lambda _values: [Fault("a", "Needed.", kept=True)])
    assert form.fields["a"].fault.label.role == "look"


def test_a_refusal_leaves_the_form_as_it_is(form: Form) -> None:
    form.show_faults([("b", "stop", "Old.")])
    assert not keep(form, "a", lambda _values: None)
    assert form.fields["b"].fault.label.text() == "Old."


def test_sound_is_on_until_it_is_turned_off(monkeypatch: pytest.MonkeyPatch) -> None:
    heard: list[int] = []
    monkeypatch.setattr(QApplication, "beep", lambda: heard.append(1))
    sound.sound()
    sound.choose_sound(False)
    sound.sound()
    assert (heard, sound.is_sound_on()) == ([1], False)
    sound.choose_sound(True)
    assert sound.loudness() == "on"
    sound.choose_loudness("loud")
    sound.choose_sound(True)
    assert sound.loudness() == "loud"
