"""The scale of a sitting: it is the one chosen, starts again when another is, and listens when asked to."""

from __future__ import annotations

import sys
import threading
from decimal import Decimal

import pytest
from PySide6.QtCore import QObject

from desk.app.scale import attach_scale
from desk.app.virtual_scale import VirtualScaleProcess
from desk.domain.weight import Shown, WeightUnit
from desk.session.pile.packing import Placement
from desk.session.scale.choice import keep_tray, save_scale, usual_scale
from desk.session.scale.listening import Listening
from desk.session.undo import undo
from desk.store.tables import pieces
from tests.ui.conftest import (  # noqa: F401 - fixtures
    demo,
    demo_store,
    desk,
    empty_desk,
    looks_the_same,
    open_desk,
    rulebook,
)

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")


class Ear(QObject):
    """Lives in the main thread, as every receiver of a thread's news must."""

    def __init__(self):
        super().__init__()
        self.listening, self.threads, self.pieces = Listening(), set(), 0

    def hear(self, data):
        self.pieces += 1
        self.threads.add(threading.get_ident())
        self.listening.hear(data)


@pytest.fixture
def plugged():
    """A virtual scale on a port of its own, as a real one would be plugged in; it shows 4.2 oz."""
    scale = VirtualScaleProcess(speed=4)
    scale.send("place 4.2\n")
    yield scale
    scale.close()


def serial(scale, **more):
    return {"kind": "serial", "port": str(scale.link), "preset": "status-prefixed"} | more


def attached(desk, speed=1.0):  # noqa: F811
    attach_scale(desk, speed)
    return desk.scale


def strips(desk):  # noqa: F811
    return [state.words for state in desk.states]


def test_a_store_has_no_scale_until_one_is_chosen(qtbot, empty_desk, plugged):  # noqa: F811
    bridge = attached(empty_desk)
    assert bridge.live.state == "no scale"
    save_scale(empty_desk.sitting, serial(plugged))
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)


def test_undo_removes_the_chosen_scale(qtbot, empty_desk, plugged):  # noqa: F811
    bridge = attached(empty_desk)
    save_scale(empty_desk.sitting, serial(plugged))
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)
    undo(empty_desk.sitting)
    qtbot.waitUntil(lambda: bridge.live.says.startswith("No scale"), timeout=5_000)


def test_a_strip_reports_a_missing_port_and_opens_setup(qtbot, empty_desk, tmp_path):  # noqa: F811
    attached(empty_desk)
    asked = []
    empty_desk.screen_asked.connect(lambda *where: asked.append(where))
    save_scale(empty_desk.sitting, {"kind": "serial", "port": str(tmp_path / "none")})
    qtbot.waitUntil(lambda: any("not connected" in words for words in strips(empty_desk)), timeout=5_000)
    (state,) = empty_desk.states
    assert state.mark == "look"
    state.ways[0][1]()
    assert asked == [("Setup", "Scale")]
    save_scale(empty_desk.sitting, {"kind": "none"})
    qtbot.waitUntil(lambda: strips(empty_desk) == [], timeout=5_000)


def test_a_strip_reports_the_wrong_protocol(qtbot, empty_desk, plugged):  # noqa: F811
    attached(empty_desk)
    save_scale(empty_desk.sitting, serial(plugged, preset="framed-words"))
    qtbot.waitUntil(lambda: any("can't read" in words for words in strips(empty_desk)), timeout=10_000)


def test_listening_shows_bytes_but_records_no_weights(qtbot, empty_desk, plugged):  # noqa: F811
    bridge, ear = attached(empty_desk), Ear()
    listening = ear.listening
    bridge.raw.connect(ear.hear)
    save_scale(empty_desk.sitting, serial(plugged, preset="framed-words"))
    bridge.listen(True)
    qtbot.waitUntil(lambda: bool(listening.proposals()), timeout=10_000)
    assert listening.proposals()[0].preset == "status-prefixed"
    assert ear.threads == {threading.get_ident()}
    save_scale(empty_desk.sitting, serial(plugged))
    arrived = ear.pieces
    qtbot.waitUntil(lambda: ear.pieces > arrived + 5, timeout=10_000)
    assert bridge.live.words == ""
    bridge.listen(False)
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)


