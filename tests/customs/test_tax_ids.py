"""Tax numbers: formats and check digits."""

import pytest

from desk.customs.check_result import compact
from desk.customs.tax_ids import SOURCES, check_tax_id, kinds


@pytest.mark.parametrize(
    ("kind", "text", "normal"),
    [
        ("ioss", "im 040 000 0000", "IM0400000000"),
        ("ioss", "IM9001234567", "IM9001234567"),
        ("voec", "VOEC 0000000", "0000000"),
        ("uk_vat", "GB 980 7806 84", "GB980780684"),  # this and the following: python-stdnum's own examples
        ("au_arn", "83 914 571 673", "83914571673"),
        ("au_arn", "123456789012", "123456789012"),
        ("nz_gst", "49-091-850", "49091850"),
        ("cpf", "390.533.447-05", "39053344705"),
        ("cnpj", "16.727.230/0001-97", "16727230000197"),
        ("kr", "p123456789012", "P123456789012"),
    ],
)
def test_numbers_in_the_right_format_pass_and_are_normalized(kind, text, normal):
    checked = check_tax_id(kind, text)
    assert (checked.ok, checked.text, checked.code) == (True, normal, "")


@pytest.mark.parametrize(
    ("kind", "text", "why"),
    [
        ("ioss", "IN2760000000", "intermediary"),
        ("ioss", "EU040000000", "shape"),
        ("ioss", "IM27600000", "length"),
        ("ioss", "IM27600000X", "shape"),
        ("ioss", "IM1234567890", "member state"),
        ("voec", "201234", "length"),
        ("voec", "20123A5", "shape"),
        ("uk_vat", "GB980780685", "check digit"),
        ("uk_vat", "GB98078", "shape"),
        ("uk_vat", "GBABCDEFGHI", "shape"),
        ("au_arn", "83914571674", "check digit"),
        ("au_arn", "12345678901X", "shape"),
        ("nz_gst", "49091851", "check digit"),
        ("cpf", "39053344706", "check digit"),
        ("cnpj", "16727230000198", "check digit"),
        ("cnpj", "1672723", "length"),
        ("kr", "123456789012", "shape"),
        ("kr", "P12345678901", "length"),
        ("kr", "", "empty"),
        ("ioss", " - ", "empty"),
    ],
)
def test_each_fault_has_its_reason(kind, text, why):
    checked = check_tax_id(kind, text)
    assert (checked.ok, checked.code, checked.why) == (False, "tax-id-malformed", why)


def test_every_kind_of_number_has_a_source():
    assert sorted(kinds()) == sorted(SOURCES)


def test_an_unknown_kind_of_number_is_a_bug():
    with pytest.raises(KeyError):
        check_tax_id("vin", "1")


def test_numbers_are_compared_without_spaces_and_punctuation():
    assert compact(" gb 980-78.06/84 ") == "GB980780684"
