"""Prices as published, each with its source, and the form every shipped list must have."""

from collections import Counter
from datetime import date

import pytest

from desk.domain.money import Money
from desk.domain.weight import Weight, WeightUnit
from tests.rates.chart_folder import RESOURCES, shipped

WINTER = date(2025, 10, 5)  # the list of that day is in force
SUMMER = date(2026, 7, 12)
OLD = "Notice 123, October 5, 2025"
NEW = "Notice 123, July 12, 2026"
QUOTED = f"{NEW}; the same as quoted elsewhere"
TWICE = f"{NEW}; two copies agree"

# day, service, key, ounces, price, source
DOMESTIC = [
    (WINTER, "letter-stamped", "", "1", "0.78", f"{OLD} p. 6"),
    (WINTER, "letter-stamped", "", "1.1", "1.07", f"{OLD} p. 6"),
    (WINTER, "letter-stamped", "", "3.4", "1.65", f"{OLD} p. 6"),
    (WINTER, "letter-stamped", "", "3.5", "1.65", f"{OLD} p. 6"),
    (WINTER, "letter-stamped", "", "1.2", "1.07", f"DMM 133.1.2 (archived): 1.2 oz charges 2 oz; {OLD} p. 6"),
    (WINTER, "letter-metered", "", "1", "0.74", f"{OLD} p. 6; operator's news 2025-07-14"),
    (WINTER, "letter-metered", "", "3", "1.32", f"{OLD} p. 6"),
    (WINTER, "postcard", "", "0.2", "0.61", f"{OLD} p. 6; operator's news 2025-07-14"),
    (WINTER, "flat", "", "1", "1.63", f"{OLD} p. 6"),
    (WINTER, "flat", "", "3.6", "2.44", f"DMM 101.1.1c: a letter of 3.6 oz pays the flat price; {OLD} p. 6"),
    (WINTER, "flat", "", "9.1", "4.14", f"{OLD} p. 6"),
    (WINTER, "flat", "", "13", "5.04", f"{OLD} p. 6"),
    (WINTER, "ground-retail", "1", "4", "7.20", f"{OLD} p. 7"),
    (WINTER, "ground-retail", "5", "4.0", "7.80", f"{OLD} p. 7"),
    (WINTER, "ground-retail", "4", "15.999", "10.10", f"{OLD} p. 7: the same as 1 lb"),
    (WINTER, "ground-retail", "4", "16", "10.10", f"{OLD} p. 7: the same as 15.999 oz"),
    (WINTER, "ground-retail", "4", "32", "11.80", f"{OLD} p. 7"),
    (WINTER, "ground-retail", "9", "1120", "177.80", f"{OLD} p. 7"),
    (WINTER, "ground-commercial", "1", "4", "4.50", f"{OLD} p. 15"),
    (WINTER, "ground-commercial", "5", "15.999", "7.07", f"{OLD} p. 15"),
    (WINTER, "ground-commercial", "5", "16.0", "8.41", f"{OLD} p. 15: 1 lb costs more than 15.999 oz"),
    (WINTER, "ground-commercial", "9", "1120", "172.98", f"{OLD} p. 15"),
    (WINTER, "priority-retail", "4", "16", "11.30", f"{OLD} p. 5"),
    (WINTER, "priority-retail", "4", "32", "13.05", f"{OLD} pp. 5, 6: key return 14.28 less 1.23"),
    (WINTER, "priority-retail", "4", "19.2", "13.05", f"DMM 423.1.1 (archived): 1.2 lb charges 2 lb; {OLD} p. 5"),
    (WINTER, "priority-retail", "9", "1120", "445.35", f"{OLD} p. 5"),
    (WINTER, "priority-commercial", "9", "8", "26.67", f"{OLD} p. 11"),
    (WINTER, "priority-commercial", "9", "16", "26.67", f"{OLD} p. 11: the half-pound row equals the pound row"),
    (WINTER, "priority-commercial", "1", "1120", "56.11", f"{OLD} p. 11"),
    (WINTER, "media", "", "16", "4.47", f"{OLD} p. 9"),
    (WINTER, "media", "", "19.2", "5.22", f"{OLD} p. 9: 1.2 lb pays 2 lb"),
    (WINTER, "media", "", "1120", "56.22", f"{OLD} p. 9"),
    (WINTER, "priority-flat-envelope-retail", "", "1120", "11.90", f"{OLD} pp. 3, 5"),
    (WINTER, "priority-flat-envelope-commercial", "", "1", "10.40", f"{OLD} p. 11"),
    (WINTER, "priority-flat-legal-retail", "", "20", "12.10", f"{OLD} pp. 3, 5"),
    (WINTER, "priority-flat-padded-commercial", "", "20", "11.20", f"{OLD} p. 11"),
    (WINTER, "priority-flat-small-box-retail", "", "20", "12.60", f"{OLD} pp. 3, 5"),
    (WINTER, "priority-flat-medium-box-retail", "", "20", "21.95", f"{OLD} pp. 3, 5"),
    (WINTER, "priority-flat-large-box-commercial", "", "20", "28.35", f"{OLD} p. 11"),
    (SUMMER, "letter-stamped", "", "1", "0.82", QUOTED),
    (SUMMER, "letter-stamped", "", "2", "1.11", QUOTED),
    (SUMMER, "letter-stamped", "", "3", "1.40", QUOTED),
    (SUMMER, "letter-stamped", "", "3.5", "1.69", QUOTED),
    (SUMMER, "letter-metered", "", "1", "0.78", QUOTED),
    (SUMMER, "letter-metered", "", "2", "1.07", QUOTED),
    (SUMMER, "letter-metered", "", "3", "1.36", QUOTED),
    (SUMMER, "letter-metered", "", "3.5", "1.65", QUOTED),
    (SUMMER, "postcard", "", "0.2", "0.65", NEW),
    (SUMMER, "flat", "", "1", "1.69", QUOTED),
    (SUMMER, "flat", "", "4", "2.56", QUOTED),
    (SUMMER, "flat", "", "8.01", "4.02", NEW),
    (SUMMER, "flat", "", "13", "5.24", NEW),
    (SUMMER, "ground-retail", "1", "8", "7.90", QUOTED),
    (SUMMER, "ground-retail", "2", "8", "8.05", QUOTED),
    (SUMMER, "ground-retail", "4", "8", "8.30", QUOTED),
    (SUMMER, "ground-retail", "5", "8", "8.60", QUOTED),
    (SUMMER, "ground-retail", "8", "8", "9.45", QUOTED),
    (SUMMER, "ground-retail", "5", "15.9995", "10.95", NEW),
    (SUMMER, "ground-retail", "5", "32", "14.10", NEW),
    (SUMMER, "ground-retail", "9", "320", "69.40", NEW),
]

