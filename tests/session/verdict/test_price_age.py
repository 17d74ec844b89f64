"""A price from an outdated list is marked next to the amount, once for the pile, and next to a sum."""

from datetime import date

from desk.session.bench.bench_view import bench_view
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.pile.batch import Counts, judge_batch
from desk.session.verdict.price_age import FRESH, Age, age_of, ages_in_sum, ages_of
from desk.session.verdict.verdict import Terms
from tests.session.made import BOOK, ON, case, line, shop

LATE = date(2027, 1, 18)


def parcels(rulebook, on):
    terms = Terms(shop(), rulebook, on)
    cases = [case("12", "Padded", number=number, lines=(line(BOOK),)) for number in "12"]
    return judge_batch([*cases, case(number="3")], terms), terms


def test_the_last_day_is_shown_next_to_the_amount(rulebook):
    batch, terms = parcels(rulebook, LATE)
    view = bench_view(batch.verdicts[0], terms)
    assert (view.costs[0].words, view.costs[0].beside) == (
        "Postage",
        "price list of July 12, 2026, valid through January 17, 2027",
    )
    assert "chart-out-of-date" not in [fact.code for fact in view.why]
    assert bench_view(batch.verdicts[2], terms).costs[0].beside == ""


def test_in_a_table_the_last_day_is_short_and_spelled_out_for_screen_readers(rulebook):
    batch, terms = parcels(rulebook, LATE)
    ages = [age_of(verdict.offer, terms.on) for verdict in batch.verdicts]
    assert ages[0] == Age("Jan 17", "price list of July 12, 2026, valid through January 17, 2027")
    assert ages[2] is FRESH
    assert age_of(None, LATE) is FRESH


def test_a_current_price_list_shows_no_date(rulebook):
    batch, terms = parcels(rulebook, ON)
    assert [age_of(verdict.offer, terms.on) for verdict in batch.verdicts] == [FRESH, FRESH, FRESH]
    assert ages_of(Counts(ON, batch.verdicts).last_days) == ""
    assert ages_in_sum(batch.verdicts, ON) == ""


def test_outdated_prices_are_on_one_strip_however_many_pieces_there_are(rulebook):
    batch, _ = parcels(rulebook, LATE)
    assert ages_of(Counts(LATE, batch.verdicts).last_days) == (
        "Some prices may be out of date (valid through January 17, 2027). Check one before you pay."
    )


def test_a_sum_says_that_it_includes_an_outdated_price(rulebook):
    batch, terms = parcels(rulebook, LATE)
    assert (
        ages_in_sum(batch.verdicts, LATE) == "Includes prices that may be out of date (valid through January 17, 2027)."
    )
    assert ages_in_sum(batch.verdicts[2:], LATE) == ""
    assert (
        hand_over_content(batch, terms).notes[0]
        == "Includes prices that may be out of date (valid through January 17, 2027)."
    )
    fresh, terms = parcels(rulebook, ON)
    assert not any("out of date" in note for note in hand_over_content(fresh, terms).notes)
