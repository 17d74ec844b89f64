"""Lists of destinations imported by a shop."""

from datetime import date

import pytest

from desk.customs.destination_file import known_columns, read_rules
from desk.customs.destinations import Rule
from desk.domain.faults import Unreadable
from desk.domain.places.country import Countries
from tests.customs.conftest import RESOURCES

COUNTRIES = Countries.read(RESOURCES / "destinations" / "countries.csv")
HEADER = ("country", "rule", "value", "valid_from", "valid_until", "source")


def read(*rows, header=HEADER):
    return read_rules("list.csv", (1, header), list(enumerate(rows, 2)), COUNTRIES)


def faults(*rows, header=HEADER):
    with pytest.raises(Unreadable) as caught:
        read(*rows, header=header)
    return [(fault.line, fault.column) for fault in caught.value.faults]


def test_each_row_becomes_a_rule():
    assert read(("Russia", "suspended", "", "2026-11-20", "", "alert of today"), ("JP", "import-limit", "JPY 16666|consignment", "", "2027-01-01", "Japan customs")) == (
        Rule("RU", "suspended", "all", date(2026, 11, 20), None, "alert of today", "imported by the shop"),
        Rule("JP", "import-limit", "JPY 16666|consignment", None, date(2027, 1, 1), "Japan customs", "imported by the shop"),
    )  # fmt: skip


def test_tax_numbers_duties_parts_of_countries_and_complete_lists_can_be_imported():
    """`valid_until` is the first day without the rule, so the day after the first is the shortest."""
    rules = read(
        ("*", "list-of", "duty-per-code", "2026-11-20", "", "s"),
        ("Germany", "duty-per-code", "EUR 3|EUR 150", "2026-07-01", "2026-07-02", "s"),
        ("GB-BT", "seller-number", "ioss|EUR 150|consignment", "", "", "s"),
        ("NZ", "seller-number-if-registered", "nz_gst|NZD 1000|each item", "", "", "s"),
        ("BR", "buyer-number", "cpf or cnpj", "", "", "s"),
    )
    assert [(rule.country, rule.rule) for rule in rules] == [
        ("*", "list-of"),
        ("DE", "duty-per-code"),
        ("GB-BT", "seller-number"),
        ("NZ", "seller-number-if-registered"),
        ("BR", "buyer-number"),
    ]


def test_columns_may_have_other_names_and_order():
    header = ("Source", "ISO2", "Rule", "From")
    assert known_columns(header) == 4
    (rule,) = read(("alert", "FR", "Suspended", "2026-11-20"), header=header)
    assert (rule.country, rule.rule, rule.valid_from) == ("FR", "suspended", date(2026, 11, 20))


@pytest.mark.parametrize(
    ("row", "column"),
    [
        (("Nowhere", "suspended", "all", "2026-11-20", "", "s"), "country"),
        (("FR", "postponed", "all", "2026-11-20", "", "s"), "rule"),
        (("FR", "suspended", "some", "2026-11-20", "", "s"), "value"),
        (("FR", "suspended", "all", "", "", "s"), "valid_from"),
        (("FR", "suspended", "all", "20 Nov", "", "s"), "valid_from"),
        (("FR", "suspended", "all", "2026-11-20", "soon", "s"), "valid_until"),
        (("FR", "suspended", "all", "2026-11-20", "", ""), "source"),
        (("FR", "import-limit", "150 EUR|consignment", "", "", "s"), "value"),
        (("FR", "import-limit", "EUR 150|parcel", "", "", "s"), "value"),
        (("FR", "barred", "all", "", "", "s"), "value"),
        (("FR", "suspended", "all", "2026-11-20", "2026-11-19", "s"), "valid_until"),
        (("FR", "suspended", "all", "2026-11-20", "2026-11-20", "s"), "valid_until"),  # it would hold on no day
        (("FR", "duty-per-code", "EUR 3", "", "", "s"), "value"),
        (("FR", "seller-number", "cpf|EUR 150|consignment", "", "", "s"), "value"),
        (("FR", "seller-number", "ioss|EUR 150", "", "", "s"), "value"),
        (("BR", "buyer-number", "cpf or ioss", "", "", "s"), "value"),
        (("*", "suspended", "all", "2026-11-20", "", "s"), "country"),
        (("*", "list-of", "suspended", "", "", "s"), "valid_from"),
        (("*", "list-of", "postponed", "2026-11-20", "", "s"), "value"),
    ],
)
def test_an_unreadable_cell_is_named_with_its_line_and_column(row, column):
    assert faults(("DE", "barred", "", "", "", "s"), row) == [(3, column)]


def test_a_missing_column_and_an_empty_list_are_faults():
    assert faults(("FR", "suspended"), header=("country", "rule")) == [(1, "source")]
    assert faults() == [(1, "")]


def test_a_short_row_has_empty_cells_at_its_end():
    assert faults(("FR", "suspended", "all", "2026-11-20"), ("FR",)) == [(2, "source"), (3, "rule"), (3, "source")]


def test_the_scope_of_a_suspension_is_kept():
    (rule,) = read(("Russia", "suspended", "Express only", "2026-11-20", "", "s"))
    assert rule.value == "express only"


def test_zero_is_a_valid_limit():
    (rule,) = read(("JP", "import-limit", "JPY 0|consignment", "", "", "s"))
    assert rule.value == "JPY 0|consignment"
