"""The layout of the bench: its parts, where they are placed, and what they show of the open piece."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QStackedLayout, QVBoxLayout, QWidget

from desk.domain.status import PieceStatus
from desk.session.bench.bench_view import BenchView, bench_view, status_words
from desk.session.bench.live_ruler import live_ruler
from desk.session.bench.one_ounce import OunceGlance, ounce_glance
from desk.session.bench.weigh import recorded_at
from desk.session.papers.stamps_on import StampTotal, stamp_totals
from desk.session.pile.alike import Alike
from desk.session.pile.packing import Placement
from desk.session.scale.at_the_scale import Live
from desk.session.verdict.verdict import Verdict
from desk.session.words.figures import counted, measure, time_in_words
from desk.ui.bench.advance import advances
from desk.ui.bench.columns import PieceColumn, WhyAndCosts, scrolled
from desk.ui.bench.fields import OneLine
from desk.ui.bench.figure import Figure
from desk.ui.bench.model import NextPieces, last_rows
from desk.ui.bench.numbered_list import NumberedList
from desk.ui.bench.scale_card import ScaleCard
from desk.ui.bench.sounds import Sounds
from desk.ui.bench.stamps_card import StampsCard
from desk.ui.bench.virtual_strip import VirtualStrip
from desk.ui.bench.write_card import WriteCard
from desk.ui.bridge import Desk, Event
from desk.ui.common_keys import MAILER, SERVICE
from desk.ui.kit import type as typeface
from desk.ui.scale_bridge import ScaleBridge
from desk.ui.screen import Screen
from desk.ui.trade.piece_sheet import PieceSheet
from desk.ui.trade.scan_line import ScanLine
from desk.ui.trade.split_card import SplitCard

NARROW = 1000  # pixels at 100%; below it the lists go above the reasons at the right
WIDE, TIGHT = 8, 2  # pixels inside and between the cards, and where the middle is low
LEFT, RIGHT = (215, 0.19, 340), (250, 0.25, 460)  # least pixels at 100%, share of the width, most pixels


class BenchLayout(Screen):
    """Everything the bench shows; keys and acts come with `BenchScreen`."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Bench")
        self.scale = desk.scale if isinstance(desk.scale, ScaleBridge) else ScaleBridge(desk)
        self.alike = Alike(desk.pile)
        self.next_pieces = NextPieces(desk.pile, self.alike)
        self.sounds = Sounds(self)
        self.piece: int | None = None
        self.came_next = False  # the program opened the piece, you didn't name it
        self._view: BenchView | None = None
        self._glance: OunceGlance | None = None
        self.split_card: SplitCard | None = None
        self._build_parts()
        self._build_layout()
        self.goes_on = advances()  # the next piece opens when a recorded one is lifted, or its weight was typed

    def _build_parts(self) -> None:
        self.pieces, self.side = PieceColumn(), WhyAndCosts()
        self.write, self.scale_card, self.stamps = WriteCard(), ScaleCard(), StampsCard()
        self.mailers, self.services = NumberedList("Mailers", MAILER), NumberedList("Services", SERVICE)
        self.strip = VirtualStrip()
        self.find_field = OneLine("Number", measure("1066, or 66 1.3 oz"))
        self.weight_field = OneLine("Weight", measure("4.2 oz, 1 lb 3, 119 g"))
        self.size_field = OneLine("Size", measure("9 x 6 x 0.25"))
        self.reason_field = OneLine("Why set aside", "waiting for a part")
        self.scan_line = ScanLine(self.desk)
        self.scan_line.hide()
        self.strip.setVisible(self.scale.pan is not None)

    def _build_layout(self) -> None:
        self._middle = QWidget()
        column = self.middle_column = QVBoxLayout(self._middle)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        for field in (self.strip, *self._fields(), self.scan_line):
            column.addWidget(field)
        column.addWidget(self.write, 5)
        column.addWidget(self.mailers, 4)
        column.addWidget(self.services, 4)
        column.addWidget(self.stamps)
        column.addWidget(self.scale_card, 2)
        self._side_inside = QWidget()
        self._side_column = QVBoxLayout(self._side_inside)
        self._side_column.setContentsMargins(0, 0, 8, 0)
        self._side_column.addWidget(self.side, 1)
        self._left = scrolled(self.pieces, "Next and last")
        self._right = scrolled(self._side_inside, "Contents, why and costs")
        self._right_side = QWidget()
        right = QVBoxLayout(self._right_side)
        right.setContentsMargins(0, 0, 0, 4)
        right.addWidget(self._right, 1)
        self._side_keys = QWidget()
        self._side_keys.setLayout(self.side.key_words())
        right.addWidget(self._side_keys)
        top, self.about = QWidget(), PieceSheet(self.desk)
        self.pages = QStackedLayout(self)
        for page in (top, self.about):
            page.setContentsMargins(32, 8, 24, 0)  # a stacked layout has no margins of its own
            self.pages.addWidget(page)
        line = QHBoxLayout(top)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(24)
        line.addWidget(self._left)
        self._scrolled_middle = scrolled(self._middle, "The piece")
        self._scrolled_middle.resized.connect(self._fit_middle)
        line.addWidget(self._scrolled_middle, 1)
        line.addWidget(self._right_side)

    def _fields(self) -> tuple[OneLine, ...]:
        return (self.find_field, self.weight_field, self.size_field, self.reason_field)

    def refuse(self, field: OneLine, sentence: str) -> None:
        """Say at a field why what was typed can't be used; an older message would seem to be the answer."""
        field.say(sentence)
        self.desk.happened.emit(Event(""))

    def put_away_fields(self) -> None:
        """Hide every field and list opened by a key."""
        for field in (*self._fields(), self.scan_line, self.mailers, self.services):
            field.hide()
        if self.split_card is not None:
            self.split_card.hide()
            self.split_card.deleteLater()
            self.split_card = None

    def show_split(self, card: SplitCard) -> None:
        """Show the split into packages above the figure, and put the focus in its first field."""
        self.split_card = card
        self.middle_column.insertWidget(self.middle_column.indexOf(self.write), card)
        card.show()
        card.begin()

    @property
    def verdict(self) -> Verdict | None:
        """The verdict of the open piece."""
        return None if self.piece is None else self.desk.pile.verdicts.get(self.piece)

    @property
    def placement(self) -> Placement:
        """How the open piece is packed."""
        return self.scale.placement

    def show_all(self) -> None:
        """Refresh everything shown."""
        verdict, terms = self.verdict, self.desk.pile.terms
        if self.pages.currentWidget() is self.about:
            self.about.refresh()
        self.strip.setVisible(self.scale.pan is not None)
        hoped = self.desk.pile.expected(self.piece) if verdict and self.piece is not None else None
        self._view = bench_view(verdict, terms, hoped) if verdict else None
        self.pieces.next.show_rows(self.next_pieces.rows(self.piece))
        self.pieces.last.show_rows(last_rows(self.desk.pile))
        last = self.desk.steps()[0]
        step = last if self.pieces.last.rows or self.desk.is_last_at_bench() else ""
        self.pieces.show_state(has_orders=not self.desk.pile.is_empty, step=step)
        self.show_placement()
        self._show_figure(verdict)
        self.side.show_piece(self._view, is_aside=verdict is not None and verdict.status is PieceStatus.SET_ASIDE)
        self.side.goes_on.setChecked(self.goes_on)
        self.side.sounds.setChecked(self.sounds.are_on)
        self._glance = ounce_glance(verdict) if verdict else None
        self._show_alike()
        self.show_live(self.scale.live)
        self._fit_middle()

    def _low(self) -> Sequence[StampTotal]:
        """Return the kinds of stamps that run low, where the piece takes stamps."""
        if self._view is None or not self._view.stamp_words:
            return []
        pile = self.desk.pile
        return [total for total in stamp_totals(pile.counts.stamps, pile.drawer_left) if total.runs_low]

    def show_placement(self) -> None:
        """Show the mailer and feel of the piece."""
        verdict = self.verdict
        if verdict is None:
            self.write.show_placement(None, stiff=False)
            return
        stiff = self.placement.stiff
        self.write.show_placement(self.placement, stiff=verdict.contents.stiff if stiff is None else stiff)

    def _show_figure(self, verdict: Verdict | None) -> None:
        if verdict is None or self._view is None or self.piece is None:
            self.write.show_piece(Figure(hint=self._first_hint()), "", "")
            return
        hint = "Put it on the scale" if self.scale.live.is_connected else "Press T to type the weight"
        if self._view.reading:
            hint = f"{self._view.reading}: no service can carry it"
        view = self._view
        figure = Figure(view.number, view.figure, hint, view.postage, view.reading)
        self.write.show_piece(figure, view.to, self._recorded_words(verdict))

    def _first_hint(self) -> str:
        if self.desk.pile.is_empty:
            return "No orders yet. Import some in Batch (Ctrl+1)"
        return "Type a number, or press N for the next piece"

    def _recorded_words(self, verdict: Verdict) -> str:
        weighing = verdict.case.weighing
        status = (
            ""
            if verdict.status in (PieceStatus.TO_WEIGH, PieceStatus.READY, PieceStatus.NEEDS_A_LOOK)
            else status_words(verdict)
        )
        if weighing is None or self.piece is None:
            return status
        if weighing.copied_from:
            return ", ".join(
                filter(None, (status, f"weight copied from {self.desk.pile.number_of(weighing.copied_from)}"))
            )
        at = self.desk.do_quietly(recorded_at, self.piece)
        return ", ".join(filter(None, (status, f"recorded {time_in_words(at)}" if at else "")))

    def _show_alike(self) -> None:
        waiting = self.alike.waiting(self.piece) if self.verdict is not None and self.piece is not None else []
        self.scale_card.alike_word.setVisible(bool(waiting))
        self.scale_card.alike_word.say(f"use this weight for {counted(len(waiting), 'identical order')}")

    def show_live(self, live: Live) -> None:
        """Show the scale's display; a hidden bench waits until it is visible."""
        if not self.isVisible():
            return
        sentence = self.scale_card.said
        self.scale_card.show_live(live)
        ruler = self._view.ruler if self._view else None
        verdict = self.verdict
        if ruler is None and verdict is not None and live.shown is not None:
            ruler = live_ruler(verdict, self.desk.pile.terms, live.shown, self.placement)
        self.scale_card.show_ruler(ruler)
        if verdict is not None and verdict.case.weighing is None:
            self._show_figure(verdict)  # what to do next depends on whether there is a scale
        if self.scale_card.said != sentence:
            self._fit_middle()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._place_columns()

    def _fit_middle(self) -> None:
        """Hide the ruler, then drawn keys and words, and move the rest together, until the middle fits.

        The keys still work. Number, billed weight, postage, distance from an ounce, stamps and scale stay.
        """
        self._show_optional()
        room, stamps = self._scrolled_middle.viewport(), self.stamps
        parts = (self.scale_card.ruler, self.write.keys, self.scale_card.step, stamps.heading, stamps.low)
        last = (stamps.strong, self.write.heading, stamps.stamps, self.scale_card.type_word)
        steps = [part.hide for part in (*parts, *(last if stamps.soft.text() else last[1:2]), self.write.recorded)]
        asks = (self.scale_card.take.hide, self.scale_card.state.hide) if self.scale_card.asks else ()
        for step in (*steps, partial(_set_space, self, TIGHT), *asks, stamps.glance.hide, self.write.to.hide):
            if _needed_height(self.middle_column, room.width()) <= room.height():
                return
            step()

    def _show_optional(self) -> None:
        """Show or hide what the middle leaves out where there is no room."""
        _set_space(self, WIDE)
        self.scale_card.take.setVisible(self.scale_card.asks)
        self.scale_card.state.show()
        self.write.recorded.show()
        self.write.to.show()
        for part in (self.scale_card.ruler, self.write.keys, self.scale_card.step, self.write.heading):
            part.show()
        self.scale_card.type_word.show()
        self.stamps.show_piece(self._view, self._glance)
        low = ", ".join(total.left_words for total in self._low())
        self.stamps.show_low(f"Running low: {low}" if low else "")

    def _place_columns(self) -> None:
        """Place three columns, or with little room put the lists above the reasons at the right."""
        narrow = self.width() < NARROW * typeface.scale()
        share = 0.42 if narrow else RIGHT[1]
        self._left.setFixedWidth(_width(self.width(), *LEFT))
        self._right_side.setFixedWidth(_width(self.width(), RIGHT[0], share, RIGHT[2]))
        self.pieces.shorten(narrow, self.height())
        if narrow == (self._side_column.indexOf(self.pieces) >= 0):
            return
        if narrow:
            self._left.takeWidget()
            self._side_column.insertWidget(0, self.pieces)
            self.pieces.show()
        else:
            self._side_column.removeWidget(self.pieces)
            self._left.setWidget(self.pieces)
        self._side_keys.setVisible(not narrow)
        self._left.setVisible(not narrow)


def _set_space(bench: BenchLayout, pixels: int) -> None:
    """Set the space inside and between the cards of the middle."""
    cards = bench.write, bench.stamps, bench.scale_card
    for card in cards:
        card.column.setContentsMargins(24, pixels, 24, pixels)
    bench.middle_column.setSpacing(pixels)
    bench.write.figure.is_tight = bench.stamps.glance.is_tight = pixels == TIGHT
    for widget in (bench.write.figure, bench.stamps.glance, *cards):
        widget.updateGeometry()


def _needed_height(column: QVBoxLayout, width: int) -> int:
    """Return the height a column needs at that width, in pixels."""
    middle = column.parentWidget()
    assert middle is not None
    for layout in middle.findChildren(QLayout):
        layout.invalidate()  # Qt itself forgets the sizes it noted only later
    return column.minimumHeightForWidth(width) if column.hasHeightForWidth() else column.minimumSize().height()


def _width(whole: int, least: int, share: float, most: int) -> int:
    """Return a column's width in pixels: its share, between its least and its most at 100%."""
    scale = typeface.scale()
    return min(max(round(whole * share), min(round(least * scale), round(whole * 0.42))), round(most * scale))
