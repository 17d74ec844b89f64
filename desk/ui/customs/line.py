"""One line of a declaration: the customs details of one product and its faults."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from PySide6.QtCore import Signal

from desk.domain.severity import Severity
from desk.session.customs.declarations import LineView, Missing
from desk.session.customs.product_goods import HsChoice
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import product_texts
from desk.ui.customs.enter import EnterGoesOn
from desk.ui.customs.hs_hints import HsHints
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Card, Inked
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form, keep

FIELDS = ("customs_words", "hs", "origin", "unit_weight", "weight_unit", "unit_value")
OF_PRODUCT = FIELDS[:-1]  # the rest belongs to the order
UNITS = (("g", "g"), ("oz", "oz"), ("lb", "lb"), ("kg", "kg"))

Save = Callable[[LineView, Mapping[str, FieldValue]], Sequence[FieldFault] | None]
Copy = Callable[[LineView, str], None]
Choices = Sequence[tuple[str, str]]


class LineCard(Card):
    """A line. `entered`: Enter was pressed in the field of that name."""

    entered = Signal(str)

    def __init__(
        self,
        view: LineView,
        save: Save,
        hints: Callable[[str], Sequence[HsChoice]],
        unit: str = "g",
        copy: Copy | None = None,
    ) -> None:
        super().__init__(view.item)
        self.view = view
        self._save, self._hints_for, self._unit, self._copy = save, hints, unit, copy
        self.head = Inked("", size=typeface.STRONG, bold=True)
        self.head.setWordWrap(True)
        self.form = _form(view)
        self.hints = HsHints(self.form.fields["hs"].editor())
        self.source = ChoiceField("source", "Copy from product (\u2191 \u2193 to choose, Enter to copy)", ())
        self.source.hide()
        for part in (self.head, self.source, self.form, self.hints):
            self.column.addWidget(part)
        self.form.left.connect(self._keep)
        EnterGoesOn(self.source, lambda _name: self._copy_chosen())
        self.hints.chosen.connect(self._take_code)
        for field in self.form.fields.values():
            EnterGoesOn(field, self.entered.emit)
        self.show_line(view, fresh=True)

    def show_line(self, view: LineView, *, fresh: bool = False) -> None:
        """Show the line; typed text that was not saved stays."""
        self.view = view
        parts = (f"{view.quantity} × {view.item}", view.net_g, view.value)
        self.head.setText("  ·  ".join(part for part in parts if part))
        words = self.form.fields["customs_words"]
        assert isinstance(words, LineField)
        words.edit.setPlaceholderText(view.declared.description)
        self.form.show_values(texts_of(view, self._unit), fresh=fresh)
        self.form.show_faults(_fault(missing) for missing in view.missing)
        self.form.fields["unit_value"].setVisible(bool(view.unit_value) or view.at("unit_value") is not None)
        wanted = view.at("hs") is not None
        self.hints.show_choices(self._hints_for(f"{view.declared.description} {view.item}") if wanted else ())

    @property
    def unsaved(self) -> dict[str, FieldValue]:
        """What was typed and not saved, by field."""
        return {name: field.value() for name, field in self.form.fields.items() if field.value() != field.kept}

    def put(self, typed: Mapping[str, FieldValue]) -> None:
        """Put text that was not saved back into its fields."""
        for name, value in typed.items():
            self.form.fields[name].put(value)

    def first_missing(self, after: str = "") -> str:
        """Return the first incomplete field after the one named; empty when there is none."""
        behind = FIELDS[FIELDS.index(after) + 1 :] if after in FIELDS else FIELDS
        return next((name for name in behind if self.view.at(name)), "")

    def ask_source(self, choices: Choices) -> None:
        """Offer products to copy from; Enter takes the chosen one."""
        self.source.box.clear()
        for value, words in choices:
            self.source.box.addItem(words, value)
        self.source.show()
        self.source.box.setFocus()

    def _copy_chosen(self) -> None:
        key = self.source.value()
        self.source.hide()
        if self._copy is not None and key:
            self._copy(self.view, key)

    def _keep(self, name: str) -> None:
        if keep(self.form, name, lambda values: self._save(self.view, values)):
            self.form.show_faults(_fault(missing) for missing in self.view.missing)

    def _take_code(self, code: str) -> None:
        field = self.form.fields["hs"]
        field.put(code)
        field.setFocus()
        field.commit()


def texts_of(view: LineView, unit: str = "g") -> dict[str, object]:
    """Return the texts of the fields: the product's own values. Other declared values are only placeholders."""
    known = product_texts(view.product) if view.product is not None else {}
    own = {name: value for name, value in known.items() if name in OF_PRODUCT and value}
    return {"weight_unit": unit, "unit_value": view.unit_value} | own


def _form(view: LineView) -> Form:
    words = LineField("customs_words", "Customs description (what, material, use)")
    words.wide = True
    return Form(
        [
            words,
            LineField("hs", "HS code"),
            LineField("origin", "Country of origin"),
            LineField("unit_weight", "Unit weight"),
            ChoiceField("weight_unit", "Unit of weight", UNITS),
            LineField("unit_value", f"Customs value of one, in {view.declared.value.currency}"),
        ]
    )


def _fault(missing: Missing) -> tuple[str, Severity, str]:
    return missing.field, missing.mark, _words(missing)


def _words(missing: Missing) -> str:
    return f"{missing.words} {missing.way_out}".strip()
