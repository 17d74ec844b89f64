"""What the sender declares about one order's goods where the order itself does not say."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import StrEnum

from desk.domain.money import Money

BUYER_NUMBERS = frozenset({"cpf", "cnpj", "kr"})  # kinds of tax numbers that identify the buyer, not the shop


class Category(StrEnum):
    """Why goods are sent (UPU CN 23 block 10), in the form's words."""

    SALE = "sale of goods"
    GIFT = "gift"
    SAMPLE = "commercial sample"
    RETURN = "returned goods"
    DOCUMENTS = "documents"
    OTHER = "other"


# What files and people write for them.
CATEGORY_WORDS = {
    **{category.value: category for category in Category},
    **{category.name.casefold(): category for category in Category},
    "sale of merchandise": Category.SALE,
    "merchandise": Category.SALE,
    "sold": Category.SALE,
    "sample": Category.SAMPLE,
    "returned": Category.RETURN,
    "document": Category.DOCUMENTS,
}


class IfUndeliverable(StrEnum):
    """What the post should do with an undeliverable item (CP 72, as on PS 2976-A; from memory)."""

    RETURN = "return to sender"
    ABANDON = "treat as abandoned"


@dataclass(frozen=True, slots=True)
class CustomsDetails:
    """What was entered for customs; empty fields count as not entered.

    `value` is what all goods are worth where that differs from the price paid; `unit_values` what one of a line is worth,
    by its SKU or else its item. `category_words` goes with OTHER. `ioss` is the marketplace's number for this order,
    `buyer_tax_id` the addressee's own tax or identity number, `itn` the number of an export filing.
    """

    category: Category | None = None
    category_words: str = ""
    value: Money | None = None
    itn: str = ""
    buyer_tax_id: str = ""
    ioss: str = ""
    license: str = ""
    certificate: str = ""
    invoice: str = ""
    if_undeliverable: IfUndeliverable = IfUndeliverable.RETURN
    insured_value: Money | None = None
    unit_values: tuple[tuple[str, Money], ...] = ()

    def filled_from(self, known: CustomsDetails) -> CustomsDetails:
        """Return these details with empty fields filled from `known`."""
        nothing = CustomsDetails()
        values = {
            field.name: getattr(known, field.name)
            for field in fields(self)
            if getattr(self, field.name) == getattr(nothing, field.name)
        }
        return replace(self, **values)


NOTHING_SAID = CustomsDetails()