# service, country, ounces, price, source
ABROAD = [
    ("intl-letter", "DE", "1", "1.75", NEW),
    ("intl-letter", "CA", "1", "1.75", NEW),
    ("intl-letter", "MX", "1.0", "1.75", NEW),
    ("intl-letter", "ZA", "1.0", "1.75", NEW),
    ("intl-letter", "DE", "1.1", "3.50", NEW),
    ("intl-letter", "CA", "2", "2.35", NEW),
    ("intl-letter", "MX", "3", "3.50", NEW),
    ("intl-letter", "JP", "3.5", "5.75", NEW),
    ("intl-flat", "GB", "9", "15.75", f"{NEW}: the 12 oz row, there are none between 8 and 12"),
    ("intl-flat", "MX", "15.9", "15.15", NEW),
    ("intl-flat", "CA", "15.994", "8.55", NEW),
    ("intl-package", "CA", "8.1", "26.00", TWICE),
    ("intl-package", "GB", "16.0", "31.95", TWICE),
    ("intl-package", "IT", "20", "40.20", NEW),
    ("intl-package", "AU", "40", "65.25", TWICE),
    ("intl-package", "JP", "64", "71.90", TWICE),
    ("intl-package", "DE", "5", "21.80", NEW),
    ("intl-package", "BR", "12", "37.40", NEW),
    ("intl-package", "FR", "16", "29.40", TWICE),
    ("intl-package", "DE", "64", "66.25", TWICE),
    ("intl-priority-flat-envelope", "CA", "64", "32.65", NEW),
    ("intl-priority-flat-small-box", "FR", "30", "56.35", NEW),
    ("intl-priority-flat-medium-box", "AU", "300", "112.70", NEW),
    ("intl-priority-flat-large-box", "GB", "320", "108.85", NEW),
]


