"""The face of the bench: its parts, where they stand, and what they show of the open piece."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QStackedLayout, QVBoxLayout, QWidget

from desk.domain.stands import Stand
from desk.session.bench.bench_view import BenchView, bench_view
from desk.session.bench.live_ruler import live_ruler
from desk.session.bench.one_ounce import ounce_glance
from desk.session.bench.weigh import recorded_at
from desk.session.papers.stamps_on import StampTotal, stamp_totals
from desk.session.pile.alike import Alike
from desk.session.pile.packing import Placement
from desk.session.scale.at_the_scale import Live
from desk.session.undo import is_of_the_bench
from desk.session.verdict.verdict import Verdict
from desk.ui.bench.columns import PieceColumn, WhyAndCosts, scrolled
from desk.ui.bench.fields import OneLine
from desk.ui.bench.figure import Figure
from desk.ui.bench.mailers import MailerList
from desk.ui.bench.model import last_rows, next_rows, number_of
from desk.ui.bench.scale_card import ScaleCard
from desk.ui.bench.sounds import Sounds
from desk.ui.bench.stamps_card import StampsCard
from desk.ui.bench.virtual_strip import VirtualStrip
from desk.ui.bench.write_card import WriteCard
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.scale_bridge import ScaleBridge
from desk.ui.screen import Screen
from desk.ui.trade.piece_sheet import PieceSheet

LEFT, RIGHT, NARROW = 236, 312, 1000  # pixels at 100 %; below NARROW the two columns become one


class BenchFace(Screen):
    """Everything that is shown; the keys and what they do come with `BenchScreen`."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Bench")
        self.scale = desk.scale if isinstance(desk.scale, ScaleBridge) else ScaleBridge(desk)
        self.alike = Alike(desk.pile)
        self.sounds = Sounds(self)
        self.piece: int | None = None
        self.came_next = False  # the open piece came next in the list, nobody named it
        self._view: BenchView | None = None
        self._build_parts()
        self._build_layout()
        self.goes_on = False  # the next piece opens when a recorded one is lifted

    def _build_parts(self) -> None:
        self.pieces, self.side = PieceColumn(), WhyAndCosts()
        self.write, self.scale_card, self.stamps = WriteCard(), ScaleCard(), StampsCard()
        self.mailers, self.strip = MailerList(), VirtualStrip()
        self.find_field = OneLine("Number", "1066 or 1066-2")
        self.weight_field = OneLine("Weight", "4.2 oz, 1 lb 3, 119 g")
        self.strip.setVisible(self.scale.pan is not None)

    def _build_layout(self) -> None:
        middle = QWidget()
        column = QVBoxLayout(middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(10)
        column.addWidget(self.strip)
        column.addWidget(self.find_field)
        column.addWidget(self.weight_field)
        column.addWidget(self.write, 5)
        column.addWidget(self.mailers, 4)
        column.addWidget(self.scale_card, 2)
        column.addWidget(self.stamps)
        self._side_inside = QWidget()
        self._side_column = QVBoxLayout(self._side_inside)
        self._side_column.setContentsMargins(0, 0, 8, 0)
        self._side_column.addWidget(self.side, 1)
        self._left = scrolled(self.pieces, "Next and last")
        self._right = scrolled(self._side_inside, "Why and costs")
        top, self.about = QWidget(), PieceSheet(self.desk)
        self.pages = QStackedLayout(self)
        for page in (top, self.about):
            page.setContentsMargins(32, 10, 24, 0)  # a stacked layout has none of its own
            self.pages.addWidget(page)
        line = QHBoxLayout(top)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(24)
        line.addWidget(self._left)
        line.addWidget(scrolled(middle, "The piece"), 1)
        line.addWidget(self._right)

    @property
    def verdict(self) -> Verdict | None:
        """The verdict of the open piece."""
        return None if self.piece is None else self.desk.pile.verdicts.get(self.piece)

    @property
    def placement(self) -> Placement:
        """What was said of the open piece."""
        return self.scale.placement

    def show_all(self) -> None:
        """Show everything as it is now."""
        verdict, terms = self.verdict, self.desk.pile.terms
        if self.pages.currentWidget() is self.about:
            self.about.refresh()
        self.strip.setVisible(self.scale.pan is not None)
        self._view = bench_view(verdict, terms) if verdict else None
        self.pieces.next.show_rows(next_rows(self.desk.pile, self.alike, self.piece))
        self.pieces.last.show_rows(last_rows(self.desk.pile))
        last = self.desk.steps()[0]
        step = last if self.pieces.last.rows or is_of_the_bench(last) else ""
        self.pieces.show_state(has_orders=bool(self.desk.pile.verdicts), step=step)
        self.show_placement()
        self._show_figure(verdict)
        self.side.show_piece(self._view)
        self.side.goes_on.setChecked(self.goes_on)
        self.side.sounds.setChecked(self.sounds.are_on)
        self.stamps.show_piece(self._view, ounce_glance(verdict) if verdict else None)
        low = ", ".join(f"{str(total.kind).replace('_', ' ')} {total.left} left" for total in self._low())
        self.stamps.show_low(f"Runs low: {low}" if low else "")
        self._show_alike()
        self.show_live(self.scale.live)

    def _low(self) -> Sequence[StampTotal]:
        """The kinds of stamps that run low for this pile, told where a piece is stamped."""
        if self._view is None or not self._view.stamp_words:
            return []
        pile = self.desk.pile
        return [total for total in stamp_totals(pile.counts.stamps, pile.drawer_left) if total.runs_low]

    def show_placement(self) -> None:
        """Show what it is in and how it feels."""
        verdict = self.verdict
        if verdict is None:
            self.write.show_placement(None, stiff=False)
            return
        said = self.placement.stiff
        self.write.show_placement(self.placement, stiff=verdict.contents.stiff if said is None else said)

    def _show_figure(self, verdict: Verdict | None) -> None:
        if verdict is None or self._view is None or self.piece is None:
            self.write.show_piece(Figure(hint=self._first_hint()), "", "")
            return
        hint = "Put it on the scale" if self.scale.live.is_connected else "Press T to type the weight"
        figure = Figure(number_of(verdict), self._view.figure, hint)
        self.write.show_piece(figure, self._view.to, self._recorded_words(verdict))

    def _first_hint(self) -> str:
        if not self.desk.pile.verdicts:
            return "No orders yet: Ctrl+1 takes a file in"
        return "Type a number, or N for the next"

    def _recorded_words(self, verdict: Verdict) -> str:
        weighing = verdict.case.weighing
        if weighing is None or self.piece is None:
            return str(verdict.stands) if verdict.stands is not Stand.TO_WEIGH else ""
        if weighing.copied_from:
            return f"copied from {weighing.copied_from}"
        at = self.desk.do_quietly(recorded_at, self.piece)
        return "recorded {time}".format(time=at.astimezone().strftime("%H:%M")) if at else ""

    def _show_alike(self) -> None:
        waiting = self.alike.waiting(self.piece) if self.verdict is not None and self.piece is not None else []
        self.scale_card.alike_word.setVisible(bool(waiting))
        many = f"{len(waiting)} alike take this weight"
        self.scale_card.alike_word.say("1 alike takes this weight" if len(waiting) == 1 else many)

    def show_live(self, live: Live) -> None:
        """Show what the scale shows; a hidden bench waits until it is shown."""
        if not self.isVisible():
            return
        self.scale_card.show_live(live)
        ruler = self._view.ruler if self._view else None
        verdict = self.verdict
        if ruler is None and verdict is not None and live.shown is not None:
            ruler = live_ruler(verdict, self.desk.pile.terms, live.shown, self.placement)
        self.scale_card.show_ruler(ruler)
        if verdict is not None and verdict.case.weighing is None:
            self._show_figure(verdict)  # what to do next depends on whether there is a scale

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_columns()

    def _place_columns(self) -> None:
        """Three columns, or with little room the lists above the reasons at the right."""
        scale = typeface.scale()
        narrow = self.width() < NARROW * scale
        right = max(260, min(round(RIGHT * scale), round(self.width() * 0.4)))
        self._left.setFixedWidth(round(LEFT * scale))
        self._right.setFixedWidth(right)
        if narrow == (self._side_column.indexOf(self.pieces) >= 0):
            return
        if narrow:
            self._left.takeWidget()
            self._side_column.insertWidget(1, self.pieces)
            self.pieces.show()
        else:
            self._side_column.removeWidget(self.pieces)
            self._left.setWidget(self.pieces)
        self._left.setVisible(not narrow)
