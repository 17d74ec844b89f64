"""The stamps page: the stamps on hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from desk.domain.shop.stamp import StampKind
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import stamp_texts, stamp_words
from desk.session.words.stamp_names import name_of_stamp
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.setup.records import RecordsPage

TITLE = "Stamps"


class StampsPage(RecordsPage):
    """Stamps by kind; changing a count means the stock was counted."""

    def __init__(self, desk: Desk) -> None:
        kinds = tuple((kind.value, name_of_stamp(kind)) for kind in StampKind)
        form = Form(
            [
                ChoiceField("kind", "Stamp type", kinds),
                LineField("count", "On hand"),
                LineField("value", "Face value", hint="only if it is printed on the stamp"),
            ]
        )
        super().__init__(desk, TITLE, form, "Add the stamps you have. They are counted down as you use them.")

    def names(self) -> Sequence[str]:
        """Return the names in the list."""
        return [f"{stamp_words(stamp)}: {stamp.count}" for stamp in self.shop.stamps]

    def values(self, place: int) -> Mapping[str, FieldValue]:
        """Return the fields of one record."""
        return stamp_texts(self.shop.stamps[place])

    def save(self, place: int, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save one record."""
        return self.desk.do(change_shop.save_stamp, place, values)

    def add_record(self) -> int | None:
        """Add a record and return its index."""
        there = {stamp.kind for stamp in self.shop.stamps}
        kind = next((kind for kind in StampKind if kind not in there), StampKind.FACE)
        return self.desk.do(change_shop.add_stamp, kind)

    def remove_record(self, place: int) -> None:
        """Remove a record."""
        self.desk.do(change_shop.remove, "stamps", place)
