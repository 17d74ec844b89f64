"""Forms, export filing, HS codes, words and weights against published rules; every row names its source."""

from datetime import date
from decimal import Decimal

import pytest

from desk.customs.declaration import Consignment, CustomsRules, declare
from desk.customs.destinations import Destinations
from desk.customs.export_filing import FilingPlace, check_itn, export_filing
from desk.customs.form import form_for
from desk.customs.hs_codes import HsCodes
from desk.customs.words import check_words
from desk.domain.money import Money
from desk.domain.shop.shop import ExchangeRate
from desk.domain.weight import Weight, WeightUnit
from tests.customs.conftest import RESOURCES, address, goods, grams, usd
from tests.rates.chart_folder import shipped

SERVICE = shipped().service

DAY = date(2026, 11, 25)
PLACES = Destinations.read(RESOURCES / "destinations")
CODES = HsCodes.read(RESOURCES / "goods")
PARITY = ExchangeRate("XDR", "USD", Decimal("1.40"), DAY)  # 300 SDR are then 420.00 to the cent

IMM = "IMM 251 and 252 (2020-09-08 archive)"
PB = "Postal Bulletin 22250 (2009)"
CN22 = "UPU CN 22, instruction text (2018); two posts write 300 or more"


@pytest.mark.parametrize(
    ("service", "value", "weight", "form", "codes", "source"),
    [
        ("intl-package", "40.00", "500", "CN22", [], IMM),
        ("intl-package", "400.01", "500", "CN22", ["over-service-limit"], IMM),
        ("intl-priority-flat-small-box", "399.99", "500", "CN22", [], PB),
        ("intl-priority-flat-small-box", "400.00", "500", "CN23", ["form-edge"], PB),
        ("intl-priority-flat-envelope", "400.00", "500", "CN23", ["form-edge"], PB),
        ("intl-priority", "1.00", "500", "CN23", [], "IMM exhibit 123.61 (listing of 2008)"),
        ("", "419.99", "500", "CN22", [], CN22),
        ("", "420.00", "500", "CN23", ["form-edge"], CN22),
        ("", "420.01", "500", "CN23", [], CN22),
        ("", "40.00", "2000", "CN22", [], "UPU letter post up to 2 kg; read, weak"),
        ("", "40.00", "2000.01", "CN23", [], "UPU letter post up to 2 kg; read, weak"),
    ],
)
def test_goods_need_the_published_form(service, value, weight, form, codes, source):
    answer = form_for(SERVICE(service), usd(value), grams(weight), "DE", False, PARITY)
    assert (answer.form, [found.code for found in answer.findings]) == (form, codes), source


def test_goods_never_go_as_a_letter():
    """IMM 242.2 (2020-11-02 archive): one sold sticker sheet of 20 g to France is goods."""
    answer = form_for(SERVICE("intl-letter"), usd("4.00"), grams("20"), "FR", documents_only=False)
    assert [found.code for found in answer.findings] == ["goods-in-letter-abroad"]


@pytest.mark.parametrize(
    ("ounces", "form", "source"),
    [
        ("0.7", "none", "IMM 242.1 (2020-11-02 archive): an invoice of 20 g by letter"),
        ("15.994", "none", "the post's customs-forms page, undated"),
        ("16", "CN22", "IMM 123.631: any item of 16 oz or more"),
    ],
)
def test_documents_need_the_published_form(ounces, form, source):
    weight = Weight.of(ounces, WeightUnit.OUNCE)
    assert form_for(SERVICE("intl-flat"), usd("0.00"), weight, "FR", documents_only=True).form == form, source


@pytest.mark.parametrize("state", ["US-AE", "US-AP", "US-AA"])
def test_the_military_post_needs_forms_for_goods_of_any_weight(state):
    """DMM 608.2.4.4 and 703.2.3 from 2024-07-14, as reported by the trade press."""
    answer = form_for(SERVICE("ground-retail"), usd("9.00"), grams("10"), state, documents_only=False)
    assert [found.code for found in answer.findings] == ["form-may-be-needed"]


FTR = "15 CFR 30.37(a); IMM 526 (2014-07-07 archive)"
BULLETIN = "Postal Bulletin 22594 (2022-03-24)"


@pytest.mark.parametrize(
    ("place", "lines", "citation", "source"),
    [
        (FilingPlace("DE"), [("482010", "2500.00")], "NOEEI 30.37(a)", FTR),
        (FilingPlace("DE"), [("482010", "2500.01")], "ITN needed", FTR),
        (FilingPlace("DE"), [("482010", "2000.00"), ("491191", "2000.00")], "NOEEI 30.37(a)", FTR),
        (FilingPlace("CA"), [("482010", "3000.00")], "NOEEI 30.36", "15 CFR 30.36; IMM 526"),
        (FilingPlace("CU"), [("482010", "5.00")], "barred", BULLETIN),
        (FilingPlace("UA", "95000"), [("482010", "5.00")], "barred", BULLETIN),
        (FilingPlace("UA", "83000"), [("482010", "5.00")], "barred", BULLETIN),
        (FilingPlace("UA", "91000"), [("482010", "5.00")], "barred", BULLETIN),
        (FilingPlace("UA", "79000"), [("482010", "5.00")], "NOEEI 30.37(a)", BULLETIN),
        (FilingPlace("IR"), [("482010", "5.00")], "barred", BULLETIN),
        (FilingPlace("KP"), [("482010", "5.00")], "barred", BULLETIN),
    ],
)
def test_export_filing_follows_the_regulation(place, lines, citation, source):
    made = [(code, Money.of(value)) for code, value in lines]
    assert export_filing(place, made, PLACES).citation == citation, source


