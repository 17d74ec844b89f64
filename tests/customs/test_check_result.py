"""Numbers are compared without the separators people type."""

import pytest

from desk.customs.check_result import Checked, compact


@pytest.mark.parametrize(
    ("typed", "text"),
    [
        ("", ""),
        ("4820.10", "482010"),
        ("im 040 000/0000", "IM0400000000"),
        ("x-2019.0308\t366903\n", "X20190308366903"),
        ("a\u00a0b", "AB"),
        ("ä-ß", "ÄSS"),
        ("4820,10", "4820,10"),  # a comma is a decimal mark in some places and is not removed
    ],
)
def test_spaces_dots_hyphens_and_slashes_are_removed_and_letters_are_capitals(typed, text):
    assert compact(typed) == text
    assert compact(text) == text


def test_a_valid_number_has_no_code():
    assert (Checked(True, "X").code, Checked(True, "X").why) == ("", "")
