"""Hazards at home and abroad, products that contradict their HS code, and media mail for things that are not read."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.finding import Severity
from desk.domain.shop.product import Restriction
from desk.domain.status import PieceStatus
from desk.session.verdict.confirmed import cause_of
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms
from tests.session import made

INK = replace(made.CARD, restricted=(Restriction.FLAMMABLE,))


def severities(verdict):
    return {found.code: found.severity for found in verdict.findings}


def sold(product, **fields):
    return made.shop(products=(product,), **fields)


@pytest.mark.parametrize("kind", [Restriction.FLAMMABLE, Restriction.AEROSOL, Restriction.BATTERY])
def test_a_domestic_hazard_ships_by_ground_and_needs_a_check(judged, kind):
    """Publication 52 sections 342 (from memory), 343, 349."""
    verdict = judged(shop=sold(replace(made.CARD, restricted=(kind,))))
    assert severities(verdict)["hazard-surface-only"] is Severity.LOOK
    assert (verdict.offer.service, verdict.status) == ("ground-retail", PieceStatus.NEEDS_A_LOOK)


def test_a_magnet_in_domestic_mail_is_not_asked_about(judged):
    verdict = judged(shop=sold(replace(made.CARD, restricted=(Restriction.MAGNET,))))
    assert "hazard-surface-only" not in severities(verdict)
    assert verdict.offer.service == "letter-stamped"


@pytest.mark.parametrize(
    ("kind", "code"),
    [
        (Restriction.MAGNET, "hazard-abroad"),
        (Restriction.BATTERY, "hazard-abroad"),
        (Restriction.FLAMMABLE, "restricted-goods"),
        (Restriction.AEROSOL, "restricted-goods"),
    ],
)
def test_abroad_some_hazards_are_asked_about_and_some_are_stopped(judged, kind, code):
    found = severities(judged("4.2", "Padded", shop=sold(replace(made.CARD, restricted=(kind,))), address=made.FRANCE))
    assert found[code] is (Severity.STOP if code == "restricted-goods" else Severity.LOOK)
    assert len({"hazard-abroad", "restricted-goods", "hazard-surface-only"} & set(found)) == 1


def test_every_hazard_of_a_product_is_reported(judged):
    kit = replace(made.CARD, restricted=(Restriction.BATTERY, Restriction.FLAMMABLE))
    found = [dict(one.facts)["goods"] for one in judged(shop=sold(kit)).findings if one.code == "hazard-surface-only"]
    assert found == ["battery", "flammable"]


def test_a_hazard_confirmed_for_a_product_is_not_asked_again(judged, rulebook):
    first = next(one for one in judged(shop=sold(INK)).findings if one.code == "hazard-surface-only")
    known = Terms(sold(INK), rulebook, made.ON, confirmed=frozenset({cause_of(first)}))
    verdict = judge(made.case(), known)
    assert severities(verdict)["hazard-surface-only"] is Severity.NOTE
    assert verdict.status is PieceStatus.READY


@pytest.mark.parametrize(
    ("hs", "goods"),
    [
        ("330300", "flammable"),
        ("320890", "flammable"),
        ("321590", "flammable"),
        ("850511", "magnet"),
        ("850650", "battery"),
        ("850760", "battery"),
        ("060110", "plants"),
        ("120991", "plants"),
    ],
)
def test_a_product_whose_hs_code_names_a_hazard_it_is_not_marked_with_is_asked_about(judged, hs, goods):
    (found,) = [one for one in judged(shop=sold(replace(made.CARD, hs=hs))).findings if one.code == "hazard-not-marked"]
    assert (found.severity, found.facts["goods"]) == (Severity.LOOK, goods)


@pytest.mark.parametrize("hs", ["320790", "321600", "330410", "850410", "850810", "130190", "490900", ""])
def test_other_hs_codes_are_not_asked_about(judged, hs):
    assert "hazard-not-marked" not in severities(judged(shop=sold(replace(made.CARD, hs=hs))))


def test_a_product_marked_as_its_code_says_is_not_asked_about(judged):
    marked = replace(made.CARD, hs="850511", restricted=(Restriction.MAGNET,))
    assert "hazard-not-marked" not in severities(judged(shop=sold(marked)))


@pytest.mark.parametrize(
    ("hs", "name", "doubtful"),
    [("482010", "Journal", True), ("490199", "Blank book", True), ("490199", "Manual", False)],
)
def test_a_blank_book_is_not_reading_matter(judged, hs, name, doubtful):
    """DMM 273.3.1; rulings PS-064 and PS-213: media mail is for what is read."""
    book = replace(made.MANUAL, hs=hs, name=name, customs_words="")
    shop = sold(book, policy=made.policy(parcel_services=("ground-retail", "media")))
    verdict = judged("16.5", "Padded", shop=shop, lines=(made.line(book),))
    assert ("media-doubtful" in severities(verdict)) is doubtful
    assert verdict.offer.service == ("ground-retail" if doubtful else "media")


def test_a_shop_without_the_media_price_is_not_asked_about_it(judged):
    book = replace(made.MANUAL, hs="482010")
    assert "media-doubtful" not in severities(judged("16.5", "Padded", shop=sold(book), lines=(made.line(book),)))


@pytest.mark.parametrize("fields", [{"name": ""}, {}])
def test_a_product_without_a_name_is_called_by_its_sku(judged, fields):
    nameless = replace(made.CARD, restricted=(Restriction.BATTERY,), hs="9505", **fields)
    magnets = replace(nameless, restricted=(), hs="850511")
    called = nameless.name or "CD"
    for product, code in ((nameless, "hazard-surface-only"), (magnets, "hazard-not-marked")):
        found = next(
            one for one in judged(shop=sold(product), lines=(made.line(made.CARD),)).findings if one.code == code
        )
        assert found.facts["product"] == called


def test_media_doubts_are_about_domestic_mail_only(judged):
    """Media mail does not leave the country."""
    diary = replace(made.MANUAL, customs_words="Blank diary")
    shop = sold(diary, policy=made.policy(parcel_services=("media", "ground-retail")))
    lines = (made.line(diary),)
    assert "media-doubtful" in severities(judged("14.5", "Padded", shop=shop, lines=lines))
    assert "media-doubtful" not in severities(judged("14.5", "Padded", shop=shop, lines=lines, address=made.FRANCE))
