import pytest

from desk.domain.faults import Refused
from desk.session.papers.bought_labels import SETTING, BoughtLabels, bought_labels, refuse_unmatched
from desk.session.verdict.payment import Payment
from desk.store.tables import settings


class Pile:
    """Two pieces: 1 bought online, 2 stamped."""

    def __init__(self):
        from types import SimpleNamespace as Plain

        self.verdicts = {
            number: Plain(payment=payment, case=Plain(key=Plain(reference=f"{number}-1"), number=f"{number}"))
            for number, payment in ((1, Payment.ONLINE), (2, Payment.STAMPED))
        }


@pytest.mark.parametrize(
    ("scanned", "must", "piece", "refused"),
    [({}, False, 1, False), ({}, True, 1, True), ({"1-1": False}, True, 1, True), ({"1-1": True}, True, 1, False), ({}, True, 2, False)],
)  # fmt: skip
def test_only_bought_labels_that_did_not_match_are_refused(sitting, scanned, must, piece, refused):
    with sitting.store.act("Set") as tx:
        settings.write(tx, SETTING, BoughtLabels(scanned=scanned, must_match=must))
    assert bought_labels(sitting).must_match is must
    if refused:
        with pytest.raises(Refused, match=r"^1 was not matched"):
            refuse_unmatched(sitting, Pile(), [piece])
    else:
        refuse_unmatched(sitting, Pile(), [piece])
