"""Declarations: form, lines, totals, and missing parts."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from desk.customs.declaration import Consignment, CustomsRules, Declaration, declare, printed_grams
from desk.customs.goods import Goods
from desk.domain.finding import Severity
from desk.domain.money import Money
from desk.domain.orders.customs_details import Category, CustomsDetails
from desk.domain.places.address import Address
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight
from tests.customs.conftest import EUR, TODAY, XDR, address, goods, grams, usd
from tests.rates.chart_folder import shipped

NOTE = goods(
    item="Thank-you note",
    words="Thank-you note",
    value=usd("0.00"),
    unit_net=grams("5"),
    hs="",
    origin="",
    document=True,
)
IOSS = {"ioss": "IM0400000000"}


@pytest.fixture
def rules(destinations, codes) -> CustomsRules:
    return CustomsRules(destinations, codes, IOSS, (XDR, EUR))


def piece(*lines: Goods, to: str | Address = "DE", service: str = "intl-package", gross: str = "240") -> Consignment:
    where = to if isinstance(to, Address) else address(to)
    return Consignment(goods=lines or (goods(),), gross=grams(gross), service=shipped().service(service), address=where)


def codes_of(declaration: Declaration) -> list[str]:
    return [found.code for found in declaration.findings]


def test_a_plain_parcel_is_declared_completely(rules):
    got = declare(piece(), rules, TODAY)
    assert (got.form, got.category, got.export, got.reference) == (
        "CN22",
        "sale of goods",
        "NOEEI 30.37(a)",
        "IM0400000000",
    )
    (line,) = got.lines
    assert (line.description, line.quantity, line.net_g) == ("Bound paper notebook, lined, 120 pages", 1, 150)
    assert (line.value, line.hs, line.origin) == (usd("18.00"), "482010", "US")
    assert (got.total_net_g, got.total_value, got.gross) == (150, usd("18.00"), grams("240"))
    assert codes_of(got) == ["eu-duty"]


def test_the_total_is_the_sum_of_the_rounded_lines(rules):
    light = goods(unit_net=grams("0.3"), quantity=1)
    half = goods(unit_net=grams("10.5"), quantity=1)
    got = declare(piece(light, half, half), rules, TODAY)
    assert [line.net_g for line in got.lines] == [1, 11, 11]
    assert got.total_net_g == 23


def test_a_line_is_rounded_once_and_not_for_each_item(rules):
    assert declare(piece(goods(unit_net=grams("0.4"), quantity=5)), rules, TODAY).total_net_g == 2


def test_an_unknown_weight_leaves_the_total_unknown(rules):
    got = declare(piece(goods(), goods(unit_net=None)), rules, TODAY)
    assert ([line.net_g for line in got.lines], got.total_net_g) == ([150, None], None)


@pytest.mark.parametrize(
    ("weight", "printed"), [("0", 1), ("0.2", 1), ("1.49", 1), ("1.5", 2), ("2.5", 3), ("453.592", 454)]
)
def test_grams_are_printed_rounded_to_whole_ones(weight, printed):
    assert printed_grams(Weight(Decimal(weight))) == printed


def test_contents_cannot_weigh_more_than_the_piece(rules):
    (found, *_) = [
        each for each in declare(piece(gross="149.9"), rules, TODAY).findings if each.code == "net-over-gross"
    ]
    assert (found.severity, found.facts) == (Severity.STOP, {"net_g": 150, "gross_g": 150})
    assert "net-over-gross" not in codes_of(declare(piece(gross="150"), rules, TODAY))
    known_part = piece(goods(unit_net=grams("300")), goods(unit_net=None))
    assert "net-over-gross" in codes_of(declare(known_part, rules, TODAY))


def test_an_unweighed_piece_has_a_declaration(rules):
    got = declare(replace(piece(), gross=None, service=None), rules, TODAY)
    assert (got.form, got.gross, codes_of(got)) == ("CN22", None, ["eu-duty"])


def test_every_gap_of_a_line_is_reported(rules):
    bare = goods(item="Surprise", words="gift", hs="", hs_edition="", origin=" ", value=usd("0.00"), known=False)
    got = declare(piece(bare, to="CA"), rules, TODAY)
    assert codes_of(got) == ["hs-missing", "words-too-vague", "origin-missing", "value-zero"]
    assert {found.facts["item"] for found in got.findings} == {"Surprise"}
    assert {found.severity for found in got.findings} == {Severity.LOOK}
    assert got.export == "NOEEI 30.36"


def test_a_code_of_the_last_edition_is_reported(rules):
    assert codes_of(declare(piece(goods(hs="4420.10"), to="CA"), rules, TODAY)) == ["hs-not-in-edition"]


def test_documents_require_nothing(rules):
    got = declare(piece(NOTE, service="intl-letter", gross="20"), rules, TODAY)
    assert (got.form, got.category, got.export, got.reference, got.findings) == ("none", "documents", "", "", ())


def test_a_document_packed_with_goods_is_listed_without_questions(rules):
    got = declare(piece(goods(), NOTE), rules, TODAY)
    assert got.category == "sale of goods"
    assert [line.description for line in got.lines][1] == "Thank-you note"
    assert codes_of(got) == ["eu-duty"]


def test_a_piece_of_unknown_contents_is_not_a_document(rules):
    empty = Consignment(goods=(), gross=grams("20"), service=None, address=address("DE"))
    got = declare(empty, rules, TODAY)
    assert (got.form, got.category, got.lines, got.total_value) == ("CN22", "sale of goods", (), usd("0.00"))


def test_domestic_goods_are_not_questioned(rules):
    home = Address("Ada Finch", "", "12 Sorrel Street", "", "Millbrook", "NY", "12545", "US")
    got = declare(piece(goods(words="gift", hs="", value=usd("0.00")), to=home, service="ground-retail"), rules, TODAY)
    assert (got.form, got.export, got.findings) == ("none", "", ())


@pytest.mark.parametrize("region", ["AE", "ap", "GU"])
def test_goods_to_military_addresses_and_us_islands_are_declared(rules, region):
    got = declare(piece(to=Address("Ada Finch", region=region, country="US"), service="ground-retail"), rules, TODAY)
    assert (got.form, codes_of(got), len(got.lines)) == ("CN22", ["form-may-be-needed"], 1)


def test_a_form_for_domestic_mail_needs_descriptions_and_values_but_no_hs_code(rules):
    guam = Address("Ada Finch", region="GU", country="US")
    bare = goods(words="gift", hs="", origin="", value=usd("0"))
    got = declare(piece(bare, to=guam, service="ground-retail"), rules, TODAY)
    assert codes_of(got) == ["form-may-be-needed", "words-too-vague", "value-zero"]


def test_an_unknown_country_is_declared_by_value_and_weight(rules):
    got = declare(piece(to="", service=""), rules, TODAY)
    assert (got.form, got.export, got.findings) == ("CN22", "", ())


def test_a_barred_place_is_named_as_the_export_citation(rules):
    got = declare(piece(to=address("UA", city="Donetsk", postal_code=""), service=""), rules, TODAY)
    assert (got.export, codes_of(got)) == ("barred", [])


def test_a_code_of_high_value_needs_a_filing(rules):
    got = declare(piece(goods(value=usd("2500.01")), to="JP", service="intl-priority"), rules, TODAY)
    assert (got.form, got.export, codes_of(got)) == ("CN23", "ITN needed", ["needs-export-filing"])


def test_the_tax_number_of_the_buyer_is_requested(rules):
    for country in ("BR", "KR"):
        assert codes_of(declare(piece(to=country), rules, TODAY)) == ["buyer-id-missing"]
    known = replace(
        piece(to="BR"), details=CustomsDetails(buyer_tax_id="390.533.447-05")
    )  # python-stdnum's own example of a CPF
    assert codes_of(declare(known, rules, TODAY)) == []
    wrong = replace(piece(to="BR"), details=CustomsDetails(buyer_tax_id="390.533.447-06"))
    assert codes_of(declare(wrong, rules, TODAY)) == ["tax-id-malformed"]


def test_the_tax_number_of_the_marketplace_is_used_before_that_of_the_shop(rules):
    theirs = replace(piece(to="FR"), details=CustomsDetails(ioss="IM2760000000"))  # an evident filler, not issued
    assert declare(theirs, rules, TODAY).reference == "IM2760000000"
    assert declare(piece(to="FR"), rules, TODAY).reference != "IM2760000000"


@pytest.mark.parametrize(
    ("country", "postal_code", "number"),
    [
        ("ES", "35001", False),
        ("ES", "34001", True),
        ("ES", "38001", False),
        ("FI", "22100", False),
        ("FR", "97400", False),
        ("FR", "98000", True),
        ("IT", "23041", False),
        ("DE", "27498", False),
        ("MC", "98000", True),
        ("GB", "BT1 1AA", True),
    ],
)
def test_places_outside_the_tax_area_get_no_ioss_number(rules, country, postal_code, number):
    """Directive 2006/112/EC, article 6: the Canary Islands, Aland, overseas departments, Livigno, Heligoland."""
    where = address(country, postal_code=postal_code)
    got = declare(piece(to=where), rules, TODAY)
    assert bool(got.reference) is number
    assert ("eu-duty" in codes_of(got)) is (number and country != "GB")


@pytest.mark.parametrize(
    ("country", "value", "over"),
    [
        ("FR", "150.00", False),
        ("FR", "150.01", True),
        ("GB", "135.00", False),
        ("GB", "135.01", True),
        ("CH", "62.00", False),
        ("CH", "62.01", True),
        ("JP", "10000", False),
        ("JP", "10001", True),
        ("CA", "20.00", False),
        ("CA", "20.01", True),
        ("AU", "1000.00", False),
        ("AU", "1000.01", True),
        ("NZ", "1000.01", True),
        ("NO", "2999.99", False),
        ("NO", "3000.00", True),
    ],
)
def test_goods_over_the_limit_of_a_country_are_reported(rules, country, value, over):
    """Limits by country: tax offices and customs pages, each named in rules.csv."""
    currency = {"FR": "EUR", "GB": "GBP", "CH": "CHF", "JP": "JPY", "CA": "CAD", "AU": "AUD", "NZ": "NZD", "NO": "NOK"}[
        country
    ]
    got = declare(piece(goods(value=Money.of(value, currency)), to=country), rules, TODAY)
    assert ("import-charges" in codes_of(got)) is over


@pytest.mark.parametrize(
    ("to", "kind"),
    [("GB", "uk_vat"), ("NO", "voec"), ("FR", "ioss"), (address("GB", postal_code="BT1 5GS"), "ioss")],
)
def test_a_missing_tax_number_of_the_seller_is_reported(destinations, codes, to, kind):
    bare = CustomsRules(destinations, codes)
    kinds = [
        found.facts["kind"] for found in declare(piece(to=to), bare, TODAY).findings if found.code == "tax-id-missing"
    ]
    assert kinds == [kind]


def test_the_tax_number_of_a_registered_shop_is_sent(destinations, codes):
    registered = CustomsRules(destinations, codes, {"nz_gst": "49-091-850"})
    got = declare(piece(to="NZ"), registered, TODAY)
    assert (got.reference, codes_of(got)) == ("49091850", [])


def test_other_currencies_are_converted_to_dollars_only_for_limits(rules):
    got = declare(piece(goods(value=Money.of("2300.00", "EUR")), to="JP", service="intl-priority"), rules, TODAY)
    assert codes_of(got) == ["needs-export-filing"]  # 2530.00 at 1.10
    assert got.total_value == Money.of("2300.00", "EUR")
    (reported,) = [each for each in got.reasons if each.code == "value-in-dollars"]
    assert reported.facts == {
        "value": "2530.00",
        "currency": "EUR",
        "rate_on": "2026-11-20",
        "rate_age_days": 5,
        "rate_stale": False,
    }


def test_without_a_rate_the_untested_limits_are_reported(destinations, codes):
    bare = CustomsRules(destinations, codes, {}, (ExchangeRate("GBP", "USD", Decimal("1.25"), TODAY),))
    got = declare(piece(goods(value=Money.of("2300.00", "EUR")), to="JP", service=""), bare, TODAY)
    assert (got.form, got.export, codes_of(got)) == ("CN23", "", ["value-not-compared"])
    small = declare(piece(goods(value=Money.of("500.00", "EUR")), to="JP", service=""), bare, TODAY)
    # at most 5 dollars per unit, whatever the currency
    assert (small.export, codes_of(small)) == ("NOEEI 30.37(a)", [])
    more = declare(piece(goods(value=Money.of("500.01", "EUR")), to="JP", service=""), bare, TODAY)
    assert codes_of(more) == ["value-not-compared"]
    assert [(each.code, each.facts["limit"]) for each in got.reasons] == [
        ("limit-untested", "300.00"),
        ("limit-untested", "2500.00"),
    ]


def test_the_sdr_rate_is_used_in_either_direction(destinations, codes):
    turned = ExchangeRate("USD", "XDR", Decimal("0.731795"), TODAY)
    assert CustomsRules(destinations, codes, {}, (EUR, turned)).sdr() == turned
    assert CustomsRules(destinations, codes, {}, (EUR,)).sdr() is None


def test_an_old_sdr_rate_is_reported_where_it_chose_the_form(destinations, codes):
    old = CustomsRules(destinations, codes, IOSS, (replace(XDR, on=date(2026, 4, 21)), EUR))
    old_rates = [each for each in declare(piece(service=""), old, TODAY).findings if each.code == "rate-old"]
    assert [each.facts for each in old_rates] == [{"rate": "XDR", "rate_on": "2026-04-21", "rate_age_days": 218}]
    assert "rate-old" not in codes_of(declare(piece(), old, TODAY))


@pytest.mark.parametrize(("days", "old_rates"), [(30, []), (31, ["rate-old"])])
def test_a_rate_is_old_after_thirty_days(destinations, codes, days, old_rates):
    """Common practice: 30 days."""
    rate = replace(EUR, on=TODAY - timedelta(days=days))
    got = declare(
        piece(goods(value=Money.of("20", "EUR")), to="JP"), CustomsRules(destinations, codes, {}, (rate,)), TODAY
    )
    assert codes_of(got) == old_rates


@pytest.mark.parametrize(
    ("value", "expected"), [("1790.00", []), ("1791.00", ["value-not-compared"]), ("9000.00", ["value-not-compared"])]
)
def test_an_approximate_rate_decides_only_values_clearly_under_the_limit(destinations, codes, value, expected):
    """1,790.18 euros at 1.1172 dollars, and a quarter more, are 2,500.00 dollars."""
    rough = replace(EUR, rate=Decimal("1.1172"), rough=True, on=TODAY)
    rules = CustomsRules(destinations, codes, {}, (rough,))
    got = declare(piece(goods(value=Money.of(value, "EUR")), to="ZA", service="intl-priority"), rules, TODAY)
    assert codes_of(got) == expected


@pytest.mark.parametrize(
    ("category", "paid", "expected"),
    [(Category.GIFT, "18.00", ["gift-was-paid"]), (Category.GIFT, "0.00", []), (Category.RETURN, "18.00", [])],
)
def test_goods_that_were_paid_for_are_never_a_gift(rules, category, paid, expected):
    """UPU CN 22, instruction text."""
    got = declare(replace(piece(to="JP"), details=CustomsDetails(category=category), paid=usd(paid)), rules, TODAY)
    assert (codes_of(got), got.category) == (expected, category.value)


def test_a_category_of_other_carries_its_own_words(rules):
    details = CustomsDetails(category=Category.OTHER, category_words="warranty replacement")
    assert declare(replace(piece(to="JP"), details=details), rules, TODAY).category == "other: warranty replacement"
    wordless = replace(piece(to="JP"), details=replace(details, category_words=" "))
    assert codes_of(declare(wordless, rules, TODAY)) == ["reason-missing"]


@pytest.mark.parametrize(
    ("itn", "export", "expected"),
    [
        ("", "ITN needed", ["needs-export-filing"]),
        ("X20260308366903", "AES X20260308366903", []),
        ("AES X20260308366903", "AES X20260308366903", []),
        ("20260308366903", "ITN needed", ["needs-export-filing", "itn-malformed"]),
    ],
)
def test_a_filing_number_replaces_the_exemption(rules, itn, export, expected):
    heavy = piece(goods(value=usd("2500.01")), to="JP", service="intl-priority")
    got = declare(replace(heavy, details=CustomsDetails(itn=itn)), rules, TODAY)
    assert (got.export, [code for code in codes_of(got) if code != "import-charges"]) == (export, expected)


@pytest.mark.parametrize(
    ("country", "region", "destination"),
    [
        ("US", "OR", "US"),
        ("US", " pr ", "US-PR"),
        ("US", "AE", "US-AE"),
        ("CA", "PE", "CA"),
        ("AE", "", "AE"),
    ],
)
def test_only_islands_and_military_mail_have_a_destination_code_of_their_own(country, region, destination):
    assert piece(to=address(country, region=region)).destination == destination


@pytest.mark.parametrize(("value", "export"), [("2500.00", ""), ("2500.01", "ITN needed")])
def test_a_required_filing_is_named_even_without_a_form(rules, value, export):
    """15 CFR 30.37(a): $2,500 for each commodity code; shipments to Puerto Rico are filed too (15 CFR 30.1)."""
    home = address("US", region="PR", postal_code="00901")
    got = declare(piece(goods(value=usd(value)), to=home, service="ground-commercial"), rules, TODAY)
    assert (got.form, got.export) == ("none", export)


@pytest.mark.parametrize(("country", "region", "is_told"), [("DE", "", True), ("US", "OR", False)])
def test_the_conversion_to_dollars_is_reported_only_abroad(rules, country, region, is_told):
    euros = goods(value=Money(1800, "EUR"))
    service = "intl-package" if is_told else "ground-commercial"
    got = declare(piece(euros, to=address(country, region=region), service=service), rules, TODAY)
    assert ("value-in-dollars" in [each.code for each in got.reasons]) is is_told


def test_a_foreign_region_is_never_mistaken_for_military_mail():
    """AE is Armed Forces Europe only with the United States as country; abroad it may be any region."""
    assert replace(piece(), address=address("DE", region="AE")).destination == "DE"
    assert replace(piece(), address=address("US", region="ae ")).destination == "US-AE"


def test_documents_abroad_are_checked_for_weight_without_a_form(rules):
    got = declare(piece(NOTE, gross="4", service="intl-letter"), rules, TODAY)
    assert (got.form, codes_of(got)) == ("none", ["net-over-gross"])


def test_a_declared_piece_to_the_military_post_is_checked(rules):
    got = declare(piece(to=address("US", region="AE"), gross="140", service="priority-retail"), rules, TODAY)
    assert (got.form, "net-over-gross" in codes_of(got)) == ("CN22", True)


def test_all_goods_to_one_addressee_on_a_day_count_for_export_filing(rules):
    """15 CFR 30.37(a): over 2,500 dollars for one code, of all shipments of a day to one addressee."""
    half = goods(value=usd("1300.00"))
    alone = piece(half, to="DE")
    assert "needs-export-filing" not in codes_of(declare(alone, rules, TODAY))
    both = replace(alone, same_day=(half, half))
    assert "needs-export-filing" in codes_of(declare(both, rules, TODAY))
