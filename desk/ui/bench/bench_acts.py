"""What the keys of the bench do. Each asks an act of the session; the screen repaints when the act is told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject

from desk.domain.faults import Refused
from desk.domain.finding import Code
from desk.domain.stands import Stand
from desk.session.bench.another_piece import add_piece, next_piece_key
from desk.session.bench.answers import answer_looks
from desk.session.bench.bench_view import bench_view
from desk.session.bench.weigh import copy_weight, describe
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.packing import Placement, placement_for
from desk.session.scale.step_rule import typed_weight
from desk.session.sitting import Sitting
from desk.session.undo import is_of_the_bench
from desk.session.verdict.stamp_request import REQUESTED
from desk.ui.bench.layout import BenchFace
from desk.ui.bench.model import next_rows
from desk.ui.bridge import Event


class BenchActs(QObject):
    """The acts of one bench screen."""

    def __init__(self, view: BenchFace) -> None:
        super().__init__(view)
        self._view = view
        self._warned = ""  # the step of another kind that was just named, and goes with the next press

    # --- which piece

    def open_piece(self, piece: int, *, in_list: bool = False) -> None:
        """Open a piece: what settles from now on is its weight. `in_list`: it came next, nobody named it."""
        self._warned = ""
        view = self._view
        view.piece, view.came_next = piece, in_list
        view.find_field.hide()
        view.weight_field.hide()
        view.mailers.hide()
        if view.isVisible():
            self.attach()
            view.show_all()
            view.arrive()

    def attach(self) -> None:
        """Let the scale know which piece is open; one with its postage on takes no weight."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            view.scale.close()
            return
        placement = placement_for(verdict.case, view.piece, view.alike, view.desk.pile.terms.shop)
        if verdict.case.is_paid:
            view.scale.close(placement)
        else:
            view.scale.open(view.piece, placement, in_list=view.came_next)

    def take_back(self) -> None:
        """Take the last step back. One that was not done at the bench is named first; a second press takes it."""
        desk = self._view.desk
        step = desk.steps()[0]
        if step and not is_of_the_bench(step) and step != self._warned:
            self._warned = step
            said = "The next step back was not done at the bench: {step}. Z once more takes it back."
            desk.happened.emit(Event(said.format(step=step), "look"))
            return
        self._warned = ""
        desk.undo()

    def follow(self) -> None:
        """After a change: the piece may be gone, without its weight again, or in another mailer."""
        self._warned = ""
        view, verdict = self._view, self._view.verdict
        if view.piece is None:
            return
        if verdict is None:
            view.piece = None
            view.scale.close()
            return
        said = view.placement
        if verdict.case.weighing is None:
            view.scale.forget_weight()
        if verdict.case.weighing is not None or (verdict.case.mailer and verdict.case.mailer != said.mailer):
            view.scale.placement = placement_for(verdict.case, view.piece, view.alike, view.desk.pile.terms.shop)

    def next_piece(self, *, in_list: bool = True) -> None:
        """Open the next piece of the list; not `in_list`: it is known to be the one that will be put on."""
        view = self._view
        rows = next_rows(view.desk.pile, view.alike, view.piece, 1)
        if rows:
            self.open_piece(rows[0].piece_id, in_list=in_list)
        else:
            view.strip.nothing_left()
            view.desk.happened.emit(Event("Everything is weighed."))

    def find(self) -> None:
        """Open the field for a number."""
        self._view.weight_field.hide()
        self._view.find_field.open()

    def found(self, text: str) -> None:
        """A number was typed or read: open its piece, or make the next piece of its order."""
        view = self._view
        number = text.strip().removeprefix("#")
        if not number:
            view.find_field.close_field()
            return
        piece = view.desk.pile.find(number)
        if piece is None:
            key = next_piece_key(number, frozenset(each.case.key for each in view.desk.pile.verdicts.values()))
            piece = view.desk.do(add_piece, key) if key else None
        if piece is None:
            said = "No piece has the number {number}. Type another, or Esc."
            view.find_field.say(said.format(number=number))
            view.find_field.line.selectAll()
            return
        view.find_field.close_field()
        self.open_piece(piece)

    # --- its weight

    def enter(self) -> None:
        """Enter: take the weight that is asked about, else go to the next piece."""
        if not self.take():
            self.next_piece()

    def take(self) -> bool:
        """Take the weight that is asked about; False when none is."""
        return self._view.scale.take()

    def type_weight(self) -> None:
        """Open the field for a weight."""
        view = self._view
        view.find_field.hide()
        verdict = view.verdict
        if verdict is None or verdict.case.is_paid:
            stays = "{number} has its postage on it, so its weight stays."
            first = "Open a piece first: type its number, or N for the next."
            said = stays.format(number=verdict.case.key.reference) if verdict else first
            view.desk.happened.emit(Event(said, "look"))
            return
        if view.scale.piece is None:
            self.attach()
        view.weight_field.open()

    def typed(self, text: str) -> None:
        """Enter in the weight field. What only a barcode reader types that fast, and is a known number, opens it."""
        view = self._view
        if view.weight_field.by_reader() and view.desk.pile.find(text) is not None:
            view.weight_field.close_field()
            self.found(text)
            return
        try:
            shown = typed_weight(text, view.desk.pile.terms.shop.policy, view.scale.live.shown)
        except Refused as refused:
            view.weight_field.say(refused.sentence)
            return
        if view.scale.type_weight(shown):
            view.weight_field.close_field()

    def copy(self) -> None:
        """Let the pieces that are alike take this weight, and name those to check."""
        view = self._view
        if view.piece is None or not (others := view.alike.waiting(view.piece)):
            return
        asked = [*others, *view.alike.with_postage(view.piece)]
        copied = view.desk.do_quietly(copy_weight, view.piece, asked, view.alike.weight_for_others(view.piece))
        if copied:
            checks = len(view.alike.to_check(view.piece))
            words = "{count} took this weight. {checks} of them come next, to check on the scale."
            said = [words.format(count=copied.count, checks=checks)]
            if copied.left_out:
                left = "Left out, since their postage is on: {which}."
                said.append(left.format(which=", ".join(copied.left_out)))
            view.desk.happened.emit(Event(" ".join(said), "note" if copied.left_out else "fine", undo=True))

    # --- what is said of it

    def offer_mailers(self) -> None:
        """Show the list of mailers, or put it away."""
        view = self._view
        if view.verdict is None or view.mailers.isVisible():
            view.mailers.hide()
            view.arrive()
            return
        names = [mailer.name for mailer in view.desk.pile.terms.shop.mailers]
        view.mailers.open(names, view.placement.mailer)

    def choose_mailer(self, name: str) -> None:
        """It is in that mailer."""
        mailer = self._view.desk.pile.terms.shop.mailer(name)
        if mailer is not None:
            self._say(lambda said: said.in_mailer(mailer), self._view.desk.do)
        self._view.arrive()

    def say_thickness(self, name: str) -> None:
        """It is that thick; said again, it is as thick as its mailer."""
        view = self._view
        mailer = view.desk.pile.terms.shop.mailer(view.placement.mailer)
        if mailer is None or mailer.size is None:
            view.desk.happened.emit(Event("Choose a mailer first: M.", "look"))
            return
        self._say(lambda said: said.as_thick(name, mailer), view.desk.do)

    def say_stiff(self) -> None:
        """It is stiff, or it bends: the other one of what is shown."""
        now = self._view.write.stiff.isChecked()
        self._say(lambda said: replace(said, stiff=not now), self._view.desk.do)

    def say_uneven(self) -> None:
        """It is uneven, or even after all."""
        self._say(lambda said: replace(said, uneven=not said.uneven), self._view.desk.do)

    def _say(self, change: Callable[[Placement], Placement], do: Callable[..., object]) -> None:
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            return
        before = view.placement
        said = change(before)
        view.scale.placement = said
        if verdict.case.weighing is not None or said.mailer != before.mailer or said.why == "chosen" != before.why:
            do(describe, view.piece, said)
        view.show_all()

    # --- where it stands

    def answer(self) -> None:
        """Answer the first open issue: "It's right". The next press answers the next one."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            return
        looks = bench_view(verdict, view.desk.pile.terms).looks
        looks = tuple(code for code in looks if code != Code.NO_WEIGHT)
        if looks:
            view.desk.do(answer_looks, view.piece, looks[:1], reference=verdict.case.key.reference)

    def answer_request(self, answer: Callable[[Sitting, int], None]) -> None:
        """Say yes or no to a buyer who asked for a stamp."""
        view, verdict = self._view, self._view.verdict
        if verdict is not None and view.piece is not None and any(f.code == REQUESTED for f in verdict.findings):
            view.desk.do(answer, view.piece)

    def set_aside(self) -> None:
        """Set it aside, or take it back on the line."""
        view, verdict = self._view, self._view.verdict
        if verdict is not None and view.piece is not None:
            stand = None if verdict.stands is Stand.SET_ASIDE else Stand.SET_ASIDE
            view.desk.do(set_beside, [view.piece], stand)

    # --- all about it

    def open_page(self) -> None:
        """Show everything about the open piece; the bench goes on behind it."""
        if self._view.piece is not None and self._view.verdict is not None:
            self._view.pages.setCurrentWidget(self._view.about)
            self._view.about.show_piece(self._view.piece)

    def leave_page(self) -> None:
        """Back to the bench."""
        self._view.pages.setCurrentIndex(0)
        self._view.arrive()

    # --- how the bench works

    def switch_going_on(self) -> None:
        """Go on by itself, or wait for a number."""
        self._view.goes_on = not self._view.goes_on
        self._view.side.goes_on.setChecked(self._view.goes_on)

    def switch_sounds(self) -> None:
        """Sounds on or off."""
        self._view.side.sounds.setChecked(self._view.sounds.switch())
