"""The results of a run: every file complete, sums as worked out by hand, and each change reported once."""

import csv
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.domain.status import PieceStatus
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.importing.run_inputs import RunInputs
from desk.session.papers.run_results import Left, leave_results
from desk.session.pile.bulk_changes import set_beside
from desk.session.pile.stored_cases import read_stored
from desk.session.sitting import Sitting
from desk.session.unreported import report_later, unreported
from tests.conftest import StillClock
from tests.session import made

ONE, TWO = PieceKey("1"), PieceKey("2")
STARTED = datetime(2026, 7, 15, 11, 59, 58, 500000, tzinfo=UTC)


pytestmark = pytest.mark.stocked([made.order("1"), made.order("2")])


@pytest.fixture
def leaves(full: Sitting, resources: Path, tmp_path: Path):
    """Weigh the pieces as (key, ounces) and leave the results; what was left, and the summary."""

    def one(*rows: tuple[PieceKey, str], **skipped: int) -> tuple[Left, dict[str, Any]]:
        weights = tuple((key, made.weighing(value)) for key, value in rows)
        inputs = RunInputs(full.rulebook, made.shop(), (), weights, skipped)
        weighed = weigh(full, weights)
        left = leave_results(full, tmp_path, resources, inputs, weighed, STARTED)
        return left, json.loads((tmp_path / "summary.json").read_text(encoding="utf-8"))

    return one


def table(folder: Path, name: str) -> list[dict[str, str]]:
    with (folder / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_the_summary_of_two_letters_adds_up(leaves) -> None:
    left, summary = leaves((TWO, "0.7"), (ONE, "1.5"), canceled=3)
    assert left.all_ready
    # 0.82 + 1.11 by the list of 2026-07-12; materials 2 x (0.12 + 0.04 + 0.03); 10.00 - 1.93 - 0.38
    assert summary["totals"] == {
        "currency": "USD",
        "charged": "10.00",
        "postage": "1.93",
        "materials": "0.38",
        "refund": "0.00",
        "overpaid": "0.00",
        "margin": "7.69",
        "by_status": {
            "ready": {
                "charged": "10.00",
                "postage": "1.93",
                "materials": "0.38",
                "refund": "0.00",
                "overpaid": "0.00",
                "margin": "7.69",
            }
        },
    }
    assert (summary["posting_date"], summary["changed"]) == ("2026-07-15", [])
    counts = summary["counts"]
    assert (counts["orders"], counts["pieces"], counts["stands"]["ready"]) == (2, 2, 2)
    assert counts["findings"] == {"stop": 0, "look": 0, "note": 2}  # over one ounce, and untracked, once for both
    assert counts["skipped"] == {"canceled": 3}
    assert [chart["chart"] for chart in summary["charts"]] == ["us-2026-07-12"]
    assert summary["charts"][0]["effective"] == "2026-07-12"
    assert summary["times"] == {
        "started": "2026-07-15T11:59:58+00:00",
        "finished": "2026-07-15T12:00:00+00:00",
        "seconds": 1.5,
    }


def test_totals_separate_ready_pieces_from_held_ones(leaves, full: Sitting) -> None:
    import_orders(full, [made.order("2", status="unpaid")])
    sums = leaves((ONE, "0.7"), (TWO, "1.5"))[1]["totals"]
    assert (sums["postage"], sums["charged"]) == ("1.93", "10.00")
    assert {status: each["postage"] for status, each in sums["by_status"].items()} == {
        "needs a look": "1.11",
        "ready": "0.82",
    }


def test_tables_are_in_the_order_of_the_weights_file(leaves, tmp_path: Path) -> None:
    leaves((TWO, "0.7"), (ONE, "1.5"))
    assert [row["order"] for row in table(tmp_path, "pieces.csv")] == ["2", "1"]
    announced = [(row["order"], row["code"]) for row in table(tmp_path, "findings.csv")]
    assert sorted(announced) == [("", "untracked"), ("1", "over-one-ounce")]
    assert not list(tmp_path.glob(".*.part"))
    assert all((tmp_path / f"{name}.pdf").read_bytes()[:5] == b"%PDF-" for name in ("labels", "slips", "hand-over"))


def test_an_unweighed_piece_is_charged_and_has_no_margin(leaves) -> None:
    left, summary = leaves((ONE, "0.7"))
    assert not left.all_ready
    assert (summary["totals"]["charged"], summary["totals"]["margin"]) == ("10.00", "3.99")  # 5.00 - 0.82 - 0.19
    assert (summary["counts"]["stands"]["to weigh"], summary["counts"]["findings"]["look"]) == (1, 1)


def test_a_weight_of_an_order_skipped_for_its_status_is_reported_as_such(
    full: Sitting, resources: Path, tmp_path: Path
) -> None:
    weights = ((PieceKey("9"), made.weighing("0.7")),)
    read = RunInputs(full.rulebook, made.shop(), (), weights, left_out=(("9", "Canceled"),))
    leave_results(full, tmp_path, resources, read, weigh(full, weights), STARTED)
    (row,) = [row for row in table(tmp_path, "findings.csv") if row["code"] == "no-order"]
    assert row["message"] == "There is a weight for 9, but its order is marked “Canceled” and was left out."


def test_a_weight_without_an_order_is_reported_and_needs_a_check(leaves, tmp_path: Path) -> None:
    left, summary = leaves((ONE, "0.7"), (TWO, "0.7"), (PieceKey("9", 2), "0.7"))
    assert not left.all_ready
    assert (summary["counts"]["pieces"], summary["counts"]["findings"]["look"]) == (2, 1)
    announced = [(row["order"], row["piece"]) for row in table(tmp_path, "findings.csv") if row["code"] == "no-order"]
    assert announced == [("9", "2")]


def test_an_open_issue_blocks_and_an_answered_one_does_not(leaves, full: Sitting) -> None:
    import_shop(full, made.shop(policy=made.policy(close_call_from=Money(0))))
    assert not leaves((ONE, "1.0"), (TWO, "0.7"))[0].all_ready
    answer_looks(full, read_stored(full)[0].id, ["too-close-to-call"], number="1-1")
    assert leaves((ONE, "1.0"), (TWO, "0.7"))[0].all_ready


def test_a_piece_set_aside_does_not_need_a_check(leaves, full: Sitting) -> None:
    set_beside(full, [read_stored(full)[1].id], PieceStatus.SET_ASIDE)
    left, summary = leaves((ONE, "0.7"))
    assert left.all_ready
    assert summary["counts"]["stands"]["set aside"] == 1


def test_each_change_is_reported_once(leaves, full: Sitting) -> None:
    with full.store.act("Change") as tx:
        report_later(tx, ["1"], [TWO])
    assert leaves((ONE, "0.7"))[1]["changed"] == [{"order": "1"}, {"order": "2", "piece": 1}]
    assert unreported(full) == []
    assert leaves((ONE, "0.7"))[1]["changed"] == []


def test_every_document_has_its_number_of_pages(leaves) -> None:
    pages = leaves((ONE, "0.7"), (TWO, "0.7"))[1]["pages"]
    assert set(pages) == {"labels.pdf", "slips.pdf", "packing-slips.pdf", "keying-sheets.pdf", "hand-over.pdf"}
    assert (pages["labels.pdf"], pages["hand-over.pdf"]) == (2, 1)


def test_the_duration_is_measured_by_the_given_clock(leaves, clock: StillClock) -> None:
    clock.forward(60)
    assert leaves((ONE, "0.7"))[1]["times"]["seconds"] == 61.5