@pytest.mark.parametrize(("on", "service", "key", "ounces", "price", "source"), DOMESTIC)
def test_domestic_prices_equal_the_published_ones(on, service, key, ounces, price, source):
    row = shipped().in_force(service, on).row(Weight.of(ounces, WeightUnit.OUNCE), key)
    assert row.price.text() == price, source


@pytest.mark.parametrize(("service", "country", "ounces", "price", "source"), ABROAD)
def test_prices_abroad_equal_the_published_ones(service, country, ounces, price, source):
    group = shipped().group(service, country, SUMMER)
    row = shipped().in_force(service, SUMMER).row(Weight.of(ounces, WeightUnit.OUNCE), group)
    assert row.price.text() == price, source


@pytest.mark.parametrize(
    ("service", "code", "amount", "source"),
    [
        ("letter-stamped", "nonmachinable", "0.49", f"{OLD} p. 6 note 1"),
        ("ground-retail", "long-22", "4.00", f"{OLD} p. 7"),
        ("ground-retail", "long-30", "8.40", f"{OLD} p. 7"),
        ("ground-retail", "bulky", "18.00", f"{OLD} p. 7"),
        ("ground-commercial", "tube", "4.00", f"{OLD} p. 15"),
        ("priority-retail", "long-30", "18.00", f"{OLD} p. 5"),
        ("priority-commercial", "bulky", "30.00", f"{OLD} p. 11"),
    ],
)
def test_surcharges_equal_the_published_ones(service, code, amount, source):
    assert shipped().in_force(service, WINTER).surcharge(code).amount.text() == amount, source


@pytest.mark.parametrize(
    ("service", "zone", "price", "source"),
    [
        ("ground-retail", "8", "263.00", f"{OLD} p. 7 note 1"),
        ("ground-retail", "4", "154.65", f"{OLD} p. 7"),
        ("ground-commercial", "1", "98.25", f"{OLD} p. 15"),
    ],
)
def test_oversized_prices_equal_the_published_ones(service, zone, price, source):
    assert shipped().in_force(service, WINTER).oversized[zone].text() == price, source


def test_the_summer_list_has_neither_fees_nor_the_oversized_price():
    ground = shipped().in_force("ground-retail", SUMMER)
    assert (ground.fees_listed, ground.surcharges, dict(ground.oversized)) == (False, (), {})


def test_certificates_of_mailing_cost_the_published_price():
    """Notice 123, October 5, 2025, p. 27; Notice 123, July 12, 2026, for later days."""
    assert shipped().extra("certificate-of-mailing", WINTER).amount.text() == "2.40"
    assert shipped().extra("certificate-of-mailing", SUMMER).amount.text() == "2.45"
    assert shipped().extra("certificate-firm-sheet", SUMMER).amount.text() == "0.75"


@pytest.mark.parametrize(
    ("code", "on", "value", "amount", "source"),
    [
        ("insurance", WINTER, "650.00", "10.45", f"{OLD} p. 27: 8.95 and 1.50"),
        ("insurance", WINTER, "600.00", "8.95", f"{OLD} p. 27"),
        ("insurance", WINTER, "5000.00", "74.95", f"{OLD} p. 27: 8.95 and 44 times 1.50"),
        ("insurance", WINTER, "5000.01", None, f"{OLD} p. 27: up to 5000"),
        ("insurance", SUMMER, "50.00", "2.80", NEW),
        ("insurance", SUMMER, "50.01", "3.50", NEW),
        ("insurance", SUMMER, "600.00", "9.05", NEW),
        ("insurance", SUMMER, "600.01", None, f"{NEW}: no step above is at hand"),
        ("insurance-abroad", SUMMER, "200.00", "0.00", NEW),
        ("insurance-abroad", SUMMER, "200.01", "13.85", NEW),
        ("insurance-abroad", SUMMER, "900.00", "35.95", NEW),
        ("registered", SUMMER, "100.00", "21.50", NEW),
        ("collect-on-delivery", SUMMER, "1000.00", "52.10", NEW),
    ],
)
def test_insurance_steps_equal_the_published_ones(code, on, value, amount, source):
    service = "intl-priority" if code.endswith("abroad") else "ground-retail"
    found = shipped().extra(code, on, service, Money.of(value))
    assert (found.amount.text() if found else None) == amount, source


