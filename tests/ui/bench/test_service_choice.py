"""Services to choose by hand: each eligible one once with its price, and why another is not eligible."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.shop.shop import LetterPostage, ParcelPayment
from desk.session.bench.service_choice import common_choices, service_choices, why_not
from desk.session.pile.bulk_changes import choose_service, set_size, size_typed


def verdict_of(desk, number):
    return desk.pile.verdicts[desk.pile.find(number)]


def test_a_letter_is_offered_each_eligible_service_once(weighed_desk):
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
    choices = service_choices(abroad, weighed_desk.pile.terms)
    assert choices
    assert all(charts.service(one.service).abroad for one in choices)


def test_several_pieces_are_offered_services_that_take_all_of_them(weighed_desk):
    terms = weighed_desk.pile.terms
    light, heavy = verdict_of(weighed_desk, "1043"), verdict_of(weighed_desk, "1086")
    both = {choice.service for choice in common_choices([light, heavy], terms)}
    assert both
    assert both <= {one.service for one in service_choices(heavy, terms)}
    assert "letter-stamped" not in both


def test_an_unweighed_piece_has_no_list_of_its_own(desk):
    assert service_choices(verdict_of(desk, "1043"), desk.pile.terms) == ()


def test_a_chosen_service_that_is_not_eligible_says_why_and_the_weight(weighed_desk):
    piece = weighed_desk.pile.find("1086")
    choose_service(weighed_desk.sitting, [piece], "letter-stamped")
    words = why_not(weighed_desk.pile.verdicts[piece], weighed_desk.pile.terms)
    assert "can't carry 1086" in words
    assert weighed_desk.pile.verdicts[piece].case.weighing.shown.words in words


def test_an_eligible_service_gives_no_reason(weighed_desk):
    piece = weighed_desk.pile.find("1043")
    choose_service(weighed_desk.sitting, [piece], "ground-commercial")
    assert why_not(weighed_desk.pile.verdicts[piece], weighed_desk.pile.terms) == ""


def offered(desk, number, **policy):
    """Return the services offered for a piece when the shop has these rules and no shipping choices."""
    terms = desk.pile.terms
    rules = replace(terms.shop.policy, parcel_services=("ground-commercial",), **policy)
    shop = replace(terms.shop, policy=rules, choices={})
    return {one.service for one in service_choices(verdict_of(desk, number), replace(terms, shop=shop))}


@pytest.mark.parametrize(
    ("postage", "there", "not_there"),
    [
        (LetterPostage.STAMPED, "letter-stamped", "letter-metered"),
        (LetterPostage.METERED, "letter-metered", "letter-stamped"),
    ],
)
def test_a_shop_is_offered_only_the_letter_it_can_pay(weighed_desk, postage, there, not_there):
    names = offered(weighed_desk, "1043", letter_postage=postage)
    assert there in names
    assert not_there not in names


@pytest.mark.parametrize(
    ("payment", "there", "not_there"),
    [
        (ParcelPayment.ONLINE, {"ground-commercial", "priority-commercial"}, {"priority-retail"}),
        (ParcelPayment.COUNTER, {"ground-retail", "priority-retail"}, {"priority-commercial"}),
    ],
)
def test_a_shop_is_offered_only_the_parcel_prices_it_can_pay(weighed_desk, payment, there, not_there):
    names = offered(weighed_desk, "1043", parcel_payment=payment)
    assert there <= names
    assert names.isdisjoint(not_there)


def test_a_service_named_in_the_rules_is_offered_whatever_the_payment(weighed_desk):
    assert "ground-commercial" in offered(weighed_desk, "1043", parcel_payment=ParcelPayment.COUNTER)


def test_the_service_a_piece_has_stays_in_its_list(weighed_desk):
    choose_service(weighed_desk.sitting, [weighed_desk.pile.find("1043")], "letter-metered")
    assert "letter-metered" in offered(weighed_desk, "1043")


def test_unweighed_goods_abroad_are_not_offered_a_letter(desk):
    abroad = next(one for one in desk.pile.verdicts.values() if one.is_abroad)
    names = {one.service for one in common_choices([abroad], desk.pile.terms)}
    assert "intl-package" in names
    assert "intl-letter" not in names


def test_post_packaging_is_offered_only_to_a_shop_that_has_it(desk):
    verdict, terms = next(one for one in desk.pile.verdicts.values() if one.is_abroad), desk.pile.terms
    box = "intl-priority-flat-small-box"
    without = tuple(mailer for mailer in terms.shop.mailers if mailer.only_service != box)
    assert box in {one.service for one in common_choices([verdict], terms)}
    none = replace(terms, shop=replace(terms.shop, mailers=without))
    assert box not in {one.service for one in common_choices([verdict], none)}


def test_an_unweighed_piece_says_why_its_service_is_not_eligible(desk):
    piece = next(number for number, one in desk.pile.verdicts.items() if one.is_abroad)
    choose_service(desk.sitting, [piece], "intl-letter")
    words = why_not(desk.pile.verdicts[piece], desk.pile.terms)
    assert "documents" in words
    choose_service(desk.sitting, [piece], "intl-package")
    assert why_not(desk.pile.verdicts[piece], desk.pile.terms) == ""


@pytest.mark.parametrize(("weight", "words"), [("71 lb", "No service can carry 1043"), ("", "Weigh it to see")])
def test_the_key_says_why_no_service_can_be_listed(bench, weight, words):
    messages = []
    bench.desk.happened.connect(lambda event: messages.append(event.words))
    bench.open("1043")
    if weight:
        bench.press(f"t{weight}")
        bench.enter()
    bench.press("v")
    assert messages[-1].startswith(words)
    assert not bench.screen.services.isVisible()


@pytest.mark.parametrize(
    ("weight", "size", "service", "why"),
    [
        ("5", "7 x 5 x 0.1", "letter-stamped", "Over the weight limit of 3.5 oz."),
        ("1", "7 x 5 x 0.5", "letter-stamped", "It counts as a large envelope."),
        ("14", "12 x 9 x 0.5", "flat", "Over the weight limit of 13 oz."),
        ("1136", "12 x 12 x 12", "ground-commercial", "Over the weight limit of 70 lb."),
        ("80", "60 x 20 x 20", "priority-commercial", "Over the size limit: length plus girth 108 in."),
        ("8", "12 x 9 x 1", "media", "For books and other listed media only."),
        ("8", "8 x 5 x 1.6", "priority-flat-small-box-commercial", "Only in the post's own packaging."),
    ],
)
def test_each_refusal_says_its_reason_and_the_list_leaves_it_out(bench, weight, size, service, why):
    desk, piece = bench.desk, bench.desk.pile.find("1041")
    bench.open("1041")
    bench.press(f"t{weight}")
    bench.enter()
    desk.do(set_size, [piece], size_typed(size))
    messages = []
    desk.happened.connect(messages.append)
    bench.screen.does.describing.choose_service(service)
    assert messages[-1].words.endswith(why)
    assert messages[-1].undo
    assert service not in {one.service for one in service_choices(desk.pile.verdicts[piece], desk.pile.terms)}
    desk.undo()
    assert desk.pile.verdicts[piece].case.service == ""