@pytest.mark.parametrize(("text", "ok"), [("X20190308366903", True), ("20190308366903", False)])
def test_transaction_numbers_have_the_published_format(text, ok):
    """Census Bureau blog, 2019-05-22."""
    assert check_itn(text).ok is ok


@pytest.mark.parametrize("country", "AE AF AM BH BY CU DJ DZ ER HT IL IQ IR KW LY MG OM PK QA RU SC SD SS SY TM TZ VE YE BT".split())  # fmt: skip
def test_suspended_destinations_are_those_of_the_posts_list(country):
    """The post's list of suspended destinations of 2026-03-03 (read); it has to be looked up again before use."""
    assert PLACES.suspended(country, SERVICE("intl-package"), DAY) is not None


@pytest.mark.parametrize(
    ("country", "service"), [("BT", "intl-letter"), ("NU", "intl-package"), ("DE", "intl-package")]
)
def test_destinations_outside_the_suspensions_stay_open(country, service):
    """The same list: Bhutan takes letters, Niue lost its express service only."""
    assert PLACES.suspended(country, SERVICE(service), DAY) is None


@pytest.mark.parametrize(
    ("text", "ok", "code", "source"),
    [
        ("491191", True, "", "open table of HS 2022"),
        ("4911", False, "hs-missing", "a mailers' association, 2025-08-20: at least six digits"),
        ("4420.10", False, "hs-not-in-edition", "open table of HS 2022: now 4420.11 and 4420.19"),
        ("4420.19", True, "", "open table of HS 2022"),
        ("970110", False, "hs-not-in-edition", "open table of HS 2022: 9701.91 took its place"),
        ("970191", True, "", "open table of HS 2022"),
        ("999999", False, "hs-not-in-edition", "note beside the open table: a filler of the statistics"),
    ],
)
def test_hs_codes_have_the_published_format(text, ok, code, source):
    checked = CODES.looked_at(text)
    assert (checked.ok, checked.code) == (ok, code), source


NEWS = "the post's news of 2023-03-15; its customs-forms page"
STOP_WORDS = "EU ICS2 stop-word list, in a reprint"
MEMORY = "from memory"


@pytest.mark.parametrize(
    ("text", "ok", "source"),
    [
        ("shirts", False, NEWS),
        ("men's cotton dress shirts", True, NEWS),
        ("gift", False, NEWS),
        ("toy", False, NEWS),
        ("child's toy doll", True, NEWS),
        ("clothes", False, NEWS),
        ("girl's vest", True, NEWS),
        ("cards", False, STOP_WORDS),
        ("decorations", False, STOP_WORDS),
        ("decorative items", False, STOP_WORDS),
        ("accessories", False, STOP_WORDS),
        ("artwork", False, STOP_WORDS),
        ("bags", False, STOP_WORDS),
        ("boxes", False, STOP_WORDS),
        ("documents", False, STOP_WORDS),
        ("articles", False, STOP_WORDS),
        ("birthday gifts", False, STOP_WORDS),
        ("parts", False, "CN 23 instruction text refuses spare parts"),
        ("samples", False, "PS 2976-A instructions and the CN 23 text"),
        ("food products", False, "PS 2976-A instructions, edition of 9/2012"),
        ("merchandise", False, MEMORY),
        ("stationery", False, MEMORY),
        ("misc", False, MEMORY),
        ("Printed art print on paper, botanical design", True, "the post's help article on customs forms"),
        ("123", False, "EU guidance on descriptions, in a reprint: only digits"),
        ("???", False, "EU guidance on descriptions, in a reprint: only signs"),
    ],
)
def test_descriptions_are_judged_as_published(text, ok, source):
    checked = check_words(text)
    assert (checked.ok, checked.code) == (ok, "" if ok else "words-too-vague"), source


def test_words_of_160_characters_get_a_warning():
    """The post's help article on customs forms: 50 to 100 characters."""
    checked = check_words("Printed paper " * 12)
    assert (checked.ok, checked.code) == (True, "words-too-long")


def test_every_suggested_description_is_a_good_one():
    """Suggested with the codes; customs rulings where `known_by` says so, else general knowledge."""
    assert [row.words for row in CODES.phrases if row.words and not check_words(row.words).ok] == []


def declared(*lines: tuple[int, str], gross: str):
    made = tuple(goods(quantity=count, unit_net=grams(weight)) for count, weight in lines)
    piece = Consignment(goods=made, gross=grams(gross), service=SERVICE("intl-package"), address=address("CA"))
    return declare(piece, CustomsRules(PLACES, CODES), DAY)


def test_net_and_gross_weight_of_a_small_parcel_equal_the_worked_example():
    """CN 23 field list: three cards of 12 g and a notebook of 150 g in a parcel of 240 g; net 0.186 kg."""
    got = declared((3, "12"), (1, "150"), gross="240")
    assert (got.total_net_g, [found.code for found in got.findings]) == (186, [])


def test_net_above_gross_is_refused():
    """Follows from the meaning of net and gross: 260 g in a parcel of 240 g."""
    assert [found.code for found in declared((1, "260"), gross="240").findings] == ["net-over-gross"]


def test_a_pound_is_454_grams_on_paper():
    """1 lb is 453.59237 g (NIST Handbook 44, Appendix C), printed to whole grams."""
    assert declared((1, "453.59237"), gross="500").total_net_g == 454
