import csv
import json
import os
from decimal import Decimal
from pathlib import Path

import pypdfium2
import pytest

from tests.app.headless import HEAD, ORDERS, SHOP, WEIGHTS

LEFT = {
    "pieces.csv", "findings.csv", "declarations.csv", "postage-list.csv", "left-out.csv", "firm-sheet.csv", "ledger.csv", "labels.pdf", "slips.pdf",
    "packing-slips.pdf", "keying-sheets.pdf", "hand-over.pdf", "summary.json", "store.sqlite",
}  # fmt: skip


def summary(folder):
    return json.loads((folder / "summary.json").read_text(encoding="utf-8"))


def tables(folder):
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.suffix == ".csv"}


def test_a_run_with_every_piece_ready_exits_with_0_and_writes_all_files(desk):
    assert desk.run() == 0
    assert {path.name for path in desk.out.iterdir() if path.suffix not in (".sqlite-wal", ".sqlite-shm")} == LEFT
    assert [row["stands"] for row in desk.table("pieces.csv")] == ["ready", "ready"]


def test_every_pdf_has_a_page(desk):
    desk.run()
    for name in ("labels", "slips", "keying-sheets", "hand-over"):
        assert len(pypdfium2.PdfDocument(desk.out / f"{name}.pdf")) >= 1


@pytest.mark.parametrize(
    ("orders", "weights", "code"),
    [
        (ORDERS, WEIGHTS.replace("1,0.7,oz,A7\n", ""), "no-weight"),
        (ORDERS, WEIGHTS + "77,1,oz,A7\n", "no-order"),
        (ORDERS.replace("1 Quill Row", ""), WEIGHTS, "address-incomplete"),
        (ORDERS, WEIGHTS + "1,1.4,oz,A7\n", "weighed-twice"),
        (ORDERS, WEIGHTS.replace("0.7,oz,A7", "0.7,oz,Sack"), "mailer-unknown"),
        (ORDERS.replace("US,Card,CD,1", "Atlantis,Card,CD,1"), WEIGHTS, "address-incomplete"),
    ],
)
def test_a_stop_or_an_issue_to_check_exits_with_1(desk, orders, weights, code):
    desk.orders, desk.weights = orders, weights
    assert desk.run() == 1
    assert code in {row["code"] for row in desk.table("findings.csv")}


def test_a_weight_without_an_order_has_no_row(desk):
    desk.weights += "77,1,oz,A7\n"
    desk.run()
    assert [row["order"] for row in desk.table("pieces.csv")] == ["1", "2"]


def test_pieces_are_in_the_order_of_the_weights_then_the_unweighed(desk):
    desk.orders += "3,Eve Lark,3 Quill Row,Bath,ME,04530,US,Card,CD,1,6.50,USD,5.00\n"
    desk.weights = "order,gross,unit,mailer,piece\n2,1.7,oz,A7,\n1,0.7,oz,A7,2\n1,0.7,oz,A7,1\n"
    desk.run()
    found = [(row["order"], row["piece"]) for row in desk.table("pieces.csv")]
    assert found == [("2", "1"), ("1", "2"), ("1", "1"), ("3", "1")]


def test_the_same_files_again_change_nothing_and_add_nothing(desk):
    desk.run()
    before = tables(desk.out)
    assert desk.run() == 0
    assert tables(desk.out) == before
    assert summary(desk.out)["changed"] == []
    assert summary(desk.out)["counts"]["pieces"] == 2


def test_two_results_folders_can_share_a_store(desk, tmp_path):
    words = ("--store", str(tmp_path / "kept.sqlite"))
    desk.run(*words)
    other = tmp_path / "other"
    assert desk.run(*words, out=other) == 0
    assert tables(other) == tables(desk.out)
    assert not (other / "store.sqlite").exists()
    assert summary(other)["changed"] == []


def test_a_changed_order_and_a_changed_weight_are_reported_once(desk):
    desk.run()
    desk.orders = ORDERS.replace("Ada Vell", "Ada Veil")
    desk.weights = WEIGHTS.replace("2,1.7", "2,2.7")
    assert desk.run() == 0
    assert summary(desk.out)["changed"] == [{"order": "1"}, {"order": "2", "piece": 1}]
    rows = desk.table("pieces.csv")
    assert [row["recipient"] for row in rows] == ["Ada Veil", "Cy Bell"]
    assert [row["gross_oz"] for row in rows] == ["0.700", "2.700"]
    desk.run()
    assert summary(desk.out)["changed"] == []


def test_the_same_two_weights_again_are_not_a_change(desk):
    desk.weights += "1,1.4,oz,A7\n"
    desk.run()
    assert desk.run() == 1
    assert summary(desk.out)["changed"] == []


