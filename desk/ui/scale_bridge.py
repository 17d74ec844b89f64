"""Carry the scale's readings from its thread to the session, and the session's news to the screens, as signals.

The reading thread calls `post` and `post_raw`, and nothing else here.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot

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
    """Where readings come from; it starts again by itself when another scale is chosen."""

    def listen(self, on: bool) -> None:
        """Only listen to the port and bring what arrives raw, or read weights again."""
        ...


class ScaleBridge(QObject):
    """One for each desk. `pan` is the virtual scale's pan, None with a real scale or none."""

    told = Signal(object)  # Live
    recorded = Signal(int)  # the piece whose weight is on disk now
    not_kept = Signal(int)  # the piece whose weight was refused; why has been said
    finished = Signal(int)  # the piece that was recorded and lifted
    raw = Signal(object)  # bytes as they arrive, while somebody listens
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
        """The piece whose weight the pan's is, or None."""
        return self._at.piece

    @property
    def holds_recorded(self) -> bool:
        """True while the open piece lies there with its weight recorded; `finished` comes when it is lifted."""
        return self._at.holds_recorded

    @property
    def placement(self) -> Placement:
        """What was said of the open piece."""
        return self._at.placement

    @placement.setter
    def placement(self, placement: Placement) -> None:
        """Say it before there is a weight to keep it with."""
        self._at.placement = placement

    def post(self, news: object) -> None:
        """Bring what a reading thread posts to the main thread; may be called in any thread."""
        try:
            self._heard.emit(news)
        except RuntimeError:  # the window is gone, and this thread ends in a moment
            return

    def settle_by(self, choice: ScaleChoice) -> None:
        """The scale was set up: its step, whether its flag may be trusted, and its tray."""
        from desk.session.scale.choice import settling_rule, tray_of

        self._at.settle_by(settling_rule(self._desk.pile.terms.shop.policy, choice), tray_of(choice))

    def post_raw(self, data: bytes) -> None:
        """Bring bytes to the main thread; may be called in any thread."""
        try:
            self.raw.emit(data)
        except RuntimeError:
            return

    def listen(self, on: bool) -> None:
        """Only listen to the port, or read weights again."""
        if self.source is not None:
            self.source.listen(on)

    def open(self, piece: int, placement: Placement, *, in_list: bool = False, expects_same: bool = False) -> None:
        """Give that piece what settles from now on; `in_list`: the program opened it, nobody named it.

        `expects_same`: its contents are those of the piece before, so the same weight again is no surprise.
        """
        self._at.open(piece, placement, self.clock(), in_list=in_list, expects_same=expects_same)

    def close(self, placement: Placement | None = None) -> None:
        """Let what settles from now on wait for a number. `placement` is shown of a piece that takes no weight."""
        self._at.close(self.clock())
        self._at.placement = placement or self._at.placement

    def forget_weight(self) -> None:
        """The weight of the open piece was taken back: the next one to settle is its own again."""
        self._at.forget_weight()

    def take(self) -> bool:
        """The person says that the asked weight is right."""
        return self._at.take(self.clock())

    def type_weight(self, shown: Shown) -> bool:
        """A weight was typed for the open piece; False when it was not kept."""
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
            self._desk.happened.emit(Event(news.sentence, "stop"))
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
        """What is wrong with the scale stands on a strip as long as it is so; never a dialogue."""
        way = ("Set up the scale", partial(self._desk.screen_asked.emit, "Setup", "Scale"))
        fault = OngoingState(live.fault, live.mark, (way,)) if live.fault else None
        self._desk.state(STRIP, fault)

    def _tick(self) -> None:
        self._at.tick(self.clock())
