import csv
import io
from dataclasses import replace
from decimal import Decimal

import pytest

from desk.domain.finding import Code, finding
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import LetterPostage
from desk.session.contents import tables
from desk.session.pile.batch import SharedFinding, judge_batch
from desk.session.verdict.verdict import Terms
from tests.session.made import BOOK, FRANCE, HOME, ON, case, line, policy, shop


def written(columns, rows):
    out = io.StringIO(newline="")
    tables.write_table(out, columns, rows)
    return list(csv.DictReader(io.StringIO(out.getvalue())))


def piece(terms, *words, **fields):
    batch = judge_batch([case(*words, **fields)], terms)
    return written(tables.PIECE_COLUMNS, [tables.piece_row(batch.verdicts[0], "USD")])[0]


def test_columns_are_those_of_the_handbook():
    assert tables.PIECE_COLUMNS == [
        "order", "piece", "recipient", "destination", "mailer", "gross_g", "gross_oz", "billable", "billable_unit",
        "shape", "machinable", "service", "zone", "postage", "currency", "stamps", "extra_postage", "materials",
        "charged", "refund", "margin", "declaration", "stands", "findings", "overpaid",
        "extras", "extras_price",
    ]  # fmt: skip
    assert tables.FINDING_COLUMNS == ["order", "piece", "code", "severity", "message", "fix", "source"]
    assert tables.DECLARATION_COLUMNS == [
        "order", "piece", "form", "category", "line", "description", "quantity", "net_g", "value", "currency", "hs",
        "origin",
        "net_from", "value_usd", "gross_g", "export", "seller_tax_number", "buyer_tax_number", "if_undeliverable",
        "license", "certificate", "invoice", "insured_value", "sender_first_name", "sender_last_name", "sender_phone",
        "sender_email", "recipient_phone", "recipient_email", "open_issues", "value_usd_from",
    ]  # fmt: skip


def test_a_letter_of_one_ounce(terms):
    """0.7 oz are 19.845 g (1 oz = 28.349523125 g); one stamp is enough, so nothing extra."""
    row = piece(terms)
    assert (row["gross_g"], row["gross_oz"], row["billable"], row["billable_unit"]) == ("19.845", "0.700", "1", "oz")
    assert (row["shape"], row["machinable"], row["service"], row["zone"]) == ("letter", "yes", "letter-stamped", "")
    assert (row["stamps"], row["extra_postage"], row["postage"]) == ("1 forever", "0.00", "0.82")
    assert (row["materials"], row["charged"], row["refund"], row["margin"]) == ("0.19", "5.00", "0.00", "3.99")
    assert (row["declaration"], row["stands"], row["findings"]) == ("none", "ready", "untracked")


def test_a_letter_over_an_ounce_costs_extra(terms):
    row = piece(terms, "1.5")
    assert (row["stamps"], row["extra_postage"]) == ("1 forever + 1 additional_ounce", "0.29")
    assert row["findings"] == "over-one-ounce;untracked"


def test_only_stamped_letters_have_extra_postage(terms, rulebook):
    assert piece(terms, "12", "Padded")["extra_postage"] == ""
    metered = Terms(shop(policy=policy(letter_postage=LetterPostage.METERED)), rulebook, ON)
    row = piece(metered)
    assert (row["service"], row["stamps"], row["extra_postage"]) == ("letter-metered", "", "")


def test_margin_is_shipping_paid_less_refund_postage_and_materials(terms):
    row = piece(terms, "1.5", buyer_note="by stamp")
    sums = [Decimal(row[name]) for name in ("charged", "refund", "postage", "materials")]
    assert Decimal(row["margin"]) == sums[0] - sums[1] - sums[2] - sums[3]
    assert row["refund"] != "0.00"


def test_a_piece_without_a_weight(terms):
    row = piece(terms, None)
    assert (row["stands"], row["findings"], row["charged"], row["declaration"]) == (
        "to weigh",
        "no-weight",
        "5.00",
        "none",
    )
    empty = "gross_g gross_oz billable billable_unit shape machinable service zone postage stamps extra_postage".split()
    assert {name: row[name] for name in (*empty, "materials", "refund", "margin")} == dict.fromkeys(
        (*empty, "materials", "refund", "margin"), ""
    )


