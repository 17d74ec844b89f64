"""The card of the postage: the stamps drawn, and the one-ounce question answered; or how else it is paid."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from desk.session.bench_view import BenchView
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.stamp import StampPicture, StampRow

MOST_DRAWN = 8


class StampsCard(Card):
    """Shows the stamps of one piece."""

    def __init__(self) -> None:
        super().__init__(self.tr("Stamps"))
        self.heading = Inked(role="soft_ink")
        self.heading.setFont(typeface.heading_font())
        self.stamps = StampRow()
        self.strong = Inked(size=typeface.STRONG, bold=True)
        self.soft = Inked(role="soft_ink", size=typeface.BODY)
        words = QVBoxLayout()
        for label in (self.strong, self.soft):
            label.setWordWrap(True)
            words.addWidget(label)
        line = QHBoxLayout()
        line.setSpacing(20)
        line.addWidget(self.stamps)
        line.addLayout(words, 1)
        self.column.addWidget(self.heading)
        self.column.addLayout(line)

    def show_piece(self, view: BenchView | None) -> None:
        """Show the stamps, or the service of a piece that takes none; hidden as long as nothing is decided."""
        self.setVisible(view is not None and bool(view.figure))
        if view is None:
            return
        pictures = [StampPicture(counts_for, words) for counts_for, words in view.stamps[:MOST_DRAWN]]
        self.heading.setText(self.tr("Stamps") if view.stamp_words else self.tr("Postage"))
        self.stamps.setVisible(bool(pictures))
        self.stamps.show_stamps(pictures)
        service = view.service[:1].upper() + view.service[1:]
        self.strong.setText(view.ounce_words or service or self.tr("No service takes it."))
        self.soft.setText(view.stamp_words)
        self.soft.setVisible(bool(view.stamp_words))
