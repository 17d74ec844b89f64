"""The cases of a batch as the store holds them: what was chosen, answered, stamped and packed comes with each."""

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.shop.shop import Shop, usual_policy
from desk.domain.shop.stamp import StampKind
from desk.domain.status import PieceStatus
from desk.rates.stamps.stamps import StampCount
from desk.session.bench.another_piece import add_piece
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_shop
from desk.session.pile.addressees import files_exports
from desk.session.pile.bulk_changes import choose_mailer, choose_service, set_beside
from desk.session.pile.stored_cases import StoredCase, read_cases, read_stored, read_terms
from desk.session.pile.together import pack_together
from desk.session.sitting import Sitting
from desk.store.tables import hand_overs, movements
from desk.store.tables.movements import CountedKind
from tests.session import made

pytestmark = pytest.mark.stocked([made.order(number, shipping_paid=Money(400)) for number in "123"])


def row(sitting: Sitting, reference: str = "1-1") -> StoredCase:
    return next(stored for stored in read_stored(sitting) if stored.case.key.reference == reference)


def references(stored: list[StoredCase]) -> list[str]:
    return [one.case.key.reference for one in stored]


def test_a_new_piece_has_only_its_order(full: Sitting) -> None:
    stored = row(full)
    assert (stored.case.weighing, stored.turn, stored.case.answered) == (None, None, frozenset())
    assert (stored.case.mailer, stored.case.service, stored.case.beside) == ("", "", None)
    assert (stored.case.postage_on, stored.case.handed_over, stored.case.stamps_on) == (False, False, ())


def test_choices_made_by_hand_are_read_with_the_piece(full: Sitting) -> None:
    number = row(full).id
    choose_mailer(full, [number], "Padded")
    choose_service(full, [number], "ground-retail")
    set_beside(full, [number], PieceStatus.SET_ASIDE)
    case = row(full).case
    assert (case.mailer, case.service, case.beside) == ("Padded", "ground-retail", PieceStatus.SET_ASIDE)


def test_the_order_of_weighing_is_stored(full: Sitting) -> None:
    weigh(full, [(PieceKey("3"), made.weighing())])
    weigh(full, [(PieceKey("1"), made.weighing())])
    third, first = row(full, "3-1").turn, row(full, "1-1").turn
    assert third is not None
    assert first is not None
    assert third < first


def test_selected_pieces_are_read_as_among_all(full: Sitting) -> None:
    add_piece(full, PieceKey("2", 2))
    pack_together(full, [PieceKey("1"), PieceKey("3")])
    every = read_stored(full)
    assert references(every) == ["1-1", "2-1", "2-2"]
    for stored in every:
        assert read_stored(full, [stored.id]) == [stored]
    assert read_stored(full, []) == []


def test_a_packed_piece_has_no_case_and_its_order_is_in_the_other(full: Sitting) -> None:
    packed = row(full, "3-1").id
    pack_together(full, [PieceKey("1"), PieceKey("3")])
    assert read_stored(full, [packed]) == []
    case = row(full).case
    assert (case.packed_with, len(case.order.lines), case.order.shipping_paid) == (("3",), 2, Money(800))
    assert row(full, "2-1").case.packed_with == ()


def stamp(sitting: Sitting, number: int, counts: dict[str, int]) -> None:
    with sitting.store.act("Stamp") as tx:
        movements.move(tx, CountedKind.STAMP, {name: -count for name, count in counts.items()}, "used", number)


def test_stamps_are_on_a_piece_only_while_its_postage_is(full: Sitting) -> None:
    number = row(full).id
    stamp(full, number, {"forever": 2})
    assert row(full).case.stamps_on == ()
    with full.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [number])
    assert row(full).case.stamps_on == (StampCount(StampKind.FOREVER, None, 2),)
    assert read_stored(full, [number])[0].case.stamps_on == row(full).case.stamps_on
    with full.store.act("Postage off") as tx:
        hand_overs.take_postage_off(tx, [number])
    assert row(full).case.stamps_on == ()


def test_undone_stamps_are_not_on_the_piece(full: Sitting) -> None:
    number = row(full).id
    stamp(full, number, {"forever": 1})
    stamp(full, number, {"forever": -1})
    with full.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [number])
    assert (row(full).case.postage_on, row(full).case.stamps_on) == (True, ())


def test_a_handed_over_piece_is_marked_as_such(full: Sitting) -> None:
    with full.store.act("Hand over") as tx:
        hand_overs.hand_over(tx, [row(full, "2-1").id])
    assert [stored.case.handed_over for stored in read_stored(full)] == [False, True, False]


@pytest.mark.parametrize(
    ("first", "expected"),
    [
        ([], ["2", "3", "1"]),
        (["3"], ["3", "2", "1"]),
        (["3", "2", "3"], ["3", "2", "1"]),
        (["1", "9"], ["2", "3", "1"]),
    ],
)
def test_named_pieces_come_first_and_unweighed_ones_last(full: Sitting, first: list[str], expected: list[str]) -> None:
    weigh(full, [(PieceKey("2"), made.weighing()), (PieceKey("3"), made.weighing())])
    assert [case.key.order for case in read_cases(full, [PieceKey(number) for number in first])] == expected


def test_terms_have_the_stored_shop_and_the_mailing_date(full: Sitting) -> None:
    terms = read_terms(full)
    assert (terms.shop, terms.on, terms.rulebook) == (made.shop(), made.ON, full.rulebook)
    assert terms.tolerance_scale == Decimal(1)
    import_shop(full, replace(made.shop(), stamps=()))
    assert read_terms(full).shop.stamps == ()


def test_without_a_stored_shop_the_terms_have_an_empty_one(sitting: Sitting) -> None:
    assert read_terms(sitting).shop == Shop(Address(), usual_policy())
    assert read_stored(sitting) == []
    assert read_cases(sitting) == []


@pytest.mark.parametrize(("address", "counts"), [(made.HOME, False), (made.FRANCE, True)])
def test_exports_to_one_addressee_are_counted_together(address: Address, counts: bool) -> None:
    assert files_exports(made.order("1", address=address)) is counts
