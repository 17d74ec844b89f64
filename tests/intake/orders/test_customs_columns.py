"""Customs fields of an order list: category, value, filing number, and the numbers of buyer and marketplace."""

from desk.domain.money import Money
from desk.domain.orders.customs_details import Category, CustomsDetails
from desk.domain.places.country import Countries
from desk.intake.orders.order_list import OrderRules, read_orders
from tests.conftest import ROOT

HEAD = "order,recipient,address1,city,postal_code,country,item,quantity,unit_price,"


def test_customs_fields_of_a_file_are_kept_with_the_order(tmp_path):
    file = tmp_path / "orders.csv"
    file.write_text(
        HEAD + "Customs category,customs_value,itn,buyer_tax_id,ioss\n"
        "1,Ada Vell,Rua 1,Recife,50010-000,BR,Card,1,0.00,Gift,12.50,X20260308366903,390.533.447-05,IM2760000000\n",
        encoding="utf-8",
    )
    countries = Countries.read(ROOT / "resources" / "destinations" / "countries.csv")
    (order,) = read_orders(file, OrderRules(countries=countries, currency="USD")).orders
    assert order.customs == CustomsDetails(
        category=Category.GIFT,
        value=Money(12_50),
        itn="X20260308366903",
        buyer_tax_id="390.533.447-05",
        ioss="IM2760000000",
    )


def test_a_column_of_shop_categories_is_not_the_customs_category(tmp_path):
    file = tmp_path / "orders.csv"
    file.write_text(HEAD + "category\n1,Ada Vell,Rua 1,Recife,50010-000,BR,Card,1,5.00,Gift\n", encoding="utf-8")
    countries = Countries.read(ROOT / "resources" / "destinations" / "countries.csv")
    (order,) = read_orders(file, OrderRules(countries=countries, currency="USD")).orders
    assert order.customs == CustomsDetails()
