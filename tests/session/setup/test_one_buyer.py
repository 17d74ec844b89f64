"""Everything about one buyer can be written to a file for them, and forgotten when they ask."""

from __future__ import annotations

import json
import stat
from dataclasses import replace
from pathlib import Path

import pytest

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.weigh import weigh
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.stored_cases import read_stored
from desk.session.setup.one_buyer import export_buyer, forget_buyer, orders_of_buyer
from desk.session.sitting import Sitting
from desk.store.tables.hand_overs import hand_over
from tests.session import made

ADA = replace(made.HOME, email="ada@vell.example", phone="555-0100")
CY = replace(made.HOME, recipient="Cy Bell", email="cy@bell.example")


@pytest.fixture
def shop(sitting: Sitting) -> Sitting:
    """Two orders of Ada, the first handed over, and one of Cy."""
    made.stock(sitting, [made.order("1", address=ADA), made.order("2", address=ADA), made.order("3", address=CY)])
    weigh(sitting, [(PieceKey("1"), made.weighing("0.7"))])
    with sitting.store.act("Hand over") as tx:
        hand_over(tx, [1])
    return sitting


@pytest.mark.parametrize("typed", ["ada@vell.example", " ADA  vell ", "555-0100"])
def test_a_buyer_is_found_by_name_email_or_phone(shop: Sitting, typed: str) -> None:
    found = orders_of_buyer(shop, typed)
    assert ([one.order.number for one in found.done], [one.order.number for one in found.to_mail]) == (["1"], ["2"])


@pytest.mark.parametrize("typed", ["", "  ", "ada", "quill"])
def test_part_of_a_name_finds_no_buyer(shop: Sitting, typed: str) -> None:
    assert orders_of_buyer(shop, typed).all == ()


def test_all_data_of_a_buyer_is_written_to_a_private_file(shop: Sitting, tmp_path: Path) -> None:
    file = tmp_path / "ada.json"
    assert export_buyer(shop, "Ada Vell", file) == 2
    reported = json.loads(file.read_text(encoding="utf-8"))
    assert [one["order"]["address"]["email"] for one in reported["orders"]] == ["ada@vell.example"] * 2
    assert [one["shown"]["value"] for one in reported["orders"][0]["weighings"]] == ["0.7"]
    assert "Cy Bell" not in file.read_text(encoding="utf-8")
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    with pytest.raises(Refused, match="No order has"):
        export_buyer(shop, "nobody", file)


def test_data_of_mailed_orders_is_deleted_and_the_rest_is_named(shop: Sitting) -> None:
    found = forget_buyer(shop, "ada@vell.example")
    assert [one.order.number for one in found.to_mail] == ["2"]
    assert [stored.case.order.address.recipient for stored in read_stored(shop)] == ["", "Ada Vell", "Cy Bell"]
    with pytest.raises(Refused, match="Still to be mailed: 2"):
        forget_buyer(shop, "ada@vell.example")
    set_beside(shop, [2], PieceStatus.SET_ASIDE)
    forget_buyer(shop, "ada@vell.example")
    assert [stored.case.order.address.recipient for stored in read_stored(shop)] == ["", "", "Cy Bell"]
    with pytest.raises(Refused, match="No order has"):
        forget_buyer(shop, "ada@vell.example")
