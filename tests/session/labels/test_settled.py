"""Which labels still wait; a page set aside does not wait until a number is typed for it."""

from desk.session.labels.matching import LabelMatch, Sureness
from desk.session.labels.settled import label_refusal, settled_labels, waiting_labels
from tests.session.labels.conftest import THREE_PARCELS
from tests.session.labels.test_matching import read

pytestmark = THREE_PARCELS


def match(sureness, *piece_ids):
    return LabelMatch(read(), sureness, piece_ids, "")


MATCHES = [match(Sureness.MATCHED, 1), match(Sureness.WEAK, 2), match(Sureness.ASIDE), match(Sureness.HELD, 3)]


def test_only_labels_without_a_package_wait():
    assert waiting_labels(MATCHES, {}) == [1, 3]
    assert waiting_labels(MATCHES, {1: 2, 2: 4}) == [3]


def test_a_typed_number_wins_over_the_match(pile):
    first, second = pile.find("1001"), pile.find("1002")
    assert settled_labels(pile, [match(Sureness.MATCHED, first)], {0: second}) == {0: second}
    assert label_refusal(pile.verdicts[first]) == ""
