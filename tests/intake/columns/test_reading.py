"""How a person said a file is to be read: what is offered can be read, and nothing said is nothing chosen."""

import codecs

import pytest

from desk.intake.columns.amounts import NotRead, day, money
from desk.intake.columns.reading import DATES, DECIMALS, ENCODINGS, NOTHING_CHOSEN, Reading


@pytest.mark.parametrize("encoding", ENCODINGS)
def test_every_encoding_offered_is_one_and_can_write_a_name(encoding):
    assert "Ada".encode(encoding).decode(encoding) == "Ada"


def test_no_encoding_is_offered_twice():
    assert len({codecs.lookup(encoding).name for encoding in ENCODINGS}) == len(ENCODINGS)


def test_nothing_chosen_is_empty():
    assert Reading() == NOTHING_CHOSEN
    assert not any((NOTHING_CHOSEN.encoding, NOTHING_CHOSEN.delimiter, NOTHING_CHOSEN.sheet, NOTHING_CHOSEN.dates))


def test_a_date_that_reads_two_ways_is_settled_by_each_of_the_two():
    with pytest.raises(NotRead):
        day("03/04/2026", NOTHING_CHOSEN.dates)
    assert {day("03/04/2026", dates).isoformat() for dates in DATES} == {"2026-04-03", "2026-03-04"}


def test_an_amount_that_reads_two_ways_is_settled_by_each_of_the_two():
    with pytest.raises(NotRead):
        money("1,234", "USD", NOTHING_CHOSEN.decimal)
    read = []
    for sign in DECIMALS:
        try:
            read.append(money("1,234", "USD", sign).text())
        except NotRead:
            read.append("no amount")
    assert sorted(read) == ["1234.00", "no amount"]
