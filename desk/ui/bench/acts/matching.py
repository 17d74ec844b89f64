"""Scan to match at the bench: the slip opens its piece, then the label is compared with it."""

from __future__ import annotations

from desk.domain.orders.tracking import tracking_number
from desk.domain.severity import Severity
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchLayout


class MatchingActs:
    """Slip, label, slip, label: the field keeps the focus, so a barcode reader is enough."""

    def __init__(self, view: BenchLayout, opening: OpeningActs) -> None:
        self._view, self._opening = view, opening
        opening.compare_label = self.label_read

    def open(self) -> None:
        """Open the field for scans."""
        self._view.put_away_fields()
        self._view.scan_line.open()

    def slip_read(self, piece: int) -> None:
        """Open the piece of a slip; the next scan is its label."""
        turn = self._view.scan_line.turn
        self._opening.open_piece(piece)
        self._view.scan_line.open(turn)

    def label_read(self, code: str) -> bool:
        """Compare a label scanned without the field with the open piece; False when the code is no tracking number."""
        verdict = self._view.verdict
        if verdict is None or tracking_number(code) is None:
            return False
        self._view.scan_line.open()
        self._view.scan_line.compare(verdict.case.key.reference, code)
        return True

    def answered(self, mark: Severity) -> None:
        """Play the sound for a match or mismatch; the field shows the word and the mark."""
        self._view.sounds.play(mark)

    def leave(self) -> None:
        """Close the field."""
        self._view.put_away_fields()
        self._view.arrive()
