"""What the sender says of one order's goods for customs, where the order itself does not tell."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from desk.domain.money import Money


class Category(StrEnum):
    """Why goods are sent (UPU CN 23 block 10), in the words of the form."""

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
    """What the post shall do with it when it cannot be delivered (CP 72, as PS 2976-A carries it; from memory)."""

    RETURN = "return to sender"
    ABANDON = "treat as abandoned"


@dataclass(frozen=True, slots=True)
class CustomsDetails:
    """Empty fields say nothing. `value` is what all goods are worth, where that differs from the price paid.

    `category_words` goes with OTHER. `ioss` is the marketplace's number for this order, `buyer_tax_id` the addressee's
    own tax or identity number, `itn` the number of an export filing.
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


NOTHING_SAID = CustomsDetails()
