"""Open a piece by its number, as the next one, or by a scanned code."""

from __future__ import annotations

from collections.abc import Callable

from desk.domain.severity import Severity
from desk.session.bench.another_piece import add_piece, next_piece_key
from desk.session.pile.packing import placement_for
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event


class OpeningActs:
    """Opens pieces, and tells the scale where its weight goes."""

    def __init__(self, view: BenchLayout) -> None:
        self._view = view
        self.compare_label: Callable[[str], bool] = lambda _code: False  # set by scan to match

    def open_piece(self, piece: int, *, in_list: bool = False) -> None:
        """Open a piece: the next settled weight is its own. `in_list`: the program opened it, you didn't name it."""
        view = self._view
        view.piece, view.came_next = piece, in_list
        view.desk.piece_on_bench.emit(piece)
        if piece in view.desk.taken and view.verdict is not None:
            words = f"{view.verdict.case.number} is open at the other bench too."
            view.desk.happened.emit(Event(words, Severity.LOOK))
        view.put_away_fields()
        if view.isVisible():
            self.attach()
            view.show_all()
            view.arrive()

    def attach(self) -> None:
        """Tell the scale which piece is open; one with its postage on gets no weight."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            view.scale.close()
            return
        placement = placement_for(verdict.case, view.piece, view.alike, view.desk.pile.terms.shop)
        if verdict.case.postage_on or verdict.case.handed_over:
            view.scale.close(placement)
        else:
            view.scale.open(view.piece, placement, in_list=view.came_next, expects_same=self._expects_same(view.piece))

    def _expects_same(self, piece: int) -> bool:
        """Return whether the last weighed piece has the same contents, so that an equal weight is expected."""
        last = self._view.desk.pile.last_weighed(1)
        return bool(last) and self._view.alike.have_same_contents(last[0], piece)

    def follow(self) -> None:
        """Follow a change: the piece may be gone, unweighed again, or in another mailer."""
        view, verdict = self._view, self._view.verdict
        if view.piece is None:
            return
        if verdict is None:
            view.piece = None
            view.scale.close()
            return
        mailer = view.placement.mailer
        weighing = verdict.case.weighing
        view.scale.follow_stored(weighing.shown if weighing else None)
        if verdict.case.weighing is not None or (verdict.case.mailer and verdict.case.mailer != mailer):
            view.scale.placement = placement_for(verdict.case, view.piece, view.alike, view.desk.pile.terms.shop)

    def next_piece(self, *, in_list: bool = True) -> None:
        """Open the next piece of the list. Without `in_list` it is known to be the next one on the scale."""
        view = self._view
        rows = view.next_pieces.rows(view.piece, 1)
        if rows:
            self.open_piece(rows[0].piece_id, in_list=in_list)
        else:
            view.strip.nothing_left()
            view.desk.happened.emit(Event("Everything is weighed."))

    def find(self, first: str = "") -> None:
        """Open the number field with what was already typed."""
        self._view.put_away_fields()
        self._view.find_field.open(first)

    def found(self, text: str, *, by_hand: bool = False) -> bool:
        """Open the piece with the typed or scanned number, or add the next piece of its order; False when it can't.

        `by_hand`: no barcode reader sent it, however fast it came.
        """
        view = self._view
        number = text.strip().removeprefix("#")
        if not number:
            view.find_field.close_field()
            return False
        piece = view.desk.pile.find(number)
        alike = self._pieces_ending_in(number, by_hand=by_hand) if piece is None else []
        if len(alike) > 1:
            return self._refuse(f"{len(alike)} orders end in {number}. Type more of the number.")
        piece = alike[0] if alike else piece
        if piece is None:
            key = next_piece_key(number, frozenset(each.case.key for each in view.desk.pile.verdicts.values()))
            piece = view.desk.do(add_piece, key) if key else None
        if piece is None and self.compare_label(number):
            view.find_field.hide()
            return False
        if piece is None:
            return self._refuse(f"No order {number} here. Type another number, or press Esc.")
        view.find_field.close_field()
        self.open_piece(piece)
        return True

    def _pieces_ending_in(self, number: str, *, by_hand: bool) -> list[int]:
        """Return the pieces a part of a number can mean; a barcode reader always gives all of it."""
        pile = self._view.desk.pile
        whole = pile.find_by_digits(number)
        is_whole = not by_hand and self._view.find_field.by_reader()
        return whole if whole or is_whole else pile.find_by_ending(number)

    def _refuse(self, sentence: str) -> bool:
        self._view.refuse(self._view.find_field, sentence)
        self._view.find_field.line.selectAll()
        return False
