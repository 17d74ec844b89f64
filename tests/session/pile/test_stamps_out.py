import pytest

from desk.domain.money import Money
from desk.domain.stamp import StampKind, StampStock
from desk.session.pile import stamps_out
from desk.session.pile.batch import judge_batch
from desk.session.pile.stamps_out import StampsOut
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.session.made import ON, case, policy, shop


@pytest.fixture
def counted(monkeypatch):
    """How often a set of stamps was worked out."""
    asked = []
    real = stamps_out.choose_stamps

    def choose(*words, **named):
        asked.append(words[0])
        return real(*words, **named)

    monkeypatch.setattr(stamps_out, "choose_stamps", choose)
    return asked


def verdicts(terms, *cases):
    return [judge(each, terms) for each in cases]


def words(served):
    return [verdict.stamps.words() if verdict.stamps else "" for verdict in served]


def test_stamps_come_out_of_one_drawer_in_turn(terms):
    out = StampsOut(terms)
    served = out.hand_out(verdicts(terms, case("0.7"), case("1.5"), case(None)))
    assert words(served) == ["1 forever", "1 forever + 1 additional_ounce", ""]
    assert out.left == (StampStock(StampKind.FOREVER, 3), StampStock(StampKind.ADDITIONAL_OUNCE, 2))


def test_an_empty_drawer_says_so_and_asks_for_a_look(rulebook):
    terms = Terms(shop(stamps=(StampStock(StampKind.FOREVER, 1),)), rulebook, ON)
    first, second = StampsOut(terms).hand_out(verdicts(terms, case("0.7"), case("0.7")))
    assert (words([first]), first.stands) == (["1 forever"], "ready")
    assert "not-enough-stamps" in [found.code for found in second.findings]
    assert second.stands == "needs a look"


def test_no_more_stamps_on_a_piece_than_the_shop_allows(rulebook):
    dimes = (StampStock(StampKind.FACE, 50, Money(10)),)
    terms = Terms(shop(stamps=dimes, policy=policy(max_stamps=4)), rulebook, ON)
    (served,) = StampsOut(terms).hand_out(verdicts(terms, case("0.7")))
    assert "not-enough-stamps" in [found.code for found in served.findings]


def test_a_stopped_piece_is_shown_its_stamps_and_takes_none(terms):
    from dataclasses import replace

    from tests.session.made import HOME

    out = StampsOut(terms)
    (served,) = out.hand_out(verdicts(terms, case("0.7", address=replace(HOME, city=""))))
    assert words([served]) == ["1 forever"]
    assert out.left == terms.shop.stamps


def test_a_parcel_asks_nothing_of_the_drawer(terms, counted):
    out = StampsOut(terms)
    served = out.hand_out(verdicts(terms, case("12", "Padded")))
    assert words(served) == [""]
    assert counted == []
    assert out.left == terms.shop.stamps


def test_what_was_handed_out_before_is_kept(terms, counted):
    out = StampsOut(terms)
    first = verdicts(terms, case("0.7"), case("1.5"))
    out.hand_out(first)
    assert len(counted) == 2
    again = out.hand_out([*first, *verdicts(terms, case("0.7"))])
    assert len(counted) == 3
    assert words(again)[2] == "1 forever"


def test_a_change_early_on_is_worked_out_again_from_there(terms, counted):
    out = StampsOut(terms)
    one, two, three = verdicts(terms, case("0.7"), case("0.7"), case("1.5"))
    out.hand_out([one, two, three])
    counted.clear()
    (heavier,) = verdicts(terms, case("1.5"))
    changed = out.hand_out([one, heavier, three])
    assert len(counted) == 2
    assert words(changed) == words(StampsOut(terms).hand_out([one, heavier, three]))


def test_pieces_taken_away_give_their_stamps_back(terms):
    out = StampsOut(terms)
    both = verdicts(terms, case("0.7"), case("0.7"))
    out.hand_out(both)
    out.hand_out(both[:1])
    assert out.left[0] == StampStock(StampKind.FOREVER, 4)
    out.hand_out([])
    assert out.left == terms.shop.stamps


def test_a_batch_counts_and_sums(terms):
    batch = judge_batch([case("0.7"), case("1.5"), case(None)], terms)
    assert batch.counts() == {"to weigh": 1, "needs a look": 0, "ready": 2, "labeled": 0, "handed over": 0}
    money = batch.money("USD")
    assert money.charged == Money(1000)
    assert money.postage == sum((v.money.postage for v in batch.verdicts if v.money), Money(0))
    assert batch.shared == ()
    assert batch.drawer_left[0].count == 3


def test_an_old_chart_is_told_once_for_the_whole_batch(rulebook):
    from datetime import date

    late = Terms(shop(), rulebook, date(2027, 1, 18))
    batch = judge_batch([case("12", "Padded"), case("11", "Padded")], late)
    assert [one.found.code for one in batch.shared] == ["chart-out-of-date"]
    assert all("chart-out-of-date" not in [f.code for f in verdict.findings] for verdict in batch.verdicts)


def test_pieces_beside_the_line_are_counted_where_there_are_any(terms):
    from desk.domain.stands import Stand

    assert judge_batch([case(beside=Stand.LOST)], terms).counts()["lost"] == 1
