"""New, same, changed, canceled: what importing a list would do and does, and that one undo reverses it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.compare import (
    ChangedOrder,
    Difference,
    ImportComparison,
    compare,
    differences,
    import_accepted,
)
from desk.session.importing.import_orders import import_orders
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.pile.bulk_changes import mail_anyway, set_beside
from desk.session.pile.pile import Pile
from desk.session.pile.stored_cases import read_stored
from desk.session.pile.together import pack_together
from desk.session.sitting import Sitting
from desk.session.undo import undo
from desk.session.unreported import unreported
from desk.store.tables import hand_overs, orders
from desk.tables.watch import EVERY, WHOLE, Stopped, Watch
from desk.ui.common_keys import ANYWAY
from tests.session.made import BOOK, CARD, HOME, line, order, weighing

LIST = [order("1"), order("2", lines=(line(BOOK),)), order("3")]
MOVED = replace(LIST[1], address=replace(HOME, city="Bath", region="ME"), lines=(line(BOOK, 2), line(CARD)))


pytestmark = pytest.mark.stocked(LIST)


def kept(sitting: Sitting) -> dict[str, Order]:
    with sitting.store.reading() as conn:
        return {stored.order.number: stored.order for stored in orders.all_orders(conn)}


def status(sitting: Sitting) -> dict[str, PieceStatus | None]:
    return {stored.case.key.order: stored.case.beside for stored in read_stored(sitting)}


def id_of(sitting: Sitting, number: str) -> int:
    return next(stored.id for stored in read_stored(sitting) if stored.case.key.order == number)


def test_comparing_a_list_writes_nothing(full: Sitting) -> None:
    before = full.store.revision
    found = compare(full, [LIST[0], MOVED, order("4")], [("3", "refunded"), ("9", "refunded")])
    assert [new.number for new in found.new] == ["4"]
    assert found.same == ("1",)
    assert [changed.number for changed in found.changed] == ["2"]
    assert [(one.number, one.status, one.gone_out) for one in found.canceled] == [("3", "refunded", False)]
    assert found.gone == ()
    assert full.store.revision == before


def test_a_change_is_listed_field_by_field(full: Sitting) -> None:
    (changed,) = compare(full, [MOVED]).changed
    assert changed.differences == (
        Difference("city", "Bend", "Bath"),
        Difference("region", "OR", "ME"),
        Difference("line 1", "1 × Book (NB) at $6.50", "2 × Book (NB) at $6.50"),
        Difference("line 2", "", "1 × Card (CD) at $6.50"),
    )
    assert not changed.under_way


@pytest.mark.parametrize(
    ("fields", "expected"),
    [
        ({"shipping_paid": Money(900)}, Difference("shipping_paid", "$5.00", "$9.00")),
        ({"buyer_note": "gift"}, Difference("buyer_note", "", "gift")),
        ({"address": Address("Ada Vell", "", "2 Quill Row", "", "Bend", "OR", "97701", "US")},
         Difference("address1", "1 Quill Row", "2 Quill Row")),
    ],
)  # fmt: skip
def test_each_field_has_its_name(fields: dict[str, object], expected: Difference) -> None:
    assert list(differences(LIST[0], replace(LIST[0], **fields))) == [expected]


def test_orders_missing_from_the_list_are_reported(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing())])
    assert compare(full, [LIST[2]]).gone == ("2",)
    assert compare(full, []).gone == ()


def test_only_accepted_changes_are_imported(full: Sitting) -> None:
    also = replace(LIST[0], buyer_note="ring twice")
    found = compare(full, [also, MOVED, order("4")])
    taken = import_accepted(full, found, {"2"})
    assert (taken.new, taken.changed, taken.left, taken.set_aside) == (("4",), ("2",), ("1",), ())
    assert kept(full) == {"1": LIST[0], "2": MOVED, "3": LIST[2], "4": order("4")}
    assert unreported(full) == [{"order": "2"}]


def test_an_import_is_one_step_to_undo(full: Sitting) -> None:
    before = kept(full)
    import_accepted(full, compare(full, [MOVED, order("4")], [("3", "canceled")]), {"2"})
    assert status(full) == {"1": None, "2": None, "3": PieceStatus.SET_ASIDE, "4": None}
    assert undo(full) == "Orders imported"
    assert kept(full) == before
    assert status(full) == {"1": None, "2": None, "3": None}


def test_an_order_canceled_since_is_reported_once(full: Sitting) -> None:
    assert import_accepted(full, compare(full, [], [("3", "canceled")])).set_aside == ("3",)
    assert compare(full, [], [("3", "canceled")]).canceled == ()
    assert unreported(full) == [{"order": "3"}]


def test_an_order_that_is_no_longer_canceled_returns_to_the_queue(full: Sitting) -> None:
    import_accepted(full, compare(full, LIST[:2], [("3", "canceled")]))
    found = compare(full, LIST)
    assert (found.same, found.back) == (("1", "2", "3"), ("3",))
    assert import_accepted(full, found).back == ("3",)
    assert status(full) == {"1": None, "2": None, "3": None}
    assert compare(full, LIST).back == ()
    undo(full)
    assert status(full)["3"] is PieceStatus.SET_ASIDE
    assert compare(full, LIST).back == ("3",)


def test_an_order_set_aside_by_hand_is_shown_as_canceled_and_stays_set_aside(full: Sitting) -> None:
    set_beside(full, [id_of(full, "3")], PieceStatus.SET_ASIDE)
    assert import_accepted(full, compare(full, [], [("3", "canceled")])).set_aside == ("3",)
    assert shown_as(full, "3") is PieceStatus.CANCELED
    assert compare(full, [], [("3", "canceled")]).canceled == ()
    import_accepted(full, compare(full, LIST))
    assert shown_as(full, "3") is PieceStatus.SET_ASIDE


@pytest.mark.parametrize("stand", [PieceStatus.LOST, PieceStatus.CAME_BACK])
def test_a_lost_or_returned_order_is_not_set_aside_as_canceled(full: Sitting, stand: PieceStatus) -> None:
    set_beside(full, [id_of(full, "3")], stand)
    assert compare(full, [], [("3", "canceled")]).canceled == ()


def test_a_canceled_order_cannot_be_mailed_without_putting_it_back(full: Sitting) -> None:
    weigh(full, [(PieceKey("3"), weighing("0.7"))])
    import_accepted(full, compare(full, [], [("3", "canceled")]))
    number = id_of(full, "3")
    assert shown_as(full, "3") is PieceStatus.CANCELED
    for stand in (None, PieceStatus.SET_ASIDE):
        with pytest.raises(Refused, match="3 is canceled") as refused:
            set_beside(full, [number], stand)
        assert refused.value.sentence.endswith(f"in Batch and press {ANYWAY}.")
    with pytest.raises(Refused):
        hand_pieces_over(full, Pile(full), [number])
    mail_anyway(full, [number])
    assert shown_as(full, "3") is PieceStatus.READY
    with pytest.raises(Refused, match="not canceled"):
        mail_anyway(full, [number])


def shown_as(full: Sitting, number: str) -> PieceStatus:
    return Pile(full).verdicts[id_of(full, number)].status


def test_an_order_that_was_handed_over_cannot_be_set_aside(full: Sitting) -> None:
    with full.store.act("Hand over") as tx:
        hand_overs.hand_over(tx, [id_of(full, "3")])
    found = compare(full, [replace(LIST[2], buyer_note="x")], [("3", "canceled")])
    assert (found.canceled[0].gone_out, found.changed[0].under_way) == (True, True)
    assert import_accepted(full, found).set_aside == ()
    assert status(full)["3"] is None


@pytest.mark.parametrize("canceled", ["1", "3"])
def test_a_canceled_order_is_removed_from_its_shared_package(full: Sitting, canceled: str) -> None:
    pack_together(full, [PieceKey("1"), PieceKey("3")])
    import_accepted(full, compare(full, [], [(canceled, "canceled")]))
    other = "3" if canceled == "1" else "1"
    assert status(full) == {canceled: PieceStatus.SET_ASIDE, other: None, "2": None}


def packed_and_weighed(full: Sitting, *, left: bool) -> int:
    """Order 3 in the piece of order 1, which has its stamps on, and has left or not."""
    pack_together(full, [PieceKey("1"), PieceKey("3")])
    weigh(full, [(PieceKey("1"), weighing("1.4"))])
    carrier = id_of(full, "1")
    with full.store.act("On their way") as tx:
        hand_overs.put_postage_on(tx, [carrier])
        if left:
            hand_overs.hand_over(tx, [carrier])
    return carrier


def test_an_order_handed_over_in_another_package_counts_as_handed_over(full: Sitting) -> None:
    packed_and_weighed(full, left=True)
    found = compare(full, [replace(LIST[0], buyer_note="x")], [("3", "canceled")])
    assert (found.canceled[0].gone_out, found.changed[0].under_way) == (True, True)
    assert import_accepted(full, found).set_aside == ()
    case = next(stored.case for stored in read_stored(full) if stored.case.key.order == "1")
    assert (case.packed_with, case.weighing, case.handed_over) == (("3",), weighing("1.4"), True)


def test_a_change_to_an_order_packed_into_another_is_reported_as_in_progress(full: Sitting) -> None:
    packed_and_weighed(full, left=False)
    found = compare(full, [replace(LIST[2], buyer_note="x")])
    assert [changed.under_way for changed in found.changed] == [True]


@pytest.mark.parametrize("canceled", ["1", "3"])
def test_a_stamped_package_with_a_canceled_order_is_set_aside_and_keeps_its_weight(
    full: Sitting, canceled: str
) -> None:
    packed_and_weighed(full, left=False)
    done = import_accepted(full, compare(full, [], [(canceled, "canceled")]))
    assert sorted(done.set_aside) == sorted({canceled, "1"})
    assert status(full) == {
        "1": PieceStatus.SET_ASIDE,
        "2": None,
        "3": PieceStatus.SET_ASIDE if canceled == "3" else None,
    }
    weighed = {stored.case.key.order: stored.case.weighing for stored in read_stored(full)}
    assert weighed == {"1": weighing("1.4"), "2": None, "3": None}


def test_the_same_list_again_makes_no_step(full: Sitting) -> None:
    before = full.store.revision
    import_accepted(full, compare(full, LIST))
    assert full.store.revision == before


@pytest.mark.parametrize(
    "meanwhile", [[replace(LIST[1], buyer_note="other")], [MOVED], [order("4")]], ids=["changed", "taken", "new"]
)
def test_a_preview_older_than_the_last_change_is_refused(full: Sitting, meanwhile: list[Order]) -> None:
    found = compare(full, [MOVED, order("4")])
    import_orders(full, meanwhile)
    before = kept(full)
    with pytest.raises(Refused, match="changed since the preview"):
        import_accepted(full, found, {"2"})
    assert kept(full) == before


def test_an_empty_preview_does_nothing(full: Sitting) -> None:
    assert import_accepted(full, ImportComparison()).new == ()


def test_comparing_can_be_canceled_every_thousand_orders(full: Sitting) -> None:
    many = [*(order(str(n)) for n in range(2 * EVERY + 1)), MOVED]  # the later of two with one number counts
    reported: list[int] = []
    found = compare(full, many, watch=Watch(lambda done, _of: reported.append(done)))
    assert (len(found.new), found.same, [one.number for one in found.changed]) == (2 * EVERY - 2, ("1", "3"), ["2"])
    assert (reported == sorted(reported), len(reported), reported[-1]) == (True, 4, WHOLE)
    before = kept(full)
    for turn in range(4):
        answers = iter([False] * turn + [True])
        with pytest.raises(Stopped):
            compare(full, many, watch=Watch(canceled=lambda answers=answers: next(answers)))
    assert kept(full) == before


NEW, CHANGED = Difference("company", "", "Bell & Co."), Difference("city", "Bend", "Bath")


@pytest.mark.parametrize(
    ("differences", "marks", "only"),
    [
        ((NEW,), {}, True),
        ((NEW, CHANGED), {}, False),
        ((NEW,), {"under_way": True}, False),
        ((NEW,), {"edited": True}, False),
    ],
)
def test_only_empty_fields_of_an_untouched_order_are_filled_without_asking(
    differences: tuple[Difference, ...], marks: dict[str, bool], only: bool
) -> None:
    assert ChangedOrder("1", order("1"), differences, **marks).only_fills is only
