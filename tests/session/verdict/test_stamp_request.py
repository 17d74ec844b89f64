import pytest

from desk.session.verdict.stamp_request import asks_for_stamp

PHRASES = ("by stamp", "a stamp", "real stamps")


@pytest.mark.parametrize(
    "note",
    [
        "Please send it by stamp.",
        "BY STAMP please",
        "Hello! I love real stamps, thanks",
        "No rush. By stamp would be nice",
        "Do not bend; a stamp would be lovely",
        "No stamp on the inner card. But send it by stamp!",
        "please\nby stamp",
    ],
)
def test_stamp_requests_are_recognized(note):
    assert asks_for_stamp(note, PHRASES) is True


@pytest.mark.parametrize(
    "note",
    [
        "",
        "No need for a stamp",
        "Please don't send it by stamp",
        "Please don\u2019t send it by stamp",
        "I would never want a stamp",
        "By parcel rather than by stamp",
        "with tracking instead of a stamp",
        "without a stamp, thank you",
        "Ship by stampede",
        "extra stamp",
        "Bitte nicht by stamp",
    ],
)
def test_other_notes_are_not_stamp_requests(note):
    assert asks_for_stamp(note, PHRASES) is False


def test_an_empty_phrase_matches_nothing():
    assert asks_for_stamp("anything", ("", "  ")) is False
    assert asks_for_stamp("by stamp", ()) is False


@pytest.mark.parametrize(
    ("note", "asked"),
    [
        ("No rush, by stamp is fine", True),
        ("I do not need tracking but by stamp would be lovely", True),
        ("Please do not bend! By stamp, thank you", True),
        ("by stamp, no tracking needed", True),
        ("by stamp. No hurry.", True),
        ("Please don't send it by stamp", False),
        ("Sending by stamp is not necessary", False),
        ("by stamp isn't needed", False),
        ("by stamp? No, thank you", False),
        ("not by stamp, please; well, by stamp if you must", True),
    ],
)
def test_a_negation_applies_only_to_its_own_clause(note, asked):
    assert asks_for_stamp(note, ["by stamp"]) is asked
