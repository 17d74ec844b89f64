"""Rules of the handbook for a headless run that no other test of a whole run covers: inputs, columns, papers, lists."""

from __future__ import annotations

import csv
import io
import json
import re
from datetime import date
from decimal import Decimal
from pathlib import Path

import pypdfium2
import pytest

from desk.app.run import run
from desk.domain.clock import SystemClock
from desk.session.bench.answers import answer_looks
from desk.session.rulebook import Rulebook
from desk.session.sitting import Sitting
from desk.store.store import open_store
from tests.app.headless import HEAD, ORDERS, SHOP, WEIGHTS, Desk
from tests.intake.tables import ods, xlsx

BOX = """
[[mailers]]
name = "Box"
kind = "box"
length = "9"
width = "6"
thickness = "3"
size_unit = "in"
pack_price = "20.00"
pack_count = 30
"""
PARCEL = "order,gross,unit,mailer\n1,{gross},oz,Box\n2,1.7,oz,A7\n"


def first(desk: Desk, table: str = "pieces.csv") -> dict[str, str]:
    return desk.table(table)[0]


def codes(desk: Desk) -> list[str]:
    return first(desk)["findings"].split(";")


def text_of(path: Path) -> list[str]:
    document = pypdfium2.PdfDocument(path)
    return [document[number].get_textpage().get_text_range() for number in range(len(document))]


def test_a_run_without_a_date_uses_today(desk: Desk) -> None:
    desk.run()
    before = date.today()  # noqa: DTZ011 - the day of the person, as the run takes it
    files = {"orders": "orders.csv", "weights": "weights.csv", "shop": "shop.toml"}
    out = desk.folder / "today"
    run([*(word for name, file in files.items() for word in (f"--{name}", str(desk.folder / file))), "--out", str(out)])
    reported = json.loads((out / "summary.json").read_text(encoding="utf-8"))["posting_date"]
    assert reported in {str(before), str(date.today())}  # noqa: DTZ011


def cells(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))


def delimited(text: str, sign: str) -> str:
    return "\n".join(sign.join(row) for row in cells(text)) + "\n"


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("orders.tsv", delimited(ORDERS, "\t").encode()),
        ("orders.txt", delimited(ORDERS, ";").encode()),
        ("orders.csv", delimited(ORDERS, "|").encode("utf-16")),
        ("orders.csv", ORDERS.encode("utf-8-sig")),
        ("orders.csv", ORDERS.replace("Ada", "Zoë").encode("cp1252")),
        ("orders.xlsx", xlsx(cells(ORDERS))),
        ("orders.ods", ods(cells(ORDERS))),
    ],
    ids=["tab", "semicolon", "bar, UTF-16", "mark at the start", "Windows letters", "workbook", "open document"],
)
def test_every_kind_of_order_list_gives_the_same_pieces(desk: Desk, name: str, content: bytes) -> None:
    desk.run()
    plain = [row | {"recipient": ""} for row in desk.table("pieces.csv")]
    (desk.folder / "other").mkdir()
    list_of = desk.folder / "other" / name
    list_of.write_bytes(content)
    words = ["--orders", list_of, "--weights", desk.folder / "weights.csv", "--shop", desk.folder / "shop.toml"]
    assert run([*map(str, words), "--date", "2026-07-15", "--out", str(desk.folder / "again")]) == 0
    again = desk.table("pieces.csv", desk.folder / "again")
    assert [row | {"recipient": ""} for row in again] == plain
    assert again[0]["recipient"] in ("Ada Vell", "Zoë Vell")


@pytest.mark.parametrize(
    ("orders", "weights", "code"),
    [
        (ORDERS.replace("97701,US,Card,CD,1,6.50", "69002,FR,Card,CD,1,0.00"), PARCEL.format(gross="6"), "value-zero"),
        (ORDERS.replace("US,Card,CD,1", "US,Odd thing,ZZ,1"), WEIGHTS, "product-unknown"),
        (ORDERS, WEIGHTS.replace("0.7,oz,A7", "0.7,oz,"), "size-missing"),
    ],
)
def test_missing_values_are_findings_and_do_not_stop_the_run(desk: Desk, orders: str, weights: str, code: str) -> None:
    desk.orders, desk.weights, desk.shop = orders, weights, SHOP + BOX
    assert desk.run() in (0, 1)
    assert code in codes(desk)


@pytest.mark.parametrize(
    ("gross", "billable"),
    [
        ("0.3", ("1", "oz")),
        ("1.01", ("2", "oz")),
        ("2.9", ("3", "oz")),
        ("3.2", ("3.5", "oz")),
        ("3.6", ("4", "oz")),  # too heavy for a letter: a large envelope
    ],
)
def test_letters_are_billed_in_whole_ounces_and_at_3_5_above_three(
    desk: Desk, gross: str, billable: tuple[str, str]
) -> None:
    desk.weights = WEIGHTS.replace("1,0.7", f"1,{gross}")
    desk.run()
    assert (first(desk)["billable"], first(desk)["billable_unit"]) == billable


