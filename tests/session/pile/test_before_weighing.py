"""What is seen to before weighing: each thing once, with the pieces it is about; and what the pile will be."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.length import Length
from desk.domain.money import Money
from desk.domain.orders.order import Order, OrderLine
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.product import Product
from desk.domain.status import PieceStatus
from desk.domain.weight import Weight
from desk.session.bench.another_piece import add_piece
from desk.session.bench.weigh import weigh
from desk.session.pile.before_weighing import DOOR, STAMP, ThingToSortOut, alike
from desk.session.pile.bulk_changes import choose_mailer, set_beside
from desk.session.pile.forecast import Forecast, contents_key, usual_mailers
from desk.session.pile.stored_cases import read_stored
from desk.session.pile.together import pack_together
from desk.session.sitting import Sitting
from desk.session.verdict.default_mailer import smallest_that_fits
from tests.session import made
from tests.session.made import BOOK, CARD, FRANCE, HOME, MANUAL, before_weighing, line, order, shop, weighing

ELSEWHERE = replace(HOME, address1="7 Ink Lane")


def things(sitting: Sitting, code: str) -> list[ThingToSortOut]:
    return [thing for thing in before_weighing(sitting).things if thing.found.code == code]


def filled(sitting: Sitting, *stored_orders: Order) -> Sitting:
    return made.stock(sitting, stored_orders)


def piece_id(sitting: Sitting, number: str) -> int:
    return next(stored.id for stored in read_stored(sitting) if stored.case.key.order == number)


@pytest.mark.parametrize(
    ("fields", "code", "fact"),
    [
        ({"city": ""}, "address-incomplete", ("missing", ("city",))),
        ({"country": "", "country_typed": "Oz"}, "address-incomplete", ("country_typed", "Oz")),
        ({"postal_code": "10001"}, "postal-code-odd", ("region", "OR")),
        ({"address1": "1 " + "Long " * 20}, "address-too-long", ("part", "address1")),
    ],
)
def test_addresses_to_fix_are_listed(
    sitting: Sitting, fields: dict[str, str], code: str, fact: tuple[str, object]
) -> None:
    filled(sitting, order("1", address=replace(HOME, **fields)), order("2", address=ELSEWHERE))
    (thing,) = things(sitting, code)
    assert thing.keys == (PieceKey("1"),)
    assert thing.found.facts[fact[0]] == fact[1]


def test_two_overlong_address_lines_are_two_issues(sitting: Sitting) -> None:
    long = "x" * 101
    filled(sitting, order("1", address=replace(HOME, address1=long, address2=long)))
    assert [thing.found.facts["part"] for thing in things(sitting, "address-too-long")] == ["address1", "address2"]


def test_two_orders_to_one_address_are_offered_with_the_postage_saved(sitting: Sitting) -> None:
    """From the shipped lists of 2026-07-15: two stamped cards of 1 oz, or both in one envelope of 2 oz."""
    filled(sitting, order("1"), order("2"), order("3", address=ELSEWHERE))
    (thing,) = things(sitting, "same-door")
    assert thing.keys == (PieceKey("1"), PieceKey("2"))
    assert thing.found.facts["orders"] == ("1", "2")
    before = before_weighing(sitting).forecast
    pack_together(sitting, thing.keys)
    after = before_weighing(sitting).forecast
    assert thing.saved == before.postage - after.postage
    assert thing.saved is not None
    assert thing.saved > Money(0)
    assert things(sitting, "same-door") == []


def test_orders_sent_together_are_not_offered_without_a_known_saving(sitting: Sitting) -> None:
    filled(sitting, order("1", lines=(OrderLine("Mystery", 1, Money(100)),)), order("2"))
    (thing,) = things(sitting, "same-door")
    assert (thing.saved, thing.found.facts["saved"]) == (None, "")


def test_orders_with_different_shipping_choices_are_not_offered_together(sitting: Sitting) -> None:
    filled(sitting, order("1", shipping_choice="fast"), order("2", shipping_choice="slow"))
    assert things(sitting, "same-door") == []


def test_stamp_requests_are_listed(sitting: Sitting) -> None:
    filled(sitting, order("1", buyer_note="Please send by stamp!"), order("2", buyer_note="no stamp"))
    (thing,) = things(sitting, "stamp-asked")
    assert (thing.keys, thing.found.facts["note"]) == ((PieceKey("1"),), "Please send by stamp!")


def test_unknown_products_are_listed_with_similar_ones(sitting: Sitting) -> None:
    lines = (OrderLine("Bone foldr", 1, Money(100)), OrderLine("Zeppelin", 1, Money(100)))
    filled(sitting, order("1", lines=lines), order("2", lines=lines[:1], address=ELSEWHERE))
    folder, zeppelin = things(sitting, "product-unknown")
    assert (folder.keys, [product.sku for product in folder.resembles]) == ((PieceKey("1"), PieceKey("2")), ["BF"])
    assert (zeppelin.keys, zeppelin.resembles) == ((PieceKey("1"),), ())


@pytest.mark.parametrize(
    ("item", "sku", "expected"),
    [
        ("card", "", ["CD"]),
        ("Printed book", "", ["NB"]),
        ("", "MAN-", ["MAN"]),
        ("Folder, bone", "", ["BF"]),
        ("", "", []),
        ("Quartz", "Q", []),
    ],
)
def test_an_ambiguous_order_line_is_listed(item: str, sku: str, expected: list[str]) -> None:
    assert [product.sku for product in alike(item, sku, shop())][: len(expected) or None] == expected


def test_only_waiting_orders_are_examined(sitting: Sitting) -> None:
    bad = replace(HOME, city="")
    filled(sitting, order("1", address=bad), order("2", address=bad), order("3", address=bad))
    weigh(sitting, [(PieceKey("1"), weighing())])
    set_beside(sitting, [piece_id(sitting, "2")], PieceStatus.SET_ASIDE)
    assert [thing.keys for thing in things(sitting, "address-incomplete")] == [(PieceKey("3"),)]
    assert before_weighing(sitting).forecast.pieces == 1


def test_a_pile_without_issues_has_nothing_to_sort_out(sitting: Sitting) -> None:
    filled(sitting, order("1"))
    found = before_weighing(sitting)
    assert found.things == ()
    assert (found.forecast.letters, found.forecast.pieces) == (1, 1)


def test_the_forecast_counts_letters_flats_parcels_abroad_and_unknown(sitting: Sitting) -> None:
    filled(
        sitting,
        order("1"),
        order("2", address=ELSEWHERE, lines=(line(BOOK),)),
        order("3", address=FRANCE, lines=(line(BOOK),)),
        order("4", lines=(OrderLine("Mystery", 1, Money(100)),)),
        order("5", address=FRANCE, lines=(OrderLine("Mystery", 1, Money(100)),)),
    )
    found = before_weighing(sitting).forecast
    assert (found.letters, found.flats, found.parcels, found.abroad, found.unknown) == (1, 0, 1, 2, 1)
    assert (found.pieces, found.priced) == (5, 3)


def test_a_chosen_or_usual_mailer_is_forecast(sitting: Sitting) -> None:
    """A manual goes in the rigid mailer, a flat by size, once that was chosen; the same contents follow it."""
    board = replace(made.BOARD, tare=Weight(Decimal(40)))
    thin = replace(MANUAL, unit_weight=Weight(Decimal(100)))
    made.stock(
        sitting,
        [order(str(number), lines=(line(thin),)) for number in range(1, 4)],
        shop(mailers=(made.ENVELOPE, made.PADDED, board), products=(thin,)),
    )
    assert before_weighing(sitting).forecast.letters == 0
    choose_mailer(sitting, [piece_id(sitting, "1")], "Padded")
    first = before_weighing(sitting).forecast
    weigh(sitting, [(PieceKey("2"), weighing("5", "Padded"))])
    then = before_weighing(sitting).forecast
    assert (first.pieces, then.pieces) == (3, 2)
    assert then.parcels == 2


def test_usual_mailers_depend_on_the_contents() -> None:
    cases = [made.case("1", "A7"), made.case("9", "Padded", lines=(line(BOOK),)), made.case(None)]
    assert usual_mailers(cases) == {(("CD", 1),): "A7", (("NB", 1),): "Padded"}
    both = made.case(lines=(line(BOOK), line(CARD, 2)))
    assert contents_key(both) == contents_key(made.case(lines=(line(CARD, 2), line(BOOK))))


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ((line(CARD),), "A7"),
        ((line(BOOK),), "Padded"),
        ((line(BOOK, 2),), None),
    ],
)
def test_the_smallest_mailer_that_is_thick_enough_is_forecast(
    lines: tuple[OrderLine, ...], expected: str | None
) -> None:
    found = smallest_that_fits(made.order(lines=lines), shop())
    assert (found and found.name) == expected


def test_thicknesses_are_added() -> None:
    thin = Product("T", "Thin", Weight(Decimal(5)), thickness=Length.of("0.03", "in"))
    fits = smallest_that_fits(made.order(lines=(line(thin, 2),)), shop(products=(thin,)))
    thick = smallest_that_fits(made.order(lines=(line(thin, 3),)), shop(products=(thin,)))
    assert [mailer and mailer.name for mailer in (fits, thick)] == ["A7", "Padded"]


def test_an_empty_forecast_has_no_pieces() -> None:
    assert Forecast().pieces == 0


def test_a_stamp_request_is_reported_once_for_an_order_of_two_pieces(sitting: Sitting) -> None:
    made.stock(sitting, [order("1", buyer_note="by stamp please")])
    add_piece(sitting, PieceKey("1", 2))
    things = [one for one in before_weighing(sitting).things if one.found.code == STAMP]
    assert [one.keys for one in things] == [(PieceKey("1"),)]


def test_an_order_in_two_packages_is_not_offered_to_go_with_another(sitting: Sitting) -> None:
    made.stock(sitting, [order("1"), order("2")])
    assert doors(sitting) == [("1", "2")]
    add_piece(sitting, PieceKey("1", 2))
    assert doors(sitting) == []


def doors(sitting: Sitting) -> list[object]:
    return [one.found.facts["orders"] for one in before_weighing(sitting).things if one.found.code == DOOR]


@pytest.mark.parametrize(("cents", "shown"), [(-30, ""), (0, ""), (30, "0.30")])
def test_only_a_saving_above_nothing_is_shown(
    sitting: Sitting, monkeypatch: pytest.MonkeyPatch, cents: int, shown: str
) -> None:
    monkeypatch.setattr("desk.session.pile.before_weighing.postage_saved", lambda *_: Money(cents))
    filled(sitting, order("1"), order("2"))
    (thing,) = things(sitting, "same-door")
    assert (thing.found.facts["saved"], thing.saved) == (shown, Money(cents))
