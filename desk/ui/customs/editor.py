"""The editor of one declaration: its summary, its lines with their fields, and the cautions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from desk.domain.orders.order import OrderLine
from desk.domain.weight import WeightUnit
from desk.session.bench.answers import answer_looks
from desk.session.bench.splitting import SplitView, split_by_counts, split_view
from desk.session.customs.declarations import DeclarationView, LineView
from desk.session.customs.details import set_detail, set_unit_value
from desk.session.customs.product_goods import (
    HsChoice,
    copy_choices,
    copy_from,
    fix_product,
    hs_choices,
    same_for_all,
    variants_of,
)
from desk.session.setup.change_shop import FieldFault
from desk.ui.bridge import Desk
from desk.ui.common_keys import RIGHT
from desk.ui.customs.details import DetailsCard
from desk.ui.customs.enter import ENTER
from desk.ui.customs.hand_copy import HandCopyCard
from desk.ui.customs.line import OF_PRODUCT, LineCard, texts_of
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Heading, Inked
from desk.ui.kit.fields.field import FieldValue, texts_in
from desk.ui.kit.key_word import KeyWord
from desk.ui.kit.why_column import Fact, WhyColumn
from desk.ui.trade.split_card import SplitCard

FieldsCard = DetailsCard | LineCard


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
        self.details: DetailsCard | None = None
        self.copying = HandCopyCard(desk)
        self.setAccessibleName("The declaration")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self._build()

    def _build(self) -> None:
        self.head = Inked("", size=typeface.HEAD, bold=True)
        self.facts = Inked("", "soft_ink", typeface.BODY)
        self.whole = WhyColumn("Issues with the whole declaration")
        self.right = KeyWord(RIGHT, "checked, it's right")
        self.right.clicked.connect(self.answer)
        self.cautions = Inked("", "soft_ink", typeface.SMALL)
        self._body = body = QWidget()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 8, 12, 12)
        column.setSpacing(8)
        self._lines = QVBoxLayout()
        for label in (self.head, self.facts, self.cautions):
            label.setWordWrap(True)
        for part in (self.copying, self.head, self.facts, self.whole, self.right):
            column.addWidget(part)
        column.addLayout(self._lines)
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
            and [line.line for line in view.lines] == [card.view.line for card in self.lines]
            and self.details is not None
            and tuple(detail.name for detail in view.details) == self.details.names
        )
        fresh = piece != self.piece
        if fresh and self.copying.is_on:
            self.copying.end()
        self.piece, self.view = piece, view
        self._body.setVisible(view is not None)
        if view is None:
            return
        self.head.setText(f"{view.number}  {view.to}, {view.country}")
        self.facts.setText("  ·  ".join(facts_of(view)))
        self.cautions.setText("\n".join(view.cautions))
        asked = {detail.name for detail in view.details}
        self.whole.show_facts(
            [Fact(one.mark, one.words, one.way_out, "", one.source) for one in view.missing if one.field not in asked]
        )
        self.right.setVisible(bool(view.answerable))
        if same and self.details is not None:
            self.details.show_details(view)
            for card, line in zip(self.lines, view.lines, strict=True):
                card.show_line(line)
            return
        unsaved: list[tuple[OrderLine, dict[str, FieldValue]]] = []
        focus = ""
        if not fresh:
            unsaved = [(card.view.line, card.unsaved) for card in self.lines]
            focus = self.details.in_focus if self.details is not None else ""
        self._make_cards(view, packages)
        for card in self.lines:
            at = next((at for at, (line, _) in enumerate(unsaved) if line == card.view.line), None)
            if at is not None:  # each typed text once, since two lines may be identical
                card.put(unsaved.pop(at)[1])
        if self.details is not None and focus in self.details.names:
            self._go(self.details, focus)

    def focus_first_missing(self) -> None:
        """Put the focus in the first incomplete field; where no field is incomplete, on the declaration as a whole."""
        if self.split is not None and not self.split.view.is_saved:
            self.setFocus()  # a single item has no fields: then Enter goes on
            self.split.begin()
            self._bring_into_sight(self.split)
            return
        for card in self.cards:
            if name := card.first_missing():
                self._go(card, name)
                return
        self.setFocus()

    def go_on(self, card: FieldsCard | None, after: str = "") -> None:
        """Go to the next incomplete field after one of a card; after the last one, emit `passed`.

        None, or a card that is gone once it was saved: start with the first card.
        """
        later_cards = self.cards
        if card is not None and card in later_cards:
            if name := card.first_missing(after):
                self._go(card, name)
                return
            later_cards = later_cards[later_cards.index(card) + 1 :]
        for later in later_cards:
            if name := later.first_missing():
                self._go(later, name)
                return
        self.passed.emit()

    @property
    def cards(self) -> list[FieldsCard]:
        """The cards with fields, in their order."""
        return [*([self.details] if self.details is not None else []), *self.lines]

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in ENTER and self.hasFocus():
            self.passed.emit()
        else:
            super().keyPressEvent(event)

    def answer(self) -> None:
        """Mark the first issue that can be answered as checked; the next press marks the next one."""
        if self.piece is not None and self.view is not None and self.view.answerable:
            self.desk.do(answer_looks, self.piece, self.view.answerable[:1], number=self.view.number)

    def copy_next(self) -> bool:
        """Copy the next field of this declaration to the clipboard; False behind the last one."""
        return self.piece is not None and self.copying.copy_next(self.piece)

    def ask_source(self) -> None:
        """Offer products to copy the customs details of the line in focus from."""
        if (card := self._line_in_focus()) is not None:
            card.ask_source(copy_choices(self.desk.pile.terms.shop, card.view.line))
            self._bring_into_sight(card.source)

    def same_for_all(self) -> None:
        """Save the details of the line in focus for all variants of its product."""
        if (card := self._line_in_focus()) is None:
            return
        pile = self.desk.pile
        lines = [line for verdict in pile.verdicts.values() for line in verdict.case.order.lines]
        self.desk.do(same_for_all, card.view.line, variants_of(card.view.line, lines))

    def _line_in_focus(self) -> LineCard | None:
        focus = self.window().focusWidget()
        return next((card for card in self.lines if focus is not None and card.isAncestorOf(focus)), None) or next(
            iter(self.lines), None
        )

    def _go(self, card: FieldsCard, name: str) -> None:
        editor = card.form.fields[name].editor()
        if isinstance(card, LineCard) and name == "hs":
            self._bring_into_sight(card.hints)
        self._bring_into_sight(card.form.fields[name])
        editor.setFocus()
        if hasattr(editor, "selectAll"):
            editor.selectAll()

    def _bring_into_sight(self, part: QWidget) -> None:
        """Scroll to a field, also of a card that was made just now and has no place yet."""
        for card in (self.split, *self.cards):
            if card is not None:
                card.show()
        if (layout := self._body.layout()) is not None:
            layout.activate()
            wide = self.viewport().width()
            self._body.resize(wide, max(layout.totalHeightForWidth(wide), self.viewport().height()))
        self.ensureWidgetVisible(part, 0, 40)

    def _make_cards(self, view: DeclarationView, packages: SplitView | None) -> None:
        """Make the cards again, from the top down, since Tab goes through them in that order."""
        for old in (self.split, *self.cards):
            if old is not None:
                self._lines.removeWidget(old)
                old.hide()
                old.deleteLater()
        self.split = None if packages is None else SplitCard(packages)
        self.details = DetailsCard(view, self._save_detail)
        unit = _unit(self.desk.pile.terms.shop.policy.scale_unit)
        self.lines = [LineCard(line, self._save, self._choices, unit, self._copy_from) for line in view.lines]
        if self.split is not None and packages is not None:
            self._lines.addWidget(self.split)
            self.split.saved.connect(partial(self._save_packages, packages))
        for card in self.cards:
            self._lines.addWidget(card)
            card.entered.connect(partial(self.go_on, card))
        self.verticalScrollBar().setValue(0)

    def _packages(self, piece: int | None) -> SplitView | None:
        """Return the contents of each package of the piece's order; None when it ships in one."""
        verdict = self.desk.pile.verdicts.get(piece) if piece is not None else None
        if piece is None or verdict is None or verdict.case.pieces_in_order == 1:
            return None
        return split_view(self.desk.sitting, piece)

    def _save_packages(self, packages: SplitView, counts: Sequence[Sequence[int]]) -> None:
        if self.desk.has_done(split_by_counts, packages, counts):
            self.go_on(None)

    def _choices(self, text: str) -> Sequence[HsChoice]:
        terms = self.desk.pile.terms
        return hs_choices(terms.rulebook, text, terms.shop)

    def _save(self, line: LineView, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save a line: product details for every declaration, its value for this order only."""
        assert self.piece is not None
        texts = texts_in(values)
        if texts["unit_value"] != line.unit_value:
            faults = self.desk.do(set_unit_value, self.piece, line.line.key, texts["unit_value"])
            if faults is None or faults:
                return faults
            if all(texts[name] == text for name, text in texts_of(line).items() if name in OF_PRODUCT):
                return ()
        return self.desk.do(fix_product, line.line, texts)

    def _save_detail(self, name: str, text: str) -> Sequence[FieldFault] | None:
        assert self.piece is not None
        return self.desk.do(set_detail, self.piece, name, text)

    def _copy_from(self, line: LineView, key: str) -> None:
        self.desk.do(copy_from, line.line, key)
        self.focus_first_missing()


def _unit(unit: WeightUnit | None) -> str:
    """Return the unit for weights of products: the scale's; ounces for a scale in pounds and ounces, grams for none."""
    if unit is WeightUnit.POUND_OUNCE:
        return WeightUnit.OUNCE.value
    return WeightUnit.GRAM.value if unit is None else unit.value


def facts_of(view: DeclarationView) -> list[str]:
    """Return the summary of the declaration as (value, name) pairs."""
    named = (
        ("", view.form if view.has_form else "no form"),
        ("", view.category),
        ("goods value", view.goods_value),
        ("net", view.net),
        ("gross", view.gross or "not weighed yet"),
        ("export", view.export),
        ("tax number", view.tax_number),
    )
    return [f"{name} {value}".strip() for name, value in named if value]
