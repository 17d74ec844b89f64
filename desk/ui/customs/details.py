"""Questions about the whole order: reason, value, contact and numbers, only where needed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal

from desk.domain.severity import Severity
from desk.session.customs.declarations import DeclarationView
from desk.session.customs.details import DetailField
from desk.session.setup.change_shop import FieldFault
from desk.ui.customs.enter import EnterGoesOn
from desk.ui.kit.card import Card
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import Field
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form

Save = Callable[[str, str], Sequence[FieldFault] | None]


class DetailsCard(Card):
    """The fields of one order. `entered`: Enter was pressed in the field of that name."""

    entered = Signal(str)

    def __init__(self, view: DeclarationView, save: Save) -> None:
        super().__init__("About this order")
        self.view, self._save = view, save
        self.form = Form([_field(detail) for detail in view.details])
        self.column.addWidget(self.form)
        self.form.left.connect(self._keep)
        for field in self.form.fields.values():
            EnterGoesOn(field, self.entered.emit)
        self.show_details(view, fresh=True)

    @property
    def names(self) -> tuple[str, ...]:
        """The fields in their order."""
        return tuple(self.form.fields)

    @property
    def in_focus(self) -> str:
        """The field with the focus; empty for none of these."""
        return next((name for name, field in self.form.fields.items() if field.editor().hasFocus()), "")

    def show_details(self, view: DeclarationView, *, fresh: bool = False) -> None:
        """Show the order's fields; typed text that was not saved stays."""
        self.view = view
        self.form.show_values({detail.name: detail.text for detail in view.details}, fresh=fresh)
        self._show_missing()

    def first_missing(self, after: str = "") -> str:
        """Return the first incomplete field after the one named; empty when there is none."""
        behind = self.names[self.names.index(after) + 1 :] if after in self.names else self.names
        return next((name for name in behind if self._lacks(name)), "")

    def _lacks(self, name: str) -> bool:
        missing = self.view.at_detail(name)
        return missing is not None and missing.mark.is_issue

    def _show_missing(self) -> None:
        missing = [(name, self.view.at_detail(name)) for name in self.names]
        self.form.show_faults(
            (name, one.mark, f"{one.words} {one.way_out}".strip()) for name, one in missing if one is not None
        )

    def _keep(self, name: str) -> None:
        """Save one field; text that can't be saved stays in the field, with the reason."""
        field = self.form.fields[name]
        faults = self._save(name, field.text())
        if faults is None:
            return
        if faults:
            field.say(Severity.STOP, faults[0].sentence)
        else:
            field.settle()
            self._show_missing()


def _field(detail: DetailField) -> Field:
    if detail.options:
        return ChoiceField(detail.name, detail.words, detail.options)
    return LineField(detail.name, detail.words)
