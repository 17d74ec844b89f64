"""Two scans make one comparison: the code of the slip, then the code of its label."""

from __future__ import annotations

from dataclasses import dataclass

from desk.domain.finding import Severity
from desk.session.labels.scan import ScanResult, scan_to_match
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment


@dataclass(frozen=True, slots=True)
class ScanAnswer:
    """The result of one scan: its mark, words, and the piece of a slip that was just scanned."""

    mark: Severity
    words: str
    piece: int | None = None


class ScanTurn:
    """What is scanned next: a slip, or its label."""

    def __init__(self) -> None:
        self.slip = ""  # the reference of the slip that waits for its label

    def take(self, sitting: Sitting, pile: Pile, code: str) -> ScanAnswer:
        """Use a scanned code as a slip, or as the label of the last slip, and save the result of the comparison."""
        piece = pile.find(code)
        if self._is_slip_again(pile, piece):
            return ScanAnswer(Severity.LOOK, f"That is the slip of {self._number(pile)} again. Scan its label.")
        if self.slip and not self._is_next_slip(pile, piece):
            return self.compare(sitting, pile, code)
        if piece is None:
            return ScanAnswer(Severity.LOOK, "Scan the slip first, then its label.")
        self.slip = pile.verdicts[piece].case.key.reference
        return ScanAnswer(Severity.NOTE, f"Slip {self._number(pile)}. Now scan its label.", piece)

    def compare(self, sitting: Sitting, pile: Pile, label: str) -> ScanAnswer:
        """Compare a label with the slip that waits for it; the next scan is a slip again."""
        number = self._number(pile)
        slip, self.slip = self.slip, ""
        if scan_to_match(sitting, pile, slip, label) is ScanResult.MATCH:
            return ScanAnswer(Severity.FINE, f"MATCH {number}")
        return ScanAnswer(Severity.STOP, f"MISMATCH {number}: this is another package's label")

    def _number(self, pile: Pile) -> str:
        """Return the number people know the waiting slip's piece by."""
        return pile.number_of(self.slip)

    def _is_slip_again(self, pile: Pile, piece: int | None) -> bool:
        """Return whether the scan is the waiting slip a second time; that says nothing about its bought label."""
        return piece is not None and piece == self._waiting(pile)

    def _is_next_slip(self, pile: Pile, piece: int | None) -> bool:
        """Return whether the scan is another package's slip."""
        return None not in (piece, self._waiting(pile))

    def _waiting(self, pile: Pile) -> int | None:
        """Return the piece whose slip waits for a bought label, which has no number of ours; else None."""
        waiting = pile.find(self.slip) if self.slip else None
        return waiting if waiting is not None and pile.verdicts[waiting].payment is Payment.ONLINE else None
