"""The Bench screen: a piece is opened by its number, weighed, and shows what to write on it and why."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QHideEvent, QKeyEvent, QShowEvent

from desk.domain.finding import Severity
from desk.domain.stands import Stand
from desk.session.bench.bench_view import bench_view
from desk.session.pile.alike import Alike
from desk.session.scale.at_the_scale import Live
from desk.session.verdict.price_age import ages_of
from desk.session.verdict.stamp_letter import accept_stamp_request, decline_stamp_request
from desk.ui.actions import Act
from desk.ui.bench.bench_acts import BenchActs
from desk.ui.bench.bench_keys import bench_keys
from desk.ui.bench.layout import BenchFace
from desk.ui.bench.pan_acts import PanActs
from desk.ui.bridge import Desk, State, Told
from desk.ui.screen import Jump, Screen

TITLE, SHORTCUT = "Bench", "Ctrl+2"


class BenchScreen(BenchFace):
    """The face with its keys, and what it hears. What is done stands in `BenchActs` and `PanActs`."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.does = BenchActs(self)
        self.hand = PanActs(self, self.does)
        self._ages_seen = ""
        self._connect()

    def _connect(self) -> None:
        does = self.does
        for signal, slot in (
            (self.desk.piece_opened, does.open_piece),
            (self.scale.told, self.show_live),
            (self.scale.recorded, self._hear_recorded),
            (self.scale.not_kept, lambda _piece: self.sounds.play("stop")),
            (self.scale.finished, self.hand.lifted),
            (self.pieces.next.opened, does.open_piece),
            (self.pieces.last.opened, does.open_piece),
            (self.pieces.find_word.clicked, does.find),
            (self.pieces.go_next.clicked, does.next_piece),
            (self.pieces.take_back.clicked, does.take_back),
            (self.find_field.entered, does.found),
            (self.find_field.left, self.arrive),
            (self.weight_field.entered, does.typed),
            (self.weight_field.left, self.arrive),
            (self.scale_card.type_word.clicked, does.type_weight),
            (self.scale_card.alike_word.clicked, does.copy),
            (self.write.mailer_asked, does.offer_mailers),
            (self.write.thickness_said, does.say_thickness),
            (self.write.stiff_said, does.say_stiff),
            (self.write.uneven_said, does.say_uneven),
            (self.mailers.chosen, does.choose_mailer),
            (self.mailers.left, self.arrive),
            (self.scale_card.take_asked, does.take),
            (self.side.seen.clicked, does.answer),
            (self.side.by_stamp.clicked, lambda: does.answer_request(accept_stamp_request)),
            (self.side.not_by_stamp.clicked, lambda: does.answer_request(decline_stamp_request)),
            (self.side.aside.clicked, does.set_aside),
            (self.side.goes_on.clicked, does.switch_going_on),
            (self.side.sounds.clicked, does.switch_sounds),
            (self.about.left, does.leave_page),
            (self.strip.put_asked, self.hand.put_next),
            (self.strip.lift_asked, self.hand.lift),
        ):
            signal.connect(slot)

    def acts(self) -> Sequence[Act]:
        """The keys of the bench."""
        return [*bench_keys(self.does), *self.hand.keys()]

    def acts_to_come(self) -> Sequence[Act]:
        """The keys of a virtual pan: one may be chosen while the program runs."""
        return () if self.hand.keys() else self.hand.all_keys()

    def jumps(self) -> Sequence[Jump]:
        """Copied weights to be checked; what is to be weighed the batch says."""
        count = len(self.alike.all_to_check())
        if not count:
            return ()
        return (Jump(f"{count} to check", self.does.next_piece),)

    def pose(self, name: str) -> None:
        """A weighed letter over an ounce; in trouble: one too close to call, with a weight that may be another's."""
        numbers = ("1049", "1049-1") if name == "trouble" else ("1043", "1043-1")
        piece = next(filter(None, map(self.desk.pile.find, numbers)), None)
        if piece is None:
            return
        self.does.open_piece(piece)
        says = "Is 1.0 oz the weight of this one? Enter takes it, or empty the pan first."
        settled = Live("1.3 oz", "settled", Severity.FINE, "0.1 oz", "", is_connected=True)
        asking = Live("1.0 oz", "another weight", Severity.LOOK, "0.1 oz", says, asks=True, is_connected=True)
        self.show_live(asking if name == "trouble" else settled)

    def refresh(self, told: Told) -> None:
        """Follow what the act touched, then show everything as it is now."""
        if told.changes.orders or told.changes.shop or len(told.pieces) != 1 or -1 in told.pieces:
            self.alike = Alike(self.desk.pile)
        self.does.follow()
        self.show_all()
        self._tell_ages()

    def _tell_ages(self) -> None:
        """One strip for a pile when prices are past their date, until it was seen; never one a piece."""
        past = ages_of(self.desk.pile.counts.last_days)
        ways = (("Price lists", self._open_charts), ("Seen", partial(self._see_ages, past)))
        told = State(past, "look", ways, only_on=TITLE)
        self.desk.state("price-age", told if past and past != self._ages_seen else None)

    def _see_ages(self, past: str) -> None:
        self._ages_seen = past
        self._tell_ages()

    def _open_charts(self) -> None:
        self.desk.screen_asked.emit("Setup", "Charts")

    def _hear_recorded(self, piece: int) -> None:
        """A weight is on disk: say so to ears, without moving the focus."""
        verdict = self.desk.pile.verdicts.get(piece)
        if verdict is None:
            return
        mark = "stop" if verdict.is_stopped else "look" if verdict.stands is Stand.NEEDS_A_LOOK else "fine"
        self.sounds.play(mark)
        view = bench_view(verdict, self.desk.pile.terms)
        words = ", ".join(filter(None, (view.number, view.figure, view.service, view.stands)))
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))
        self.strip.recorded()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            self.find_field.open(event.text())
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.does.enter()
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.scale.close()  # what settled while another screen was shown belongs to nobody here
        self.does.attach()
        self.show_all()

    def hideEvent(self, event: QHideEvent) -> None:
        self.scale.close()
        super().hideEvent(event)


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return BenchScreen(desk)
