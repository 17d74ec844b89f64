"""What to charge for shipping, from past costs: type a charge and see how many orders would lose money."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from desk.domain.ledger import LedgerRow
from desk.domain.money import Money
from desk.domain.severity import Severity
from desk.session.money.books import read_books
from desk.session.money.charging import (
    ChargeAdvice,
    ChargeOutcome,
    GroupAdvice,
    ShippingCost,
    advise,
    curve,
    free_shipping,
    items_of_orders,
    overcharged,
    postage_now,
    shipping_costs,
)
from desk.session.money.thresholds import set_overcharged, thresholds
from desk.session.words.figures import amount_words, measure, share_in_words
from desk.ui.bridge import Desk, Event
from desk.ui.costs.charge_curve import ChargeCurve, words_for
from desk.ui.costs.charge_words import COVERED, charge_words, free_words, sure_words, ways_rows, ways_words
from desk.ui.costs.parts import LEAST, lay_out, typed_amount
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout, labeled

EACH, WAYS = "Each charge", "Flat or table"
HEADS = {
    EACH: ("Charge", "Orders that lose money", "Average margin", ""),
    WAYS: ("Kind", "Orders", "Breaks even", "Covers 9 in 10"),
}
WIDTHS = {EACH: (90, 180, 130, 40), WAYS: (170, 70, 106, 116)}  # pixels at 100%
POINTS = 24  # of the curve
MOST_LISTED = 12


class ChargePage(QWidget):
    """One destination group at a time."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.advice: list[GroupAdvice] = []
        self.rows: list[LedgerRow] = []
        self.costs: list[ShippingCost] = []
        self.items: dict[str, int] = {}
        choices = self._build_choices()
        self.what, self.sure, self.fault = Inked(), Inked(role="soft_ink"), Inked(role="stop")
        self.ways, self.overpaid = Inked(), Inked(role="soft_ink")
        for words in (self.what, self.sure, self.ways, self.fault, self.overpaid):
            words.setWordWrap(True)
        self.curve = ChargeCurve()
        self.model = TextRows(HEADS[EACH], (1, 2, 3))
        self.table = PlainTable("What each charge would have meant")
        self.table.setModel(self.model)
        self._listed = ""  # what the columns of the table are for
        self.some, beside = QWidget(), QWidget()
        one_column = typeface.scale() >= ONE_COLUMN_FROM
        pair = QVBoxLayout(beside) if one_column else QHBoxLayout(beside)
        pair.setContentsMargins(0, 0, 0, 0)
        for part in (self.curve, self.table):
            part.setMinimumHeight(LEAST if one_column else 0)
            pair.addWidget(part, 1)
        parts = (choices, self.what, self.sure, self.ways, self.fault, beside, self.overpaid)
        lay_out(self.some, "What to charge", parts, beside)
        self.nothing = EmptyView("No costs yet", "Costs appear here when orders are handed over.")
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(self.some, 1)
        whole.addWidget(self.nothing)

    def _build_choices(self) -> QWidget:
        """Return the line of fields: where to, the charge, and what counts as overcharged."""
        self.group, self.charge = QComboBox(), QLineEdit()
        self.group.currentIndexChanged.connect(lambda _place: self._turn_to_group())
        self.charge.textEdited.connect(lambda _text: self.show_charge())
        self.charge.setPlaceholderText(measure("5.00"))
        self.charge.setMaximumWidth(round(120 * typeface.scale()))
        self.group.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        choices = QWidget()
        line = FlowLayout(choices)
        line.addWidget(labeled("&Where to", self.group))
        line.addWidget(labeled("&If you charge", self.charge))
        self.over = QLineEdit()
        self.over.setPlaceholderText("none")
        self.over.setMaximumWidth(round(120 * typeface.scale()))
        self.over.editingFinished.connect(self.set_over)
        self.listed = QComboBox()
        self.listed.addItems([EACH, WAYS])
        self.listed.currentIndexChanged.connect(lambda _place: self.show_charge())
        line.addWidget(labeled("&Table", self.listed))
        line.addWidget(labeled("&List orders overcharged by more than", self.over))
        return choices

    def refresh(self) -> None:
        """Read what orders cost."""
        self.rows = read_books(self.desk.sitting)
        self.costs = shipping_costs(self.rows, postage_now(self.desk.pile))
        self.advice = advise(self.desk.pile, self.costs)
        self.items = items_of_orders(self.desk.sitting, [one.order for one in self.costs])
        self._show_overcharged()
        chosen = self.group.currentText()
        self.group.blockSignals(True)
        self.group.clear()
        self.group.addItems([one.advice.group for one in self.advice])
        self.group.setCurrentIndex(max(self.group.findText(chosen), 0))
        self.group.blockSignals(False)
        if self.group.currentText() != chosen:
            self.charge.setModified(False)
        self.some.setVisible(bool(self.advice))
        self.nothing.setVisible(not self.advice)
        self.show_group()

    def _show_overcharged(self) -> None:
        least = thresholds(self.desk.sitting).overcharged
        if not self.over.hasFocus():
            self.over.setText(measure(least.text()) if least else "")
        orders = overcharged(shipping_costs(self.rows), least) if least else []
        parts = [f"{one.order} {amount_words(one.paid - one.cost)}" for one in orders[:MOST_LISTED]]
        more = f", and {len(orders) - MOST_LISTED} more" if len(orders) > MOST_LISTED else ""
        words = (
            f"Overcharged, the most first: {', '.join(parts)}{more}." if orders else "No order was overcharged by more."
        )
        self.overpaid.setText(words if least else "")
        self.overpaid.setVisible(least is not None)

    def set_over(self) -> None:
        """Save the typed sum; an empty one ends the list, and one that can't be read changes nothing."""
        text = self.over.text().strip()
        typed = typed_amount(text, self.desk.pile.terms.shop.policy.currency) if text else None
        if text and not typed:
            self.desk.happened.emit(Event(f"Can't read “{text}” as an amount over 0.", Severity.STOP))
        elif typed != thresholds(self.desk.sitting).overcharged:
            self.desk.do(set_overcharged, typed)
            self.refresh()

    def _turn_to_group(self) -> None:
        """Show another group, with a charge of its own."""
        self.charge.setModified(False)
        self.show_group()

    def show_group(self) -> None:
        """Show the advice for the chosen group; fills in the charge that covers 9 in 10 unless another is typed."""
        one = self._chosen()
        if one is None:
            return
        if not self.charge.isModified():
            self.charge.setText(measure(one.advice.covering(COVERED).text()))
        self.what.setText(charge_words(one))
        self.sure.setText(sure_words(one))
        currency = self.desk.pile.terms.shop.policy.currency
        free = free_shipping(self.costs, one.advice.group, self.items, currency)
        self.ways.setText(" ".join(filter(None, (ways_words(one), free_words(free)))))
        self.show_charge()

    def show_charge(self) -> None:
        """Show what the typed charge would have meant."""
        one = self._chosen()
        if one is None:
            return
        typed = typed_amount(self.charge.text(), one.advice.currency)
        self.fault.setText("" if typed else f"Can't read \u201c{self.charge.text()}\u201d as an amount.")
        self.fault.setVisible(typed is None)
        chosen = None if typed is None else one.advice.at(typed)
        outcomes = curve(one.advice, _charges(one.advice, typed))
        self.curve.show_outcomes(outcomes, chosen)
        listed = self.listed.currentText()
        if self._listed != listed:
            self._listed = listed
            self.model.name_columns(HEADS[listed])
            self.table.set_widths(WIDTHS[listed], dropped_first=(3,), grows=(0,))
        self.model.show_rows([_cells(outcome) for outcome in outcomes] if listed == EACH else ways_rows(one))
        if chosen is not None:
            self.fault.setVisible(False)
            self.sure.setText(f"{words_for(chosen)} {sure_words(one)}")

    def _chosen(self) -> GroupAdvice | None:
        return next((one for one in self.advice if one.advice.group == self.group.currentText()), None)


def _charges(one: ChargeAdvice, typed: Money | None) -> list[Money]:
    most = max(one.costs[-1], typed.minor if typed else 0)
    step = max(-(-most // POINTS), 1)
    charges = {*range(0, most + step, step), *([typed.minor] if typed else [])}
    return [Money(minor, one.currency) for minor in sorted(charges)]


def _cells(outcome: ChargeOutcome) -> tuple[str, ...]:
    charge, margin = outcome.charge, outcome.average_margin
    losing = f"{outcome.losing} of {outcome.orders} ({share_in_words(outcome.share_losing)})"
    return amount_words(charge), losing, amount_words(margin), ""