def test_two_order_files_make_one_batch(desk):
    desk.files["more.csv"] = f"{HEAD}\n3,Eve Lark,3 Quill Row,Bath,ME,04530,US,Card,CD,1,6.50,USD,5.00\n"
    desk.weights += "3,0.9,oz,A7\n"
    assert desk.run("--orders", str(desk.folder / "more.csv")) == 0
    assert [row["order"] for row in desk.table("pieces.csv")] == ["1", "2", "3"]


def test_one_number_in_two_files_is_refused(desk, capsys):
    desk.files["more.csv"] = ORDERS
    assert desk.run("--orders", str(desk.folder / "more.csv")) == 2
    assert f"{desk.folder}/more.csv: order: '1' found, expected a number that is not in" in capsys.readouterr().err
    assert not desk.out.exists()


def test_a_mapping_wins_and_puts_a_prefix_before_numbers(desk):
    desk.orders = ORDERS.replace("order,recipient", "Ref,To whom")
    desk.weights = WEIGHTS.replace("\n1,", "\nB-1,").replace("\n2,", "\nB-2,")
    desk.files["map.toml"] = 'prefix = "B-"\n\n[columns]\norder = "Ref"\nrecipient = "To whom"\n'
    assert desk.run("--map", str(desk.folder / "map.toml")) == 0
    assert [row["order"] for row in desk.table("pieces.csv")] == ["B-1", "B-2"]


def test_without_its_mapping_the_columns_are_not_guessed(desk, capsys):
    desk.orders = ORDERS.replace("order,recipient", "Ref,To whom")
    assert desk.run() == 2
    assert "order" in capsys.readouterr().err


def test_a_zone_chart_given_to_the_run_is_used_first(desk):
    desk.weights = "order,gross,unit,length,width,thickness,size_unit\n1,12,oz,9,7,3,in\n2,12,oz,9,7,3,in\n"
    desk.run()
    zones = [row["zone"] for row in desk.table("pieces.csv")]
    other = "3" if zones[0] != "3" else "4"
    desk.files["zones.csv"] = f"prefix,zone,edition\n977,{other},2026-06-01\n"
    desk.run("--zones", str(desk.folder / "zones.csv"))
    row = desk.table("pieces.csv")[0]
    assert row["zone"] == other


def test_skipped_orders_are_counted(desk):
    desk.orders = ORDERS.replace(HEAD, f"{HEAD},status").replace(",5.00\n2", ",5.00,canceled\n2")
    desk.shop = SHOP.replace("[policy]", '[policy]\nskip_status = ["canceled"]')
    desk.weights = "order,gross,unit,mailer\n2,1.7,oz,A7\n"
    assert desk.run() == 0
    assert summary(desk.out)["counts"]["skipped"] == {"canceled": 1}
    assert [row["order"] for row in desk.table("pieces.csv")] == ["2"]


def test_the_counts_of_the_summary_add_up(desk):
    desk.run()
    reported, rows = summary(desk.out), desk.table("pieces.csv")
    assert reported["posting_date"] == "2026-07-15"
    for name in ("charged", "postage", "materials", "refund", "margin"):
        cents = sum(round(float(row[name]) * 100) for row in rows)
        assert reported["totals"][name] == f"{cents / 100:.2f}"
    assert [chart["chart"] for chart in reported["charts"]] == ["us-2026-07-12"]
    assert reported["counts"]["stands"]["ready"] == 2
    assert reported["pages"] == {
        "labels.pdf": 2, "slips.pdf": 2, "packing-slips.pdf": 2, "keying-sheets.pdf": 1, "hand-over.pdf": 1,
    }  # fmt: skip
    assert set(reported["times"]) == {"started", "finished", "seconds"}


def test_the_mailing_date_selects_the_price_list(desk):
    desk.run()
    new = desk.table("pieces.csv")[0]["postage"]
    desk.run("--date", "2026-03-02")
    assert [chart["chart"] for chart in summary(desk.out)["charts"]] == ["us-2025-10-05"]
    assert float(desk.table("pieces.csv")[0]["postage"]) < float(new)


def test_results_replace_older_ones_and_other_files_stay(desk):
    desk.out.mkdir()
    (desk.out / "pieces.csv").write_text("old")
    (desk.out / "notes.txt").write_text("mine")
    desk.run()
    assert desk.table("pieces.csv")[0]["order"] == "1"
    assert (desk.out / "notes.txt").read_text() == "mine"


def test_results_that_cannot_be_written_exit_with_74(desk, capsys):
    (desk.folder / "out").write_text("a file")
    assert desk.run() == 74
    assert "could not be written" in capsys.readouterr().err


def test_results_appear_together_or_not_at_all(desk, capsys, monkeypatch):
    desk.run()
    before = tables(desk.out)
    desk.weights = desk.weights.replace("0.7", "1.4")

    def full(out, *_rest):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("desk.domain.whole_file.os.fsync", full)
    assert desk.run() == 74
    assert "No space left on device" in capsys.readouterr().err
    assert tables(desk.out) == before
    assert not [path.name for path in desk.out.iterdir() if path.suffix == ".part"]


