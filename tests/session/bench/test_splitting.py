"""Split into packages: what is in each, what that changes, and what is remembered."""

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.packages import read_packing
from desk.domain.orders.piece import PieceKey
from desk.session.bench.another_piece import add_piece
from desk.session.bench.splitting import split_by_counts, split_order, split_unpaid, split_view
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.pile.batch import judge_batch
from desk.session.pile.stored_cases import read_cases, read_stored, read_terms
from desk.session.undo import undo
from desk.store.tables.hand_overs import put_postage_on
from tests.session.made import BOOK, CARD, FRANCE, line, order, shop, stock, weighing

FIRST, SECOND = PieceKey("1"), PieceKey("1", 2)
LINES = (line(CARD, quantity=3), line(BOOK, quantity=2))


@pytest.fixture
def two(sitting):
    stock(sitting, [order("1", address=FRANCE, lines=LINES, discount=Money(101))])
    weigh(sitting, [(FIRST, weighing("20", "Padded")), (SECOND, weighing("20", "Padded"))])
    return sitting


def verdicts(sitting):
    batch = judge_batch(read_cases(sitting), read_terms(sitting))
    assert batch.verdicts
    return {verdict.case.key: verdict for verdict in batch.verdicts}


def codes(verdict):
    return [str(found.code) for found in verdict.findings]


def packed(first, second):
    return {FIRST: read_packing(first), SECOND: read_packing(second)}


def test_until_an_order_is_split_its_packages_have_no_lines_and_are_stopped(two):
    for verdict in verdicts(two).values():
        assert "contents-unknown" in codes(verdict)
        assert verdict.declaration.lines == ()


def test_each_package_declares_what_is_in_it(two):
    split_order(two, packed("CD x1; NB x2", "CD x2"))
    first, second = (verdicts(two)[key] for key in (FIRST, SECOND))
    assert "contents-unknown" not in codes(first) + codes(second)
    assert [(one.description, one.quantity) for one in second.declaration.lines] == [(CARD.customs_words, 2)]
    assert [one.quantity for one in first.declaration.lines] == [1, 2]
    whole = read_stored(two)[0].case
    assert first.declaration.total_value + second.declaration.total_value == Money(5 * 650 - 101)
    assert whole.order.goods_value < Money(5 * 650 - 101)


@pytest.mark.parametrize(
    ("first", "second"), [("CD x1; NB x2", "CD x1"), ("CD x1; NB x2", "CD x3"), ("CD x3; NB x2", "PIN")]
)
def test_packages_that_differ_from_the_order_stay_stopped(two, first, second):
    split_order(two, packed(first, second))
    assert all("contents-unknown" in codes(verdict) for verdict in verdicts(two).values())


def test_a_split_is_one_step_that_can_be_undone(two):
    split_order(two, packed("CD x1; NB x2", "CD x2"))
    assert undo(two) == "Split 1 into packages"
    assert all("contents-unknown" in codes(verdict) for verdict in verdicts(two).values())


def test_a_third_package_makes_the_division_incomplete(two):
    split_order(two, packed("CD x1; NB x2", "CD x2"))
    weigh(two, [(PieceKey("1", 3), weighing("5", "Padded"))])
    assert all("contents-unknown" in codes(verdict) for verdict in verdicts(two).values())


def test_the_same_products_are_proposed_as_last_time(two):
    split_order(two, packed("CD x1; NB x2", "CD x2"))
    import_orders(two, [order("2", address=FRANCE, lines=LINES)])
    weigh(two, [(PieceKey("2"), weighing("20", "Padded")), (PieceKey("2", 2), weighing("20", "Padded"))])
    fresh = next(stored.id for stored in read_stored(two) if stored.case.key == PieceKey("2"))
    view = split_view(two, fresh)
    assert (view.is_saved, [one.counts for one in view.lines]) == (False, [(1, 2), (2, 0)])
    split_by_counts(two, view, [one.counts for one in view.lines])
    assert split_view(two, fresh).is_saved


def test_without_an_earlier_split_everything_is_proposed_in_the_first_package(two):
    view = split_view(two, read_stored(two)[0].id)
    assert [(one.ordered, one.counts) for one in view.lines] == [(3, (3, 0)), (2, (2, 0))]


