"""Check digits: the parts; published numbers are in tests/standards."""

import pytest

from desk.domain.orders.check_digits import normalized, s10_digit, split_s10, tracking_digit, without_routing


@pytest.mark.parametrize(
    ("serial", "digit"),
    [
        ("47312482", 9),  # 11 - 200 mod 11 = 11 - 2
        ("00000000", 5),  # sum 0: 11 becomes 5
        ("00000003", 1),  # sum 21: 11 - 10 = 1
        ("00000008", 0),  # sum 56: 11 - 1 = 10, becomes 0
    ],
)
def test_s10_check_digits_equal_those_worked_out_by_hand(serial, digit):
    assert s10_digit(serial) == digit


@pytest.mark.parametrize("serial", ["1234567", "123456789", "1234567x"])
def test_a_text_that_is_not_a_serial_has_no_s10_digit(serial):
    with pytest.raises(ValueError, match=r"zip|invalid literal"):
        s10_digit(serial)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("RR473124829US", ("RR", "47312482", "9", "US")),
        ("rr 473 124 829 us", ("RR", "47312482", "9", "US")),
        ("RR-47312482-?-US", ("RR", "47312482", "?", "US")),
        ("R473124829US", None),
        ("RR47312482US", None),
        ("RR473124829U", None),
        ("RR4731248291US", None),
        ("", None),
        ("9400111206206406260787", None),
    ],
)
def test_an_s10_identifier_is_split_into_its_parts(text, parts):
    assert split_s10(text) == parts


@pytest.mark.parametrize(("body", "digit"), [("", 0), ("0", 0), ("1", 7), ("10", 9), ("3", 1), ("33", 8)])
def test_tracking_check_digits_equal_those_worked_out_by_hand(body, digit):
    assert tracking_digit(body) == digit


CODE = "9400111206206406260787"
LONG = "92055901000000000000000124"  # 26 digits; the weighted sum without the last is 66
BOTH = "92059" + "0" * 20 + "9"  # 26 digits; the last 22 begin with 9 as well


@pytest.mark.parametrize(
    ("scanned", "bare"),
    [
        ("42010001" + CODE, CODE),
        ("420100011234" + CODE, CODE),
        ("42010001" + LONG, LONG),  # 34 digits with a ZIP of five
        ("42010001" + LONG[:-1] + "5", LONG[:-1] + "5"),  # wrong, but only 26 digits begin with 9
        ("420" + "123459234" + CODE, CODE),  # both begin with 9, and the shorter is right
        ("42010001" + BOTH, BOTH),  # both begin with 9, and the longer is right
        ("42010001" + BOTH[:-1] + "0", BOTH[4:-1] + "0"),  # both begin with 9, and neither is right
        ("42012345" + "92635139693716487059640236", "92635139693716487059640236"),  # the last 22 are right by chance
        ("420558637822" + "9462137730643006072634", "9462137730643006072634"),  # wrong; 26 digits are right by chance
        ("42012345" + "9234567890123456789012345?", "9234567890123456789012345?"),
        (CODE, CODE),
        ("420" + CODE[:17], "420" + CODE[:17]),  # 20 digits that happen to begin with 420
        ("92" + "0" * 28, "92" + "0" * 28),
    ],
)
def test_the_routing_code_is_removed(scanned, bare):
    assert without_routing(scanned) == bare


@pytest.mark.parametrize(("text", "plain"), [(" 94 00-11 ", "940011"), ("rr\t1", "RR1"), ("", "")])
def test_identifiers_are_normalized(text, plain):
    assert normalized(text) == plain
