"""The card for a tray that stays on the scale: weighed once and subtracted."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QPushButton

from desk.domain.weight import Shown
from desk.session.scale.choice import ScaleChoice, keep_tray, tray_of
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.setup.weighing import WeighButton, settled_weight


class TrayCard(Card):
    """Weigh the empty tray, or remove it."""

    def __init__(self, desk: Desk, usual: ScaleChoice) -> None:
        super().__init__("Tray", "A tray that stays on")
        self._desk, self._usual = desk, usual
        self.words = Inked(role="soft_ink", size=typeface.SMALL)
        self.words.setWordWrap(True)
        self.weigh = WeighButton(lambda: settled_weight(desk), "empty tray")
        self.away = QPushButton("No tray")
        self.away.setAccessibleName(self.away.text())
        self.column.addWidget(self.words)
        line = QHBoxLayout()
        line.addWidget(self.weigh)
        line.addWidget(self.away)
        line.addStretch(1)
        self.column.addLayout(line)
        self.weigh.taken.connect(self._keep)
        self.away.clicked.connect(lambda _checked=False: self._keep(None))

    def show_choice(self, choice: ScaleChoice) -> None:
        """Show whether there is a tray."""
        tray = tray_of(choice)
        self.weigh.setVisible(tray is None)
        self.away.setVisible(tray is not None)
        self.words.setText(
            f"The tray weighs {tray.words()}; that is subtracted from every reading."
            if tray
            else "Put the empty tray on. Its weight is then subtracted from every reading."
        )

    def _keep(self, shown: Shown | None) -> None:
        self._desk.do(keep_tray, shown, self._usual)
