"""Service facts: read from a list's own table, reported with their line when wrong, and written back unchanged."""

import pytest

from desk.domain.faults import Unreadable
from desk.domain.service import PaidBy, PostedAs
from desk.rates.lists.chart import Charts
from desk.rates.lists.chart_text import chart_texts
from desk.rates.lists.service_facts import facts_by_shape
from tests.rates.test_services import HEAD, own_lists


@pytest.mark.parametrize(
    ("shapes", "keyed_by", "posted_as", "tracked", "abroad"),
    [
        ("letter", "", PostedAs.LETTER, False, False),
        ("postcard", "", PostedAs.POSTCARD, False, False),
        ("letter flat", "", PostedAs.FLAT, False, False),
        ("letter flat parcel", "zone", PostedAs.PARCEL, True, False),
        ("parcel", "group", PostedAs.PARCEL, True, True),
    ],
)
def test_missing_service_facts_follow_from_the_shapes(shapes, keyed_by, posted_as, tracked, abroad):
    facts = facts_by_shape("x", frozenset(shapes.split()), keyed_by)
    assert (facts.posted_as, facts.tracked, facts.abroad) == (posted_as, tracked, abroad)
    assert facts.paid_by is (PaidBy.AS_PARCELS if tracked else PaidBy.AS_LETTERS)


@pytest.mark.parametrize(
    "wrong",
    ['posted_as = "brick"', 'paid_by = "barter"', "tracked = 1", 'cover = "lots"', 'names = "Media"', 'names = [""]'],
)
def test_an_unreadable_fact_is_a_fault_with_its_line(tmp_path, wrong):
    with pytest.raises(Unreadable) as unreadable:
        own_lists(tmp_path, HEAD + wrong + "\n")
    assert [fault.line for fault in unreadable.value.faults] == [10]


def test_service_facts_are_read_back_after_writing(tmp_path):
    facts = 'takes = "media"\nsurface_only = true\ngirth_limit = "120.5"\npackaging = "tin"\nnames = ["Tin mail", "Büchse"]\n'
    lists = own_lists(tmp_path, HEAD + facts).of_chart("own")
    again = tmp_path / "again"
    (again / "own").mkdir(parents=True)
    for name, text in chart_texts(lists).items():
        (again / "own" / name).write_text(text, encoding="utf-8")
    assert Charts.read(again).service("eu-letter") == lists[0].facts