@pytest.mark.parametrize(
    ("service", "amount"), [("ground-retail", "5.15"), ("ground-commercial", "4.15"), ("media", "5.15"), ("flat", None)]
)
def test_signatures_cost_the_published_price(service, amount):
    """Notice 123, July 12, 2026."""
    found = shipped().extra("signature", SUMMER, service)
    assert (found.amount.text() if found else None) == amount


def test_every_published_extra_is_in_the_list():
    """58 of July 12, 2026 (44 domestic prices in 50 steps, 8 abroad), 79 of October 5, 2025 with its 44 steps over 600."""
    counts = Counter(since for since, _ in shipped().extras)
    assert counts == {SUMMER: 58, WINTER: 79}
    cents = {since: sum(extra.amount.minor for day, extra in shipped().extras if day == since) for since in counts}
    assert cents == {SUMMER: 98470, WINTER: 226342}


@pytest.mark.parametrize(
    ("code", "amount"),
    [("long-22", "4.50"), ("long-30", "10.00"), ("bulky", "21.00")],
)
def test_online_fees_equal_the_published_ones(code, amount):
    """Notice 123, July 12, 2026, p. 15; the holiday amounts leave them as they are (common practice, no source)."""
    for on in (SUMMER, date(2026, 11, 28)):
        assert shipped().in_force("ground-commercial", on).surcharge(code).amount.text() == amount


@pytest.mark.parametrize(
    ("service", "country", "group", "source"),
    [
        ("intl-letter", "DE", "5", NEW),
        ("intl-package", "DE", "16", TWICE),
        ("intl-package", "SO", None, f"{NEW}: no service"),
        ("intl-priority-flat-envelope", "BO", None, f"{NEW}: no such service"),
        ("intl-letter", "SM", "5", NEW),
        ("intl-letter", "MC", "5", "from memory: goes with France"),
        ("intl-package", "MC", "15", "from memory: goes with France"),
        ("intl-package", "JE", "20", "from memory: goes with Great Britain"),
        ("intl-package", "GG", "20", "from memory: goes with Great Britain"),
        ("intl-package", "IM", "20", "from memory: goes with Great Britain"),
        ("intl-package", "CK", "12", "from memory: goes with New Zealand"),
        ("intl-package", "AQ", None, "no row of its own and no parent known"),
    ],
)
def test_price_groups_equal_the_published_ones(service, country, group, source):
    assert shipped().group(service, country, SUMMER) == group, source


@pytest.mark.parametrize(("country", "pounds"), [("CA", 66), ("AG", 22), ("FI", 70), ("JE", 66)])
def test_weight_limits_of_countries_equal_the_published_ones(country, pounds):
    """Notice 123, country price groups, list of 2026-07-12."""
    limits = shipped().in_force("intl-priority-flat-envelope", SUMMER).country_limits
    assert limits[country] == Weight.of(pounds, "lb")


