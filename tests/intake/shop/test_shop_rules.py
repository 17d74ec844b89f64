from __future__ import annotations

from typing import Any

import pytest

from desk.intake.shop.shop_rules import broken_rules

UNIT = "a weight_unit with it: oz, lb, g or kg"


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ({}, []),
        ({"sender": {"name": "x"}}, []),
        ({"sender": {}}, [(("sender",), "", "a name or a company")]),
        ({"sender": 3, "mailers": "x", "products": [1], "rates": 7}, []),
        ({"mailers": [{"name": "A"}, {"name": "B"}]}, []),
        ({"mailers": [{"name": "A"}, {"name": "A"}]}, [(("mailers", 1, "name"), "A", "a unique name; mailers.1 already has this one")]),
        ({"mailers": [{"tare": 1}]}, [(("mailers", 0, "tare"), "", "a tare_unit with it: oz, lb, g or kg")]),
        ({"mailers": [{"length": 1, "width": 1, "thickness": 1}]}, [(("mailers", 0, "length"), "", "a size_unit with it: in or mm")]),
        ({"mailers": [{"length": 1, "width": 1, "thickness": 1, "size_unit": "in", "tare": 1, "tare_unit": "g"}]}, []),
        ({"products": [{}]}, [(("products", 0), "", "a sku or a name; an order line finds its product by either")]),
        ({"products": [{"sku": "A", "unit_weight": 1}]}, [(("products", 0, "unit_weight"), "", UNIT)]),
        ({"products": [{"name": "A"}, {"name": "A"}]}, []),
        ({"products": [{"sku": "A"}, {"name": "x", "sku": "A"}]}, [(("products", 1, "sku"), "A", "a unique sku; products.1 already has this one")]),
        ({"stamps": [{"kind": "face"}]}, [(("stamps", 0), "", "a value; face stamps are worth what is printed on them")]),
        ({"stamps": [{"kind": "forever"}, {"kind": "face", "value": 1}]}, []),
        ({"rates": {"XDR_USD": {}}}, []),
        ({"rates": {"USD": {}}}, [(("rates", "USD"), "USD", "two ISO 4217 currency codes, such as XDR_USD")]),
        ({"rates": {"EUR_ABC": {}}}, [(("rates", "EUR_ABC"), "EUR_ABC", "two ISO 4217 currency codes, such as XDR_USD")]),
    ],
)  # fmt: skip
def test_contradictions_between_fields_are_reported(values: dict[str, Any], expected: list[Any]) -> None:
    assert list(broken_rules(values)) == expected
