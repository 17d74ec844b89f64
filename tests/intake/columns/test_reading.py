"""The chosen format of a file: every choice can be read, and no choice means none."""

import codecs

import pytest

from desk.intake.columns.reading import ENCODINGS, NOTHING_CHOSEN, ReadingChoices


@pytest.mark.parametrize("encoding", ENCODINGS)
def test_every_offered_encoding_exists_and_can_encode_a_name(encoding):
    assert "Ada".encode(encoding).decode(encoding) == "Ada"


def test_each_encoding_is_offered_once():
    assert len({codecs.lookup(encoding).name for encoding in ENCODINGS}) == len(ENCODINGS)


def test_no_choice_is_an_empty_format():
    assert ReadingChoices() == NOTHING_CHOSEN
    assert not any((NOTHING_CHOSEN.encoding, NOTHING_CHOSEN.delimiter, NOTHING_CHOSEN.sheet))
