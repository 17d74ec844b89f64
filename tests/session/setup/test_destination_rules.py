"""Destination lists a shop renews, and countries it checked with the post."""

from datetime import date

import pytest

from desk.domain.faults import Refused, Unreadable
from desk.domain.orders.piece import PieceKey
from desk.session.bench.answers import answer_looks
from desk.session.bench.weigh import weigh
from desk.session.importing.import_orders import import_orders, import_shop
from desk.session.setup.destination_rules import (
    check_country,
    drop_destinations,
    keep_destinations,
    list_days,
    read_destinations,
    suspended_rows,
)
from desk.session.setup.own_rules import shelf_in, use_own
from desk.session.undo import undo
from tests.conftest import ROOT
from tests.session.made import FRANCE, ON, following_pile, order, shop, weighing

RUSSIA = FRANCE.__class__("Vera Lin", "", "Ulitsa 1", "", "Moscow", "", "125009", "RU")
HEAD = "country,rule,value,valid_from,valid_until,source\n"


def import_destinations(sitting, path):
    return keep_destinations(sitting, read_destinations(path, sitting.rulebook.countries), path.name)


@pytest.fixture
def settled(sitting, tmp_path):
    use_own(sitting, shelf_in(tmp_path / "shop", ROOT / "resources"))
    import_shop(sitting, shop())
    return sitting


@pytest.fixture
def pile(settled):
    import_orders(settled, [order("1", address=RUSSIA), order("2", address=RUSSIA), order("3", address=FRANCE)])
    weigh(settled, [(PieceKey(number), weighing("5", "Padded")) for number in "123"])
    return following_pile(settled)


def codes(pile, number):
    verdict = pile.verdicts[pile.find(number)]
    return [str(found.code) for found in verdict.findings], verdict.offer is not None


def test_one_answer_lifts_a_suspension_for_every_piece_to_that_country(pile):
    assert codes(pile, "1")[1] is codes(pile, "2")[1] is False
    answer_looks(pile.sitting, pile.find("1"), ["destination-suspended"], number="1")
    for number in "12":
        found, has_service = codes(pile, number)
        assert "destination-checked" in found
        assert "destination-suspended" not in found
        assert has_service is True
    undo(pile.sitting)
    assert "destination-suspended" in codes(pile, "2")[0]


def test_a_country_can_be_checked_in_setup(pile):
    check_country(pile.sitting, "RU")
    assert codes(pile, "1")[1] is True
    rows = suspended_rows(pile.sitting.rulebook.destinations, ON)
    assert {row.checked for row in rows} == {None, ON}
    assert [row.name for row in rows] == sorted(row.name for row in rows)


def test_a_country_without_a_suspension_cannot_be_checked(settled):
    with pytest.raises(Refused, match="No suspension of mail to France is known"):
        check_country(settled, "FR")


WHOLE = "*,list-of,suspended,2026-07-15,,the post's list of July 15\n"
FRENCH = "France,suspended,all,2026-07-14,,alert of July 14\n"


def test_an_imported_list_applies_at_once_with_its_own_date_and_can_be_undone(pile, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + WHOLE + FRENCH, encoding="utf-8")
    assert import_destinations(pile.sitting, file) == 1
    assert codes(pile, "1")[1] is True
    assert "destination-suspended" in codes(pile, "3")[0]
    assert dict(list_days(pile.sitting.rulebook.destinations))["suspended"] == date(2026, 7, 15)
    undo(pile.sitting)
    assert (codes(pile, "1")[1], codes(pile, "3")[1]) == (False, True)


def test_a_row_that_is_not_a_whole_list_leaves_other_countries_and_dates_alone(pile, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + FRENCH, encoding="utf-8")
    shipped = list_days(pile.sitting.rulebook.destinations)
    import_destinations(pile.sitting, file)
    assert codes(pile, "1")[1] is codes(pile, "3")[1] is False
    assert list_days(pile.sitting.rulebook.destinations) == shipped
    file.write_text(HEAD + "Russia,suspended,all,2026-03-03,2026-07-10,mail goes again\n", encoding="utf-8")
    import_destinations(pile.sitting, file)
    assert (codes(pile, "1")[1], codes(pile, "3")[1]) == (True, False)


def test_a_whole_list_replaces_the_rows_imported_before_it(pile, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + FRENCH, encoding="utf-8")
    import_destinations(pile.sitting, file)
    assert codes(pile, "3")[1] is False
    file.write_text(HEAD + WHOLE + FRENCH.replace("France", "Iceland"), encoding="utf-8")
    import_destinations(pile.sitting, file)
    assert codes(pile, "3")[1] is True


def test_every_alert_of_a_country_is_listed_newest_first(settled, tmp_path):
    file = tmp_path / "alerts.csv"
    older = "France,suspended,express only,2026-05-02,,alert of May 2\n"
    file.write_text(HEAD + older + FRENCH, encoding="utf-8")
    import_destinations(settled, file)
    rows = [row for row in suspended_rows(settled.rulebook.destinations, ON) if row.country == "FR"]
    assert [row.source for row in rows] == ["alert of July 14", "alert of May 2"]


def test_tax_numbers_and_duties_can_be_updated(settled, tmp_path):
    file = tmp_path / "duty.csv"
    file.write_text(
        HEAD + "Germany,duty-per-code,EUR 4|EUR 150,2026-07-01,,law of July\n"
        "Australia,seller-number,au_arn|AUD 900|consignment,,,tax office\n",
        encoding="utf-8",
    )
    import_destinations(settled, file)
    known = settled.rulebook.destinations
    assert known.rule("DE", "duty-per-code", ON).value == "EUR 4|EUR 150"
    assert known.rule("FR", "duty-per-code", ON).value == "EUR 3|EUR 150"
    assert known.rule("AU", "seller-number", ON).value == "au_arn|AUD 900|consignment"


def test_the_shipped_lists_can_be_restored_and_checks_stay(pile, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + "France,suspended,all,2026-07-14,,alert of July 14\n", encoding="utf-8")
    import_destinations(pile.sitting, file)
    check_country(pile.sitting, "FR")
    drop_destinations(pile.sitting)
    assert "destination-suspended" in codes(pile, "1")[0]
    assert pile.sitting.rulebook.destinations.checked == {"FR": ON}


def test_a_list_that_cannot_be_read_changes_nothing(settled, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + "Nowhere,suspended,all,2026-07-14,,s\n", encoding="utf-8")
    with pytest.raises(Unreadable, match=r"alerts\.csv: line 2, country"):
        import_destinations(settled, file)
    assert settled.rulebook.destinations.rule("RU", "suspended", ON) is not None


def test_a_sanction_stays_a_stop_whatever_is_checked(settled, tmp_path):
    file = tmp_path / "alerts.csv"
    file.write_text(HEAD + "Cuba,suspended,all,2026-07-01,,s\nJapan,barred,,,,s\n", encoding="utf-8")
    import_destinations(settled, file)
    check_country(settled, "CU")
    assert settled.rulebook.destinations.barred("CU").severity == "stop"
    assert settled.rulebook.destinations.barred("JP").severity == "stop"
