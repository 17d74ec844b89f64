"""The editor of one declaration: its summary, its lines with their fields, and the cautions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from desk.domain.orders.order import OrderLine
from desk.session.bench.splitting import SplitView, split_by_counts, split_view
from desk.session.customs.declarations import DeclarationView, LineView
from desk.session.customs.product_goods import HsChoice, fix_product, hs_choices
from desk.session.setup.change_shop import FieldFault
from desk.ui.bridge import Desk
from desk.ui.customs.line import LineCard
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.fields.field import FieldValue, texts_in
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.trade.split_card import SplitCard


class DeclarationEditor(QScrollArea):
    """Shows one declaration. `passed`: Enter was pressed in the last incomplete field."""

    passed = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.piece: int | None = None
        self.view: DeclarationView | None = None
        self.lines: list[LineCard] = []
        self.split: SplitCard | None = None
        self.setAccessibleName("The declaration")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self._build()

    def _build(self) -> None:
        self.head = Inked("", size=typeface.HEAD, bold=True)
        self.facts = Inked("", "soft_ink", typeface.BODY)
        self.whole = WhyColumn("Issues with the whole declaration")
        self.cautions = Inked("", "soft_ink", typeface.SMALL)
        self._body = body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 8, 12, 12)
        column.setSpacing(8)
        self._lines = QVBoxLayout()
        for label in (self.head, self.facts, self.cautions):
            label.setWordWrap(True)
        for part in (self.head, self.facts):
            column.addWidget(part)
        column.addLayout(self._lines)
        column.addWidget(self.whole)
        column.addWidget(Heading("Cautions"))
        column.addWidget(self.cautions)
        column.addStretch(1)
        self.setWidget(body)

    def show_declaration(self, piece: int | None, view: DeclarationView | None) -> None:
        """Show the declaration of a piece; showing the same piece again keeps fields and focus."""
        packages = self._packages(piece)
        same = (
            piece == self.piece
            and packages == (self.split.view if self.split else None)
            and view is not None
            and self._lines_of(view) == [card.view.line for card in self.lines]
        )
        self.piece, self.view = piece, view
        self._body.setVisible(view is not None)
        if view is None:
            return
        self.head.setText(f"{view.number}  {view.to}, {view.country}")
        self.facts.setText("  ·  ".join(facts_of(view)))
        self.cautions.setText("\n".join(view.cautions))
        self.whole.show_facts([Fact(one.mark, one.words, one.way_out, "", one.source) for one in view.missing])
        if same:
            for card, line in zip(self.lines, view.lines, strict=True):
                card.show_line(line)
        else:
            self._make_lines(view)
            self._make_split(packages)

    def focus_first_missing(self) -> None:
        """Put the focus in the first incomplete field, else in the first field."""
        if self.split is not None and not self.split.view.is_saved:
            self.split.fields[0][0].setFocus()
            return
        for card in self.lines:
            if name := card.first_missing():
                self._go(card, name)
                return
        if self.lines:
            self._go(self.lines[0], "customs_words")

    def go_on(self, card: LineCard, after: str) -> None:
        """Go to the next incomplete field; after the last one, emit `passed`."""
        if name := card.first_missing(after):
            self._go(card, name)
            return
        for later in self.lines[self.lines.index(card) + 1 :]:
            if name := later.first_missing():
                self._go(later, name)
                return
        self.passed.emit()

    def _go(self, card: LineCard, name: str) -> None:
        editor = card.form.fields[name].editor()
        editor.setFocus()
        self.ensureWidgetVisible(card.form.fields[name], 0, 40)
        if hasattr(editor, "selectAll"):
            editor.selectAll()

    def _make_lines(self, view: DeclarationView) -> None:
        for card in self.lines:
            self._lines.removeWidget(card)
            card.hide()
            card.deleteLater()
        self.lines = [LineCard(line, self._save, self._choices) for line in view.lines]
        for card in self.lines:
            self._lines.addWidget(card)
            card.entered.connect(partial(self.go_on, card))
        self.verticalScrollBar().setValue(0)

    def _packages(self, piece: int | None) -> SplitView | None:
        """Return the contents of each package of the piece's order; None when it ships in one."""
        verdict = self.desk.pile.verdicts.get(piece) if piece is not None else None
        if piece is None or verdict is None or verdict.case.pieces_in_order == 1:
            return None
        return split_view(self.desk.sitting, piece)

    def _make_split(self, packages: SplitView | None) -> None:
        if self.split is not None:
            self._lines.removeWidget(self.split)
            self.split.hide()
            self.split.deleteLater()
        self.split = None
        if packages is not None:
            self.split = SplitCard(packages)
            self._lines.insertWidget(0, self.split)
            self.split.saved.connect(partial(self._save_packages, packages))

    def _save_packages(self, packages: SplitView, counts: Sequence[Sequence[int]]) -> None:
        self.desk.do(split_by_counts, packages, counts)

    def _choices(self, text: str) -> Sequence[HsChoice]:
        terms = self.desk.pile.terms
        return hs_choices(terms.rulebook, text, terms.shop)

    def _save(self, line: LineView, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        return self.desk.do(fix_product, line.line, texts_in(values))

    def _lines_of(self, view: DeclarationView) -> list[OrderLine]:
        return [line.line for line in view.lines]


def facts_of(view: DeclarationView) -> list[str]:
    """Return the summary of the declaration as (value, name) pairs."""
    named = (
        ("", "no form" if view.form == "none" else view.form),
        ("", view.category),
        ("goods value", view.goods_value),
        ("net", view.net),
        ("gross", view.gross or "not weighed yet"),
        ("export", view.export),
        ("tax number", view.tax_number),
    )
    return [f"{name} {value}".strip() for name, value in named if value]