def test_listening_to_a_usb_scale_records_no_weights(qtbot, empty_desk):  # noqa: F811
    bridge, ear = attached(empty_desk, 8.0), Ear()
    bridge.raw.connect(ear.hear)
    save_scale(empty_desk.sitting, {"kind": "virtual-usb"})
    qtbot.waitUntil(lambda: bridge.live.state == "empty", timeout=10_000)
    bridge.listen(True)
    bridge.source._virtual.send("place 4.2\n")
    qtbot.waitUntil(lambda: ear.pieces > 20, timeout=10_000)
    assert bridge.live.words != "4.2 oz"
    bridge.listen(False)
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)


def test_setting_a_tray_does_not_restart_the_scale(qtbot, empty_desk, plugged):  # noqa: F811
    bridge = attached(empty_desk)
    save_scale(empty_desk.sitting, serial(plugged))
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)
    thread = bridge.source._thread
    keep_tray(empty_desk.sitting, Shown(Decimal("1.2"), WeightUnit.OUNCE, Decimal("0.1")))
    qtbot.waitUntil(lambda: bridge.live.words == "3.0 oz", timeout=5_000)
    assert bridge.source._thread is thread


def test_a_strip_marks_the_virtual_scale_in_a_real_store(qtbot, empty_desk):  # noqa: F811
    bridge = attached(empty_desk)
    assert bridge.pan is None
    save_scale(empty_desk.sitting, {"kind": "virtual"})
    assert strips(empty_desk) == ["Virtual scale: it is not real, and its weights are invented."]
    qtbot.waitUntil(lambda: bridge.live.state == "empty", timeout=10_000)
    save_scale(empty_desk.sitting, {"kind": "none"})
    assert (bridge.pan, strips(empty_desk)) == (None, [])


@pytest.mark.parametrize("choice", [{"kind": "virtual-usb"}, {"kind": "virtual", "preset": "poll-etx"}])
def test_a_weight_from_any_virtual_scale_reaches_the_store(qtbot, desk, choice):  # noqa: F811
    desk.is_demo = True
    bridge = attached(desk, 3.0)
    save_scale(desk.sitting, choice)
    qtbot.waitUntil(lambda: bridge.live.state == "empty", timeout=10_000)
    piece = desk.pile.find("1041")
    with qtbot.waitSignal(bridge.recorded, timeout=10_000):
        bridge.open(piece, Placement("No. 10 envelope"))
        assert bridge.pan.put(desk.pile.verdicts[piece].case.key)
    with desk.sitting.store.reading() as conn:
        shown = pieces.piece(conn, piece).weighing.shown
    assert (shown.value, shown.unit, shown.division) == (Decimal("0.9"), WeightUnit.OUNCE, Decimal("0.1"))
    with qtbot.waitSignal(bridge.finished, timeout=10_000):
        bridge.pan.lift()


def test_the_virtual_usb_scale_can_be_unplugged(qtbot, empty_desk):  # noqa: F811
    bridge = attached(empty_desk, 8.0)
    save_scale(empty_desk.sitting, {"kind": "virtual-usb"})
    qtbot.waitUntil(lambda: bridge.live.state == "empty", timeout=10_000)
    bridge.source._virtual.send("pull 16\n")
    qtbot.waitUntil(lambda: any("plug it in" in words.lower() for words in strips(empty_desk)), timeout=10_000)
    qtbot.waitUntil(lambda: bridge.live.state == "empty", timeout=10_000)
    empty_desk.closing.emit()
    assert "virtual usb" not in {thread.name for thread in threading.enumerate()}


def test_where_there_are_no_terminals_the_demo_has_the_virtual_scale_on_usb(monkeypatch):
    monkeypatch.setattr(sys, "platform", "win32")
    assert usual_scale(is_demo=True).kind == "virtual-usb"
    assert usual_scale(is_demo=False).kind == "none"


def test_the_demo_has_the_virtual_scale_and_may_have_another(qtbot, desk, plugged):  # noqa: F811
    desk.is_demo = True
    bridge = attached(desk)
    assert bridge.pan is not None
    save_scale(desk.sitting, serial(plugged))
    assert bridge.pan is None
    qtbot.waitUntil(lambda: bridge.live.words == "4.2 oz", timeout=10_000)


def test_closing_stops_the_reading_thread_and_the_process_of_the_scale(qtbot, empty_desk):  # noqa: F811
    bridge = attached(empty_desk)
    save_scale(empty_desk.sitting, {"kind": "virtual"})
    process, thread = bridge.source._virtual._process, bridge.source._thread
    empty_desk.closing.emit()
    assert process.poll() is not None
    assert not thread._thread.is_alive()