@pytest.mark.parametrize(
    ("counts", "words"),
    [([(2, 0), (2, 0)], "3 ordered, 2 packed"), ([(4, -1), (2, 0)], "packed"), ([(3, 0), (2, 0)], "1-2 has nothing")],
)
def test_counts_that_do_not_add_up_are_refused(two, counts, words):
    with pytest.raises(Refused, match=words):
        split_by_counts(two, split_view(two, read_stored(two)[0].id), counts)


def test_export_limits_count_everything_to_one_addressee_on_a_day(sitting):
    """IMM 524.21: same sender, same addressee, same day, same code count together."""
    dear = replace(line(BOOK), unit_price=Money(1300_00))
    import_shop(sitting, shop())
    other = replace(FRANCE, recipient=FRANCE.recipient.upper())
    import_orders(sitting, [order("1", address=FRANCE, lines=(dear,)), order("2", address=other, lines=(dear,))])
    weigh(sitting, [(PieceKey(number), weighing("20", "Padded")) for number in ("1", "2")])
    found = {key.order: codes(verdict) for key, verdict in verdicts(sitting).items()}
    assert all("needs-export-filing" in each for each in found.values())
    alone = [stored.case for stored in read_stored(sitting, [read_stored(sitting)[0].id])]
    assert "needs-export-filing" in codes(judge_batch(alone, read_terms(sitting)).verdicts[0])


def test_two_addressees_are_counted_separately(sitting):
    dear = replace(line(BOOK), unit_price=Money(1300_00))
    import_shop(sitting, shop())
    other = replace(FRANCE, recipient="Somebody Else")
    import_orders(sitting, [order("1", address=FRANCE, lines=(dear,)), order("2", address=other, lines=(dear,))])
    weigh(sitting, [(PieceKey(number), weighing("20", "Padded")) for number in ("1", "2")])
    assert not any("needs-export-filing" in codes(verdict) for verdict in verdicts(sitting).values())


def test_an_imported_weights_file_changes_nothing_about_a_paid_piece(two):
    from desk.store.tables import hand_overs

    split_order(two, packed("CD x1; NB x2", "CD x2"))
    with two.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [read_stored(two)[0].id])
    split_unpaid(two, packed("CD x2; NB x2", "CD x2"))
    assert [one.quantity for one in verdicts(two)[FIRST].declaration.lines] == [1, 2]


# --- back into fewer packages


def merged(sitting, count=1):
    view = split_view(sitting, read_stored(sitting)[0].id, count)
    split_by_counts(sitting, view, [one.counts for one in view.lines])
    return view


def test_a_remaining_package_is_weighed_again_if_the_removed_one_was_weighed(two):
    assert merged(two).references == ("1-1",)
    (left,) = read_stored(two)
    assert (left.case.key, left.case.weighing, left.case.pieces_in_order) == (FIRST, None, 1)
    assert "contents-unknown" not in codes(verdicts(two)[FIRST])
    undo(two)
    assert [one.case.weighing is None for one in read_stored(two)] == [False, False]


def test_a_package_added_by_mistake_leaves_the_weight_of_the_other(sitting):
    stock(sitting, [order("1", lines=LINES)])
    weigh(sitting, [(FIRST, weighing("20", "Padded"))])
    add_piece(sitting, SECOND)
    merged(sitting)
    (left,) = read_stored(sitting)
    assert left.case.weighing is not None


def test_an_order_merged_into_one_package_is_weighed_again(sitting):
    stock(sitting, [order("1", lines=LINES)])
    split_order(sitting, packed("CD x3", "NB x2"))
    weigh(sitting, [(FIRST, weighing("20", "Padded"))])
    merged(sitting)
    (left,) = read_stored(sitting)
    assert left.case.weighing is None


def test_three_packages_are_merged_into_two(two):
    add_piece(two, PieceKey("1", 3))
    view = split_view(two, read_stored(two)[0].id, 2)
    assert (view.references, view.least, view.is_saved) == (("1-1", "1-2"), 1, False)
    split_by_counts(two, view, [[1, 2], [2, 0]])
    assert [one.case.key.piece for one in read_stored(two)] == [1, 2]
    assert all("contents-unknown" not in codes(each) for each in verdicts(two).values())


