"""In a real window: twenty pieces opened by number, put on the virtual scale, recorded; keys alone."""

import pytest
from PySide6.QtCore import Qt

from desk.app.wiring import screens_of
from desk.ui.window import Window

pytestmark = pytest.mark.window


@pytest.mark.timeout(120)
def test_twenty_pieces_are_weighed_by_keyboard(qtbot, virtual_desk):
    desk = virtual_desk
    screens = screens_of(desk)
    window = Window([title for title, _, _ in screens])
    qtbot.addWidget(window)
    window.seat(desk, screens)
    window.show()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    qtbot.keyClick(window, "2", Qt.KeyboardModifier.ControlModifier)
    bench = {title: screen for title, _, screen in screens}["Bench"]
    bench.sounds.switch()
    qtbot.waitUntil(lambda: bench.isVisible() and bench.scale.live.state == "empty")

    for number in range(1041, 1061):
        qtbot.keyClicks(window.focusWidget(), str(number)[0])
        qtbot.keyClicks(window.focusWidget(), str(number)[1:])
        qtbot.keyClick(window.focusWidget(), Qt.Key.Key_Return)
        assert bench.write.figure.figure.number == str(number)
        qtbot.keyClicks(window.focusWidget(), "p")
        qtbot.waitUntil(lambda: bool(bench.write.figure.figure.ounces), timeout=5000)
        assert bench.write.recorded.text().startswith("recorded ")
        qtbot.keyClicks(window.focusWidget(), "l")
        qtbot.waitUntil(lambda: bench.scale.live.state == "empty", timeout=5000)

    weighed = [v.case.key.order for v in desk.pile.verdicts.values() if v.case.weighing is not None]
    assert weighed == [str(number) for number in range(1041, 1061)]
