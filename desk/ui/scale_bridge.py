"""Carry readings from the scale's thread to the session, and the session's news to the screens, as signals.

The reading thread calls `post` and `post_raw`, and nothing else here.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot

from desk.domain.severity import Severity
from desk.ui.bridge import Desk, Event, OngoingState

if TYPE_CHECKING:  # the session is only imported after the first paint
    from desk.domain.weight import Shown
    from desk.session.pile.packing import Placement
    from desk.session.scale.at_the_scale import Live, ScaleNews
    from desk.session.scale.choice import ScaleChoice
    from desk.session.scale.virtual_pan import VirtualPan

TICK_MS = 250
STRIP = "scale"
HOLD_BACK_MS = 100


class Source(Protocol):
    """The source of readings; it restarts when another scale is chosen."""

    def listen(self, on: bool) -> None:
        """Only listen to the port and pass on raw bytes, or read weights again."""
        ...


class ScaleBridge(QObject):
    """The bridge of one desk. `pan` is the virtual scale's pan; None with a real scale or none."""

    told = Signal(object)  # Live
    recorded = Signal(int)  # the piece whose weight is on disk now
    not_kept = Signal(int)  # the piece whose weight was refused; a message explained why
    finished = Signal(int)  # the piece that was recorded and lifted
    raw = Signal(object)  # bytes as they arrive, while Setup listens
    line_read = Signal(object)  # the bytes of each reading
    _heard = Signal(object)

    def __init__(self, desk: Desk, clock: Callable[[], float] = time.monotonic) -> None:
        from desk.session.scale.at_the_scale import AtTheScale
        from desk.session.scale.step_rule import step_rule

        super().__init__(desk)
        self.pan: VirtualPan | None = None
        self.source: Source | None = None
        self.clock = clock
        self._desk = desk
        self._at = AtTheScale(desk.sitting, self._publish, step_rule(desk.pile.terms.shop.policy))
        self._ticks = QTimer(self, interval=TICK_MS)
        self._ticks.timeout.connect(self._tick)
        self._late = QTimer(self, singleShot=True, interval=HOLD_BACK_MS, timerType=Qt.TimerType.PreciseTimer)
        self._late.timeout.connect(self._tick)
        self._heard.connect(self._hear, Qt.ConnectionType.QueuedConnection)
        self.told.connect(self._show_fault)
        desk.closing.connect(self._ticks.stop)

    @property
    def live(self) -> Live:
        """What the scale shows now."""
        return self._at.live

    @property
    def piece(self) -> int | None:
        """The piece that gets the scale's weight, or None."""
        return self._at.piece

    @property
    def holds_recorded(self) -> bool:
        """True while the open piece is on the scale with its weight recorded; `finished` follows when it is lifted."""
        return self._at.holds_recorded

    @property
    def placement(self) -> Placement:
        """How the open piece is packed."""
        return self._at.placement

    @placement.setter
    def placement(self, placement: Placement) -> None:
        """Set how the open piece is packed, before it has a weight to save it with."""
        self._at.placement = placement

    def post(self, news: object) -> None:
        """Pass a reading thread's message to the main thread; may be called in any thread."""
        try:
            self._heard.emit(news)
        except RuntimeError:  # the window is gone, and this thread is about to end
            return

    def settle_by(self, choice: ScaleChoice) -> None:
        """Use changed scale settings: its step, whether its flag is trusted, and its tray."""
        from desk.session.scale.choice import settling_rule, tray_of

        self._at.settle_by(settling_rule(self._desk.pile.terms.shop.policy, choice), tray_of(choice))

    def post_raw(self, data: bytes) -> None:
        """Pass bytes to the main thread; may be called in any thread."""
        try:
            self.raw.emit(data)
        except RuntimeError:
            return

    def listen(self, on: bool) -> None:
        """Only listen to the port, or read weights again."""
        if self.source is not None:
            self.source.listen(on)

    def open(self, piece: int, placement: Placement, *, in_list: bool = False, expects_same: bool = False) -> None:
        """Give the next settled weight to that piece; `in_list`: the program opened it, you didn't name it.

        `expects_same`: it has the same contents as the piece before, so an equal weight is expected.
        """
        self._at.open(piece, placement, self.clock(), in_list=in_list, expects_same=expects_same)

    def close(self, placement: Placement | None = None) -> None:
        """Let the next settled weight wait for a number. `placement` is shown for a piece that takes no weight."""
        self._at.close(self.clock())
        self._at.placement = placement or self._at.placement

    def follow_stored(self, shown: Shown | None) -> None:
        """Follow the open piece's stored weight: after an undo the next settled one is its own again."""
        self._at.follow(shown, self.clock())

    def take(self) -> bool:
        """Use the weight being asked about."""
        return self._at.take(self.clock())

    def type_weight(self, shown: Shown) -> bool:
        """Record a typed weight for the open piece; return False when it was not saved."""
        piece = self._at.piece
        return piece is not None and self._at.record(piece, shown)

    def _publish(self, news: ScaleNews) -> None:
        from desk.session.scale.at_the_scale import Live, PieceLifted, WeightKept

        if isinstance(news, Live):
            self.told.emit(news)
        elif isinstance(news, WeightKept):
            self.recorded.emit(news.piece)
        elif isinstance(news, PieceLifted):
            self.finished.emit(news.piece)
        else:
            self._desk.happened.emit(Event(news.sentence, Severity.STOP))
            self.not_kept.emit(news.piece)

    @Slot(object)
    def _hear(self, news: object) -> None:
        if not self._ticks.isActive():
            self._ticks.start()
        self._at.hear(news, self.clock())  # type: ignore[arg-type]  # a signal carries any object
        if isinstance(news, tuple):
            self.line_read.emit(news[1].raw)
        if self._at.holds_back() and not self._late.isActive():
            self._late.start()

    def _show_fault(self, live: Live) -> None:
        """Show a scale fault on a strip while it lasts; never in a dialog."""
        way = ("Set up the scale", partial(self._desk.screen_asked.emit, "Setup", "Scale"))
        fault = OngoingState(live.fault, live.mark, (way,)) if live.fault else None
        self._desk.state(STRIP, fault)

    def _tick(self) -> None:
        self._at.tick(self.clock())
