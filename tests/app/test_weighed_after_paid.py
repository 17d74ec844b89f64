"""A run with another weight for a piece whose postage is on: the weight is reported, and nothing changes."""

from datetime import UTC, datetime

import pytest

from desk.domain.clock import SystemClock
from desk.domain.resources import resources
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store
from desk.store.tables import hand_overs, weighings
from tests.app.headless import WEIGHTS


@pytest.fixture
def stamped(desk):
    """A desk whose first order (0.7 oz, one stamp) has its stamps on, in the store `kept.sqlite`."""
    desk.more = ()
    assert desk.run("--store", str(desk.folder / "kept.sqlite")) == 0
    _do(desk, lambda sitting: put_stamps_on(sitting, Pile(sitting), [1]))
    return desk


def _do(desk, act):
    clock = SystemClock()
    store = open_store(desk.folder / "kept.sqlite", clock)
    day = datetime(2026, 7, 15, tzinfo=UTC).date()
    try:
        return act(Sitting(store, clock, read_rulebook(resources()), day))
    finally:
        store.close()


def _again(desk, weights):
    desk.weights = weights
    return desk.run("--store", str(desk.folder / "kept.sqlite"))


def _weighings(desk, piece):
    def read(sitting):
        with sitting.store.reading() as conn:
            return [str(found.shown.value) for _, found in weighings.of_piece(conn, piece)]

    return _do(desk, read)


def test_a_paid_weight_stays_and_another_one_is_reported(stamped):
    before = stamped.table("pieces.csv")
    assert _again(stamped, WEIGHTS.replace("1,0.7", "1,2.7").replace("2,1.7", "2,1.8")) == 1
    one, two = stamped.table("pieces.csv")
    assert one == before[0] | {"stands": "labeled", "findings": one["findings"]}
    assert "weighed-after-paid" in one["findings"].split(";")
    assert two["gross_oz"] == "1.800"
    (announced,) = [row for row in stamped.table("findings.csv") if row["code"] == "weighed-after-paid"]
    assert (announced["order"], announced["piece"], announced["severity"]) == ("1", "1", "look")
    assert ("0.7 oz" in announced["message"], "2.7 oz" in announced["message"]) == (True, True)
    assert _weighings(stamped, 1) == ["0.7"]


def test_the_same_weight_again_is_not_reported(stamped):
    assert _again(stamped, WEIGHTS) == 0
    assert "weighed-after-paid" not in {row["code"] for row in stamped.table("findings.csv")}


def test_another_mailer_for_a_paid_piece_is_reported_by_its_name(stamped):
    assert _again(stamped, WEIGHTS.replace("1,0.7,oz,A7", "1,0.7,oz,")) == 1
    (announced,) = [row for row in stamped.table("findings.csv") if row["code"] == "weighed-after-paid"]
    assert ("0.7 oz, A7" in announced["message"], "0.7 oz, no mailer" in announced["message"]) == (True, True)


def test_a_mailed_piece_keeps_its_weight(stamped):
    def leave(sitting):
        with sitting.store.act("Hand over") as tx:
            hand_overs.hand_over(tx, [2])

    _do(stamped, leave)
    assert _again(stamped, WEIGHTS.replace("2,1.7", "2,3.1")) == 1
    assert stamped.table("pieces.csv")[1]["gross_oz"] == "1.700"


def test_a_new_weight_is_accepted_again_after_postage_is_removed(stamped):
    from desk.session.papers.stamps_on import take_stamps_off

    _do(stamped, lambda sitting: take_stamps_off(sitting, Pile(sitting), [1]))
    assert _again(stamped, WEIGHTS.replace("1,0.7", "1,2.7")) == 0
    assert stamped.table("pieces.csv")[0]["gross_oz"] == "2.700"
