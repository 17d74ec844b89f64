"""The fees of extra services for one service, and whether insurance pays off by the shop's own losses."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QWidget

from desk.domain.clock import today
from desk.session.money.fee_table import FeeRow, fee_rows
from desk.session.money.losses import loss_rate, loss_words
from desk.session.setup.shop_texts import all_services
from desk.session.words.figures import amount_words, share_in_words
from desk.ui.bridge import Desk
from desk.ui.costs.parts import fill_choices, lay_out, plain_table
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout, labeled

HEADS = ("Extra", "Goods up to", "Fee", "Pays off above", "Worth it", "")
WIDTHS = (240, 110, 90, 140, 130, 40)  # pixels at 100%
ABOUT = (
    "\u201cPays off above\u201d is the share of packages you have to lose before insurance is worth its fee. "
    "Fees are from your newest price list. Compare them with the post's list."
)


class FeesPage(QWidget):
    """A table of fees; insurance that the price includes anyway is left out."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.service = QComboBox()
        self.service.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.service.currentIndexChanged.connect(lambda _place: self.show_fees())
        self.lost, self.about = Inked(), Inked(ABOUT, role="soft_ink")
        for words in (self.lost, self.about):
            words.setWordWrap(True)
        self.model = TextRows(HEADS, (1, 2, 3))
        self.table = plain_table("Fees of extra services", self.model, WIDTHS)
        self.table.set_widths(WIDTHS, dropped_first=(5,), grows=(0,))
        self.nothing = EmptyView("No extras with this service", "Your price lists have no fees for this service.")
        bar = QWidget()
        FlowLayout(bar).addWidget(labeled("&Service", self.service))
        lay_out(self, "Extras", (bar, self.lost, self.table, self.nothing, self.about), self.table)

    def refresh(self) -> None:
        """Read the loss rate and the services with prices; the chosen service stays."""
        desk = self.desk
        self.rate = loss_rate(desk.sitting, today(desk.sitting.clock))
        fill_choices(self.service, all_services(desk.sitting.rulebook), usual="ground-commercial")
        self.lost.setText(loss_words(self.rate))
        self.show_fees()

    def show_fees(self) -> None:
        """Show the fees of the chosen service."""
        rows = fee_rows(self.desk.pile.terms, str(self.service.currentData()), self.rate)
        self.model.show_rows([_cells(row) for row in rows])
        self.table.setVisible(bool(rows))
        self.nothing.setVisible(not rows)


def _cells(row: FeeRow) -> tuple[str, ...]:
    up_to = amount_words(row.up_to) if row.up_to else "any value"
    fee = amount_words(row.fee) if row.fee else "included"
    needed = f"{share_in_words(row.needed, 1)} lost" if row.needed is not None else ""
    return row.extra, up_to, fee, needed, row.worth, ""
