"""The Bench screen: a piece is opened by its number, weighed, and shows what to write on it and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from PySide6.QtCore import Qt, SignalInstance
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QHideEvent, QKeyEvent, QShowEvent

from desk.domain.severity import Severity
from desk.domain.status import PieceStatus
from desk.session.bench.bench_view import bench_view
from desk.session.bench.price_warning import dismiss, is_dismissed
from desk.session.scale.at_the_scale import Live
from desk.session.verdict.price_age import ages_of
from desk.session.verdict.stamp_request import accept_stamp_request, decline_stamp_request
from desk.session.words.figures import number_in_words
from desk.ui.actions import Act
from desk.ui.bench.acts.keys import BenchActs, bench_keys
from desk.ui.bench.acts.pan import PanActs
from desk.ui.bench.acts.undoing import UndoingActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Desk, DeskChanges, OngoingState
from desk.ui.common_keys import ASIDE, EDIT, FIND, HISTORY, MAILER, PAGE, REASON, SERVICE, SIZE
from desk.ui.screen import Jump, Screen

TITLE, SHORTCUT = "Bench", "Ctrl+2"
ON_THE_PAGE = (PAGE, EDIT, HISTORY, ASIDE)  # keys that leave the piece's page open
FROM_THE_PAGE = (ASIDE, REASON, MAILER, SERVICE, SIZE, FIND)  # keys listed with those of the page


class BenchScreen(BenchLayout):
    """The bench with its keys and signals. What the keys do is in `desk.ui.bench.acts`."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.does = BenchActs.of(self)
        self.hand = PanActs(self, self.does.opening)
        self.undoing = UndoingActs(self, self.does.opening)
        self._connect()

    def _connect(self) -> None:
        for signal, slot in (*self._heard(), *self._typed(), *self._pressed()):
            signal.connect(slot)

    def _heard(self) -> Iterator[tuple[SignalInstance, Callable[..., object]]]:
        """Connect the signals from elsewhere: the scale, other screens, the virtual scale.

        What outlives the screen is connected to the screen's own methods, which Qt disconnects with it.
        """
        yield self.desk.piece_opened, self._open_piece
        yield self.desk.number_typed, self._find
        yield self.scale.told, self.show_live
        yield self.scale.recorded, self._hear_recorded
        yield self.scale.not_kept, self._hear_not_kept
        yield self.scale.finished, self._hear_lifted
        yield self.about.left, self.does.looking.leave_page
        yield self.scan_line.slip_read, self.does.matching.slip_read
        yield self.scan_line.answered, self.does.matching.answered
        yield self.scan_line.left, self.does.matching.leave
        yield self.strip.put_asked, self.hand.put_next
        yield self.strip.lift_asked, self.hand.lift

    def _typed(self) -> Iterator[tuple[SignalInstance, Callable[..., object]]]:
        """Connect the fields and lists."""
        for field, slot in (
            (self.find_field, self.does.weighing.found),
            (self.weight_field, self.does.weighing.typed),
            (self.size_field, self.does.describing.size_typed),
            (self.reason_field, self.does.answering.reason_typed),
        ):
            yield field.entered, slot
            yield field.left, self.arrive
        yield self.mailers.chosen, self.does.describing.choose_mailer
        yield self.services.chosen, self.does.describing.choose_service
        for choices in (self.mailers, self.services):
            yield choices.left, self.arrive

    def _pressed(self) -> Iterator[tuple[SignalInstance, Callable[..., object]]]:
        """Connect what can be pressed instead of its key."""
        does = self.does
        for row in (self.pieces.next, self.pieces.last):
            yield row.opened, does.opening.open_piece
        yield self.write.thickness_said, does.describing.set_thickness
        yield self.write.mailer_asked, does.describing.offer_mailers
        yield self.write.stiff_said, does.describing.toggle_rigid
        yield self.write.uneven_said, does.describing.toggle_lumpy
        yield self.scale_card.take_asked, does.weighing.take
        for word, slot in (
            (self.pieces.find_word, does.opening.find),
            (self.pieces.go_next, does.opening.next_piece),
            (self.pieces.take_back, self.undo),
            (self.scale_card.type_word, does.weighing.type_weight),
            (self.scale_card.alike_word, does.weighing.copy),
            (self.side.seen, does.answering.answer),
            (self.side.packing, does.answering.answer_packing),
            (self.side.by_stamp, lambda: does.answering.answer_request(accept_stamp_request)),
            (self.side.not_by_stamp, lambda: does.answering.answer_request(decline_stamp_request)),
            (self.side.aside, does.answering.set_aside),
            (self.side.goes_on, does.switches.switch_advance),
            (self.side.sounds, does.switches.switch_sounds),
            (self.side.package.address_word, does.looking.toggle_address),
            (self.side.package.split_word, does.splitting.split),
        ):
            yield word.clicked, _plain(slot)

    def acts(self) -> Sequence[Act]:
        """Return the keys of the bench."""
        return [self._from_the_page(act) for act in (*bench_keys(self.does), *self.hand.keys())]

    def _from_the_page(self, act: Act) -> Act:
        """Return an act that closes the piece's page first, unless the page itself shows the result."""
        do = act.do
        if do is None or act.keys in ON_THE_PAGE:
            return act

        def close_and_do() -> None:
            if self.does.looking.is_page_open:
                self.does.looking.leave_page()
            do()

        return replace(act, do=close_and_do)

    def keys_in_front(self) -> Sequence[Act]:
        """Return the keys of what is in front: a list, a field, the piece's page, or the bench itself."""
        if (choices := next((one for one in (self.mailers, self.services) if one.isVisible()), None)) is not None:
            return choices.acts()
        if self.split_card is not None:
            return self.split_card.acts()
        if (field := next((one for one in self._fields() if one.isVisible()), None)) is not None:
            return field.acts()
        if self.does.looking.is_page_open:
            return (*self.about.acts(), *(act for act in self.acts() if act.keys in FROM_THE_PAGE))
        return self.acts()

    def undo(self) -> None:
        """Undo the last step; one done elsewhere is named first."""
        self.undoing.take_back()

    def acts_to_come(self) -> Sequence[Act]:
        """Return the keys of a virtual scale, which may be chosen while the program runs."""
        pan = () if self.hand.keys() else self.hand.all_keys()
        on_page = [replace(act, do=self._on_page(act.do)) for act in self.about.acts_in_front() if act.do]
        return (*pan, *on_page)

    def _on_page(self, do: Callable[[], None]) -> Callable[[], None]:
        """Return the act of a key that is only used on the piece's page."""

        def guarded() -> None:
            if self.does.looking.is_page_open:
                do()

        return guarded

    def jumps(self) -> Sequence[Jump]:
        """Return the jump to copied weights that should be checked on the scale."""
        count = len(self.alike.all_to_check())
        if not count:
            return ()
        return (Jump(f"{number_in_words(count)} to reweigh", self.does.opening.next_piece),)

    def pose(self, name: str) -> None:
        """For a picture: a letter over an ounce; in trouble: one too close to call, and a question."""
        numbers = ("1049", "1049-1") if name == "trouble" else ("1043", "1043-1")
        piece = next(filter(None, map(self.desk.pile.find, numbers)), None)
        if piece is None:
            return
        self.does.opening.open_piece(piece)
        says = "Use 1.0 oz for this one? Press Enter, or clear the scale first."
        settled = Live("1.3 oz", "settled", Severity.FINE, "0.1 oz", "", is_connected=True)
        asking = Live("1.0 oz", "different weight", Severity.LOOK, "0.1 oz", says, asks=True, is_connected=True)
        self.show_live(asking if name == "trouble" else settled)

    def refresh(self, _changes: DeskChanges) -> None:
        """Follow what the act touched, then refresh everything."""
        self.undoing.forget_warning()
        self.does.opening.follow()
        self.show_all()
        self._tell_ages()

    def _tell_ages(self) -> None:
        """Show one strip for the batch when prices are outdated, until it is dismissed for the day."""
        past = ages_of(self.desk.pile.counts.last_days)
        ways = (("Price lists", self._open_price_lists), ("Dismiss", self._dismiss_ages))
        state = OngoingState(past, Severity.LOOK, ways, only_on=TITLE, dismissed=self._dismiss_ages)
        self.desk.state("price-age", state if past and not is_dismissed(self.desk.sitting) else None)

    def _dismiss_ages(self) -> None:
        self.desk.do_quietly(dismiss)
        self._tell_ages()

    def _open_price_lists(self) -> None:
        self.desk.screen_asked.emit("Setup", "Price lists")

    def resume(self, before: Screen) -> None:
        """Open the piece that was open before."""
        if isinstance(before, BenchScreen) and before.piece is not None:
            self.does.opening.open_piece(before.piece, in_list=before.came_next)

    def _open_piece(self, piece: int) -> None:
        self.does.opening.open_piece(piece)

    def _find(self, first: str) -> None:
        self.does.opening.find(first)

    def _hear_lifted(self, piece: int) -> None:
        self.hand.lifted(piece)

    def _hear_not_kept(self, _piece: int) -> None:
        self.sounds.play(Severity.STOP)

    def _hear_recorded(self, piece: int) -> None:
        """Announce a saved weight by sound and to a screen reader, without moving the focus."""
        verdict = self.desk.pile.verdicts.get(piece)
        if verdict is None:
            return
        mark = (
            Severity.STOP
            if verdict.is_stopped
            else Severity.LOOK
            if verdict.status is PieceStatus.NEEDS_A_LOOK
            else Severity.FINE
        )
        self.sounds.play(mark)
        view = bench_view(verdict, self.desk.pile.terms)
        words = ", ".join(filter(None, (view.number, view.figure, view.service, view.status)))
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, words))
        self.strip.recorded()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.text().isdigit():
            self.does.opening.find(event.text())
        elif self.press_focused(event):
            return
        elif event.key() == Qt.Key.Key_Escape:
            self.put_away_fields()
            self.arrive()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.does.weighing.enter()
        else:
            super().keyPressEvent(event)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.scale.close()  # what settled while another screen was open belongs to no piece here
        self.does.opening.attach()
        self.show_all()

    def hideEvent(self, event: QHideEvent) -> None:
        self.scale.close()
        super().hideEvent(event)


def _plain(do: Callable[[], object]) -> Callable[[bool], None]:
    """Return a button's slot that ignores its checked state, which the screen shows."""

    def slot(_checked: bool = False) -> None:
        do()

    return slot


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return BenchScreen(desk)