def test_a_bug_gives_a_sentence_and_a_report_without_names(desk, capsys, monkeypatch):
    def broken(*_words, **_named):
        raise RuntimeError("Ada Vell, 1 Quill Row")

    monkeypatch.setattr("desk.app.run.leave_results", broken)
    assert desk.run() == 70
    reported = capsys.readouterr().err
    assert reported.count("\n") == 1
    report = Path(reported.rsplit(" is in ", 1)[1].strip().removesuffix("."))
    assert "RuntimeError" in report.read_text(encoding="utf-8")
    assert "Quill" not in reported + report.read_text(encoding="utf-8")


def test_an_orders_file_inside_the_results_folder_is_refused(desk, capsys):
    desk.out.mkdir()
    inside = desk.out / "mine.csv"
    inside.write_text(ORDERS)
    assert desk.run("--orders", str(inside)) == 2
    assert f"{inside}: expected a file outside {desk.out}" in capsys.readouterr().err
    assert [path.name for path in desk.out.iterdir()] == ["mine.csv"]


def test_at_most_twenty_lines_of_faults_are_printed_with_similar_ones_counted_together(desk, capsys):
    desk.weights += "".join(f"9,{number},stone,A7\n" for number in range(1, 40))
    assert desk.run() == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert "(and 38 more, in lines" in line
    desk.weights = desk.weights.splitlines()[0] + "\n" + "".join(f"9,1,oz{n},A7\n" for n in range(60))
    assert desk.run() == 2
    assert len(capsys.readouterr().err.splitlines()) <= 20


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder_is_refused(desk, capsys):
    desk.folder.joinpath("out").mkdir(mode=0o500)
    assert desk.run() == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_a_file_that_is_not_a_store_is_refused(desk, capsys):
    kept = desk.folder / "kept.sqlite"
    kept.write_text("this is no store, and it is long enough to be looked at as one" * 20)
    assert desk.run("--store", str(kept)) == 2
    assert "Traceback" not in (reported := capsys.readouterr().err)
    assert reported.strip()


def test_an_invalid_date_is_refused(desk, capsys):
    with pytest.raises(SystemExit) as ended:
        desk.run("--date", "yesterday")
    assert ended.value.code == 2
    assert "found “yesterday”, expected a date as YYYY-MM-DD" in capsys.readouterr().err


def test_totals_are_the_sums_of_their_columns(demo_out):
    rows = list(csv.DictReader((demo_out / "pieces.csv").read_text(encoding="utf-8").splitlines()))
    reported = summary(demo_out)["totals"]
    for name in ("charged", "postage", "materials", "refund", "margin"):
        assert Decimal(reported[name]) == sum(Decimal(row[name]) for row in rows if row[name])


def test_the_last_line_counts_the_pieces_and_names_the_folder(desk, capsys):
    desk.run()
    assert capsys.readouterr().out == f"2 pieces: 2 ready. In {desk.out}; nothing to check.\n"
    desk.weights = WEIGHTS.replace("1,0.7,oz,A7\n", "1,0.7,oz,Sack\n")
    desk.run()
    printed = capsys.readouterr().out
    assert printed == f"2 pieces: 1 needs a check, 1 ready. In {desk.out}; see findings.csv there for what to check.\n"


def test_the_last_line_agrees_in_number(desk, capsys):
    desk.weights = "order,gross,unit,mailer\n1,0.7,oz,Sack\n2,1.7,oz,Sack\n"
    desk.run()
    assert capsys.readouterr().out.startswith("2 pieces: 2 need a check. In ")


def test_a_column_that_may_be_a_field_is_reported_but_not_read(desk):
    """What the buyer paid is nothing to be silent about: its column is named, and the run goes on."""
    desk.orders = ORDERS.replace("shipping_paid", "Shiping pd")
    assert desk.run() == 0
    (reported,) = [row for row in desk.table("findings.csv") if row["code"] == "column-not-taken"]
    assert (reported["severity"], reported["order"]) == ("note", "")
    assert reported["message"].startswith("orders.csv: column “Shiping pd” may be “shipping paid”")
    assert {row["charged"] for row in desk.table("pieces.csv")} == {"0.00"}


def test_a_mapping_decides_what_a_column_means(desk):
    desk.orders = ORDERS.replace("shipping_paid", "Shiping pd")
    (desk.folder / "map.toml").write_text('[columns]\nshipping_paid = "Shiping pd"\n')
    assert desk.run("--map", str(desk.folder / "map.toml")) == 0
    assert "column-not-taken" not in {row["code"] for row in desk.table("findings.csv")}
    assert {row["charged"] for row in desk.table("pieces.csv")} == {"5.00"}


def test_a_lack_of_stamps_is_reported_even_if_every_piece_is_ready(desk, capsys):
    desk.shop = SHOP.replace("count = 9", "count = 0")
    assert desk.run() == 1
    assert "2 ready" in (printed := capsys.readouterr().out)
    assert printed.endswith("see findings.csv there for what to check.\n")
