"""Order lists of other shops, headless: what is only near is suggested and never taken; what a mapping settles."""

from __future__ import annotations

import pytest

from tests.app.brought import ORDERS

NEAR = ORDERS.replace("order,recipient", "Ordr,Customer").replace(",country,item,", ",Cuntry,Title,")


def test_only_near_matches_end_with_2_and_the_suggestions(desk, capsys):
    desk.orders = NEAR
    assert desk.run() == 2
    file = desk.folder / "orders.csv"
    assert capsys.readouterr().err.splitlines() == [
        f'{file}: line 1, order: expected a column for order; perhaps order = "Ordr" (1, 2)',
        f'{file}: line 1, recipient: expected a column for recipient; perhaps recipient = "Customer" (Ada Vell, Cy Bell)',
        f'{file}: line 1, country: expected a column for country; perhaps country = "Cuntry" (US)',
        f'{file}: line 1, item: expected a column for item; perhaps item = "Title" (Card)',
    ]
    assert not desk.out.exists()


def test_the_suggestions_as_a_mapping_make_the_run_complete(desk):
    desk.orders = NEAR
    desk.files["map.toml"] = '[columns]\norder = "Ordr"\nrecipient = "Customer"\ncountry = "Cuntry"\nitem = "Title"\n'
    assert desk.run("--map", str(desk.folder / "map.toml")) == 0


def test_a_column_of_postal_codes_is_no_city(desk, capsys):
    desk.orders = ORDERS.replace("Bend,OR,97701", "97701,OR,Bend").replace("Ames,IA,50010", "50010,IA,Ames")
    assert desk.run() == 2
    assert "line 1, city: '97701, 50010' found, expected values that can be a city" in capsys.readouterr().err


@pytest.mark.parametrize(("said", "code"), [("", 2), ('[reading]\ndates = "day"\n', 0)])
def test_a_date_of_two_readings_is_settled_by_the_mapping(desk, capsys, said, code):
    desk.orders = ORDERS.replace("order,", "order,placed,").replace("\n1,", "\n1,03/04/2026,").replace("\n2,", "\n2,,")
    desk.files["map.toml"] = f"[columns]\n{said}"
    assert desk.run("--map", str(desk.folder / "map.toml")) == code
    told = "'03/04/2026' found, expected a date that reads one way: 2026-03-04 or 2026-04-03"
    assert (told in capsys.readouterr().err) is (code == 2)


def test_a_region_beside_a_state_is_asked_for(desk, capsys):
    desk.orders = (
        ORDERS.replace(",region,", ",State,Region,").replace(",OR,", ",OR,West,").replace(",IA,", ",IA,Middle,")
    )
    assert desk.run() == 2
    assert "'State' and 'Region' both mean it, a mapping says which" in capsys.readouterr().err
    desk.files["map.toml"] = '[columns]\nregion = "State"\n'
    assert desk.run("--map", str(desk.folder / "map.toml")) == 0
