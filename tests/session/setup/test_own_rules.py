"""A shop's own rules: its price lists and its zone chart, in force from one step to the next."""

from datetime import date

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.domain.money import Money
from desk.session.importing.import_orders import import_shop
from desk.session.setup.own_rules import (
    FOLDER,
    OwnZones,
    drop_zones,
    load_zones,
    own_zones,
    read_zones,
    shelf_in,
    use_own,
    with_own,
)
from desk.session.setup.price_lists import edit_cell, keep_lists, set_dates
from desk.session.undo import redo, undo
from tests.conftest import ROOT
from tests.session.made import ON, shop

NEAR = OwnZones("", "2026-10-01", {"977": 3, "500": 4})


@pytest.fixture
def shelf(tmp_path):
    return shelf_in(tmp_path / "shop", ROOT / "resources")


def first_ounce(sitting):
    return sitting.rulebook.charts.in_force("letter-stamped", ON).rows[""][0].price


def higher(sitting, shelf, cents):
    charts = sitting.rulebook.charts
    lists = charts.of_chart(charts.in_force("letter-stamped", ON).chart)
    return keep_lists(sitting, shelf, edit_cell(lists, "letter-stamped", "", "1", Money(cents)), "Mend a price")


def test_own_price_lists_are_next_to_the_store(shelf, tmp_path):
    assert shelf.own == tmp_path / "shop" / FOLDER
    assert (shelf.shipped / "us-2026-07-12").is_dir()


def test_a_store_without_own_rules_uses_the_shipped_ones(sitting, shelf):
    rules, faults = with_own(sitting.rulebook, sitting.store, shelf)
    assert faults == ()
    assert rules.charts is sitting.rulebook.charts
    assert rules.zones.find("55802", "97701") == sitting.rulebook.zones.find("55802", "97701")


def test_own_price_lists_and_zones_apply_at_once_and_undo_reverts_them(sitting, shelf):
    import_shop(sitting, shop())
    assert use_own(sitting, shelf) == ()
    higher(sitting, shelf, 83)
    load_zones(sitting, NEAR, "zones.csv")
    assert (first_ounce(sitting), sitting.rulebook.zones.find("55802", "97701").zone) == (Money(83), "3")
    undo(sitting)
    assert (first_ounce(sitting), sitting.rulebook.zones.find("55802", "97701").zone) == (Money(83), "6")
    undo(sitting)
    assert first_ounce(sitting) == Money(82)
    redo(sitting)
    assert first_ounce(sitting) == Money(83)


def test_rules_are_read_again_only_when_they_were_set(sitting, shelf):
    import_shop(sitting, shop())
    use_own(sitting, shelf)
    before = sitting.rulebook
    with sitting.store.act("Something else"):
        pass
    import_shop(sitting, shop(stamps=()))
    assert sitting.rulebook is before


def test_the_next_sitting_uses_the_same_rules(sitting, shelf, rulebook):
    import_shop(sitting, shop())
    higher(sitting, shelf, 84)
    load_zones(sitting, NEAR, "zones.csv")
    rules, faults = with_own(rulebook, sitting.store, shelf)
    assert faults == ()
    assert rules.charts.in_force("letter-stamped", ON).rows[""][0].price == Money(84)
    answer = rules.zones.find("55802", "97701")
    assert (answer.zone, answer.edition, answer.findings) == ("3", "2026-10-01", ())


def test_a_missing_price_list_is_reported_and_left_out(sitting, shelf):
    shipped = sitting.rulebook
    name = higher(sitting, shelf, 84)
    sitting.rulebook = shipped
    (shelf.own / name).rename(shelf.own / "elsewhere")
    (fault,) = use_own(sitting, shelf)
    assert fault.file == name
    assert first_ounce(sitting) == Money(82)


def test_a_zone_chart_must_be_for_the_senders_prefix(sitting):
    import_shop(sitting, shop())
    load_zones(sitting, NEAR, "zones.csv")
    assert own_zones(sitting) == OwnZones("558", "2026-10-01", {"977": 3, "500": 4})
    drop_zones(sitting)
    assert own_zones(sitting) == OwnZones()


def test_a_sender_without_a_zip_code_cannot_load_a_zone_chart(sitting):
    with pytest.raises(Refused, match="Setup > Sender"):
        load_zones(sitting, NEAR, "zones.csv")
    assert own_zones(sitting).rows == {}


def test_a_zone_chart_is_read_from_a_file(tmp_path):
    file = tmp_path / "zones.csv"
    file.write_text("prefix,zone,edition\n100-101,4,2026-10-01\n", encoding="utf-8")
    assert read_zones(file) == OwnZones("", "2026-10-01", {"100": 4, "101": 4})
    file.write_text("prefix,zone\n100,12\n", encoding="utf-8")
    with pytest.raises(Unreadable, match="line 2"):
        read_zones(file)


def test_a_price_list_applies_from_its_first_day(sitting, shelf):
    use_own(sitting, shelf)
    lists = sitting.rulebook.charts.of_chart("us-2026-07-12")
    keep_lists(sitting, shelf, set_dates(lists, date(2026, 9, 1), None), "Other days")
    assert sitting.rulebook.charts.in_force("letter-stamped", ON).effective == date(2026, 7, 12)
    assert sitting.rulebook.charts.in_force("letter-stamped", date(2026, 9, 1)).effective == date(2026, 9, 1)
