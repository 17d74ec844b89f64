"""The whole demo session in a real window with the keyboard alone: 60 pieces, a virtual scale, at two sizes of screen.

What comes out is compared with the weights the demo comes with, and with the papers of a headless run over them.
"""

import csv
import sys
from datetime import UTC, datetime

import pypdfium2
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from desk.app.run import run
from desk.app.scale import attach_scale
from desk.app.wiring import screens_of, words
from desk.domain.codes import Code
from desk.domain.status import PieceStatus
from desk.domain.weight import Weight
from desk.intake.weights import read_weights
from desk.scales.pan import Pan
from desk.session.bench.bench_view import bench_view
from desk.session.papers.kinds import Paper
from desk.session.papers.making import PaperRequest, make_paper, press_for
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.print_check import check_printable
from desk.session.scale.virtual_pan import demo_weights
from desk.store.tables.hand_overs import left_at
from desk.ui.bridge import OngoingState
from desk.ui.window import Window
from tests.conftest import StillClock
from tests.ui.bench.conftest import SPEED
from tests.ui.test_xdotool import COLUMNS, weights_of

LIGHTEST = Weight.of("0.3", "oz")  # below three steps of the scale nothing settles
pytestmark = [
    pytest.mark.window,
    pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there"),
]


@pytest.fixture
def clock():
    """A clock on the mailing date."""
    return StillClock(datetime(2026, 11, 25, 12, 0, tzinfo=UTC))


class Hands:
    """Keys on whatever has the focus, as a keyboard sends them."""

    def __init__(self, qtbot, window):
        self.qtbot, self.window = qtbot, window

    def type(self, text):
        for one in text:
            self.qtbot.keyClicks(QApplication.focusWidget() or self.window, one)

    def enter(self):
        self.qtbot.keyClick(QApplication.focusWidget() or self.window, Qt.Key.Key_Return)

    def chord(self, key, *, shift=False):
        focus, held = QApplication.focusWidget() or self.window, Qt.KeyboardModifier.ControlModifier
        self.qtbot.keyClick(focus, key, held | Qt.KeyboardModifier.ShiftModifier if shift else held)


@pytest.fixture(params=[(1366, 768), (1024, 640)], ids=["1366x768", "1024x640"])
def session(request, qtbot, desk):
    desk.is_demo = True
    attach_scale(desk, SPEED)
    desk.state("demo", OngoingState("Demo shop. Nothing you do here is saved.", "note", is_small=True))
    window = Window(words())
    qtbot.addWidget(window)
    window.seat(desk, screens_of(desk))
    window.resize(*request.param)
    window.show()
    window.activateWindow()
    with qtbot.waitActive(window):
        pass
    bench = window.screen_of("Bench")
    bench.sounds.switch()
    yield window, bench, Hands(qtbot, window)
    desk.closing.emit()


def in_sight(window, widget):
    """True when a widget is drawn, whole, inside the window and everything that scrolls around it."""
    if not widget.isVisible():
        return False
    corners = (QPoint(0, 0), QPoint(widget.width() - 1, widget.height() - 1))
    parent = widget.parentWidget()
    while parent is not None:
        if not all(parent.rect().adjusted(-1, -1, 1, 1).contains(widget.mapTo(parent, corner)) for corner in corners):
            return False
        parent = None if parent is window else parent.parentWidget()
    return True


def confirm_mailer(bench, hands):
    """A guessed mailer is the first issue to check; one key confirms it, as the weights file does by naming it."""
    looks = bench_view(bench.verdict, bench.desk.pile.terms).looks
    if looks[:1] == (Code.MAILER_GUESSED,):
        hands.type("y")


