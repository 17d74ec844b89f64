import pytest

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamp_plan import StampNeed
from desk.rates.stamps.stamps import StampCount
from desk.session.pile.batch import judge_batch
from desk.session.pile.stamps_out import StampsOut, need_of
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.session.made import ON, case, policy, shop, weighing


def verdicts(terms, *cases):
    return [judge(each, terms) for each in cases]


def words(served):
    return [verdict.stamps.words() if verdict.stamps else "" for verdict in served]


def test_stamps_are_used_from_one_stock_piece_by_piece(terms):
    out = StampsOut(terms)
    served = out.hand_out(verdicts(terms, case("0.7"), case("1.5"), case(None)))
    assert words(served) == ["1 forever", "1 forever + 1 additional_ounce", ""]
    assert out.left == (StampStock(StampKind.FOREVER, 3), StampStock(StampKind.ADDITIONAL_OUNCE, 2))


def test_missing_stamps_are_one_shopping_list_for_the_batch(rulebook):
    """Four hundred letters without stamps once made two hundred issues."""
    terms = Terms(shop(stamps=(StampStock(StampKind.FOREVER, 1),)), rulebook, ON)
    batch = judge_batch([case("0.7", number="1"), case("0.7", number="2"), case("1.5", number="3")], terms)
    assert words(batch.verdicts) == ["1 forever", "", ""]
    (short,) = [one for one in batch.shared if one.found.code == "not-enough-stamps"]
    assert dict(short.found.facts) == {"pieces": 2, "would_do": "1 Forever, 1 two-ounce"}
    assert short.pieces == ("2", "3")
    assert {verdict.status for verdict in batch.verdicts} == {"ready"}
    assert all("not-enough-stamps" not in [one.code for one in verdict.findings] for verdict in batch.verdicts)


def test_no_more_stamps_on_a_piece_than_the_shop_allows(rulebook):
    dimes = (StampStock(StampKind.FACE, 50, Money(10)),)
    terms = Terms(shop(stamps=dimes, policy=policy(max_stamps=4)), rulebook, ON)
    assert words(judge_batch([case("0.7")], terms).verdicts) == [""]


def test_the_value_of_the_stamps_used_is_what_a_letter_costs(rulebook):
    """Two forever stamps on a letter of 1.11: 0.53 too much, in a column of its own, and reported in a note."""
    terms = Terms(shop(stamps=(StampStock(StampKind.FOREVER, 9),)), rulebook, ON)
    (served,) = judge_batch([case("1.5")], terms).verdicts
    money = served.money
    assert (money.postage, money.overpaid) == (Money(111), Money(53))
    assert money.margin == money.charged - money.postage - money.materials
    assert [dict(one.facts) for one in served.findings if one.code == "stamps-overpaid"] == [
        {"overpaid": "0.53", "currency": "USD"}
    ]


@pytest.mark.parametrize(("face", "noted"), [(102, False), (103, True)])
def test_overpaying_by_more_than_twenty_cents_is_noted(rulebook, face, noted):
    terms = Terms(shop(stamps=(StampStock(StampKind.FACE, 1, Money(face)),)), rulebook, ON)
    (served,) = judge_batch([case("0.7")], terms).verdicts
    assert ("stamps-overpaid" in [one.code for one in served.findings]) is noted


def test_a_letter_weighed_early_leaves_the_stamps_a_later_one_needs(rulebook):
    drawer = (StampStock(StampKind.FOREVER, 1), StampStock(StampKind.TWO_OUNCE, 1))
    terms = Terms(shop(stamps=drawer), rulebook, ON)
    batch = judge_batch([case("1.5", number="1"), case("0.7", number="2")], terms)
    assert words(batch.verdicts) == ["1 two_ounce", "1 forever"]


def test_a_stopped_piece_shows_its_stamps_but_uses_none(terms):
    from dataclasses import replace

    from tests.session.made import HOME

    out = StampsOut(terms)
    (served,) = out.hand_out(verdicts(terms, case("0.7", address=replace(HOME, city=""))))
    assert words([served]) == ["1 forever"]
    assert out.left == terms.shop.stamps


