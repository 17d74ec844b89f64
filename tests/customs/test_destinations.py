"""Destinations: barred, suspended, and the rules as rows."""

from datetime import date, timedelta

import pytest

from desk.customs.destinations import Destinations, Rule, place_of
from desk.domain.finding import Severity
from desk.domain.places.country import Countries
from tests.customs.conftest import RESOURCES, TODAY
from tests.rates.chart_folder import shipped

SERVICE = shipped().service


@pytest.mark.parametrize("country", ["CU", "IR", "KP"])
def test_whole_countries_are_barred(destinations, country):
    found = destinations.barred(country)
    assert (found.code, found.severity, found.facts["why"]) == ("destination-barred", Severity.STOP, "country")


@pytest.mark.parametrize(
    ("postal_code", "region", "why"),
    [
        ("95000", "", "postal code"),
        ("99 011", "", "postal code"),
        ("83000", "", "postal code"),
        ("91000", "", "postal code"),
        ("", "Donetsk Oblast", "region"),
        ("", "Luhans'ka", "region"),
        ("", "Донецька область", "region"),
        ("", "Sevastopol", "region"),
        ("", "AR Crimea", "region"),
        ("", "Donets'ka oblast", "region"),
        ("", "Автономна Республіка Крим", "region"),
    ],
)
def test_occupied_parts_of_ukraine_are_barred(destinations, postal_code, region, why):
    assert destinations.barred("UA", postal_code, region).facts == {"country": "UA", "why": why}


@pytest.mark.parametrize(
    ("postal_code", "region"),
    [
        ("01001", "Kyiv"),
        ("79000", "Lviv"),
        ("88000", ""),
        ("64250", "Kharkiv Donets"),
        ("", "Mykolaiv Krymka"),
        ("9500", ""),
        ("", ""),
    ],
)
def test_the_rest_of_ukraine_is_open(destinations, postal_code, region):
    assert destinations.barred("UA", postal_code, region) is None


def test_crimea_written_as_russia_is_barred_too(destinations):
    assert destinations.barred("RU", "295000") is not None
    assert destinations.barred("RU", "101000", "Moscow") is None


def test_other_countries_are_open(destinations):
    assert [country for country in ("DE", "US", "SY", "XX") if destinations.barred(country, "95000", "Crimea")] == []


def test_a_suspension_names_the_alert_and_its_age(destinations):
    found = destinations.suspended("IL", SERVICE("intl-package"), TODAY)
    assert found.severity is Severity.LOOK
    assert found.facts == {
        "country": "IL",
        "service": "intl-package",
        "extent": "all",
        "alert_on": "2026-03-03",
        "alert_age_days": 267,
    }


@pytest.mark.parametrize(
    ("country", "service", "stopped"),
    [
        ("RU", "intl-letter", True),
        ("RU", "", True),
        ("BT", "intl-letter", False),
        ("BT", "intl-package", True),
        ("BT", "intl-flat", True),
        ("BT", "", False),
        ("NU", "intl-package", False),
        ("DE", "intl-package", False),
    ],
)
def test_a_suspension_stops_only_the_services_it_names(destinations, country, service, stopped):
    assert (destinations.suspended(country, SERVICE(service) if service else None, TODAY) is not None) is stopped


def test_an_alert_does_not_apply_to_the_days_before_it(destinations):
    assert destinations.suspended("IL", SERVICE("intl-package"), date(2026, 3, 2)) is None
    assert destinations.suspended("IL", SERVICE("intl-package"), date(2026, 3, 3)) is not None


def test_a_rule_applies_from_its_first_day_until_the_day_before_its_end(destinations):
    duty = destinations.rule("FR", "duty-per-code", TODAY)
    assert duty.value == "EUR 3|EUR 150"
    assert destinations.rule("FR", "duty-per-code", date(2026, 6, 30)) is None
    assert duty.holds(date(2028, 6, 30))
    assert not duty.holds(date(2028, 7, 1))


def test_the_eu_has_twenty_seven_member_states(destinations):
    members = {place for place, rules in destinations.by_place.items() if any(rule.rule == "eu" for rule in rules)}
    assert len(members) == 27
    assert members & {"GB", "NO", "CH", "MC"} == set()
    on = date(2026, 7, 1)
    asked = {place for place in destinations.by_place if destinations.rule(place, "duty-per-code", on)}
    assert asked == members | {"MC"}  # Monaco counts as France for value-added tax (from memory)


@pytest.mark.parametrize(
    ("country", "postal_code", "place"),
    [("GB", "BT1 5GS", "GB-BT"), ("GB", " bt1 5gs", "GB-BT"), ("GB", "EC1Y 8SY", "GB"), ("IE", "BT1", "IE")],
)
def test_northern_ireland_has_rules_of_its_own(country, postal_code, place):
    assert place_of(country, postal_code) == place


def test_every_rule_names_its_source(destinations):
    rules = [rule for rows in destinations.by_place.values() for rule in rows]
    assert len(rules) == 172
    assert [rule for rule in rules if not (rule.source and rule.known_by)] == []