@pytest.mark.timeout(300)
def test_sixty_pieces_are_weighed_by_keyboard_with_everything_in_sight(qtbot, session, desk, resources, tmp_path):
    window, bench, hands = session
    hands.chord(Qt.Key.Key_2)
    qtbot.waitUntil(lambda: bench.isVisible() and bench.scale.live.pan is Pan.EMPTY, timeout=10_000)
    shop, done = desk.pile.terms.shop, set()
    for row in read_weights(resources / "demo" / "weights.csv", shop=shop):
        reference = row.key.reference if row.key.piece > 1 else row.key.order
        if row.key in done or desk.pile.find(row.key.order) is None:
            continue
        done.add(row.key)
        hands.type(reference)
        hands.enter()
        if row.weighing.shown.weight < LIGHTEST:
            hands.type(f"t{row.weighing.shown.value} {row.weighing.shown.unit}")
            hands.enter()
        else:
            hands.type("p")
            qtbot.waitUntil(lambda: bench.verdict is not None and bench.verdict.case.weighing is not None, timeout=8000)
            hands.type("l")
            qtbot.waitUntil(lambda: bench.scale.live.pan is Pan.EMPTY, timeout=8000)
        confirm_mailer(bench, hands)
        assert in_sight(window, bench.write.figure), reference
        if bench.verdict.stamps is not None:
            assert in_sight(window, bench.stamps.soft), reference
            assert in_sight(window, bench.stamps.stamps) or not bench.stamps.stamps.isVisible(), reference
    got = {v.case.key: v.case.weighing.shown.weight for v in desk.pile.verdicts.values() if v.case.weighing}
    expected = {key: weight for key, weight in demo_weights(resources / "demo", shop).items() if key in got}
    assert len(got) >= 58
    assert got == {key: Weight(weight.grams) for key, weight in expected.items()}
    assert len(list(weights_of(desk))) == len(got)
    compare_with_run(desk, resources, tmp_path)
    hand_over_by_keys(window, hands, desk)


def compare_with_run(desk, resources, folder):
    """What the window decided, and its hand-over sheet, are those of a headless run over the same weights."""
    weights = folder / "weights.csv"
    with weights.open("w", newline="", encoding="utf-8") as file:
        table = csv.DictWriter(file, COLUMNS)
        table.writeheader()
        table.writerows(weights_of(desk))
    arguments = ["--orders", str(resources / "demo" / "orders.csv"), "--weights", str(weights)]
    arguments += ["--shop", str(resources / "demo" / "shop.toml"), "--out", str(folder / "out"), "--date", "2026-11-25"]
    assert run(arguments) == 1
    with (folder / "out" / "pieces.csv").open(encoding="utf-8-sig", newline="") as file:
        rows = {(row["order"], int(row["piece"])): row for row in csv.DictReader(file)}
    assert len(rows) == len(desk.pile.verdicts)
    terms = desk.pile.terms
    press = press_for(Paper.LABELS, terms, paper_settings(desk.sitting), desk.resources)
    for verdict in check_printable(desk.pile.batch(), terms, press.fonts, press).verdicts:
        row, offer = rows[verdict.case.key.order, verdict.case.key.piece], verdict.offer
        decided = (offer.service, offer.price.text()) if offer else ("", "")
        assert (row["service"], row["postage"]) == decided, verdict.case.key
        assert row["stands"] == str(verdict.status), verdict.case.key
    made = make_paper(PaperRequest(Paper.HAND_OVER, desk.pile.batch(), terms), desk.resources)
    assert read_text(made.pdf) == read_text((folder / "out" / "hand-over.pdf").read_bytes())


def read_text(pdf):
    """The text of every page."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def hand_over_by_keys(window, hands, desk):
    """Everything ready leaves by one key, is listed for its day, and is in the store."""
    ready = {number for number, verdict in desk.pile.verdicts.items() if verdict.status is PieceStatus.READY}
    hands.chord(Qt.Key.Key_5)
    assert window.screen_open == "Hand-over"
    hands.chord(Qt.Key.Key_D, shift=True)
    with desk.sitting.store.reading() as conn:
        gone = left_at(conn).keys()
    assert ready
    assert gone == ready
    hands.chord(Qt.Key.Key_L)
    assert len([row for row in window.screen_of("Hand-over").model.rows if row[1]]) == len(ready)
    hands.chord(Qt.Key.Key_4)
    assert window.screen_open == "Papers"
