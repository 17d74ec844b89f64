"""Each status can follow a number in a sentence."""

import pytest

from desk.domain.status import PieceStatus
from desk.session.words.statuses import status_said


@pytest.mark.parametrize(
    ("status", "words"),
    [
        (PieceStatus.NEEDS_A_LOOK, "1004 needs a check"),
        (PieceStatus.CAME_BACK, "1004 came back"),
        (PieceStatus.SET_ASIDE, "1004 is set aside"),
    ],
)
def test_a_status_is_said_as_a_person_would(status, words):
    assert status_said("1004", status) == words


def test_every_status_has_words():
    assert len({status_said("1", status) for status in PieceStatus}) == len(PieceStatus)