def test_without_a_service_only_the_customs_form_is_filled_in(terms):
    row = piece(terms, "5", "Padded", address=replace(FRANCE, country="RU", postal_code="125009"))
    assert (row["service"], row["postage"], row["margin"], row["declaration"]) == ("", "", "", "CN22")


def test_shipping_is_charged_on_the_first_piece(terms):
    assert piece(terms, key=PieceKey("1001", 2), pieces_in_order=2)["charged"] == "0.00"


def test_a_company_replaces_a_missing_recipient(terms):
    assert piece(terms, address=replace(HOME, recipient="", company="Quill Works"))["recipient"] == "Quill Works"


@pytest.mark.parametrize(
    "start",
    [
        "=",
        "+",
        "-",
        "@",
        "\t",
        "\r",
        "\uff1d",
        "\uff0b",
        "\uff0d",
        "\uff20",
        "\u200b=",
        "\ufeff+",
        ";=",
        " =",
        ",@",
        "\n-",
    ],
)
def test_text_that_begins_like_a_formula_is_made_safe(start):
    (row,) = written(["a"], [[f"{start}1+1"]])
    assert row["a"] == "'" + start.replace("\r", "\n") + "1+1"


@pytest.mark.parametrize("text", ["a=b", "Gift; +1", "#1", "1-2", "\u200bx", "Elm (=)"])
def test_other_text_stays_as_it_is(text):
    assert written(["a"], [[text]]) == [{"a": text}]


def test_a_carriage_return_in_a_cell_does_not_end_the_row():
    assert written(["a", "b"], [["one\rtwo", "three\r\nfour"]]) == [{"a": "one\ntwo", "b": "three\nfour"}]


def test_numbers_stay_numbers_and_missing_values_stay_empty():
    (row,) = written(["a", "b", "c", "d"], [[Decimal("-1.50"), -3, None, "plain - text"]])
    assert list(row.values()) == ["-1.50", "-3", "", "plain - text"]
    assert written(["a"], [[Decimal("1E+2")]])[0]["a"] == "100"


def test_recipient_and_mailer_are_made_safe_in_pieces(terms):
    assert piece(terms, address=replace(HOME, recipient="=cmd()"))["recipient"] == "'=cmd()"


def test_findings_of_price_lists_come_first_then_those_of_pieces_and_unknown_orders(terms):
    batch = judge_batch([case(buyer_note="by stamp")], terms)
    batch = replace(
        batch,
        shared=(
            SharedFinding(
                finding(Code.CHART_OUT_OF_DATE, "list", None, chart="us", effective="2026-07-12", until="2026-10-03")
            ),
        ),
    )
    rows = written(tables.FINDING_COLUMNS, tables.finding_rows(batch, [("77", 2, finding(Code.NO_ORDER, order="77"))]))
    assert [(row["order"], row["piece"], row["code"], row["severity"]) for row in rows] == [
        ("", "", "chart-out-of-date", "note"),
        ("1001", "1", "stamps-requested", "look"),
        ("77", "2", "no-order", "look"),
    ]
    assert (
        rows[1]["message"]
        == "The buyer asked for stamps. Postage would be $0.82 (letter, stamped), and you would refund $4.06."
    )
    assert rows[1]["fix"].startswith("Use stamps")
    assert rows[0]["source"] == "list"


def test_declarations_have_a_row_for_each_line_and_none_for_domestic_pieces(terms):
    abroad = case("13", "Padded", address=FRANCE, lines=(line(), line(BOOK, 2, 3800)), discount=Money(0))
    batch = judge_batch([case(), abroad], terms)
    rows = written(tables.DECLARATION_COLUMNS, tables.declaration_rows(batch, terms))
    assert [(row["line"], row["quantity"], row["net_g"], row["value"]) for row in rows] == [
        ("1", "1", "17", "6.50"),
        ("2", "2", "620", "76.00"),
    ]
    assert {row["value_usd_from"] for row in rows} == {"as paid"}
    assert {(row["form"], row["category"], row["currency"]) for row in rows} == {("CN22", "sale of goods", "USD")}
