"""Tracking numbers: published examples, and the checks on either side."""

from __future__ import annotations

import pytest

from desk.domain.orders.check_digits import tracking_digit
from desk.domain.orders.tracking import tracking_number

EXAMPLE = "9101026837331000039521"  # printed example of the post's package-barcode specification, known second-hand
S10 = "RA123456785GB"  # UPU S10: 12345678 gives the check digit 5


@pytest.mark.parametrize(
    "text", [EXAMPLE, f"420 12345 {EXAMPLE}", f"420123456789{EXAMPLE}", "9101 0268 3733 1000 0395 21"]
)
def test_spaces_and_routing_are_removed(text):
    assert tracking_digit(EXAMPLE[:-1]) == int(EXAMPLE[-1])
    assert tracking_number(text) == EXAMPLE


@pytest.mark.parametrize("length", [19, 20, 21, 22, 23, 25, 26, 27])
def test_a_tracking_number_has_20_22_or_26_digits(length):
    body = "91" + "0" * (length - 3)
    code = body + str(tracking_digit(body))
    assert (tracking_number(code) == code) is (length in (20, 22, 26))


def test_a_wrong_last_digit_is_not_a_tracking_number():
    assert tracking_number(EXAMPLE[:-1] + str((int(EXAMPLE[-1]) + 1) % 10)) is None


@pytest.mark.parametrize(
    ("text", "kept"), [(S10, S10), ("ra 123 456 785 gb", S10), ("RA123456784GB", None), ("x", None), ("", None)]
)
def test_s10_identifiers_are_tracking_numbers(text, kept):
    assert tracking_number(text) == kept
