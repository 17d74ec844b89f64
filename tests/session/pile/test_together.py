"""Two orders to one address in one package: judged as one, weighed once, separated by one undo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.orders.customs_details import CustomsDetails
from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey
from desk.domain.places.address import Address
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.pile import Pile
from desk.session.pile.together import as_one, door, pack_together, take_apart, unlike
from desk.session.sitting import Sitting
from desk.session.undo import redo, undo
from desk.store.tables import hand_overs, pieces
from tests.session.made import BOOK, FRANCE, HOME, line, order, weighing

SAME_DOOR = replace(HOME, recipient="A. Vell", address1="1 QUILL  row.")
FIRST = order("1", buyer_note="no plastic")
SECOND = order("2", address=SAME_DOOR, lines=(line(BOOK),), shipping_paid=Money(400), discount=Money(50))
ELSEWHERE = order("3", address=FRANCE)
KEYS = [PieceKey("1"), PieceKey("2")]


pytestmark = pytest.mark.stocked([FIRST, SECOND, ELSEWHERE])


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        ({"recipient": "Someone else"}, True),
        ({"address1": "1 quill row"}, True),
        ({"postal_code": "97701-1234"}, True),
        ({"city": "Bend, by the river"}, True),
        ({"address1": "11 Quill Row"}, False),
        ({"address2": "Apt 2"}, False),
        ({"postal_code": "97702"}, False),
        ({"country": "CA"}, False),
    ],
)
def test_only_the_same_address_counts_as_one(other: dict[str, str], expected: bool) -> None:
    assert (door(HOME) == door(replace(HOME, **other))) is expected


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("12 North Quire Street", "12 n. Quire St."),
        ("4 Folio Avenue Apartment 3", "4 folio ave, apt 3"),
        ("Königstraße 5", "Konigstrasse 5"),
    ],
)
def test_streets_are_compared_without_case_and_abbreviations(one: str, other: str) -> None:
    assert door(replace(HOME, address1=one)) == door(replace(HOME, address1=other))


@pytest.mark.parametrize("gap", [{"address1": ""}, {"country": ""}, {"postal_code": "", "city": "", "region": ""}])
def test_an_incomplete_address_matches_no_other(gap: dict[str, str]) -> None:
    assert door(replace(HOME, **gap)) == ()
    assert door(Address()) == ()


def test_two_orders_are_combined_into_one() -> None:
    both = as_one(FIRST, [SECOND])
    assert both.number == "1"
    assert both.lines == FIRST.lines + SECOND.lines
    assert both.shipping_paid == Money(900)
    assert both.goods_value == FIRST.goods_value + SECOND.goods_value
    assert both.buyer_note == "no plastic"


def test_values_of_single_items_are_kept_from_both_orders() -> None:
    one = replace(FIRST, customs=CustomsDetails(unit_values=(("CARD", Money(300)), ("PEN", Money(900)))))
    other = replace(SECOND, customs=CustomsDetails(unit_values=(("BOOK", Money(700)), ("PEN", Money(100)))))
    merged = as_one(one, [other]).customs.unit_values
    assert dict(merged) == {"CARD": Money(300), "PEN": Money(900), "BOOK": Money(700)}


def test_orders_packed_together_are_one_piece(full: Sitting) -> None:
    pile = Pile(full)
    full.listeners.append(lambda changes: pile.follow(changes) and None)
    pack_together(full, KEYS)
    assert [verdict.case.key.order for verdict in pile.verdicts.values()] == ["1", "3"]
    (one, _) = pile.verdicts.values()
    assert one.case.packed_with == ("2",)
    assert one.charged == Money(900)
    assert pile.find("2") == pile.find("1")
    assert [product.sku for product, _ in one.contents.products if product] == ["CD", "NB"]


def test_packed_orders_are_weighed_by_either_number(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing("0.7"))])
    pack_together(full, KEYS)
    pile = Pile(full)
    (one, _) = pile.verdicts.values()
    assert one.status is PieceStatus.TO_WEIGH
    weigh(full, [(PieceKey("2"), weighing("12.1", "Padded"))])
    pile.read_all()
    (one, _) = pile.verdicts.values()
    assert one.case.weighing == weighing("12.1", "Padded")
    weigh(full, [(PieceKey("1"), weighing("11", "Padded")), (PieceKey("2"), weighing("12.3", "Padded"))])
    pile.read_all()
    assert "weighed-twice" in [found.code for found in next(iter(pile.verdicts.values())).findings]


def test_undo_restores_both_pieces_and_their_weights(full: Sitting) -> None:
    weigh(full, [(PieceKey("1"), weighing("0.7"))])
    pile = Pile(full)
    full.listeners.append(lambda changes: pile.follow(changes) and None)
    before = dict(pile.verdicts)
    pack_together(full, KEYS)
    assert undo(full) == "Sent together: 1 and 2"
    assert pile.verdicts == before
    redo(full)
    assert len(pile.verdicts) == 2


def test_orders_taken_apart_are_two_pieces_again(full: Sitting) -> None:
    pile = Pile(full)
    full.listeners.append(lambda changes: pile.follow(changes) and None)
    pack_together(full, KEYS)
    carrier = pile.find("2")
    assert carrier is not None
    weigh(full, [(PieceKey("1"), weighing("12"))])
    take_apart(full, carrier)
    assert [verdict.case.packed_with for verdict in pile.verdicts.values()] == [(), (), ()]
    assert [verdict.case.weighing for verdict in pile.verdicts.values()] == [None, None, None]


def test_a_paid_package_is_not_taken_apart(full: Sitting) -> None:
    pack_together(full, KEYS)
    weigh(full, [(PieceKey("1"), weighing("12"))])
    carrier = Pile(full).find("1")
    assert carrier is not None
    with full.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [carrier])
    with pytest.raises(Refused, match="so its contents can't change"):
        take_apart(full, carrier)
    case = Pile(full).verdicts[carrier].case
    assert (case.packed_with, case.weighing) == (("2",), weighing("12"))


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ([PieceKey("1"), PieceKey("3")], "go to different addresses"),
        ([PieceKey("1")], "at least two pieces"),
        ([PieceKey("1"), PieceKey("1")], "at least two pieces"),
        ([PieceKey("1"), PieceKey("99")], "at least two pieces"),
        ([PieceKey("1"), PieceKey("euro")], "different currencies"),
        ([PieceKey("wish"), PieceKey("want")], "different ways of shipping"),
        ([PieceKey("1"), PieceKey("two", 1)], "several packages"),
        ([PieceKey("1"), PieceKey("aside")], "set aside"),
    ],
)
def test_orders_that_cannot_share_a_package_are_refused(full: Sitting, keys: Sequence[PieceKey], words: str) -> None:
    euro = Order("euro", HOME, (), "EUR", Money(0, "EUR"), Money(0, "EUR"))
    others = [euro, order("wish", shipping_choice="fast"), order("want", shipping_choice="slow"), order("two")]
    import_orders(full, [*others, order("aside")])
    with full.store.act("Another piece") as tx:
        pieces.ensure_pieces(tx, [PieceKey("two", 2)])
        aside = pieces.ensure_pieces(tx, [PieceKey("aside")])
    set_beside(full, aside.values(), PieceStatus.SET_ASIDE)
    before = full.store.revision
    with pytest.raises(Refused, match=words):
        pack_together(full, keys)
    assert full.store.revision == before


def test_a_packed_order_is_not_packed_again(full: Sitting) -> None:
    import_orders(full, [order("4")])
    pack_together(full, KEYS)
    with pytest.raises(Refused, match="already sent with another order"):
        pack_together(full, [PieceKey("4"), PieceKey("2")])
    with pytest.raises(Refused, match="Select that order first"):
        pack_together(full, [PieceKey("4"), PieceKey("1")])
    pack_together(full, [PieceKey("1"), PieceKey("4")])
    assert next(iter(Pile(full).verdicts.values())).case.packed_with == ("2", "4")


@pytest.mark.parametrize(
    ("choices", "may"), [(("", ""), True), (("Fast", ""), True), (("Fast", "Fast"), True), (("Fast", "Slow"), False)]
)
def test_orders_with_different_shipping_choices_stay_apart(choices: tuple[str, str], may: bool) -> None:
    first, second = (replace(each, shipping_choice=way) for each, way in zip((FIRST, SECOND), choices, strict=True))
    assert (unlike([first, second]) == "") is may


def test_an_order_in_several_pieces_or_paid_is_not_packed_with_another(full: Sitting) -> None:
    weigh(full, [(PieceKey("2"), weighing("12", "Padded"))])
    with full.store.act("Postage on") as tx:
        hand_overs.put_postage_on(tx, [2])
    with pytest.raises(Refused, match="has its postage"):
        pack_together(full, KEYS)


def test_two_addresses_without_a_street_are_not_the_same() -> None:
    nowhere = replace(HOME, address1="")
    assert (
        unlike([order("1", address=nowhere), order("2", address=nowhere)])
        == "Orders 1 and 2 go to different addresses."
    )


def test_an_address_without_a_postal_code_is_known_by_its_town() -> None:
    town = replace(HOME, postal_code="")
    assert door(town)
    assert door(town) != door(replace(town, city="Ames"))
    assert door(replace(town, city="", region="")) == ()


def test_a_piece_with_its_postage_on_is_not_sent_with_another(full: Sitting) -> None:
    weigh(full, [(KEYS[0], weighing())])
    with full.store.act("stamps") as tx:
        hand_overs.put_postage_on(tx, [1])
    with pytest.raises(Refused, match="Order 1 is set aside or has its postage"):
        pack_together(full, KEYS)


@pytest.mark.parametrize(
    ("one", "other", "both"), [(None, None, None), (900, None, 1550), (None, 900, 1550), (900, 100, 1000)]
)
def test_a_customs_value_of_one_order_is_added_to_the_other(
    one: int | None, other: int | None, both: int | None
) -> None:
    """An order of one card is worth 6.50."""
    orders = [
        order(str(number), customs=CustomsDetails(value=None if cents is None else Money(cents)))
        for number, cents in enumerate((one, other))
    ]
    assert as_one(orders[0], orders[1:]).customs.value == (None if both is None else Money(both))
