"""A price from a list past its last day says so beside the amount, and once for the pile."""

from datetime import date

from desk.session.batch import judge_batch
from desk.session.bench_view import bench_view
from desk.session.price_age import age_of, ages_of
from desk.session.verdict import Terms
from tests.session.made import BOOK, ON, case, line, shop

LATE = date(2026, 11, 25)


def parcels(rulebook, on):
    terms = Terms(shop(), rulebook, on)
    cases = [case("12", "Padded", number=number, lines=(line(BOOK),)) for number in "12"]
    return judge_batch([*cases, case(number="3")], terms), terms


def test_the_date_stands_beside_the_amount(rulebook):
    batch, terms = parcels(rulebook, LATE)
    view = bench_view(batch.verdicts[0], terms)
    assert (view.costs[0].words, view.costs[0].beside) == ("Postage", "list of 2026-07-12, known until 2026-10-03")
    assert "chart-out-of-date" not in [fact.code for fact in view.why]
    assert bench_view(batch.verdicts[2], terms).costs[0].beside == ""


def test_a_list_in_its_days_says_nothing(rulebook):
    batch, terms = parcels(rulebook, ON)
    assert [age_of(verdict.offer, terms.on) for verdict in batch.verdicts] == ["", "", ""]
    assert ages_of(batch) == ""


def test_once_in_the_strip_however_many_pieces(rulebook):
    batch, _ = parcels(rulebook, LATE)
    assert ages_of(batch) == (
        "Prices known until 3 October 2026 are in use: compare one with the post's list before you pay."
    )
