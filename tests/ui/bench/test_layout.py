"""The face of the bench: large enough, nothing cut, named, heard."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible, QFontMetricsF
from PySide6.QtWidgets import QAbstractButton, QLabel, QLineEdit, QWidget

from desk.ui.kit import type as typeface

TEN_MM = 10 / 25.4 * 96  # pixels of a screen with 96 dots an inch


def test_louder_plays_the_sound_twice(bench, monkeypatch):
    heard = []
    monkeypatch.setattr("desk.ui.bench.sounds.sound", lambda: heard.append(1))
    monkeypatch.setattr("desk.ui.bench.sounds.loudness", lambda: "loud")
    bench.screen.sounds._timer.setInterval(1)
    bench.screen.sounds.play("look")
    bench.qtbot.waitUntil(lambda: not bench.screen.sounds._timer.isActive())
    assert len(heard) == 4


def test_the_ruler_moves_while_the_weight_settles(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3", 0.2)
    picture = bench.screen.scale_card.ruler.picture
    assert bench.case("1043").weighing is None
    assert picture.weight == pytest.approx(1.3)
    assert "$0.82" in [pennant.text for pennant in picture.pennants]


@pytest.mark.parametrize(("number", "typed", "beeps"), [("1043", "1.3", 1), ("1049", "1.0", 2)])
def test_one_sound_for_ready_and_two_for_a_check(bench, monkeypatch, number, typed, beeps):
    heard = []
    monkeypatch.setattr("desk.ui.bench.sounds.sound", lambda: heard.append(1))
    monkeypatch.setattr(bench.screen.sounds._timer, "interval", lambda: 1)
    bench.screen.sounds._timer.setInterval(1)
    bench.open(number)
    bench.press("t" + typed)
    bench.enter()
    bench.qtbot.waitUntil(lambda: not bench.screen.sounds._timer.isActive())
    assert len(heard) == beeps


def test_sounds_can_be_turned_off(bench):
    assert bench.screen.sounds.are_on
    bench.press("o")
    assert not bench.screen.sounds.are_on
    assert not bench.screen.side.sounds.isChecked()


def test_the_weight_is_announced_and_the_focus_stays(bench, monkeypatch):
    messages = []
    monkeypatch.setattr(QAccessible, "updateAccessibility", lambda event: messages.append(event.message()))
    bench.pan("0")
    bench.open("1043")
    focus = bench.screen.focusWidget()
    bench.pan("1.3")
    assert messages == ["1043, 2 oz, letter, stamped, ready"]
    assert bench.screen.focusWidget() is focus


def test_the_number_has_capitals_ten_millimeters_high(bench):
    bench.open("1043")
    bench.press("t1.3")
    bench.enter()
    box = bench.screen.write.figure
    for words, size, where in zip(("1043", "2 oz"), (typeface.NUMBER, typeface.OUNCES), box.boxes(), strict=True):
        assert QFontMetricsF(box.font_for(words, size, where)).capHeight() >= TEN_MM


@pytest.mark.parametrize(("points", "width", "height"), [(10.0, 1024, 560), (10.0, 1280, 720), (20.0, 1024, 440)])
def test_no_text_on_the_bench_is_cut_off(bench, qapp, points, width, height):
    """Each text has the width it asks for, inside what can be scrolled; rows of lists are cut with dots on purpose."""
    font = qapp.font()
    try:
        larger = qapp.font()
        larger.setPointSizeF(points)
        qapp.setFont(larger)
        bench.screen.hide()
        fresh = type(bench)(bench.qtbot, bench.desk)
        fresh.screen.resize(width, height)
        fresh.open("1049")
        fresh.press("t1.0")
        fresh.enter()

        def none_is_cut():
            assert [words for words, fits in texts_of(fresh.screen) if not fits] == []

        fresh.qtbot.waitUntil(none_is_cut)
    finally:
        qapp.setFont(font)


def texts_of(screen):
    """Every text that can be seen or scrolled to, and whether it has its room."""
    for label in screen.findChildren(QLabel):
        if label.isVisible() and label.text():
            high = label.heightForWidth(label.width()) if label.wordWrap() else label.sizeHint().height()
            wide = label.wordWrap() or label.width() >= label.sizeHint().width()
            yield label.text(), wide and label.height() >= high and inside(label)
    for button in screen.findChildren(QAbstractButton):
        if button.isVisible() and button.accessibleName():
            room = button.width() >= button.minimumSizeHint().width() and button.height() >= button.sizeHint().height()
            yield button.accessibleName(), room and inside(button)


def inside(widget: QWidget) -> bool:
    """True when no parent cuts it at its right edge."""
    parent = widget.parentWidget()
    while parent is not None and not parent.isWindow():
        if widget.mapTo(parent, QPoint(widget.width(), 0)).x() > parent.width() + 1:
            return False
        parent = parent.parentWidget()
    return True


def test_every_control_has_a_name_and_none_is_out_of_reach(bench):
    bench.open("1043")
    controls = [*bench.screen.findChildren(QAbstractButton), *bench.screen.findChildren(QLineEdit)]
    nameless = [control for control in controls if control.isVisible() and not control.accessibleName()]
    assert nameless == []
    assert all(control.focusPolicy() & Qt.FocusPolicy.TabFocus for control in controls if control.isVisible())


def test_no_two_acts_share_a_key(bench):
    keys = [key for act in bench.screen.acts() if act.do for key in act.keys.split()]
    assert len(keys) == len(set(keys))
    assert not any(key.isdigit() for key in keys)


def test_rows_and_actions_can_be_clicked_too(bench):
    bench.qtbot.mouseClick(bench.screen.pieces.next.buttons[1], Qt.MouseButton.LeftButton)
    assert bench.screen.write.figure.figure.number == "1042"
    bench.qtbot.mouseClick(bench.screen.write.stiff, Qt.MouseButton.LeftButton)
    assert bench.screen.write.stiff.isChecked()
    bench.qtbot.mouseClick(bench.screen.scale_card.type_word, Qt.MouseButton.LeftButton)
    assert bench.screen.weight_field.line.hasFocus()


@pytest.mark.parametrize(("pose", "number"), [("full", "1043"), ("trouble", "1049")])
def test_the_bench_has_poses_for_pictures(bench, weigh_demo, pose, number):
    weigh_demo()
    bench.screen.pose(pose)
    assert bench.screen.write.figure.figure.number == number
    assert bench.screen.scale_card.take.isVisible() is (pose == "trouble")


@pytest.mark.parametrize(("points", "width", "height"), [(10.0, 1366, 640), (10.0, 1024, 540), (20.0, 1024, 415)])
@pytest.mark.parametrize("pose", ["full", "trouble"])
def test_number_ounces_result_stamps_and_scale_are_in_sight(bench, qapp, weigh_demo, points, width, height, pose):
    """The heights are those that a window of 768 or 640 pixels leaves the bench with a strip showing."""
    weigh_demo()
    font = qapp.font()
    try:
        larger = qapp.font()
        larger.setPointSizeF(points)
        qapp.setFont(larger)
        bench.screen.hide()
        fresh = type(bench)(bench.qtbot, bench.desk)
        fresh.screen.resize(width, height)
        fresh.screen.pose(pose)

        def all_are_in_sight():
            area = fresh.screen._scrolled_middle.viewport()
            assert fresh.screen._scrolled_middle.verticalScrollBar().maximum() == 0
            shown = [fresh.screen.write.figure, fresh.screen.stamps.glance, fresh.screen.stamps.soft]
            shown += [fresh.screen.scale_card.weight, fresh.screen.write.to]
            shown += [fresh.screen.scale_card.says] if pose == "trouble" else []
            assert all(one.isVisible() for one in shown)
            assert all(one.mapTo(area, QPoint(0, one.height())).y() <= area.height() for one in shown)

        bench.qtbot.waitUntil(all_are_in_sight)
    finally:
        qapp.setFont(font)