def test_a_parcel_uses_no_stamps(terms):
    out = StampsOut(terms)
    served = out.hand_out(verdicts(terms, case("12", "Padded")))
    assert words(served) == [""]
    assert out.left == terms.shop.stamps


def test_removed_pieces_return_their_stamps(terms):
    out = StampsOut(terms)
    both = verdicts(terms, case("0.7"), case("0.7"))
    out.hand_out(both)
    out.hand_out(both[:1])
    assert out.left[0] == StampStock(StampKind.FOREVER, 4)
    out.hand_out([])
    assert out.left == terms.shop.stamps


def test_the_batch_counts_pieces_and_adds_up_stamps(terms):
    batch = judge_batch([case("0.7"), case("1.5"), case(None)], terms)
    assert batch.counts() == {"to weigh": 1, "needs a look": 0, "ready": 2, "labeled": 0, "handed over": 0}
    money = batch.money("USD")
    assert money.charged == Money(1000)
    assert money.postage == sum((v.money.postage for v in batch.verdicts if v.money), Money(0))
    assert [one.found.code for one in batch.shared] == ["untracked"]  # letters, reported once
    assert batch.drawer_left[0].count == 3


def test_an_outdated_price_list_is_reported_once_for_the_whole_batch(rulebook):
    from datetime import date

    late = Terms(shop(), rulebook, date(2027, 1, 18))
    batch = judge_batch([case("12", "Padded"), case("11", "Padded")], late)
    assert [one.found.code for one in batch.shared] == ["chart-out-of-date"]
    assert all("chart-out-of-date" not in [f.code for f in verdict.findings] for verdict in batch.verdicts)


def test_lost_or_returned_pieces_are_counted(terms):
    from desk.domain.status import PieceStatus

    assert judge_batch([case(beside=PieceStatus.LOST)], terms).counts()["lost"] == 1


def test_stamps_worth_exactly_the_price_overpay_nothing(rulebook):
    """Two faces of 0.41 on a letter of 0.82."""
    terms = Terms(shop(), rulebook, ON)
    on_it = (StampCount(StampKind.FACE, Money(41), 2),)
    (served,) = judge_batch([case("0.7", stamps_on=on_it, postage_on=True)], terms).verdicts
    assert (served.stamps.overpaid, served.money.overpaid) == (Money(0), Money(0))
    more = (StampCount(StampKind.FACE, Money(42), 2),)
    (served,) = judge_batch([case("0.7", stamps_on=more, postage_on=True)], terms).verdicts
    assert served.stamps.overpaid == Money(2)


def test_nonmachinable_stamps_are_bought_only_for_nonmachinable_letters(rulebook):
    """Notice 123, July 12, 2026: one ounce $0.82, nonmachinable $0.49 more."""
    terms = Terms(shop(stamps=()), rulebook, ON)

    def to_buy(**fields):
        batch = judge_batch([case("0.7", **fields)], terms)
        return next(one.found.facts["would_do"] for one in batch.shared if one.found.code == "not-enough-stamps")

    assert to_buy().casefold() == "1 forever"
    assert to_buy(weighing=weighing("0.7", stiff=True)).casefold() == "1 nonmachinable"


def test_a_letter_without_a_surcharge_is_not_nonmachinable(terms):
    plain, stiff = verdicts(terms, case("0.7"), case("0.7", weighing=weighing("0.7", stiff=True)))
    assert [need_of(plain).nonmachinable, need_of(stiff).nonmachinable] == [False, True]


@pytest.mark.parametrize("is_nonmachinable", [True, False])
def test_a_nonmachinable_stamp_is_not_bought_for_another_letter_even_where_it_fits(rulebook, is_nonmachinable):
    """$1.31 is exactly what it counts for: $0.82 and $0.49 (Notice 123, July 12, 2026)."""
    out = StampsOut(Terms(shop(stamps=()), rulebook, ON))
    wanted = out._to_buy(StampNeed(Money(131), nonmachinable=is_nonmachinable))
    assert wanted is not None
    assert ("nonmachinable" in wanted.words()) is is_nonmachinable
