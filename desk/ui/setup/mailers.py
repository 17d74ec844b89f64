"""The mailers page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from desk.domain.shop.mailer import MailerKind
from desk.session.learned.past_readings import PastReading, readings_of_mailer
from desk.session.learned.weights_learned import LearnedWeight, learned_mailer
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import mailer_texts, packaging_services
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField, YesNoField
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.setup.records import RecordsPage
from desk.ui.setup.weighing import weight_fields

TITLE = "Mailers"
SIZE_UNITS = (("in", "in"), ("mm", "mm"))


class MailersPage(RecordsPage):
    """The envelopes, bags and boxes in use."""

    kind = "mailers"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE, _form(desk), "Add the envelopes, bags and boxes you pack in.")

    def names(self) -> Sequence[str]:
        """Return the names in the list."""
        return [mailer.name for mailer in self.shop.mailers]

    def values(self, place: int) -> Mapping[str, FieldValue]:
        """Return the fields of one record."""
        return mailer_texts(self.shop.mailers[place])

    def save(self, place: int, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save one record."""
        return self.desk.do(change_shop.save_mailer, place, values)

    def learned_at(self, place: int) -> LearnedWeight | None:
        """Return the learned weight of the mailer with its usual packing."""
        if not 0 <= place < len(self.shop.mailers):
            return None
        return learned_mailer(self.desk.pile.memory, self.shop.mailers[place].name, self.shop.policy.scale_unit)

    def readings_at(self, place: int) -> tuple[PastReading, ...]:
        """Return the past readings of packages in the mailer."""
        mailers = self.shop.mailers
        return readings_of_mailer(self.desk.pile.cases(), mailers[place].name) if 0 <= place < len(mailers) else ()

    def add_record(self) -> int | None:
        """Add a record and return its index."""
        return self.desk.do(change_shop.add_mailer)

    def remove_record(self, place: int) -> None:
        """Remove a record."""
        self.desk.do(change_shop.remove, "mailers", place)


def _form(desk: Desk) -> Form:
    kinds = tuple((kind.value, kind.value) for kind in MailerKind)
    only = [("", "any service"), *packaging_services(desk.pile.terms.rulebook)]
    return Form(
        [
            LineField("name", "Name"),
            ChoiceField("kind", "Kind", kinds),
            "Outside size when packed",
            LineField("length", "Length (along the address)"),
            LineField("width", "Width"),
            LineField("thickness", "Thickness"),
            ChoiceField("size_unit", "Unit of size", SIZE_UNITS),
            "Weight and cost",
            *weight_fields(desk, "tare", "tare_unit", "Empty weight (tare)"),
            LineField("pack_price", "Pack price"),
            LineField("pack_count", "Pieces in a pack"),
            "Properties",
            YesNoField("stiff", "Rigid"),
            YesNoField("reused", "Reused (free)"),
            YesNoField("paper", "Paper outside"),
            ChoiceField("only_service", "Use only with", only),
        ]
    )
