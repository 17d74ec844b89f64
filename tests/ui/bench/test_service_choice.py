"""The services a piece may be given by hand: what can carry it, each once, with its price, and why another cannot."""

from __future__ import annotations

from desk.session.bench.service_choice import common_choices, service_choices, why_not
from desk.session.pile.bulk_changes import choose_service


def verdict_of(desk, number):
    return desk.pile.verdicts[desk.pile.find(number)]


def test_a_letter_may_go_by_anything_that_can_carry_it_once_each(weighed_desk):
    choices = service_choices(verdict_of(weighed_desk, "1043"), weighed_desk.pile.terms)
    names = [choice.service for choice in choices]
    assert len(names) == len(set(names))
    assert {"letter-stamped", "ground-retail", "ground-commercial"} <= set(names)
    assert [choice.is_used for choice in choices].count(True) == 1
    assert not any(weighed_desk.pile.terms.rulebook.charts.service(name).abroad for name in names)
    assert all("$" in choice.words for choice in choices)


def test_the_price_says_online_or_retail_in_words(weighed_desk):
    choices = service_choices(verdict_of(weighed_desk, "1043"), weighed_desk.pile.terms)
    words = {choice.service: choice.words for choice in choices}
    assert "(online)" in words["ground-commercial"]
    assert "(retail)" in words["ground-retail"]


def test_a_piece_abroad_is_offered_services_abroad_only(weighed_desk):
    abroad = next(each for each in weighed_desk.pile.verdicts.values() if each.is_abroad and each.offer)
    charts = weighed_desk.pile.terms.rulebook.charts
    assert all(charts.service(one.service).abroad for one in service_choices(abroad, weighed_desk.pile.terms))


def test_several_pieces_are_offered_what_carries_all_of_them(weighed_desk):
    terms = weighed_desk.pile.terms
    light, heavy = verdict_of(weighed_desk, "1043"), verdict_of(weighed_desk, "1086")
    both = {choice.service for choice in common_choices([light, heavy], terms)}
    assert both
    assert both <= {one.service for one in service_choices(heavy, terms)}
    assert "letter-stamped" not in both


def test_an_unweighed_piece_has_no_list_of_its_own(desk):
    assert service_choices(verdict_of(desk, "1043"), desk.pile.terms) == ()


def test_a_service_that_cannot_carry_it_says_why_and_what_it_weighed(weighed_desk):
    piece = weighed_desk.pile.find("1086")
    choose_service(weighed_desk.sitting, [piece], "letter-stamped")
    words = why_not(weighed_desk.pile.verdicts[piece])
    assert "can't carry 1086" in words
    assert weighed_desk.pile.verdicts[piece].case.weighing.shown.words in words


def test_a_service_that_can_carry_it_says_nothing(weighed_desk):
    piece = weighed_desk.pile.find("1043")
    choose_service(weighed_desk.sitting, [piece], "ground-commercial")
    assert why_not(weighed_desk.pile.verdicts[piece]) == ""
