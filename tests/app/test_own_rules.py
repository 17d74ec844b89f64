"""A headless run on a store uses the shop's own price lists and zone chart, as the window does; `--zones` overrides."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from desk.domain.money import Money
from desk.domain.resources import resources
from desk.session.pile.pile import Pile
from desk.session.rulebook import read_rulebook
from desk.session.setup.own_rules import OwnZones, load_zones, shelf_in, use_own
from desk.session.setup.price_list_preview import ListHead, preview_chart
from desk.session.setup.price_lists import OWN_LISTS, OwnLists, PriceListFolders, import_price_list, keep_lists
from desk.session.sitting import Sitting
from desk.store.store import open_store
from desk.store.tables import settings
from tests.app.headless import SHOP, Desk
from tests.conftest import StillClock

ON = date(2026, 7, 15)
LETTERS = "service,weight_max,key,price\nletter-stamped,1,,0.90\nletter-stamped,2,,1.20\nletter-stamped,3.5,,1.50\n"
PARCEL = "order,gross,unit,mailer,length,width,thickness,size_unit\n1,12,oz,A7,8,6,3,in\n2,1.7,oz,A7,,,,\n"


class Kept:
    """A store that the window has used: its sitting, open, and its shelf."""

    def __init__(self, file: Path) -> None:
        clock = StillClock(datetime(2026, 7, 15, 12, tzinfo=UTC))
        self.sitting = Sitting(open_store(file, clock), clock, read_rulebook(resources()), ON)
        self.shelf: PriceListFolders = shelf_in(file.parent, resources())
        use_own(self.sitting, self.shelf)

    def take_in(self, folder: Path, text: str = LETTERS) -> str:
        (folder / "new.csv").write_text(text, encoding="utf-8")
        head = ListHead(date(2026, 7, 13), None, "a list of tomorrow (invented)")
        return import_price_list(
            self.sitting, self.shelf, preview_chart(folder / "new.csv", head, self.sitting.rulebook.charts)
        )


@pytest.fixture
def kept(desk: Desk, tmp_path: Path) -> Iterator[Kept]:
    """A store with the two orders of the desk, run once by the shipped lists."""
    desk.run("--store", str(tmp_path / "shop" / "kept.sqlite"))
    assert postage(desk) == ["0.82", "1.11"]
    one = Kept(tmp_path / "shop" / "kept.sqlite")
    yield one
    one.sitting.store.close()


def again(desk: Desk, tmp_path: Path, *words: str) -> int:
    return desk.run("--store", str(tmp_path / "shop" / "kept.sqlite"), *words)


def postage(desk: Desk) -> list[str]:
    return [row["postage"] for row in desk.table("pieces.csv")]


def in_the_window(kept: Kept) -> list[str]:
    offers = [verdict.offer for verdict in Pile(kept.sitting).verdicts.values()]
    return [offer.price.text() for offer in offers if offer]


def test_a_price_list_of_the_shop_applies_to_runs_and_to_the_window(desk: Desk, kept: Kept, tmp_path: Path) -> None:
    name = kept.take_in(tmp_path)
    assert again(desk, tmp_path) == 0
    assert postage(desk) == ["0.90", "1.20"] == in_the_window(kept)
    (chart,) = json.loads((desk.out / "summary.json").read_text(encoding="utf-8"))["charts"]
    assert (chart["chart"], chart["source"]) == (name, "a list of tomorrow (invented)")


def test_an_undone_price_list_no_longer_applies(desk: Desk, kept: Kept, tmp_path: Path) -> None:
    kept.take_in(tmp_path)
    with kept.sitting.store.act("Use no own list") as tx:
        settings.write(tx, OWN_LISTS, OwnLists())
    again(desk, tmp_path)
    assert postage(desk) == ["0.82", "1.11"]


def test_price_lists_are_saved_next_to_a_store_in_the_results_folder(desk: Desk, tmp_path: Path) -> None:
    desk.run()
    one = Kept(desk.out / "store.sqlite")
    one.take_in(tmp_path)
    one.sitting.store.close()
    desk.run()
    assert postage(desk) == ["0.90", "1.20"]
    assert (desk.out / "price lists" / "own-2026-07-13-1" / "cells.csv").exists()


def test_a_zone_chart_given_to_the_run_overrides_that_of_the_shop(desk: Desk, kept: Kept, tmp_path: Path) -> None:
    desk.weights = PARCEL
    load_zones(kept.sitting, OwnZones("", "2026-10-01", {"977": 3}), "zones.csv")
    again(desk, tmp_path)
    (parcel, _) = desk.table("pieces.csv")
    assert (parcel["service"], parcel["zone"]) == ("ground-retail", "3")
    desk.files["headless.csv"] = "prefix,zone\n977,5\n"
    again(desk, tmp_path, "--zones", str(tmp_path / "headless.csv"))
    assert desk.table("pieces.csv")[0]["zone"] == "5"
    again(desk, tmp_path)
    assert desk.table("pieces.csv")[0]["zone"] == "3"


def test_a_damaged_own_price_list_is_left_out_and_needs_a_check(desk: Desk, kept: Kept, tmp_path: Path) -> None:
    name = kept.take_in(tmp_path)
    cells = kept.shelf.own / name / "cells.csv"
    cells.write_text(cells.read_text(encoding="utf-8").replace("0.90", "free"), encoding="utf-8")
    assert again(desk, tmp_path) == 1
    assert postage(desk) == ["0.82", "1.11"]
    (found,) = [row for row in desk.table("findings.csv") if row["code"] == "own-list-damaged"]
    assert (found["order"], found["piece"], found["severity"]) == ("", "", "look")
    assert f"{name}/cells.csv: line 2" in found["message"]


def test_a_shop_may_use_the_currency_of_its_own_price_list(desk: Desk, kept: Kept, tmp_path: Path) -> None:
    charts = kept.sitting.rulebook.charts.of_chart("us-2026-07-12")
    (letter,) = [chart for chart in charts if chart.service == "letter-stamped"]
    rows = {"": tuple(replace(row, price=Money(row.price.minor, "EUR")) for row in letter.rows[""])}
    foreign = replace(letter, currency="EUR", rows=rows, surcharges=())
    desk.shop = SHOP.replace('currency = "USD"', 'currency = "EUR"')
    assert again(desk, tmp_path) == 2
    keep_lists(kept.sitting, kept.shelf, [foreign], "Letters in euros (invented)")
    assert again(desk, tmp_path) == 0
    assert {row["currency"] for row in desk.table("pieces.csv")} == {"EUR"}
    assert postage(desk) == ["0.82", "1.11"]


@pytest.mark.parametrize("kind", ["", "sqlite:///"])
def test_no_store_is_created_when_an_input_cannot_be_read(desk: Desk, tmp_path: Path, kind: str) -> None:
    desk.weights = "order,gross,unit\n1,light,oz\n"
    assert desk.run("--store", f"{kind}{tmp_path / 'none' / 'kept.sqlite'}") == 2
    assert not (tmp_path / "none").exists()
    assert not desk.out.exists()
