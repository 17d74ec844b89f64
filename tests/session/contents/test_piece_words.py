from dataclasses import replace

import pytest

from desk.session.contents.piece_words import masked, recipient_name
from desk.session.verdict.judge import judge
from tests.session.made import HOME, case


@pytest.mark.parametrize(("number", "shown"), [("IM123", "••123"), ("1234", "•234"), ("123", "123"), ("", "")])
def test_only_the_last_three_characters_of_a_tax_number_are_printed(number, shown):
    assert masked(number) == shown


@pytest.mark.parametrize(("recipient", "name"), [("Ada Vell", "Ada Vell"), ("", "Quill Press")])
def test_a_company_without_a_person_is_the_recipient(terms, recipient, name):
    address = replace(HOME, recipient=recipient, company="Quill Press")
    assert recipient_name(judge(case(address=address), terms)) == name
