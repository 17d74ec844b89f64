"""Services in words: each that a list has, flat-rate packaging by its name, anything else as its id."""

import pytest

from desk.session.words.services import WORDS, service_words, services_meant


@pytest.mark.parametrize(
    ("service", "words"),
    [
        ("letter-stamped", "letter, stamped"),
        ("flat", "large envelope"),
        ("ground-retail", "ground (retail)"),
        ("priority-flat-small-box-retail", "priority flat-rate small box (retail)"),
        ("priority-flat-legal-commercial", "priority flat-rate legal envelope (online)"),
        ("intl-priority-flat-medium-box", "priority flat-rate medium box abroad"),
        ("intl-priority-flat-tin", "intl-priority-flat-tin"),
        ("brief", "brief"),
    ],
)
def test_each_service_has_its_words(service, words):
    assert service_words(service) == words


def test_no_two_services_have_the_same_words():
    assert len(set(WORDS.values())) == len(WORDS)


def test_no_shipped_service_is_called_by_its_id(rulebook):
    services = rulebook.charts.services()
    assert [service for service in services if service_words(service) == service and service != "postcard"] == []
    assert set(WORDS) >= services


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("Books and listed media", {"media"}),
        ("Media Mail", {"media"}),
        (" Ground (online) ", {"ground-commercial"}),
        ("Priority flat-rate small box (online)", {"priority-flat-small-box-commercial"}),
        ("a service of mine", set()),
    ],
)
def test_a_service_in_a_list_may_have_the_name_of_the_post_or_ours(rulebook, text, ids):
    assert services_meant(text, rulebook.charts) == ids
