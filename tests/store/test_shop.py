"""The shop, its stock, papers and settings."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from desk.domain.changes import Changes
from desk.domain.faults import Refused
from desk.domain.money import Money
from desk.domain.shop.shop import Shop
from desk.domain.shop.stamp import StampKind, StampStock
from desk.store import schema, undo
from desk.store.store import Store
from desk.store.tables import movements, papers, settings, shop
from desk.store.tables.movements import CountedKind
from desk.store.tables.papers import PaperKind
from tests.store.samples import SHOP, with_pieces


def save(store: Store, some: Shop) -> tuple[str, ...]:
    with store.act("set up") as tx:
        return shop.save(tx, some)


def load(store: Store) -> Shop | None:
    with store.reading() as conn:
        return shop.load(conn)


def test_a_new_store_has_no_shop(store: Store) -> None:
    assert load(store) is None


def test_a_shop_is_read_back_equal(store: Store) -> None:
    save(store, SHOP)

    assert load(store) == SHOP
    assert store.last_changes == Changes(shop=True)


def test_the_same_shop_again_changes_nothing(store: Store) -> None:
    save(store, SHOP)
    before = store.revision

    assert save(store, SHOP) == ()
    assert store.revision == before


def test_changed_parts_of_a_shop_are_reported(store: Store) -> None:
    save(store, SHOP)
    moved = replace(
        SHOP,
        policy=replace(SHOP.policy, cautious=True),
        tax_ids={"ioss": "IM1", "voec": "2000001"},
        mailers=SHOP.mailers[:1],
        stamps=(*SHOP.stamps[:1], StampStock(StampKind.FACE, 20, Money(10))),
    )

    assert save(store, moved) == (
        "mailer Padded #2", "policy", "stamp face 0.05 USD", "stamp face 0.10 USD", "tax id ioss", "tax id voec"
    )  # fmt: skip
    assert load(store) == moved


def test_products_and_choices_keep_their_order(store: Store) -> None:
    save(store, SHOP)
    turned = replace(SHOP, products=SHOP.products[::-1], choices=dict(reversed(SHOP.choices.items())))
    save(store, turned)

    found = load(store)
    assert found is not None
    assert found.products == turned.products
    assert list(found.choices) == ["letter", "quick"]


def test_saving_the_same_shop_again_does_not_restore_used_stamps(store: Store) -> None:
    save(store, SHOP)
    with store.act("stamps on") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -3, "face 0.05 USD": 0}, "used")
    assert save(store, SHOP) == ()

    found = load(store)
    assert found is not None
    assert [stamp.count for stamp in found.stamps] == [97, 20]
    assert save(store, found) == ("stamp forever",)
    assert load(store) == found


def test_a_new_count_replaces_the_stock(store: Store) -> None:
    save(store, SHOP)
    with store.act("stamps on") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -3}, "used")
    save(store, replace(SHOP, stamps=(StampStock(StampKind.FOREVER, 40),)))

    found = load(store)
    assert found is not None
    assert found.stamps == (StampStock(StampKind.FOREVER, 40),)


def test_a_negative_stock_counts_as_empty(store: Store) -> None:
    save(store, replace(SHOP, stamps=(StampStock(StampKind.FOREVER, 1),)))
    with store.act("stamps on") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -2}, "used")

    found = load(store)
    assert found is not None
    assert found.stamps[0].count == 0


def test_two_lines_of_the_same_stamp_are_added_up(store: Store) -> None:
    dime = StampStock(StampKind.FACE, 2, Money(10))
    save(store, replace(SHOP, stamps=(StampStock(StampKind.FOREVER, 10), dime, StampStock(StampKind.FOREVER, 5), dime)))
    found = load(store)
    assert found is not None
    assert found.stamps == (StampStock(StampKind.FOREVER, 15), replace(dime, count=4))

    with store.act("stamps on") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -3}, "used")
    save(store, replace(SHOP, stamps=(StampStock(StampKind.FOREVER, 10), StampStock(StampKind.FOREVER, 20))))
    found = load(store)
    assert found is not None
    assert found.stamps == (StampStock(StampKind.FOREVER, 30),)


def test_materials_of_a_piece_are_counted(store: Store) -> None:
    with_pieces(store)
    with store.act("packed") as tx:
        movements.move(tx, CountedKind.STAMP, {"forever": -2}, "used", 1)
        movements.move(tx, CountedKind.MAILER, {"Padded": -1}, "used", 1)
        movements.move(tx, CountedKind.LABEL, {"roll": 500}, "bought")
    with store.reading() as conn:
        assert movements.used_by_piece(conn, CountedKind.STAMP, [1]) == {1: {"forever": 2}}
        assert movements.on_hand(conn, CountedKind.MAILER) == {"Padded": -1}
        assert movements.on_hand(conn, CountedKind.LABEL) == {"roll": 500}
    assert store.last_changes == Changes(pieces=frozenset({1}), shop=True)


def test_labels_are_printed_and_canceled(store: Store) -> None:
    with_pieces(store, 2)
    with store.act("print") as tx:
        papers.printed(tx, [1, 2], PaperKind.LABEL, "d1")
        papers.printed(tx, [1], PaperKind.SLIP)
    with store.act("void") as tx:
        papers.void(tx, 1)

    with store.reading() as conn:
        found = papers.all_papers(conn)
        assert [(one.piece_id, one.kind, one.digest, one.voided_at is None) for one in found] == [
            (1, PaperKind.LABEL, "d1", False),
            (2, PaperKind.LABEL, "d1", True),
            (1, PaperKind.SLIP, "", True),
        ]
        assert [one.id for one in papers.all_papers(conn, 1)] == [1, 3]
    with pytest.raises(Refused, match="canceled before"), store.act("void") as tx:
        papers.void(tx, 1)
    with pytest.raises(Refused, match="stays canceled"):
        undo.undo(store)


@dataclass(frozen=True, slots=True)
class BenchWishes:
    loud: bool = True
    unit: str = "oz"


def test_settings_are_stored_as_records(store: Store) -> None:
    with store.reading() as conn:
        assert settings.read(conn, "bench", BenchWishes()) == BenchWishes()
    with store.act("settings") as tx:
        assert settings.write(tx, "bench", BenchWishes(loud=False))
        assert not settings.write(tx, "bench", BenchWishes(loud=False))
    assert store.last_changes == Changes(settings=True)
    with store.act("settings") as tx:
        assert settings.write(tx, "bench", BenchWishes(unit="g"))
    with store.reading() as conn:
        assert settings.read(conn, "bench", BenchWishes()) == BenchWishes(unit="g")


def test_a_setting_of_another_shape_gives_the_default(store: Store) -> None:
    with store.act("settings") as tx:
        settings.write(tx, "bench", "loud")
    with store.reading() as conn:
        assert settings.read(conn, "bench", BenchWishes()) == BenchWishes()


def test_no_column_takes_a_float() -> None:
    kinds = {type(column.type).__name__ for table in schema.metadata.tables.values() for column in table.c}

    assert kinds == {"Integer", "BigInteger", "Boolean", "Text"}
