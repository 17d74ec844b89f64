"""A new price list: previewed, imported, corrected, undone; each fault is reported with its line and the old one stays."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.domain.money import Money
from desk.domain.orders.piece import PieceKey
from desk.session.bench.weigh import weigh
from desk.session.pile.pile import Pile
from desk.session.setup.price_list_preview import ListHead, preview_chart
from desk.session.setup.price_lists import (
    OWN_LISTS,
    OwnLists,
    PriceListFolders,
    compared,
    edit_cell,
    import_price_list,
    keep_lists,
    refresh_charts,
    set_dates,
)
from desk.session.undo import redo, undo
from desk.store.tables import settings
from tests.conftest import ROOT
from tests.intake.tables import ods, xlsx
from tests.rates.tiny import LETTER
from tests.session.made import ON, order, stock, weighing

HEAD = ListHead(date(2026, 7, 13), date(2027, 1, 16), "a list of tomorrow (invented)")
LETTERS = "service,weight_max,key,price\nletter-stamped,1,,0.90\nletter-stamped,2,,1.20\nletter-stamped,3,,1.50\nletter-stamped,3.5,,1.80\n"


@pytest.fixture
def shelf(tmp_path):
    return PriceListFolders(ROOT / "resources" / "charts", tmp_path / "own")


@pytest.fixture
def look(tmp_path, rulebook):
    """Preview a text as a sheet of prices."""

    def one(text, head=HEAD, name="new.csv"):
        (tmp_path / name).write_text(text, encoding="utf-8")
        return preview_chart(tmp_path / name, head, rulebook.charts)

    return one


@pytest.fixture
def pile(sitting, shelf):
    """One stamped letter; prices are read again before the pile reads them, after undo too."""
    stock(sitting, [order("1")])
    weigh(sitting, [(PieceKey("1"), weighing("0.7"))])
    found = Pile(sitting)
    sitting.listeners += [lambda changes: changes.settings and refresh_charts(sitting, shelf), found.follow]
    return found


def postage(pile):
    (verdict,) = pile.verdicts.values()
    return verdict.money.postage.text()


def test_the_preview_compares_cell_by_cell(look):
    preview = look(LETTERS)
    assert preview.faults == ()
    assert [(c.key, c.weight, c.before.text(), c.after.text(), c.ratio) for c in preview.changes] == [
        ("", "1", "0.82", "0.90", Decimal("1.0976")),
        ("", "2", "1.11", "1.20", Decimal("1.0811")),
        ("", "3", "1.40", "1.50", Decimal("1.0714")),
        ("", "3.5", "1.69", "1.80", Decimal("1.0651")),
    ]
    (letter,) = preview.lists
    assert (letter.until, letter.source, letter.surcharge("nonmachinable").amount) == (
        date(2027, 1, 16),
        "a list of tomorrow (invented)",
        Money(49),
    )


def test_missing_and_new_cells_and_falls_are_reported(look):
    text = "service,weight_max,key,price\n" + "".join(
        f"flat,{ounce},,{price}\n" for ounce, price in ((1, "1.69"), (2, "1.60"), (3.5, "2.30"))
    )
    preview = look(text)
    assert [change.weight for change in preview.fresh] == ["3.5"]
    assert [change.weight for change in preview.missing] == [str(ounce) for ounce in range(3, 14)]
    assert [(change.weight, change.falls) for change in preview.falls] == [("2", "weight")]
    assert all(change.ratio is None for change in (*preview.fresh, *preview.missing))


def wide(far="8.90"):
    zones = ",".join(f"Zone {zone}" for zone in range(1, 10))
    rows = [f"{weight}," + ",".join([f"8.{tens}0" for tens in range(1, 9)] + [far]) for weight in (4, 8)]
    return f"Not over,{zones}\n" + "\n".join(rows) + "\n"


def test_a_sheet_with_a_column_for_each_zone(look):
    preview = look(wide(), replace(HEAD, service="ground-retail"))
    (ground,) = preview.lists
    assert (ground.rows["3"][1].price.text(), ground.rows["9"][0].max_label) == ("8.30", "4")
    assert preview.falls == ()
    assert len(preview.missing) == 666 - 18


def test_a_price_that_falls_from_one_zone_to_the_next_is_reported(look):
    preview = look(wide("8.05"), replace(HEAD, service="ground-retail"))
    assert {(change.key, change.falls) for change in preview.falls} == {("9", "zone")}


def test_the_same_list_again_changes_nothing(rulebook):
    lists = rulebook.charts.of_chart("us-2026-07-12")
    assert compared("again", lists, rulebook.charts).changes == ()


def _number(cell):
    return float(cell) if cell[:1].isdigit() else cell


@pytest.mark.parametrize("write", [xlsx, ods])
def test_workbooks_are_read_like_text(tmp_path, rulebook, write):
    path = tmp_path / f"new.{write.__name__}"
    rows = [line.split(",") for line in LETTERS.splitlines()]
    path.write_bytes(write([[_number(cell) for cell in row] for row in rows] if write is xlsx else rows))
    preview = preview_chart(path, HEAD, rulebook.charts)
    assert preview.faults == ()
    assert [row.price.text() for row in preview.lists[0].rows[""]] == ["0.90", "1.20", "1.50", "1.80"]


def wide_without_a_zone():
    return "service,weight_max,key,price\nground-retail,4,1,8.00\nground-retail,4,,8.10\n"


FAULTS = [
    (LETTERS.replace("1.20", '"1,20"'), "new.csv: line 3, price: '1,20' found, expected an amount of USD"),
    (LETTERS.replace("1.20", "-1.20"), "new.csv: line 3, price: '-1.20' found, expected an amount of USD"),
    (LETTERS.replace("1.20", "free"), "new.csv: line 3, price: 'free' found, expected an amount of USD"),
    (LETTERS.replace("1.20", "1.205"), "new.csv: line 3, price: '1.205' found, expected an amount of USD"),
    (LETTERS.replace("1.20", ""), "new.csv: line 3, price: expected an amount of USD"),
    (LETTERS.replace(",2,,", ",-2,,"), "new.csv: line 3, weight_max: '-2' found, expected a weight in oz above zero"),
    (LETTERS.replace(",2,,", ",two,,"), "new.csv: line 3, weight_max: 'two' found, expected a weight in oz above zero"),
    (LETTERS.replace(",2,,", ",1,,"), "new.csv: line 3, weight_max: '1' found, expected a weight above 1"),
    (LETTERS.replace(",2,,", ",0.5,,"), "new.csv: line 3, weight_max: '0.5' found, expected a weight above 1"),
    (LETTERS.replace(",2,,", ",2,5,"), "new.csv: line 3, key: '5' found, expected no key for letter-stamped"),
    (wide_without_a_zone(), "new.csv: line 3, key: expected a zone for ground-retail"),
    (LETTERS.replace("letter-stamped,2", "pigeon,2"), "new.csv: line 3, service: 'pigeon' found, expected a service"),
    ("service,weight_max,key,price\nground-retail,4,1,8.00\nground-retail,4,2,8.10\nground-retail,8,1,8.50\n",
     "new.csv: line 3, weight_max: expected a row up to 8 for key 2"),
    ("service,price\nflat,1.00\n", "new.csv: line 1: 'service,price' found, expected a column weight_max"),
    ("weight_max,price\n1,1.00\n", "new.csv: line 1: 'weight_max,price' found, expected a column service"),
    ("service,weight_max,key,price\nintl-package,8,1,20.00\n",
     "new.csv: key: expected prices of intl-package for group 10"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "announced"), FAULTS)
def test_each_fault_has_a_sentence_with_its_line(look, text, announced):
    faults = [str(fault) for fault in look(text).faults]
    assert faults[0].startswith(announced), faults
    assert len(faults) == (20 - 1 if "intl" in text else 1)


def test_a_file_that_is_no_table_is_reported(look):
    assert [fault.file for fault in look("").faults] != []


def test_the_list_in_force_stays_on_any_fault(pile, sitting, shelf, look):
    before = sitting.rulebook
    with pytest.raises(Unreadable, match="line 3"):
        import_price_list(sitting, shelf, look(LETTERS.replace("1.20", "-1")))
    assert sitting.rulebook is before
    assert not shelf.own.exists()
    assert postage(pile) == "0.82"


def test_importing_is_one_step_and_undo_restores_the_old_list(pile, sitting, shelf, look):
    name = import_price_list(sitting, shelf, look(LETTERS))
    assert (name, postage(pile)) == ("own-2026-07-13-1", "0.90")
    assert pile.verdicts[next(iter(pile.verdicts))].offer.chart.until == date(2027, 1, 16)
    assert undo(sitting) == "Price list imported: new.csv"
    assert postage(pile) == "0.82"
    assert redo(sitting) == "Price list imported: new.csv"
    assert postage(pile) == "0.90"
    assert sitting.rulebook.charts.in_force("letter-stamped", date(2026, 7, 12)).rows[""][0].price == Money(82)


def test_a_price_list_is_never_overwritten(pile, sitting, shelf, look):
    names = [import_price_list(sitting, shelf, look(text)) for text in (LETTERS, LETTERS.replace("0.90", "0.95"))]
    assert names == ["own-2026-07-13-1", "own-2026-07-13-2"]
    assert postage(pile) == "0.95"
    assert "0.90" in (shelf.own / names[0] / "cells.csv").read_text()
    assert sorted(entry.name for entry in shelf.own.iterdir()) == names


def test_one_price_is_changed(pile, sitting, shelf):
    lists = sitting.rulebook.charts.of_chart("us-2026-07-12")
    mended = edit_cell(lists, "letter-stamped", "", "1", Money(83))
    assert [(c.service, c.weight, c.after) for c in compared("", mended, sitting.rulebook.charts).changes] == [
        ("letter-stamped", "1", Money(83))
    ]
    first = keep_lists(sitting, shelf, mended, "Mend a price")
    assert postage(pile) == "0.83"
    again = edit_cell(sitting.rulebook.charts.of_chart(first), "letter-stamped", "", "1", Money(84))
    second = keep_lists(sitting, shelf, again, "Mend a price")
    assert postage(pile) == "0.84"
    with sitting.store.reading() as conn:
        assert settings.read(conn, OWN_LISTS, OwnLists()).names == (second,)


def test_the_oversized_price_can_be_edited(rulebook):
    lists = rulebook.charts.of_chart("us-2025-10-05")
    mended = edit_cell(lists, "ground-retail", "8", "oversized", Money(30000))
    change, beside = compared("", mended, rulebook.charts).changes
    assert (change.weight, change.before, change.after) == ("oversized", Money(26300), Money(30000))
    assert (beside.key, beside.before == beside.after, beside.falls) == ("9", True, "zone")


@pytest.mark.parametrize(
    ("key", "weight", "price"), [("", "7", Money(1)), ("5", "1", Money(1)), ("", "1", Money(1, "EUR"))]
)
def test_an_unknown_cell_or_another_currency_is_refused(rulebook, key, weight, price):
    with pytest.raises(Refused):
        edit_cell(rulebook.charts.of_chart("us-2026-07-12"), "letter-stamped", key, weight, price)


def test_first_and_last_day_are_set(pile, sitting, shelf):
    lists = sitting.rulebook.charts.of_chart("us-2026-07-12")
    keep_lists(sitting, shelf, set_dates(lists, date(2026, 7, 12), date(2026, 7, 14)), "Set the days of a list")
    chart = sitting.rulebook.charts.in_force("letter-stamped", ON)
    assert (chart.until, chart.is_past(ON)) == (date(2026, 7, 14), True)
    assert next(one.found.code for one in pile.batch().shared) == "chart-out-of-date"
    with pytest.raises(Refused, match="come before the first"):
        set_dates(lists, date(2026, 7, 12), date(2026, 7, 11))


def test_a_damaged_own_price_list_is_left_out_and_reported(pile, sitting, shelf, look):
    name = import_price_list(sitting, shelf, look(LETTERS))
    (shelf.own / name / "cells.csv").write_text(LETTERS.replace("0.90", "0,90"), encoding="utf-8")
    (fault, *_) = refresh_charts(sitting, shelf)
    assert (fault.file, fault.line, fault.column) == (f"{name}/cells.csv", 2, "")
    pile.read_all()
    assert postage(pile) == "0.82"


def test_an_own_price_list_that_was_deleted_is_reported(pile, sitting, shelf, look):
    name = import_price_list(sitting, shelf, look(LETTERS))
    (shelf.own / name).rename(shelf.own / "elsewhere")
    (fault,) = refresh_charts(sitting, shelf)
    assert str(fault).startswith(f"{name}: expected a folder of that name")


@pytest.mark.parametrize(("until", "may_be"), [(date(2026, 10, 3), False), (date(2026, 10, 4), True), (None, True)])
def test_a_list_must_be_valid_for_at_least_one_day(until, may_be):
    if may_be:
        (dated,) = set_dates((LETTER,), date(2026, 10, 4), until)
        assert (dated.effective, dated.until) == (date(2026, 10, 4), until)
    else:
        with pytest.raises(Refused, match="can't come before"):
            set_dates((LETTER,), date(2026, 10, 4), until)
