"""Each status can follow a number in a sentence."""

import pytest

from desk.domain.status import PieceStatus
from desk.session.words.statuses import status_counted, status_name, status_said


@pytest.mark.parametrize(
    ("status", "words"),
    [
        (PieceStatus.NEEDS_A_LOOK, "1004 needs a check"),
        (PieceStatus.CAME_BACK, "1004 came back"),
        (PieceStatus.SET_ASIDE, "1004 is set aside"),
    ],
)
def test_each_status_has_plain_words(status, words):
    assert status_said("1004", status) == words


def test_every_status_has_words():
    assert len({status_said("1", status) for status in PieceStatus}) == len(PieceStatus)


def test_screens_use_the_word_check_where_tables_use_look():
    assert (status_name(PieceStatus.NEEDS_A_LOOK), status_name(PieceStatus.SET_ASIDE)) == ("needs a check", "set aside")


@pytest.mark.parametrize(
    ("count", "status", "words"),
    [
        (1, PieceStatus.NEEDS_A_LOOK, "1 needs a check"),
        (2, PieceStatus.NEEDS_A_LOOK, "2 need a check"),
        (1200, PieceStatus.READY, "1,200 ready"),
    ],
)
def test_a_count_of_a_status_reads_as_a_sentence(count, status, words):
    assert status_counted(count, status) == words
