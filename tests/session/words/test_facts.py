import pytest

from desk.session.words.facts import (
    WHY,
    country_in_words,
    domestic_place_in_words,
    fees_in_words,
    tax_number_in_words,
    traits_in_words,
    why_in_words,
)


def test_fees_and_numbers_are_named():
    assert fees_in_words(["long-22", "tube"]) == "a side over 22 in and a tube or roll"
    assert fees_in_words(["new-fee"]) == "new-fee"
    assert tax_number_in_words("uk_vat") == "UK VAT"
    assert tax_number_in_words("zz") == "zz"


def test_every_fee_and_tax_number_of_the_tables_has_words(rulebook):
    fees = {fee.code for lists in rulebook.charts.lists.values() for chart in lists for fee in chart.surcharges}
    assert {code for code in fees if fees_in_words([code]) == code} == set()
    rules = [rule for rows in rulebook.destinations.by_place.values() for rule in rows]
    kinds = {rule.value.split("|")[0] for rule in rules if rule.rule.startswith(("seller-number", "buyer-number"))}
    assert {kind for kind in kinds if tax_number_in_words(kind) == kind} == set()


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("FR", "France"),
        ("GB", "the United Kingdom"),
        ("GB-BT", "Northern Ireland"),
        ("NL", "the Netherlands"),
        ("EU", "the European Union"),
        ("ZZZ", "ZZZ"),
        ("", ""),
    ],
)
def test_a_country_is_named_as_in_a_sentence(code, expected):
    assert country_in_words(code) == expected


def test_every_country_of_the_tables_has_a_name(rulebook):
    codes = {*rulebook.countries.labels, *rulebook.destinations.by_place} - {"*"}  # a rule for everywhere
    assert {code for code in codes if country_in_words(code) == code} == set()


def test_codes_that_are_both_a_state_and_a_country_are_distinguished():
    assert domestic_place_in_words("AE") == "military addresses (AE)"
    assert country_in_words("AE") == "the United Arab Emirates"
    assert domestic_place_in_words("GU") == "Guam"


def test_the_reason_of_a_rule_is_described_in_words():
    assert why_in_words("postal-code-odd", "state") == "it belongs to another state"
    assert why_in_words("tax-id-malformed", "length") == "too few or too many digits"
    assert why_in_words("hs-missing", "a new word") == "a new word"


def test_every_reason_a_rule_gives_has_words():
    """The reasons are in the docstrings of the rules; each that a rule can return is tried here."""
    from desk.customs.postal_codes import postal_code_fault
    from desk.customs.tax_ids import check_tax_id, kinds
    from desk.customs.words import check_words

    postal = {postal_code_fault("US", "123"), postal_code_fault("US", "10001", "CA"), postal_code_fault("AE", "123")}
    assert postal == set(WHY["postal-code-odd"])
    tried = [
        check_tax_id(kind, text).why for kind in kinds() for text in ("IM1", "IN1", "x", "GB123456789", "IM0000000000")
    ]
    assert set(tried) - {""} <= set(WHY["tax-id-malformed"])
    assert {check_words(text).why for text in ("", "123", "gift", "notebook")} == set(WHY["words-too-vague"])


def test_why_a_machine_cannot_sort_a_letter():
    assert traits_in_words(["stiff", "uneven"]) == "rigid and lumpy"
    assert traits_in_words(["new-trait"]) == "new-trait"
