"""The products page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from desk.domain.shop.product import Restriction
from desk.session.learned.past_readings import PastReading, readings_of_product
from desk.session.learned.weights_learned import LearnedWeight, learned_product
from desk.session.pile.usual import usual_for_product
from desk.session.setup import change_shop
from desk.session.setup.change_shop import FieldFault
from desk.session.setup.shop_texts import product_texts
from desk.session.words.figures import measure
from desk.ui.bridge import Desk
from desk.ui.kit.fields.choice_fields import ChoiceField, ManyField, YesNoField
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.fields.text_fields import LineField
from desk.ui.kit.form import Form
from desk.ui.setup.mailers import SIZE_UNITS
from desk.ui.setup.records import RecordsPage
from desk.ui.setup.weighing import weight_fields

TITLE = "Products"


class ProductsPage(RecordsPage):
    """The shop's products, with what the post and customs need to know."""

    kind = "products"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, TITLE, _form(desk), "Add what you sell, with its weight and customs description.")

    def names(self) -> Sequence[str]:
        """Return the names in the list."""
        return [product.name or product.sku for product in self.shop.products]

    def values(self, place: int) -> Mapping[str, FieldValue]:
        """Return the fields of one record."""
        return product_texts(self.shop.products[place])

    def save(self, place: int, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save one record."""
        return self.desk.do(change_shop.save_product, place, values)

    def learned_at(self, place: int) -> LearnedWeight | None:
        """Return the learned weight of one product."""
        pile = self.desk.pile
        if not 0 <= place < len(self.shop.products):
            return None
        return learned_product(pile.memory, self.shop.products[place], self.shop.policy.scale_unit)

    def usual_at(self, place: int) -> str:
        """Return which mailer one of the product usually goes in, and how often that was right."""
        if not 0 <= place < len(self.shop.products):
            return ""
        usual = usual_for_product(self.desk.pile, self.shop.products[place])
        return f"One alone goes in {usual.name} ({usual.words})." if usual else ""

    def readings_at(self, place: int) -> tuple[PastReading, ...]:
        """Return the past readings of packages with the product."""
        products = self.shop.products
        return (
            readings_of_product(self.desk.pile.cases(), self.shop, products[place])
            if 0 <= place < len(products)
            else ()
        )

    def use_learned(self, place: int, learned: LearnedWeight) -> None:
        """Use the learned weight as the typed one."""
        values = dict(self.values(place)) | {"unit_weight": measure(f"{learned.weight.grams}"), "weight_unit": "g"}
        self.save(place, values)
        self.refresh()

    def add_record(self) -> int | None:
        """Add a record and return its index."""
        return self.desk.do(change_shop.add_product)

    def remove_record(self, place: int) -> None:
        """Remove a record."""
        self.desk.do(change_shop.remove, "products", place)


def _form(desk: Desk) -> Form:
    restricted = [(word.value, word.value) for word in Restriction]
    mailers = [("", "any that fits"), *((one.name, one.name) for one in desk.pile.terms.shop.mailers)]
    words = LineField("customs_words", "Customs description (what, material, use)")
    words.wide = True
    return Form(
        [
            LineField("name", "Name"),
            LineField("sku", "SKU"),
            *weight_fields(desk, "unit_weight", "weight_unit", "Unit weight"),
            "For customs",
            words,
            LineField("hs", "HS code"),
            LineField("origin", "Country of origin"),
            "Properties",
            LineField("length", "Length"),
            LineField("width", "Width"),
            LineField("thickness", "Thickness"),
            ChoiceField("size_unit", "Unit of size", SIZE_UNITS),
            ChoiceField("usual_mailer", "Usual mailer", mailers),
            YesNoField("stiff", "Rigid"),
            YesNoField("document", "Documents only"),
            YesNoField("media", "Books and listed media"),
            YesNoField("no_goods", "Not goods (a fee, tip, or gift wrap)"),
            ManyField("restricted", "Hazard", restricted),
        ]
    )
