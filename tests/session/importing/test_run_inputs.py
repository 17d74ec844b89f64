"""The inputs of a headless run: read completely, or every fault of every file in one list."""

from collections.abc import Callable
from pathlib import Path

import pytest

from desk.domain.faults import FileFault, Unreadable
from desk.domain.orders.piece import PieceKey
from desk.session.importing.run_inputs import RunInputs, read_run_inputs
from desk.session.rulebook import Rulebook
from tests.app.headless import HEAD, ORDERS, SHOP, WEIGHTS

Reads = Callable[..., RunInputs]
PREFIX = 'prefix = "B-"\n[columns]\n'


@pytest.fixture
def reads(rulebook: Rulebook, tmp_path: Path) -> Reads:
    """Read files of these texts: `reads(shop=..., weights=..., orders=[...], mapping=..., zones=...)`."""

    def written(name: str, text: str) -> Path:
        (tmp_path / name).write_text(text, encoding="utf-8")
        return tmp_path / name

    def one(
        orders: tuple[str, ...] = (ORDERS,),
        weights: str = WEIGHTS,
        shop: str = SHOP,
        mapping: str | None = None,
        zones: str | None = None,
    ) -> RunInputs:
        return read_run_inputs(
            rulebook,
            orders=[written(f"orders{number}.csv", text) for number, text in enumerate(orders, 1)],
            weights=written("weights.csv", weights),
            shop=written("shop.toml", shop),
            mapping=None if mapping is None else written("mapping.toml", mapping),
            zones=None if zones is None else written("zones.csv", zones),
        )

    return one


def faults(reads: Reads, **texts: object) -> list[FileFault]:
    with pytest.raises(Unreadable) as reported:
        reads(**texts)
    return list(reported.value.faults)


def names(found: list[FileFault]) -> list[str]:
    return [Path(fault.file).name for fault in found]


def test_every_input_is_stored_as_read(reads: Reads) -> None:
    read = reads()
    assert [order.number for order in read.orders] == ["1", "2"]
    assert [(key, str(weighing.shown.value)) for key, weighing in read.weights] == [
        (PieceKey("1"), "0.7"),
        (PieceKey("2"), "1.7"),
    ]
    assert read.shop.sender.city == "Duluth"
    assert (read.skipped, read.left_out) == ({}, ())


def test_orders_of_several_files_follow_one_another(reads: Reads) -> None:
    other = ORDERS.replace("\n1,", "\n3,").replace("\n2,", "\n4,")
    assert [order.number for order in reads((ORDERS, other)).orders] == ["1", "2", "3", "4"]


def test_orders_left_out_by_status_are_counted_over_all_files(reads: Reads) -> None:
    shop = SHOP.replace("[policy]", '[policy]\nskip_status = ["canceled"]')
    first = f"{HEAD},status\n1,Ada Vell,1 Quill Row,Bend,OR,97701,US,Card,CD,1,6.50,USD,5.00,canceled\n"
    second = first.replace("\n1,", "\n2,")
    read = reads((first, second), shop=shop)
    assert (read.orders, read.skipped) == ((), {"canceled": 2})
    assert read.left_out == (("1", "canceled"), ("2", "canceled"))


def test_the_same_number_in_two_files_is_a_fault_that_names_both(reads: Reads) -> None:
    found = faults(reads, orders=(ORDERS, ORDERS))
    assert names(found) == ["orders2.csv", "orders2.csv"]
    assert [(fault.line, fault.column, fault.found) for fault in found] == [(0, "order", "1"), (0, "order", "2")]
    assert found[0].expected.endswith("orders1.csv too (a mapping can put a prefix before each)")


def test_faults_of_all_files_are_reported_together(reads: Reads) -> None:
    found = faults(
        reads,
        orders=(ORDERS.replace("country", "whereabouts"),),
        weights=WEIGHTS.replace("0.7", "light"),
        shop=SHOP.replace('"7.25"', '"wide"'),
        mapping="no table at all",
        zones="prefix,zone\n97,7\n",
    )
    assert set(names(found)) == {"orders1.csv", "weights.csv", "shop.toml", "mapping.toml", "zones.csv"}


def test_a_mapping_puts_its_prefix_before_each_number(reads: Reads) -> None:
    assert [order.number for order in reads(mapping=PREFIX).orders] == ["B-1", "B-2"]


def test_a_shop_in_another_currency_than_its_price_lists_is_a_fault(reads: Reads) -> None:
    (found,) = faults(reads, shop=SHOP.replace('currency = "USD"', 'currency = "EUR"'))
    assert (Path(found.file).name, found.column, found.found) == ("shop.toml", "policy.currency", "EUR")
    assert found.expected == "USD, the money of the price lists"


def test_a_zone_chart_must_be_for_the_senders_prefix(reads: Reads) -> None:
    read = reads(zones="prefix,zone,edition\n977,3,2026-07-01\n")
    answer = read.rulebook.zones.find("55802", "97701")
    assert (answer.zone, answer.edition, answer.findings) == ("3", "2026-07-01", ())
    assert read.rulebook.zones.find("10001", "97701").zone != "3"


def test_without_a_chart_of_its_own_the_zone_is_that_of_the_matrix(reads: Reads) -> None:
    # National Zone Charts Matrix, April 1, 2024: 558 to 977 is zone 6.
    answer = reads().rulebook.zones.find("55802", "97701")
    assert (answer.zone, [found.code for found in answer.findings]) == ("6", [])
