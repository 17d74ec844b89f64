"""The demo batch shows the common case, and every finding of it."""

import csv
import unicodedata
from collections import Counter
from decimal import Decimal

import pytest

from desk.app.demo import run_demo
from desk.domain.finding import Code, Severity
from tests.conftest import ROOT

# Findings about what the demo does not have: learned weights, buyers who paid in other money, what a shop has not sorted,
# orders edited at the bench, gifts that were paid for, and export filing numbers that are typed wrong.
NOT_IN_THE_DEMO = {
    "heavier-than-contents",
    "swapped-with",
    "paid-not-counted",
    "own-list-damaged",
    "column-not-taken",
    "column-ignored",
    "column-two-ways",
    "orders-shipped",
    "cell-not-read",
    "order-two-values",
    "line-doubtful",
    "line-negative",
    "line-returned",
    "line-zero",
    "line-total-differs",
    "total-differs",
    "row-too-wide",
    "text-too-long",
    "status-unsorted",
    "stamps-overpaid",
    "choice-unsorted",
    "value-not-compared",
    "list-ends",
    "kind-overruled",
    "hazard-surface-only",
    "hazard-not-marked",
    "media-doubtful",
    "restricted-goods",
    "weighed-after-paid",
    "buyer-id-missing",
    "cover-short",
    "hazard-abroad",
    "latin-line-missing",
    "mailer-guessed",
    "edited-by-hand",
    "extra-not-sold",
    "goods-missing",
    "destination-checked",
    "addresses-split",
    "items-split",
    "lines-side-by-side",
    "firm-sheet-short",
    "gift-was-paid",
    "itn-malformed",
    "reason-missing",
}


def read(path):
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def bought():
    return read(ROOT / "resources" / "demo" / "orders.csv")


@pytest.fixture(scope="module")
def pieces(demo_out):
    return read(demo_out / "pieces.csv")


@pytest.fixture(scope="module")
def letters(pieces):
    return [row for row in pieces if row["service"] == "letter-stamped"]


@pytest.mark.parametrize(
    "code", sorted({code for code in Code if code.severity is not Severity.FINE} - NOT_IN_THE_DEMO)
)
def test_every_common_finding_occurs_in_the_demo(demo_out, code):
    assert code in {row["code"] for row in read(demo_out / "findings.csv")}


def test_the_demo_has_sixty_orders_and_one_is_canceled(bought, pieces):
    orders = {row["order"]: row for row in reversed(bought) if row["order"]}
    assert len(orders) == 60
    assert [number for number, row in orders.items() if row["status"] == "canceled"] == ["1071"]
    assert set(orders) - {row["order"] for row in pieces} == {"1071"}


def test_the_demo_has_fourteen_letters_and_three_square_cards(letters):
    square = [row for row in letters if row["mailer"] == "Square envelope"]
    plain = [row for row in letters if row not in square]
    assert (len(plain), len(square)) == (14, 3)
    assert {row["machinable"] for row in square} == {"no"}
    assert sum(Decimal(row["gross_oz"]) > 1 for row in plain) == 5
    assert [row["order"] for row in plain if "too-close-to-call" in row["findings"]] == ["1049"]


def test_the_demo_has_twelve_orders_to_nine_countries_with_goods_in_one_letter(pieces):
    abroad = {row["order"]: row for row in pieces if row["destination"] != "US"}
    assert (len(abroad), len({row["destination"] for row in abroad.values()})) == (12, 9)
    assert [number for number, row in abroad.items() if "goods-in-letter-abroad" in row["findings"]] == ["1091"]


def test_the_demo_has_orders_of_many_lines_in_several_packages_and_of_one_buyer(bought, pieces):
    lines = Counter()
    number = ""
    for row in bought:
        number = row["order"] or number
        lines[number] += 1
    assert max(lines.values()) == 8
    assert sorted(row["order"] for row in pieces if row["piece"] == "2") == ["1066", "1090"]
    buyers = Counter(row["recipient"] for row in bought if row["recipient"])
    assert [name for name, count in buyers.items() if count == 2] == ["Marcus Oyelaran"]


def test_the_demo_has_names_in_many_scripts(bought):
    signs = {sign for row in bought for sign in row["recipient"]}
    scripts = {unicodedata.name(sign).split()[0] for sign in signs if sign.isalpha()}
    assert {"LATIN", "CJK", "ARABIC", "CUNEIFORM"} <= scripts


def test_the_demo_has_requests_for_a_stamp(pieces):
    findings_of = {row["order"]: row["findings"] for row in pieces}
    assert "stamps-requested" in findings_of["1047"]
    assert "stamps-requested" not in findings_of["1048"]
    assert "stamp-not-possible" in findings_of["1062"]


def test_the_pieces_have_every_status_a_run_can_give(pieces):
    assert set(Counter(row["stands"] for row in pieces)) == {"to weigh", "needs a look", "ready"}


def test_margins_follow_from_the_other_columns(pieces):
    with_margin = [row for row in pieces if row["margin"]]
    assert len(with_margin) > 40
    for row in with_margin:
        paid, *spent = (Decimal(row[name] or 0) for name in ("charged", "refund", "postage", "overpaid", "materials"))
        assert Decimal(row["margin"]) == paid - sum(spent)


def test_the_demo_says_where_its_papers_are(tmp_path, capsys):
    assert run_demo(tmp_path / "demo") == 0
    assert str(tmp_path / "demo" / "labels.pdf") in capsys.readouterr().out
