"""Undo and redo against a plain list of states, whatever is done in whatever order, over all acts of the session.

The model is only this: a state for each step, and a place among them. Left of the place undo leads, right of it redo; a
new step cuts off what lay right; a step that left the program cuts off what lay left.
"""

from __future__ import annotations

import os
from contextlib import ExitStack, suppress

from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from desk.domain.faults import Refused
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.undo import next_steps, redo, undo
from desk.store import journal
from desk.store.store import Store, open_store
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind
from tests.property.all_acts import ALL, FINAL, NOT_DRAWN, OTHERS, modules_drawn, modules_with_acts
from tests.property.session_acts import ORDERS, followed, fresh_sitting
from tests.session import made
from tests.store.test_undo import everything

RUNS = int(os.environ.get("RUNS", "8"))
WHICH, NUMBER = st.integers(0, 40), st.integers(0, 99)


def content(store: Store) -> object:
    """Every table that can be undone, and what there is of all that is counted."""
    with store.reading() as conn:
        counted = {kind: {n: c for n, c in movements.on_hand(conn, kind).items() if c} for kind in CountedKind}
    return everything(store), counted


class AnyActs(RuleBasedStateMachine):
    """A small pile on a store, and what its content has been after each step."""

    def __init__(self) -> None:
        super().__init__()
        self.open = ExitStack()
        self.sitting: Sitting = self.open.enter_context(fresh_sitting(full=False))
        self.pile: Pile = self.open.enter_context(followed(self.sitting))
        self.states = [content(self.sitting.store)]
        self.at = self.first = 0
        for take_in in (lambda: import_shop(self.sitting, made.shop()), lambda: import_orders(self.sitting, ORDERS)):
            take_in()
            self._note_step()

    @rule(name=st.sampled_from(sorted(ALL.keys() - FINAL)), which=WHICH, number=NUMBER)
    def act(self, name: str, which: int, number: int) -> None:
        """Any act; one that is refused, or changes nothing, is no step."""
        self._do(name, which, number)

    @rule(name=st.sampled_from(sorted(FINAL)), which=WHICH, number=NUMBER)
    def leave_the_program(self, name: str, which: int, number: int) -> None:
        """A print, or a paper voided: from here undo leads back no further."""
        if self._do(name, which, number):
            self.first = self.at

    @rule(times=st.integers(1, 4))
    def back(self, times: int) -> None:
        """Undo, more often than there may be steps."""
        for _ in range(times):
            self._turn(-1)

    @rule(times=st.integers(1, 4))
    def forth(self, times: int) -> None:
        """Redo, more often than there may be steps."""
        for _ in range(times):
            self._turn(1)

    @rule()
    def close_and_open_again(self) -> None:
        """The next day: what can be undone and redone is still known."""
        names, where = next_steps(self.sitting), self.sitting.store.engine.url.database
        self.sitting.store.close()
        assert where is not None
        self.sitting.store = open_store(where, self.sitting.clock)
        self.open.callback(self.sitting.store.close)
        assert next_steps(self.sitting) == names

    @invariant()
    def the_content_is_that_of_its_place(self) -> None:
        """Nothing else has moved."""
        assert content(self.sitting.store) == self.states[self.at]

    @invariant()
    def the_pile_that_followed_is_one_read_anew(self) -> None:
        """Screens show what the store holds."""
        fresh = Pile(self.sitting)
        assert self.pile.in_turn() == fresh.in_turn()
        assert dict(self.pile.verdicts) == dict(fresh.verdicts)
        assert self.pile.batch().drawer_left == fresh.batch().drawer_left

    @invariant()
    def the_journal_has_no_gap(self) -> None:
        """Each step has the number after the one before."""
        with self.sitting.store.reading() as conn:
            numbers = [step.revision for step in journal.steps(conn, 1000)]
        assert numbers == list(range(len(numbers), 0, -1))

    def teardown(self) -> None:
        """Undo everything and redo everything."""
        try:
            while self.at > self.first:
                self._turn(-1)
                assert content(self.sitting.store) == self.states[self.at]
            self._turn(-1)
            while self.at < len(self.states) - 1:
                self._turn(1)
                assert content(self.sitting.store) == self.states[self.at]
            self._turn(1)
            self.the_pile_that_followed_is_one_read_anew()
        finally:
            self.open.close()

    def _do(self, name: str, which: int, number: int) -> bool:
        """True when it was a step; more than one step is a fault."""
        ids, before = list(self.pile.verdicts), self.sitting.store.revision
        try:
            if ids:
                ALL[name](self.pile, ids[which % len(ids)], number)
        except Refused:
            assert self.sitting.store.revision == before
        steps = self.sitting.store.revision - before
        assert steps <= 1, name
        if steps:
            self._note_step()
        return bool(steps)

    def _note_step(self) -> None:
        self.at += 1
        self.states[self.at :] = [content(self.sitting.store)]

    def _turn(self, way: int) -> None:
        back, again = next_steps(self.sitting)
        wanted = self.at + way
        possible = self.first <= wanted < len(self.states)
        try:
            name = undo(self.sitting) if way < 0 else redo(self.sitting)
        except Refused:
            assert not possible
            return
        assert name == (back if way < 0 else again)
        assert possible, f"{name} was turned {way} from {self.at} of {len(self.states)}"
        self.at = wanted


TestAnyActs = AnyActs.TestCase
TestAnyActs.settings = settings(
    max_examples=RUNS,
    stateful_step_count=15,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],  # to shorten a fault takes longer than a test is given
)


def test_every_module_with_acts_is_exercised() -> None:
    assert modules_with_acts() - modules_drawn() - NOT_DRAWN.keys() == set()


def test_every_other_act_makes_a_step_at_least_once() -> None:
    """The machine means something only if each act can succeed."""
    with fresh_sitting() as sitting, followed(sitting) as pile:
        for piece in list(pile.verdicts):
            ALL["weigh"](pile, piece, 5)
            ALL["seen"](pile, piece, 0)
        never = [name for name in sorted(OTHERS, key=lambda name: name == "void") if not is_a_step(pile, name)]
    assert never == []


def is_a_step(pile: Pile, name: str) -> bool:
    """True as soon as it changes something, on any piece."""
    for piece in list(pile.verdicts):
        for number in range(3):
            before = pile.sitting.store.revision
            with suppress(Refused):
                ALL[name](pile, piece, number)
            if pile.sitting.store.revision > before:
                return True
    return False
