"""The choices page: what a buyer chose, and the services that allows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import all_services
from desk.ui.bridge import Desk
from desk.ui.kit.field import LineField, ManyField
from desk.ui.kit.form import Form
from desk.ui.setup.records import RecordsPage

TITLE = "Shipping choices"


class ChoicesPage(RecordsPage):
    """Words an order file has for the way of sending; an order with them may only go by the services named."""

    def __init__(self, desk: Desk) -> None:
        name = LineField("name", "What the buyer chose, as in the order file")
        name.wide = True
        services = ManyField("services", "May go by", all_services(desk.pile.terms.rulebook))
        empty = "Match your shop's shipping options to services."
        super().__init__(desk, TITLE, Form([name, services]), empty)

    def names(self) -> Sequence[str]:
        """What stands in the list."""
        return list(self.shop.choices)

    def values(self, place: int) -> Mapping[str, Any]:
        """The fields of one record."""
        name = self.names()[place]
        return {"name": name, "services": self.shop.choices[name]}

    def save(self, place: int, values: Mapping[str, Any]) -> Sequence[FieldFault] | None:
        """Keep one record."""
        return self.desk.do(change_shop.save_choice, self.names()[place], values["name"], values["services"])

    def add_record(self) -> int | None:
        """Add a record; its place."""
        names = self.names()
        name = next(name for number in range(1, len(names) + 2) if (name := f"New choice {number}") not in names)
        faults = self.desk.do(change_shop.save_choice, "", name, ())
        return None if faults is None else len(names)

    def remove_record(self, place: int) -> None:
        """Take one away."""
        self.desk.do(change_shop.remove_choice, self.names()[place])
