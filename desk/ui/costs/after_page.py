"""After mailing: what came back or was lost, sending it again, claims, refunds, and messages to buyers."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit, QWidget

from desk.domain.clock import today
from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.domain.status import PieceStatus
from desk.session.lists.messages import message_template, messages, save_message_template, save_messages
from desk.session.money.after_mailing import (
    MailedPiece,
    Noted,
    enter_claim_paid,
    mailed_pieces,
    mark_after_mailing,
    note_day,
    send_again,
)
from desk.session.money.losses import loss_rate, loss_words
from desk.session.papers.saving import cannot_write
from desk.session.papers.weight_record import save_weight_record
from desk.session.scale.coin_check import scale_checks
from desk.session.words.figures import amount_words, counted, listed, measure, moment_in_words, short_day
from desk.ui.bridge import Desk, Event
from desk.ui.costs.parts import add_button, lay_out, plain_table, typed_amount
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.files import file_to_save
from desk.ui.kit.rows import TextRows
from desk.ui.kit.wrapping import FlowLayout, labeled

HEADS = ("Package", "Recipient", "Mailed", "Status", "Value", "Covered", "Claim", "Refund")
WIDTHS = (96, 170, 116, 210, 80, 80, 220, 150)  # pixels at 100%
CLAIM_DAYS = "Claim days can change. Check them with the post before you file (DMM 609.1.4; abroad, the Universal Postal Convention)."
MARKED = (PieceStatus.CAME_BACK, PieceStatus.LOST)


class AfterPage(QWidget):
    """Every package that left; the buttons are about the selected rows."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.mailed: tuple[MailedPiece, ...] = ()
        self.reason, self.amount, self.template = QLineEdit(), QLineEdit(), QLineEdit()
        self.reason.setPlaceholderText("no such number")
        self.amount.setPlaceholderText(measure("25.00"))
        self.template.editingFinished.connect(self.save_template)
        self.template.setMinimumWidth(360)
        self.model = TextRows(HEADS, (4, 5))
        self.table = plain_table("Packages that left", self.model, WIDTHS)
        self.table.set_widths(WIDTHS, dropped_first=(4, 5, 2, 1), grows=(1, 3), fits=(6, 7))
        self.rate = Inked(role="soft_ink")
        self.rate.setWordWrap(True)
        self.nothing = EmptyView("Nothing mailed yet", "Packages appear here when they are handed over.")
        self.bars = (self._status_bar(), self._claim_bar(), self._message_bar())
        parts = (*self.bars[:2], self.table, self.nothing, self.rate, self.bars[2])
        lay_out(self, "After mailing", parts, self.table)

    def _status_bar(self) -> QWidget:
        bar = QWidget()
        line = FlowLayout(bar)
        line.addWidget(labeled("&Reason", self.reason))
        add_button("&Came back", lambda: self.mark(PieceStatus.CAME_BACK), line)
        add_button("&Lost", lambda: self.mark(PieceStatus.LOST), line)
        add_button("Arrived after &all", lambda: self.mark(None), line)
        add_button("&Send again", self.send_again, line)
        return bar

    def _claim_bar(self) -> QWidget:
        bar = QWidget()
        line = FlowLayout(bar)
        add_button("Claim &filed today", lambda: self.note(Noted.CLAIM_FILED), line)
        line.addWidget(labeled("&Paid for the claim", self.amount))
        add_button("Save this a&mount", self.enter_claim, line)
        add_button("Save &weight record…", self.ask_where_record, line)
        add_button("Refund paid &today", lambda: self.note(Noted.REFUND_PAID), line)
        return bar

    def _message_bar(self) -> QWidget:
        bar = QWidget()
        line = FlowLayout(bar)
        line.addWidget(labeled("M&essage to buyers", self.template))
        add_button("C&opy the message", self.copy_message, line)
        add_button("Save &messages…", self.ask_where, line)
        return bar

    def refresh(self) -> None:
        """Show what left, the latest first."""
        selected = {self.mailed[row].piece_id for row in self.table.chosen_rows() if row < len(self.mailed)}
        self.mailed = mailed_pieces(self.desk.sitting, self.desk.pile)
        self.model.show_rows([_cells(one) for one in self.mailed])
        for row, one in enumerate(self.mailed):
            if one.piece_id in selected:
                self.table.selectRow(row)
                break
        if not self.template.hasFocus():
            self.template.setText(message_template(self.desk.sitting))
        for part in (*self.bars, self.table, self.rate):
            part.setVisible(bool(self.mailed))
        self.nothing.setVisible(not self.mailed)
        unread = "Earlier days are still being read. Open this page again if you stopped that."
        rate = loss_words(loss_rate(self.desk.sitting, today(self.desk.sitting.clock)))
        self.rate.setText(f"{unread if self.desk.pile.unread else rate} {CLAIM_DAYS}")

    def chosen(self) -> list[MailedPiece]:
        """Return the packages of the selected rows; says so when there is none."""
        selected = [self.mailed[row] for row in self.table.chosen_rows()]
        if not selected:
            self.desk.happened.emit(Event("Select packages in the list first.", Severity.LOOK))
        return selected

    def mark(self, status: PieceStatus | None) -> None:
        """Mark the selected packages, with the typed reason."""
        if chosen := [one.piece_id for one in self.chosen()]:
            self.desk.do(mark_after_mailing, chosen, status, self.reason.text() if status else "")
            self.reason.clear()
            self.refresh()
            self.table.setFocus()  # so that Z undoes it

    def send_again(self) -> None:
        """Make new orders for the selected packages and say their numbers."""
        if chosen := [one.piece_id for one in self.chosen()]:
            numbers = self.desk.do_quietly(send_again, self.desk.pile, chosen)
            if numbers:
                words = f"To be sent again as {listed(numbers)}. Weigh it like any other package."
                self.desk.happened.emit(Event(words, undo=True))

    def note(self, what: Noted) -> None:
        """Note today for the selected packages."""
        if chosen := [one.piece_id for one in self.chosen()]:
            self.desk.do(note_day, chosen, what, today(self.desk.sitting.clock))
            self.refresh()

    def enter_claim(self) -> None:
        """Enter what the carrier paid for the selected package."""
        chosen = self.chosen()
        amount = typed_amount(self.amount.text(), self.desk.pile.terms.shop.policy.currency)
        if len(chosen) > 1:
            self.desk.happened.emit(Event("Select one package: a claim is paid for one.", Severity.LOOK))
        elif chosen and amount is None:
            self.desk.happened.emit(Event(f"Can't read “{self.amount.text()}” as an amount.", Severity.STOP))
        elif chosen and amount is not None:
            self.desk.do(enter_claim_paid, chosen[0].piece_id, amount)
            self.amount.clear()
            self.refresh()

    def ask_where_record(self) -> None:
        """Ask for a file and save the weight record of the selected package, to contest an adjustment."""
        chosen = self.chosen()
        if not chosen:
            return
        offered = f"weight-record-{chosen[0].number}.pdf"
        if (file := file_to_save(self, "Save weight record", offered, "PDF (*.pdf)")) is not None:
            self.save_record(file)

    def save_record(self, file: Path) -> None:
        """Save the weight record of the first selected package."""
        sitting, pile = self.desk.sitting, self.desk.pile
        checks = scale_checks(sitting)
        check = f"{moment_in_words(datetime.fromisoformat(checks[0].at))}: {checks[0].sentence()}" if checks else ""
        try:
            save_weight_record(sitting, pile, self.chosen()[0].piece_id, check, self.desk.resources, file)
        except Refused as why:
            self.desk.happened.emit(Event(str(why), Severity.LOOK))
        except OSError as fault:
            self.desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))
        else:
            self.desk.happened.emit(Event(f"Saved: {file}"))

    def save_template(self) -> None:
        """Save the typed message if it changed."""
        if self.template.text() != message_template(self.desk.sitting):
            self.desk.do(save_message_template, self.template.text())

    def copy_message(self) -> None:
        """Copy the message for the first selected package."""
        if chosen := self.chosen():
            (message,) = messages(self.desk.sitting, self.desk.pile, chosen[:1])
            QGuiApplication.clipboard().setText(message.text)
            self.desk.happened.emit(Event(f"Copied the message for {message.order}."))

    def ask_where(self) -> None:
        """Ask for a file and save the messages for the selected packages, or for all."""
        if (file := file_to_save(self, "Save messages", "messages.csv", "CSV (*.csv)")) is not None:
            self.save(file)

    def save(self, file: Path) -> None:
        """Save the messages for the selected packages, or for all when none is selected."""
        chosen = [self.mailed[row] for row in self.table.chosen_rows()] or list(self.mailed)
        try:
            save_messages(messages(self.desk.sitting, self.desk.pile, chosen), file)
        except OSError as fault:
            self.desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))
        else:
            self.desk.happened.emit(Event(f"Saved {counted(len(chosen), 'message')}: {file}"))


def _cells(one: MailedPiece) -> tuple[str, ...]:
    status = f"{one.status}: {one.reason}" if one.status in MARKED and one.reason else str(one.status)
    covered = amount_words(one.cover) if one.cover else "no"
    figures = amount_words(one.value), covered, _claim_words(one), _refund_words(one)
    return one.number, one.recipient, short_day(one.mailed_on), status, *figures


def _claim_words(one: MailedPiece) -> str:
    if one.paid_back:
        return f"{amount_words(one.paid_back)} paid"
    if one.claimed_on:
        return f"filed {short_day(one.claimed_on)}"
    if one.claim:
        return f"{short_day(one.claim.first)} to {short_day(one.claim.last)}"
    return ""


def _refund_words(one: MailedPiece) -> str:
    if not one.refund:
        return ""
    paid = f"paid {short_day(one.refunded_on)}" if one.refunded_on else "due"
    return f"{amount_words(one.refund)} {paid}"
