"""The shipping choices page: what buyers choose, and the services each allows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import all_services
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ManyField
from desk.ui.kit.fields.field import FieldValue, several, text_of
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.setup.records import RecordsPage

TITLE = "Shipping choices"


class ChoicesPage(RecordsPage):
    """The words order files use for shipping options; such an order may only go by the services listed."""

    def __init__(self, desk: Desk) -> None:
        name = LineField("name", "What the buyer chose, as in the order file")
        name.wide = True
        services = ManyField(
            "services", "Can ship by (none checked: any service)", all_services(desk.pile.terms.rulebook)
        )
        empty = "Match your shop's shipping options to services."
        super().__init__(desk, TITLE, Form([name, services]), empty)

    def names(self) -> Sequence[str]:
        """Return the names in the list."""
        return list(self.shop.choices)

    def values(self, place: int) -> Mapping[str, FieldValue]:
        """Return the fields of one record."""
        name = self.names()[place]
        return {"name": name, "services": self.shop.choices[name]}

    def save(self, place: int, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save one record."""
        return self.desk.do(
            change_shop.save_choice, self.names()[place], text_of(values["name"]), several(values["services"])
        )

    def add_record(self) -> int | None:
        """Add a record and return its index."""
        names = self.names()
        name = next(name for number in range(1, len(names) + 2) if (name := f"New choice {number}") not in names)
        faults = self.desk.do(change_shop.save_choice, "", name, ())
        return None if faults is None else len(names)

    def remove_record(self, place: int) -> None:
        """Remove a record."""
        self.desk.do(change_shop.remove_choice, self.names()[place])