@pytest.mark.parametrize(
    ("service", "ounces", "source"),
    [
        ("letter-stamped", "3.5", "DMM 101.1.1c"),
        ("flat", "13", "DMM 101.6.1.1"),
        ("postcard", "3.5", "DMM 101.6.2.2"),
        ("ground-retail", "1120", "DMM 101.3.2: 70 lb"),
        ("media", "1120", "DMM 101.3.2: 70 lb"),
        ("intl-letter", "3.5", "Postal Bulletin 22523"),
        ("intl-flat", "15.994", "Postal Bulletin 22523"),
        ("intl-package", "64", "IMM 252.1"),
        ("intl-priority-flat-small-box", "64", f"{NEW}: 4 lb"),
        ("intl-priority-flat-large-box", "320", f"{NEW}: 20 lb"),
    ],
)
def test_weight_limits_equal_the_published_ones(service, ounces, source):
    assert shipped().in_force(service, SUMMER).max_weight == Weight.of(ounces, "oz"), source


def test_the_value_limit_of_a_package_abroad_equals_the_published_one():
    """IMM 252.1 (archive of 2020-09-08): up to USD 400."""
    assert shipped().in_force("intl-package", SUMMER).max_value.text() == "400.00"


def every_list():
    every = [chart for lists in shipped().lists.values() for chart in lists]
    assert len(every) > 20
    return every


def test_the_lists_have_the_published_number_of_prices():
    """Counted in the published tables: letters 4 + 4, postcard 1, flats 13; ground and so on by zone."""
    cells = {
        (chart.chart, chart.service): sum(len(rows) for rows in chart.rows.values()) + len(chart.oversized)
        for chart in every_list()
    }
    old, new = "us-2025-10-05", "us-2026-07-12"
    expected = {"letter-stamped": 4, "letter-metered": 4, "postcard": 1, "flat": 13}
    assert {service: cells[old, service] for service in expected} == expected
    assert {service: cells[new, service] for service in expected} == expected
    assert cells[old, "ground-retail"] == cells[old, "ground-commercial"] == 675
    assert (cells[old, "priority-retail"], cells[old, "priority-commercial"]) == (630, 639)
    assert (cells[old, "media"], cells[new, "ground-retail"]) == (70, 666)
    assert (cells[new, "intl-letter"], cells[new, "intl-flat"], cells[new, "intl-package"]) == (36, 90, 100)
    assert {cells[new, f"intl-priority-flat-{box}"] for box in ("envelope", "small-box", "large-box")} == {8}


def test_prices_never_fall_as_weight_rises():
    """True of every shipped list; a list that fails was copied wrongly."""
    for chart in every_list():
        for key, rows in chart.rows.items():
            prices = [row.price.minor for row in rows]
            weights = [row.max_weight for row in rows]
            assert prices == sorted(prices), (chart.chart, chart.service, key)
            assert weights == sorted(set(weights)), (chart.chart, chart.service, key)
            assert prices[0] > 0


def test_prices_never_fall_from_a_zone_to_the_next():
    for chart in every_list():
        if chart.keyed_by == "zone":
            steps = chart.rows or chart.tiers
            for step in range(len(steps["1"])):
                prices = [steps[str(zone)][step].price.minor for zone in range(1, 10)]
                assert prices == sorted(prices), (chart.chart, chart.service, step)


def test_an_oversized_price_is_above_every_other():
    oversized = [(chart, key, price) for chart in every_list() for key, price in chart.oversized.items()]
    assert len(oversized) == 18
    for chart, key, price in oversized:
        assert chart.rows[key][-1].price < price


def test_every_figure_names_its_source():
    for chart in every_list():
        assert chart.source, chart.service
        assert chart.known_by, chart.service
        assert all(fee.source and fee.known_by for fee in chart.surcharges)
        assert all(rule.source and rule.known_by for rule in chart.dimensional_rules)


def test_every_dimensional_service_has_a_rule_on_every_day():
    """DMM 223: Ground Advantage and Priority Mail by weight; not the flat-rate kinds, which go by price alone."""
    ruled = {chart.service for chart in every_list() if chart.as_of(chart.effective).dimensional}
    assert ruled == {"ground-retail", "ground-commercial", "priority-retail", "priority-commercial"}


def test_a_price_list_folder_contains_only_known_files():
    folders = [folder for folder in (RESOURCES / "charts").iterdir() if folder.is_dir()]
    assert len(folders) >= 3
    for folder in folders:
        assert {file.suffix for file in folder.iterdir()} == {".toml", ".csv"}