@pytest.mark.parametrize(
    ("gross", "billable"),
    [
        ("4.2", ("5", "oz")),
        ("15.0", ("15", "oz")),
        ("15.2", ("15.999", "oz")),
        ("15.98", ("15.999", "oz")),
        ("16.1", ("2", "lb")),
        ("33", ("3", "lb")),
    ],
)
def test_parcels_are_billed_in_ounces_below_a_pound_and_in_pounds_above(
    desk: Desk, gross: str, billable: tuple[str, str]
) -> None:
    desk.shop, desk.weights = SHOP + BOX, PARCEL.format(gross=gross)
    desk.run()
    row = first(desk)
    assert (row["billable"], row["billable_unit"], row["service"]) == (*billable, "ground-retail")
    assert (row["shape"], row["machinable"]) == ("parcel", "")
    assert row["zone"] in set("123456789")


def test_the_weight_of_the_label_is_added_to_the_billed_weight_but_not_to_the_reading(desk: Desk) -> None:
    desk.shop = SHOP.replace("[policy]", '[policy]\nlabel_weight = "1 oz"')
    desk.run()
    assert (first(desk)["gross_oz"], first(desk)["billable"]) == ("0.700", "2")


@pytest.mark.parametrize(
    ("unit", "gross", "grams", "ounces"),
    [
        ("g", "20", "20.000", "0.705"),
        ("kg", "0.02", "20.000", "0.705"),
        ("oz", "0.7", "19.845", "0.700"),
        ("lb", "0.05", "22.680", "0.800"),
        ("lb-oz", "0 lb 0.7 oz", "19.845", "0.700"),
    ],
)
def test_a_reading_in_any_unit_is_reported_in_grams_and_ounces(
    desk: Desk, unit: str, gross: str, grams: str, ounces: str
) -> None:
    """1 oz = 28.349523125 g (NIST Handbook 44, Appendix C)."""
    desk.weights = WEIGHTS.replace("1,0.7,oz", f"1,{gross},{unit}")
    desk.run()
    assert (first(desk)["gross_g"], first(desk)["gross_oz"]) == (grams, ounces)


def test_a_piece_without_a_size_is_priced_as_a_parcel(desk: Desk) -> None:
    desk.weights = WEIGHTS.replace("0.7,oz,A7", "0.7,oz,")
    assert desk.run() == 1
    assert (first(desk)["shape"], first(desk)["service"]) == ("parcel", "ground-retail")


STIFF = SHOP.replace('name = "Card"', 'name = "Card"\nstiff = true')


@pytest.mark.parametrize(
    ("shop", "cell", "machinable"),
    [
        (SHOP, "", "yes"),
        (SHOP, "yes", "no"),
        (STIFF, "", "no"),
        (STIFF, "no", "yes"),
        (SHOP.replace('kind = "envelope"', 'kind = "envelope"\nstiff = true'), "", "no"),
    ],
)
def test_rigid_follows_the_weights_row_then_the_mailer_then_the_products(
    desk: Desk, shop: str, cell: str, machinable: str
) -> None:
    desk.shop, desk.weights = shop, f"order,gross,unit,mailer,stiff\n1,0.7,oz,A7,{cell}\n2,1.7,oz,A7,\n"
    desk.run()
    assert first(desk)["machinable"] == machinable


def test_the_later_of_two_weights_for_a_piece_is_used(desk: Desk) -> None:
    desk.weights = WEIGHTS + "1,2.4,oz,A7\n"
    assert desk.run() == 1
    assert (first(desk)["gross_oz"], "weighed-twice" in codes(desk)) == ("2.400", True)


def test_a_listed_shipping_choice_limits_the_services(desk: Desk) -> None:
    desk.shop = SHOP + BOX + '\n[choices]\n"with tracking" = ["ground-retail"]\n'
    desk.orders = ORDERS.replace(HEAD, f"{HEAD},shipping_choice").replace(",5.00\n", ",5.00,with tracking\n", 1)
    desk.orders = re.sub(r",5\.00\n$", ",5.00,unheard of\n", desk.orders)
    desk.run()
    assert [row["service"] for row in desk.table("pieces.csv")] == ["ground-retail", "letter-stamped"]


@pytest.mark.parametrize(
    ("untracked", "services"),
    [
        ("always", ["letter-stamped", "letter-stamped"]),
        ("asked", ["ground-retail", "ground-retail"]),
        ("10.00", ["letter-stamped", "ground-retail"]),
        ("13.00", ["letter-stamped", "letter-stamped"]),  # up to and with this order value
    ],
)
def test_untracked_letters_go_up_to_the_order_value_the_shop_allows(
    desk: Desk, untracked: str, services: list[str]
) -> None:
    """One card for 6.50, two for 13.00."""
    desk.shop = SHOP.replace("[policy]", f'[policy]\nuntracked = "{untracked}"')
    desk.run()
    assert [row["service"] for row in desk.table("pieces.csv")] == services