@pytest.mark.parametrize(
    ("checked_on", "code"),
    [
        (date(2026, 3, 3), "destination-suspended"),  # the day of the alert itself is in no doubt
        (date(2026, 3, 4), "destination-checked"),
    ],
)
def test_a_check_after_the_alert_lifts_a_suspension(destinations, checked_on, code):
    known = destinations.renewed((), {}, {"IL": checked_on})
    assert known.suspended("IL", SERVICE("intl-package"), TODAY).code == code
    assert known.suspended("RU", SERVICE("intl-package"), TODAY).code == "destination-suspended"


def test_a_newer_list_replaces_only_lists_of_its_kind(destinations):
    fresh = Rule("FR", "suspended", "all", TODAY, None, "alert of today", "read")
    known = destinations.renewed((fresh,), {"suspended": TODAY}, {})
    assert known.suspended("RU", SERVICE("intl-package"), TODAY) is None
    assert known.suspended("FR", SERVICE("intl-package"), TODAY).facts["alert_on"] == TODAY.isoformat()
    assert known.rule("DE", "import-limit", TODAY) == destinations.rule("DE", "import-limit", TODAY)


def test_a_barred_place_stays_barred_when_a_newer_list_omits_it(destinations):
    """A sanction is not an alert: Postal Bulletin 22594, on IMM 512.1."""
    known = destinations.renewed((), {"barred": TODAY}, {"CU": TODAY})
    assert known.barred("CU").severity is Severity.STOP


@pytest.mark.parametrize(("days", "old"), [(30, []), (31, ["suspended"])])
def test_a_list_is_old_after_thirty_days(destinations, days, old):
    """Common practice: 30 days."""
    day = TODAY - timedelta(days=days)
    known = destinations.renewed((), {"suspended": day, "import-limit": TODAY}, {})
    assert [found.facts["what"] for found in known.old_lists("DE", TODAY)] == old


def test_an_old_check_of_a_country_is_reported_for_that_country_only(destinations):
    known = destinations.renewed((), {"suspended": TODAY}, {"RU": date(2026, 10, 1)})
    assert [found.facts["country"] for found in known.old_lists("RU", TODAY)] == ["RU"]
    assert known.old_lists("DE", TODAY) == []


def test_rules_are_collected_by_country_and_kind():
    rules = [Rule("AA", "x", "1", None, None, "s", "k"), Rule("AA", "x", "2", TODAY, None, "s", "k")]
    made = Destinations.of(rules)
    assert [rule.value for rule in made.rules("AA", "x", TODAY)] == ["1", "2"]
    assert [rule.value for rule in made.rules("AA", "x", date(2026, 1, 1))] == ["1"]


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("United States of America", "US"),
        ("usa", "US"),
        ("UK", "GB"),
        ("Great Britain", "GB"),
        ("england", "GB"),
        ("Scotland", "GB"),
        ("Wales", "GB"),
        ("Northern Ireland", "GB"),
        ("Holland", "NL"),
        ("Czechia", "CZ"),
        ("Czech Republic", "CZ"),
        ("Turkey", "TR"),
        ("Türkiye", "TR"),
        ("South Korea", "KR"),
        ("Korea", "KR"),
        ("Taiwan", "TW"),
        ("Ivory Coast", "CI"),
        ("Côte d’Ivoire", "CI"),
        ("Guam", "GU"),
        ("de", "DE"),
        ("Hong Kong SAR", "HK"),
        ("Viet Nam", "VN"),
        ("Atlantis", None),
        ("", None),
    ],
)
def test_countries_have_their_english_names(typed, code):
    assert Countries.read(RESOURCES / "destinations" / "countries.csv").find(typed) == code


def test_no_name_belongs_to_two_countries():
    """Each further name leads to one country. A name of several, such as Congo, leads to none and is asked about."""
    from csv import DictReader

    text = (RESOURCES / "destinations" / "countries.csv").read_text(encoding="utf-8")
    known = Countries.read(RESOURCES / "destinations" / "countries.csv")
    rows = list(DictReader(text.splitlines()))
    wrong = [
        (name, row["iso2"])
        for row in rows
        for name in row["names"].split("|")
        if name and known.find(name) != row["iso2"] and not known.several(name)
    ]
    assert len(rows) == 252
    assert wrong == []


@pytest.mark.parametrize(
    ("country", "postal_code", "place"),
    [("FR", "98000", "MC"), ("FR", "69002", "FR"), ("US", "98000", "US"), ("MC", "98000", "MC")],
)
def test_only_french_addresses_can_be_in_monaco(country, postal_code, place):
    assert place_of(country, postal_code) == place


def test_of_several_alerts_for_a_country_the_newest_that_concerns_the_service_counts(destinations):
    later = TODAY - timedelta(days=1)
    alerts = (
        Rule("FR", "suspended", "express only", date(2026, 4, 1), None, "first alert", "read"),
        Rule("FR", "suspended", "all except letters", date(2026, 5, 1), None, "second alert", "read"),
        Rule("FR", "suspended", "all", later, None, "third alert", "read"),
    )
    package = SERVICE("intl-package")
    known = destinations.renewed(alerts[:2], {"suspended": TODAY}, {})
    assert known.suspended("FR", package, TODAY).source == "second alert"
    assert known.suspended("FR", SERVICE("intl-letter"), TODAY) is None
    checked = destinations.renewed(alerts, {"suspended": TODAY}, {"FR": date(2026, 6, 1)})
    assert checked.suspended("FR", package, TODAY).code == "destination-suspended"
