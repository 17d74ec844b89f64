import pytest

from desk.session.contents.piece_words import masked


@pytest.mark.parametrize(("number", "shown"), [("IM123", "••123"), ("1234", "•234"), ("123", "123"), ("", "")])
def test_only_the_last_three_characters_of_a_tax_number_are_printed(number, shown):
    assert masked(number) == shown