def test_a_service_without_a_list_is_a_reason_and_no_error(desk: Desk) -> None:
    desk.shop = SHOP.replace('["ground-retail"]', '["ground-retail", "balloon-post"]')
    assert desk.run() == 0
    desk.shop = SHOP.replace('["ground-retail"]', '["balloon-post"]') + BOX
    desk.weights = PARCEL.format(gross="20")
    assert desk.run() == 1
    (reported,) = [row for row in desk.table("findings.csv") if row["code"] == "no-service"]
    assert (reported["order"], first(desk)["service"], first(desk)["postage"]) == ("1", "", "")


def test_materials_are_a_share_of_the_pack_the_insert_and_the_label(desk: Desk) -> None:
    """20.00 / 30 is 0.67 to the cent; the label of a parcel paid online comes with its postage."""
    desk.shop = SHOP.replace("[policy]", '[policy]\ninsert_cost = "0.05"\nlabel_cost = "0.03"') + BOX
    desk.weights = PARCEL.format(gross="20")
    desk.run()
    assert [row["materials"] for row in desk.table("pieces.csv")] == ["0.72", "0.08"]
    desk.shop = desk.shop.replace("[policy]", '[policy]\nparcel_payment = "counter"')
    desk.run()
    assert first(desk)["materials"] == "0.75"


def test_pieces_paid_at_the_counter_get_a_label_and_those_paid_online_a_row_to_buy(desk: Desk) -> None:
    desk.shop, desk.weights = SHOP + BOX, PARCEL.format(gross="20")
    desk.run()
    assert len(text_of(desk.out / "labels.pdf")) == 1
    assert [row["reference"] for row in desk.table("postage-list.csv")] == ["1-1"]
    desk.shop = desk.shop.replace("[policy]", '[policy]\nparcel_payment = "counter"')
    desk.run()
    pages = text_of(desk.out / "labels.pdf")
    assert ["POSTAGE NOT PAID YET" in " ".join(page.split()) for page in pages] == [True, False]
    assert desk.table("postage-list.csv") == []


def test_a_stop_has_a_slip_and_no_label(desk: Desk) -> None:
    desk.orders = ORDERS.replace("1 Quill Row", "")
    assert desk.run() == 1
    assert len(text_of(desk.out / "labels.pdf")) == 1
    assert len(text_of(desk.out / "slips.pdf")) == 2


FORMULA = "=1+1"


def test_text_that_begins_like_a_formula_is_made_safe_in_every_table(desk: Desk) -> None:
    abroad = ORDERS.replace("Ada Vell,1 Quill Row,Bend,OR,97701,US", f"{FORMULA},{FORMULA},Lyon,,69002,FR")
    desk.orders, desk.shop, desk.weights = (
        abroad.replace("Card,CD", f"{FORMULA},"),
        SHOP + BOX,
        PARCEL.format(gross="9"),
    )
    desk.run()
    for name in ("pieces", "findings", "declarations", "postage-list"):
        cells = [cell for row in desk.table(f"{name}.csv") for cell in row.values()]
        assert not [cell for cell in cells if cell.startswith(("=", "+", "@"))], name
    assert first(desk)["recipient"].endswith(FORMULA)
    assert first(desk)["recipient"] != FORMULA
    assert Decimal(first(desk)["margin"]) < 0  # a number stays one


def test_an_outdated_price_list_is_reported_once_without_naming_a_piece(desk: Desk) -> None:
    """The prices of priority parcels of 2025-10-05 were known to end on 2026-01-17; it is used until a newer one begins."""
    desk.shop = SHOP.replace('["ground-retail"]', '["priority-retail"]') + BOX
    desk.weights = PARCEL.format(gross="20").replace("2,1.7,oz,A7", "2,20,oz,Box")
    desk.run("--date", "2026-03-02")
    reported = [row for row in desk.table("findings.csv") if row["code"] == "chart-out-of-date"]
    assert [(row["order"], row["piece"], row["severity"]) for row in reported] == [("", "", "note")]
    assert [row["service"] for row in desk.table("pieces.csv")] == ["priority-retail"] * 2
    desk.run("--date", "2026-01-17")
    assert "chart-out-of-date" not in {row["code"] for row in desk.table("findings.csv")}


def test_a_piece_is_ready_in_the_next_run_once_its_issue_was_answered(desk: Desk, demo_rulebook: Rulebook) -> None:
    desk.weights = WEIGHTS + "1,1.4,oz,A7\n"
    assert desk.run() == 1
    clock = SystemClock()
    store = open_store(desk.out / "store.sqlite", clock)
    answer_looks(Sitting(store, clock, demo_rulebook, date(2026, 7, 15)), 1, ["weighed-twice"], number="1-1")
    store.close()
    assert desk.run() == 0
    assert (first(desk)["stands"], "weighed-twice" in codes(desk)) == ("ready", True)


@pytest.fixture(scope="module")
def demo_rulebook(resources: Path) -> Rulebook:
    from desk.session.rulebook import read_rulebook

    return read_rulebook(resources)
