"""Give the open piece its weight: from the scale, typed, or copied to identical pieces."""

from __future__ import annotations

import re

from desk.domain.faults import Refused
from desk.domain.orders.tracking import tracking_number
from desk.domain.severity import Severity
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import copy_weight
from desk.session.scale.step_rule import typed_weight
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event

MORE_DIGITS = re.compile(r"\d{7,}|\d+( +\d+)+", re.ASCII)  # the rest of a number; a weight has up to six in a row
IN_GROUPS = re.compile(r"\d{4,}( +\d{4,})+", re.ASCII)  # a number printed in groups, or a number and 1000 g


class WeighingActs:
    """Weights of the open piece."""

    def __init__(self, view: BenchLayout, opening: OpeningActs) -> None:
        self._view, self._opening = view, opening
        self._held: int | None = None  # the piece whose typed weight waits for a check

    def enter(self) -> None:
        """Use the weight the bench asks about, else go to the next piece."""
        if not self.take():
            self._opening.next_piece()

    def take(self) -> bool:
        """Use the weight the bench asks about; return False when it asks about none."""
        return self._view.scale.take()

    def type_weight(self) -> None:
        """Open the field for a weight."""
        view, verdict = self._view, self._view.verdict
        if verdict is None:
            view.desk.happened.emit(Event("Open a piece first: type its number, or press N.", Severity.LOOK))
            return
        if verdict.case.postage_on or verdict.case.handed_over:
            number = verdict.case.key.order
            view.desk.happened.emit(Event(f"{number} already has its postage, so its weight stays.", Severity.LOOK))
            return
        view.put_away_fields()
        if view.scale.piece is None:
            self._opening.attach()
        view.weight_field.open()

    def found(self, text: str) -> None:
        """Open the piece with the typed number, and save the weight if one is typed after it: `1043 1.3`.

        A tracking number, or any long number printed in groups of digits, is looked for as a whole.
        """
        number, _, weight = text.strip().partition(" ")
        if self._is_in_groups(text.strip(), number):
            self._opening.found("".join(text.split()))
            return
        is_whole = not weight or MORE_DIGITS.fullmatch(weight.strip()) or tracking_number(text)
        if is_whole or self._view.desk.pile.find(text) is not None:
            self._opening.found(text)
        elif self._opening.found(number, by_hand=True):
            self.type_weight()
            if self._view.weight_field.isVisibleTo(self._view):
                self._view.weight_field.line.setText(weight.strip())
                self.typed(weight)

    def _is_in_groups(self, text: str, first: str) -> bool:
        """Return whether the groups of digits are one order number together, and the first alone is none."""
        pile, joined = self._view.desk.pile, "".join(text.split())
        is_known = IN_GROUPS.fullmatch(text) and (pile.find(joined) is not None or pile.find_by_digits(joined))
        return bool(is_known) and pile.find(first) is None

    def typed(self, text: str) -> None:
        """Save a typed weight. A known number typed as fast as only a barcode reader does opens its piece."""
        view = self._view
        if view.weight_field.by_reader() and view.desk.pile.find(text) is not None:
            view.weight_field.close_field()
            self._opening.found(text)
            return
        try:
            shown = typed_weight(text, view.desk.pile.terms.shop.policy, view.scale.live.shown)
        except Refused as refused:
            view.refuse(view.weight_field, refused.sentence)
            return
        if view.scale.type_weight(shown):
            view.weight_field.close_field()
            self._advance()

    def _advance(self) -> None:
        """Go to the next piece after a typed weight, unless this one needs a check."""
        view, verdict = self._view, self._view.verdict
        self._held = None
        if verdict is None or not view.goes_on:
            return
        if verdict.status is PieceStatus.NEEDS_A_LOOK:
            self._held = view.piece
        else:
            self._opening.next_piece()

    def checked(self) -> None:
        """Go on after an answer, when the piece's weight was typed and waited for it."""
        if self._held is not None and self._held == self._view.piece:
            self._advance()

    def copy(self) -> None:
        """Copy this weight to identical pieces, and say which to check on the scale."""
        view = self._view
        if view.piece is None or not (others := view.alike.waiting(view.piece)):
            return
        asked = [*others, *view.alike.with_postage(view.piece)]
        copied = view.desk.do_quietly(copy_weight, view.piece, asked, view.alike.weight_for_others(view.piece))
        if copied:
            checks = len(view.alike.to_check(view.piece))
            words = f"Weight used for {copied.count} more. Next, check {checks} on the scale."
            if copied.left_out:
                words += f" Not changed, postage is on: {', '.join(copied.left_out)}."
            view.desk.happened.emit(Event(words, Severity.NOTE if copied.left_out else Severity.FINE, undo=True))
