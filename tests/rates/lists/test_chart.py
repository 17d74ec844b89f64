from datetime import date, timedelta

import pytest

from desk.domain.faults import Unreadable
from desk.domain.money import Money
from desk.domain.weight import Weight
from desk.rates.lists.chart import Charts
from tests.rates.chart_folder import CELLS, HEAD, shipped, write_chart

OLD, NEW = "us-2025-10-05", "us-2026-07-12"


@pytest.mark.parametrize(
    ("service", "on", "chart"),
    [
        ("letter-stamped", date(2025, 10, 4), None),
        ("letter-stamped", date(2025, 10, 5), OLD),
        ("letter-stamped", date(2026, 7, 11), OLD),
        ("letter-stamped", date(2026, 7, 12), NEW),
        ("letter-stamped", date(2031, 1, 1), NEW),
        ("priority-flat-legal-commercial", date(2026, 11, 25), OLD),  # the newest that has it, even past its last day
        ("intl-letter", date(2026, 7, 11), None),
        ("intl-letter", date(2026, 7, 12), NEW),
        ("by-balloon", date(2026, 7, 12), None),
    ],
)
def test_the_newest_list_in_force_is_used(service, on, chart):
    found = shipped().in_force(service, on)
    assert (found and found.chart) == chart


def test_a_list_in_force_has_the_dimensional_rule_of_the_day():
    before = shipped().in_force("priority-retail", date(2026, 7, 11)).dimensional
    after = shipped().in_force("priority-retail", date(2026, 7, 12)).dimensional
    assert (before.divisor, before.rounding) == (166, "nearest")
    assert (after.divisor, after.rounding) == (139, "up")


def test_the_shipped_services_are_these():
    assert shipped().services() == frozenset(
        """priority-flat-large-box-military-retail letter-stamped letter-metered postcard flat ground-retail ground-commercial priority-retail
        ground-cubic-commercial library intl-priority priority-commercial media intl-letter intl-flat intl-package intl-priority-flat-envelope
        intl-priority-flat-small-box intl-priority-flat-medium-box intl-priority-flat-large-box""".split()
    ) | {
        f"priority-flat-{kind}-{price}"
        for kind in "envelope legal padded small-box medium-box large-box".split()
        for price in ("retail", "commercial")
    }


def test_extras_are_priced_by_the_day():
    assert shipped().extra("certificate-of-mailing", date(2025, 10, 5)).amount == Money(240)
    assert shipped().extra("certificate-of-mailing", date(2025, 10, 4)) is None
    assert shipped().extra("gold-leaf", date(2026, 1, 1)) is None


def test_a_price_list_may_use_grams_and_another_currency(tmp_path):
    charts = Charts.read(write_chart(tmp_path))
    letter = charts.in_force("brief", date(2026, 3, 1))
    assert letter.row(Weight.of("20", "g")).price == Money(115, "EUR")
    assert letter.row(Weight.of("20.1", "g")).max_label == "50"
    assert letter.bills_in == "g"
    assert letter.max_weight == Weight.of(500, "g")


def test_a_range_of_price_groups_means_each_of_them(tmp_path):
    charts = Charts.read(write_chart(tmp_path))
    parcel = charts.in_force("pakje", date(2026, 4, 1))
    assert parcel.row(Weight.of(3, "kg"), "2").price.text() == "19.95"
    assert parcel.row(Weight.of(3, "kg"), "3").price.text() == "19.95"
    assert parcel.oversized == {"1": Money(8000, "EUR")}


@pytest.mark.parametrize(
    ("country", "group", "pounds"), [("BE", "1", 44), ("FR", "2", 66), ("MC", "2", 66), ("SO", None, None)]
)
def test_price_groups_and_weight_limits_are_by_country(tmp_path, country, group, pounds):
    charts = Charts.read(write_chart(tmp_path))
    day = date(2026, 4, 1)
    assert charts.group("pakje", country, day) == group
    assert charts.in_force("pakje", day).country_limits.get(country) == (Weight.of(pounds, "lb") if pounds else None)


def test_without_a_list_there_is_no_price_group(tmp_path):
    charts = Charts.read(write_chart(tmp_path))
    assert charts.group("pakje", "FR", date(2026, 2, 28)) is None
    assert charts.in_force("pakje", date(2026, 2, 28)) is None
    assert charts.group("brief", "FR", date(2026, 4, 1)) is None


def test_folders_without_a_chart_are_skipped(tmp_path):
    write_chart(tmp_path)
    (tmp_path / ".cache").mkdir()
    (tmp_path / "README.md").write_text("words")
    assert Charts.read(tmp_path).services() == {"brief", "pakje"}


def test_faults_of_all_charts_are_reported_together(tmp_path):
    write_chart(tmp_path, head=HEAD.replace('"EUR"', '"euro"'), cells=CELLS.replace("1.15", "1,15"))
    (tmp_path / "yy-2026").mkdir()
    with pytest.raises(Unreadable) as caught:
        Charts.read(tmp_path)
    assert {fault.file for fault in caught.value.faults} == {
        "xx-2026/chart.toml",
        "xx-2026/cells.csv",
        "yy-2026/chart.toml",
    }


def test_of_two_lists_of_one_day_the_later_one_counts():
    one = shipped().in_force("flat", date(2026, 7, 12))
    other = shipped().in_force("flat", date(2025, 10, 5))
    charts = Charts.of([other, one, one])
    assert charts.in_force("flat", one.effective) == one
    assert charts.in_force("flat", one.effective - timedelta(days=1)) == other
