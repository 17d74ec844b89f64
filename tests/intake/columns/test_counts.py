"""Quantities that say that they count pieces."""

from __future__ import annotations

import pytest

from desk.intake.columns.amounts import NotRead, whole_number


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2 x", 2),
        ("x2", 2),
        ("2×", 2),
        ("3 pcs.", 3),
        ("1 pc", 1),
        ("4 Stk.", 4),
        ("2 Stück", 2),
        ("1 pièce", 1),
        ("-1 x", -1),
    ],
)
def test_a_quantity_may_name_pieces_as_its_unit(text, expected):
    assert whole_number(text) == expected


@pytest.mark.parametrize("text", ["2 x 3", "x", "2 oz", "2 packs", "2.5 pcs", "pcs", "1 dozen"])
def test_a_quantity_in_another_unit_is_refused(text):
    with pytest.raises(NotRead):
        whole_number(text)
