"""A piece is found by what people call it: its number, its reference, or the digits after a prefix."""

import pytest

from desk.domain.orders.piece import PieceKey
from desk.session.pile.by_number import named, named_ending
from desk.session.pile.stored_cases import StoredCase
from tests.session import made

CASES = {
    number: StoredCase(number, number, made.case(key=key, packed_with=packed), None)
    for number, key, packed in (
        (1, PieceKey("TK-3009"), ()),
        (2, PieceKey("3012"), ("3013",)),
        (3, PieceKey("3012", 2), ()),
        (4, PieceKey("AB-3009"), ()),
        (5, PieceKey("TK-13009"), ()),
    )
}


@pytest.mark.parametrize(
    ("typed", "found"),
    [("3012", 2), ("3012-1", 2), ("3012-2", 3), ("3013", 2), ("TK-3009", 1), ("3009", None), ("3012-3", None)],
)
def test_a_number_or_reference_names_its_piece(typed, found):
    assert named(CASES, typed) == found


@pytest.mark.parametrize(
    ("typed", "found"), [("3009", [1, 4]), ("13009", [5]), ("3012", []), ("3009-1", [1, 4]), ("09", [])]
)
def test_digits_find_the_numbers_that_end_with_them(typed, found):
    assert named_ending(CASES, typed) == found
