"""Check digits of item identifiers against published examples."""

import pytest

from desk.domain.orders.check_digits import (
    TRACKING_LENGTHS,
    normalized,
    s10_digit,
    split_s10,
    tracking_digit,
    without_routing,
)

S10 = "UPU S10 algorithm, in an encyclopedia article of 2024-01; read"
S10_OURS = "UPU S10 algorithm, in an encyclopedia article of 2024-01; computed from it"
SPEC = "package-barcode specification, Appendix E, in a third-party note; recomputed"
OPEN = "open data set of tracking-number patterns, 2026-08-17; read and recomputed"


@pytest.mark.parametrize(
    ("serial", "digit", "source"),
    [
        ("47312482", 9, S10),
        ("28704377", 5, S10),  # the photographed RR287043775IN
        ("00000000", 5, S10_OURS),
        ("00000012", 0, S10_OURS),
        ("00000015", 5, S10_OURS),
        ("99999999", 5, S10_OURS),
    ],
)
def test_s10_check_digits_equal_published_ones(serial, digit, source):
    assert s10_digit(serial) == digit, source


@pytest.mark.parametrize(
    ("text", "valid", "source"),
    [
        ("RR287043775IN", True, S10),
        ("RR287043774IN", False, S10_OURS),
        ("rr 2870 4377 5 in", True, "our own choice: spaces and case are forgiven"),
    ],
)
def test_published_s10_identifiers_are_checked_correctly(text, valid, source):
    parts = split_s10(text)
    assert parts is not None, source
    assert (s10_digit(parts[1]) == int(parts[2])) is valid, source


def test_s10_has_thirteen_characters():
    """UPU S10: 2 letters, 8 digits, 1 check digit, 2 letters; 11 characters are refused."""
    assert split_s10("RR28704377IN") is None


@pytest.mark.parametrize(
    ("body", "digit", "source"),
    [
        ("9101 1234 5678 9000 0000 1", 3, SPEC),
        ("940011120620640626078", 7, OPEN),
        ("926129270076871194802", 1, OPEN),
        ("936128987870031763379", 5, OPEN),
        ("9274893150770851301805006", 3, OPEN),
        ("0307179000052348374", 1, OPEN),
    ],
)
def test_tracking_check_digits_equal_published_ones(body, digit, source):
    assert tracking_digit(normalized(body)) == digit, source
    assert len(normalized(body)) + 1 in TRACKING_LENGTHS, source


def test_a_wrong_tracking_digit_is_found():
    """Same open data set: 9101 1234 5678 9000 0000 14 is refused, the digit should be 3."""
    code = normalized("9101 1234 5678 9000 0000 14")
    assert tracking_digit(code[:-1]) != int(code[-1])


def test_routing_is_left_out_of_the_sum():
    """Package-barcode specification 2.5.1.7, second-hand: the leading 420 and ZIP do not count."""
    code = "940011120620640626078" + "7"
    assert without_routing("42012545" + code) == code
    assert without_routing("420125451234" + code) == code
    assert without_routing(code) == code
