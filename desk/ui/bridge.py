"""The bridge between session and screens: acts go in, one signal comes out.

A screen calls `desk.do(act, ...)` and paints nothing. The act announces what it touched, the pile is updated, and
`changed` tells every screen which pieces have a new verdict.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TYPE_CHECKING, Concatenate, ParamSpec, TypeVar

from PySide6.QtCore import QObject, Signal

from desk.domain.changes import EVERYTHING, Changes
from desk.domain.faults import Fault, Refused
from desk.domain.severity import Severity
from desk.ui.earlier import EarlierDays

if TYPE_CHECKING:  # the session is only imported after the first paint
    from desk.session.pile.pile import Pile
    from desk.session.sitting import Sitting

P = ParamSpec("P")
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class DeskChanges:
    """The news after an act: the pieces whose verdict changed, and what the act touched."""

    pieces: frozenset[int]
    changes: Changes

    def __or__(self, other: DeskChanges) -> DeskChanges:
        return DeskChanges(self.pieces | other.pieces, self.changes | other.changes)


UNREAD = "unread"  # the strip while the data can't be read
OLD_VIEW = "The data can't be read now, so what you see may be out of date. It will be read again as soon as possible."
ALL_OF_IT = DeskChanges(EVERYTHING, Changes(EVERYTHING, EVERYTHING, shop=True, settings=True))


@dataclass(frozen=True, slots=True)
class Event:
    """Something that happened, for the message line. `undo` offers Undo; empty words clear the line."""

    words: str
    mark: Severity = Severity.FINE
    undo: bool = False


@dataclass(frozen=True, slots=True)
class OngoingState:
    """A lasting state, shown on a strip until it is over. `ways` are its buttons: word and act.

    `only_on` is the title of the one screen it concerns; empty for all. A small one takes a thin, quiet strip.
    `dismissed` is done when its strip is dismissed; without it the strip returns when its text changes.
    """

    words: str
    mark: Severity = Severity.LOOK
    ways: tuple[tuple[str, Callable[[], None]], ...] = field(default=(), hash=False)
    only_on: str = ""
    is_small: bool = False
    dismissed: Callable[[], None] | None = field(default=None, hash=False)


class Desk(QObject):
    """The sitting and its pile, as the screens see them."""

    changed = Signal(object)  # DeskChanges
    happened = Signal(object)  # Event
    states_changed = Signal()
    piece_opened = Signal(int)  # a piece is to be opened on the bench
    number_typed = Signal(str)  # the first digit of a number, typed where no screen used it
    screen_asked = Signal(str, str)  # a screen is to be opened, at one of its pages
    store_asked = Signal(bool)  # another store is to be opened: the demo (True) or your own (False)
    table_brought = Signal(object, str, str)  # a list of that kind, and the page of Setup it was chosen on
    copy_chosen = Signal(object)  # a copy of the store is to be restored: its file
    piece_on_bench = Signal(object)  # the piece that is open on this bench now, or None
    look_changed = Signal()  # the text size: the window is built again
    closing = Signal()  # threads and processes have to end now

    def __init__(self, sitting: Sitting, pile: Pile, resources: Traversable, *, is_demo: bool = False) -> None:
        super().__init__()
        self.sitting = sitting
        self.pile = pile
        self.resources = resources
        self.is_demo = is_demo
        self.scale: QObject | None = None  # set by the wiring before screens are built
        self.own_lists: Path | None = None  # the folder of your own price lists, set by the wiring
        self.taken: frozenset[int] = frozenset()  # pieces that are open at other benches
        self._states: dict[str, OngoingState] = {}
        self.earlier = EarlierDays(pile, self)
        self.earlier.added.connect(lambda pieces: self.changed.emit(DeskChanges(pieces, Changes())))
        self.earlier.failed.connect(lambda sentence: self.happened.emit(Event(sentence, Severity.STOP)))
        self.earlier.progressed.connect(self._show_reading)
        self.closing.connect(self.earlier.stop)
        self._steps: tuple[Changes, tuple[tuple[str, str], bool]] | None = None  # after which act, and what was read
        sitting.listeners.append(self._follow)

    def do(self, act: Callable[Concatenate[Sitting, P], T], *words: P.args, **facts: P.kwargs) -> T | None:
        """Do an act and offer Undo; return None when it was refused, after showing why."""
        store = self.sitting.store
        before = store.last_changes
        done = self.do_quietly(act, *words, **facts)
        if store.last_changes is not before and store.last_changes != Changes():
            self.happened.emit(Event(self.steps()[0], undo=True))
        return done

    def has_done(self, act: Callable[Concatenate[Sitting, P], object], *words: P.args, **facts: P.kwargs) -> bool:
        """Do an act as `do` does; return False when it was refused."""
        before = self.sitting.store.last_changes
        self.do(act, *words, **facts)
        return self.sitting.store.last_changes is not before

    def do_quietly(self, act: Callable[Concatenate[Sitting, P], T], *words: P.args, **facts: P.kwargs) -> T | None:
        """Do an act whose result the screen shows; only a refusal is announced."""
        try:
            return act(self.sitting, *words, **facts)
        except Fault as fault:
            self.happened.emit(Event(fault.sentence, Severity.STOP))
            return None

    def undo(self) -> None:
        """Undo the last step and show its name."""
        from desk.session.undo import undo

        if name := self.do_quietly(undo):
            self.happened.emit(Event(f"Undone: {name}"))

    def redo(self) -> None:
        """Redo the last undone step and show its name."""
        from desk.session.undo import redo

        if name := self.do_quietly(redo):
            self.happened.emit(Event(f"Redone: {name}", undo=True))

    def steps(self) -> tuple[str, str]:
        """Return the names of the next undo and redo steps; empty where there is none, or while they can't be read."""
        return self._last_steps()[0]

    def is_last_at_bench(self) -> bool:
        """Return True when the step that undo would take back was done at the bench."""
        return self._last_steps()[1]

    def _last_steps(self) -> tuple[tuple[str, str], bool]:
        """Read the steps once after each act, since every view asks and a server may be slow."""
        from desk.session.undo import is_last_at_bench, next_steps

        after = self.sitting.store.last_changes
        if self._steps is None or self._steps[0] is not after:
            try:
                self._steps = after, (next_steps(self.sitting), is_last_at_bench(self.sitting))
            except Refused:
                return ("", ""), False
        return self._steps[1]

    def read_all(self) -> None:
        """Read and judge everything again, because the mailing date changed; every screen repaints.

        When the data can't be read now, a strip says so, and it is read again as soon as possible.
        """
        try:
            self.pile.read_all()
        except Refused:
            self.read_later()
        else:
            self.state(UNREAD, None)
            self.changed.emit(ALL_OF_IT)

    def turn_to(self, day: date) -> None:
        """Continue on another calendar day, with a message where that changes the mailing date of the prices."""
        from desk.session.pile.mailing_date import posting_day

        before, self.sitting.on = self.pile.terms.on, day
        if posting_day(self.sitting) != before:
            self.read_all()
            from desk.session.words.figures import day_in_words

            self.happened.emit(Event(f"It's a new day. Prices are now for {day_in_words(self.pile.terms.on)}."))

    @property
    def states(self) -> tuple[OngoingState, ...]:
        """The lasting states shown now, oldest first."""
        return tuple(self._states.values())

    def state(self, name: str, state: OngoingState | None) -> None:
        """Show a state on a strip under that name, or remove it with None."""
        if self._states.get(name) == state:
            return
        self._states.pop(name, None)
        if state is not None:
            self._states[name] = state
        self.states_changed.emit()

    def _follow(self, changes: Changes) -> None:
        if UNREAD in self._states:
            self.read_all()
            return
        try:
            pieces = self.pile.follow(changes)
        except Refused:
            self.read_later()
        else:
            self.changed.emit(DeskChanges(pieces, changes))

    def read_later(self) -> None:
        """Announce that the shown data may be old; followers of other benches then read everything again."""
        self.sitting.store.is_unsure = True
        self.state(UNREAD, OngoingState(OLD_VIEW, Severity.STOP))

    def _show_reading(self, done: int, of: int) -> None:
        from desk.session.words.figures import number_in_words

        words = f"Reading earlier days: {number_in_words(done)} of {number_in_words(of)} packages."
        state = OngoingState(words, Severity.NOTE, (("Stop", self.earlier.stop),), is_small=True)
        self.state("earlier days", state if of else None)
