from dataclasses import replace

import pytest

from desk.domain.shop.shop import SenderName
from desk.session.contents.worksheet_contents import keying_contents
from desk.session.pile.batch import judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import BOOK, FRANCE, SENDER, case, line


def test_only_pieces_with_a_declaration_have_a_worksheet_in_its_currency(terms):
    abroad = case("13", "Padded", number="8", address=FRANCE, lines=(line(BOOK, 2),))
    (sheet,) = keying_contents(judge_batch([case(), abroad], terms), terms)
    assert (sheet.reference, sheet.total_value, sheet.lines[0].quantity) == ("8-1", "13.00 USD", "2")
    assert sheet.cautions


@pytest.mark.parametrize(
    ("sender", "name", "fields"),
    [
        (SENDER, SenderName("June", "Alder"), ("June", "Alder", "Sorrel Street Bindery")),
        (SENDER, SenderName(), ("", "", "Sorrel Street Bindery")),
        (replace(SENDER, recipient="June Alder"), SenderName("June", "Alder"), ("June", "Alder", "")),
        (replace(SENDER, recipient="June Alder", company="Sorrel"), SenderName(), ("June", "Alder", "Sorrel")),
    ],
)
def test_the_shops_name_is_the_senders_company(terms, sender, name, fields):
    shop = replace(terms.shop, sender=sender, sender_name=name)
    own = Terms(shop, terms.rulebook, terms.on)
    abroad = case("13", "Padded", number="8", address=FRANCE, lines=(line(BOOK, 2),))
    (sheet,) = keying_contents(judge_batch([abroad], own), own)
    party = sheet.sender_fields
    assert (party.first_name, party.last_name, party.company) == fields


@pytest.mark.parametrize(("country", "written"), [("", "United States"), ("PR", "Puerto Rico")])
def test_the_senders_own_country_is_written(terms, country, written):
    own = Terms(replace(terms.shop, sender=replace(SENDER, country=country)), terms.rulebook, terms.on)
    abroad = case("13", "Padded", number="8", address=FRANCE, lines=(line(BOOK, 2),))
    (sheet,) = keying_contents(judge_batch([abroad], own), own)
    assert sheet.sender_fields.country == written