@pytest.mark.parametrize(("count", "weighed"), [(1, [FIRST]), (2, [FIRST, SECOND])])
def test_parts_of_a_single_item_are_weighed_again_if_one_is_removed(sitting, count, weighed):
    stock(sitting, [order("1", lines=(line(BOOK),))])
    split_by_counts(sitting, split_view(sitting, read_stored(sitting)[0].id, count + 1), [[1]])
    weigh(sitting, [(key, weighing("3", "Padded")) for key in weighed])
    merged(sitting, count)
    assert [one.case.weighing for one in read_stored(sitting)] == [None] * count


def test_a_paid_part_stays_weighed_if_an_unweighed_one_is_removed(sitting):
    stock(sitting, [order("1", lines=(line(BOOK),))])
    weigh(sitting, [(FIRST, weighing("3", "Padded"))])
    add_piece(sitting, SECOND)
    with sitting.store.act("Stamps on") as tx:
        put_postage_on(tx, [read_stored(sitting)[0].id])
    merged(sitting)
    assert [one.case.weighing is None for one in read_stored(sitting)] == [False]


# --- into more packages


@pytest.mark.parametrize(
    ("country", "region", "most"),
    [("US", "OR", 9), ("US", "PR", 9), ("PR", "", 9), ("US", "GU", 1), ("US", "AE", 1), ("AE", "", 1), ("FR", "", 1)],
)
def test_a_single_item_ships_in_parts_where_no_form_is_needed(sitting, country, region, most):
    address = replace(FRANCE, country=country, region=region)
    stock(sitting, [order("1", address=address, lines=(line(BOOK),))])
    assert split_view(sitting, read_stored(sitting)[0].id).most == most


def test_a_weighed_order_is_weighed_again_once_it_is_split(sitting):
    stock(sitting, [order("1", lines=LINES)])
    weigh(sitting, [(FIRST, weighing("20", "Padded"))])
    split_by_counts(sitting, split_view(sitting, read_stored(sitting)[0].id, 2), [[1, 2], [2, 0]])
    assert [one.case.weighing for one in read_stored(sitting)] == [None, None]
    undo(sitting)
    assert read_stored(sitting)[0].case.weighing is not None


def test_a_package_whose_contents_do_not_change_keeps_its_weight(two):
    split_order(two, packed("CD x1; NB x2", "CD x2"))
    split_by_counts(two, split_view(two, read_stored(two)[0].id, 3), [[1, 1, 1], [2, 0, 0]])
    assert [one.case.weighing is None for one in read_stored(two)] == [False, True, True]


def test_the_contents_of_weighed_packages_are_entered_without_weighing_them_again(two):
    view = split_view(two, read_stored(two)[0].id)
    split_by_counts(two, view, [[1, 2], [2, 0]])
    assert all(one.case.weighing is not None for one in read_stored(two))


def test_a_later_part_does_not_change_the_weight_of_a_paid_package(sitting):
    stock(sitting, [order("1", lines=(line(CARD),))])
    weigh(sitting, [(FIRST, weighing("1", "Padded"))])
    with sitting.store.act("Stamps on") as tx:
        put_postage_on(tx, [read_stored(sitting)[0].id])
    split_by_counts(sitting, split_view(sitting, read_stored(sitting)[0].id, 2), [[1]])
    assert [one.case.weighing is None for one in read_stored(sitting)] == [False, True]


def test_parts_of_a_single_item_are_weighed_again_if_one_is_added(sitting):
    stock(sitting, [order("1", lines=(line(BOOK),))])
    split_by_counts(sitting, split_view(sitting, read_stored(sitting)[0].id, 2), [[1]])
    weigh(sitting, [(FIRST, weighing("3", "Padded")), (SECOND, weighing("4", "Padded"))])
    split_by_counts(sitting, split_view(sitting, read_stored(sitting)[0].id, 3), [[1]])
    assert [one.case.weighing for one in read_stored(sitting)] == [None, None, None]
