"""The whole demo weighed over the virtual scale: its own process, a real pseudo-terminal, keys alone."""

import sys

import pytest
from PySide6.QtCore import Qt

from desk.app.scale import attach_scale
from desk.domain.weight import Weight
from desk.intake.weights import read_weights
from desk.session.scale.choice import save_scale
from desk.session.scale.virtual_pan import demo_weights
from desk.ui.bench.view import BenchScreen
from tests.ui.bench.conftest import SPEED

LIGHTEST = Weight.of("0.3", "oz")
pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")


@pytest.fixture
def screen(qtbot, virtual_desk):
    screen = BenchScreen(virtual_desk)
    screen.add_keys()
    qtbot.addWidget(screen)
    screen.resize(1280, 720)
    screen.show()
    screen.activateWindow()
    with qtbot.waitActive(screen):
        pass
    screen.sounds.switch()
    screen.arrive()
    qtbot.waitUntil(lambda: screen.scale.live.state == "empty")
    return screen


def type_number(qtbot, screen, number):
    for sign in number:
        qtbot.keyClicks(screen.focusWidget(), sign)
    qtbot.keyClick(screen.focusWidget(), Qt.Key.Key_Return)


def type_weight(qtbot, screen, shown):
    """Below three steps of the scale nothing settles, because an empty pan may show as much."""
    qtbot.keyClicks(screen, "t")
    qtbot.keyClicks(screen.weight_field.line, f"{shown.value} {shown.unit}")
    qtbot.keyClick(screen.weight_field.line, Qt.Key.Key_Return)


def weighed(screen):
    verdict = screen.verdict
    return verdict is not None and verdict.case.weighing is not None


@pytest.mark.timeout(120)
def test_the_whole_demo_is_weighed_by_keyboard(qtbot, screen, resources):
    desk = screen.desk
    shop = desk.pile.terms.shop
    for row in read_weights(resources / "demo" / "weights.csv", shop=shop):
        reference = row.key.reference if row.key.piece > 1 else row.key.order
        if desk.pile.find(row.key.order) is None or desk.pile.find(reference) in map(
            desk.pile.find, [f"{last.number}" for last in screen.pieces.last.rows]
        ):
            continue  # a weight with no order, or the same piece a second time
        type_number(qtbot, screen, reference)
        if row.weighing.shown.weight < LIGHTEST:
            type_weight(qtbot, screen, row.weighing.shown)
            continue
        qtbot.keyClicks(screen, "p")

        def is_weighed(reference=reference):
            assert weighed(screen), (reference, screen.write.figure.figure.number, screen.scale.live)

        qtbot.waitUntil(is_weighed, timeout=5000)
        qtbot.keyClicks(screen, "l")
        qtbot.waitUntil(lambda: screen.scale.live.state == "empty", timeout=5000)
    got = {v.case.key: v.case.weighing.shown.weight for v in desk.pile.verdicts.values() if v.case.weighing}
    expected = {key: weight for key, weight in demo_weights(resources / "demo", shop).items() if key in got}
    assert len(got) >= 58
    assert got == {key: Weight(weight.grams) for key, weight in expected.items()}


@pytest.mark.timeout(60)
def test_autoplay_weighs_pieces_until_it_is_stopped(qtbot, screen):
    screen.strip._pause.setInterval(20)
    qtbot.keyClicks(screen, "j")
    qtbot.waitUntil(lambda: len(screen.pieces.last.rows) == 4, timeout=15000)
    qtbot.keyClicks(screen, "j")
    assert screen.strip.plays is False
    assert screen.strip.play.text() == "autoplay"


@pytest.mark.timeout(60)
def test_p_lifts_the_weighed_piece_and_puts_the_next_one_on(qtbot, screen):
    for expected in ("1041", "1042", "1043"):
        qtbot.keyClicks(screen, "p")
        qtbot.waitUntil(
            lambda expected=expected: weighed(screen) and screen.write.figure.figure.number == expected, timeout=5000
        )
    assert len(screen.pieces.last.rows) == 3


def test_the_scale_is_marked_as_virtual_and_ends_with_the_window(qtbot, screen):
    from PySide6.QtWidgets import QLabel

    assert screen.strip.isVisible()
    assert "Virtual scale" in [label.text() for label in screen.strip.findChildren(QLabel)]
    screen.desk.closing.emit()
    qtbot.waitUntil(lambda: screen.scale.live.state == "no scale")


@pytest.mark.timeout(60)
@pytest.mark.parametrize("kind", ["virtual", "virtual-usb"])
def test_a_virtual_scale_chosen_while_the_program_runs_has_its_keys_at_once(qtbot, desk, kind):
    attach_scale(desk, SPEED)
    screen = BenchScreen(desk)
    screen.add_keys()
    qtbot.addWidget(screen)
    screen.show()
    screen.activateWindow()
    with qtbot.waitActive(screen):
        pass
    screen.sounds.switch()
    screen.arrive()
    qtbot.keyClicks(screen, "jp")  # nothing to put anything on yet
    assert (screen.strip.plays, screen.piece) == (False, None)
    save_scale(desk.sitting, {"kind": kind})
    assert screen.strip.isVisible()
    assert {"P", "L", "J"} <= {act.keys for act in screen.acts()}
    qtbot.waitUntil(lambda: screen.scale.live.state == "empty", timeout=10_000)
    qtbot.keyClicks(screen, "p")
    qtbot.waitUntil(lambda: weighed(screen), timeout=10_000)
    qtbot.keyClicks(screen, "j")
    save_scale(desk.sitting, {"kind": "none"})
    qtbot.keyClicks(screen, "p")
    assert (screen.strip.plays, screen.strip.isVisible()) == (False, False)
    assert not {"P", "L", "J"} & {act.keys for act in screen.acts()}


def test_a_real_store_has_no_virtual_scale(qtbot, desk):
    attach_scale(desk)
    screen = BenchScreen(desk)
    qtbot.addWidget(screen)
    screen.show()
    assert desk.scale.pan is None
    assert not screen.strip.isVisible()
    assert not {"P", "L", "J"} & {act.keys for act in screen.acts()}
