"""Checks of the goods in a piece: hazards, and products whose HS code contradicts their marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from desk.domain.finding import Code, Finding, Severity, finding
from desk.domain.shop.product import Product, Restriction
from desk.rates.restricted import SOURCES, barred_there
from desk.session.verdict.case import Contents
from desk.session.verdict.confirmed import is_confirmed

# Headings of the Harmonized System 2022 with goods the mail restricts, and the mark such a product should have.
_HEADINGS = {
    Restriction.FLAMMABLE: ("3303", *(str(heading) for heading in range(3208, 3216))),
    Restriction.MAGNET: ("8505",),
    Restriction.BATTERY: ("8506", "8507"),
}
_PLANTS = (
    "06",
    "12",
)  # live plants and seeds: no mark of ours, special rules (Publication 52, chapter 5, from memory)
_HS_SOURCE = "HS 2022; Publication 52 sections 343, 349"
_MARK_ABROAD = frozenset({Restriction.MAGNET, Restriction.BATTERY})
_BY_SURFACE = frozenset({Restriction.FLAMMABLE, Restriction.AEROSOL, Restriction.BATTERY})


def goods_findings(
    contents: Contents, confirmed: frozenset[str], *, country: str, abroad: bool, region: str
) -> Iterator[Finding]:
    """Yield the findings about each product, once per product; those confirmed before become notes."""
    for product in {one.key: one for one, _ in contents.products if one is not None}.values():
        for issue in (*_hazards(product, country, region, abroad=abroad), *_unmarked(product)):
            yield replace(issue, severity=Severity.NOTE) if is_confirmed(issue, confirmed) else issue


def media_doubts(contents: Contents) -> list[Finding]:
    """Return an issue for each product marked for the media price that isn't reading matter (DMM 273.3.1)."""
    doubtful = (product for product, _ in contents.products if product is not None and product.is_media_doubtful)
    source = "DMM 273.3.1; rulings PS-064, PS-213"
    return [finding(Code.MEDIA_DOUBTFUL, source, items=product.name or product.sku) for product in doubtful]


def _hazards(product: Product, country: str, region: str, *, abroad: bool) -> Iterator[Finding]:
    name = product.name or product.sku
    for kind in product.restricted:
        if barred_there(kind, abroad=abroad, region=region):
            continue  # a stop reports it already
        if abroad and kind in _MARK_ABROAD:
            yield finding(Code.HAZARD_ABROAD, SOURCES[kind], product=name, goods=kind.value, country=country)
        elif not abroad and kind in _BY_SURFACE:
            yield finding(Code.HAZARD_SURFACE_ONLY, SOURCES[kind], product=name, goods=kind.value)


def _unmarked(product: Product) -> Iterator[Finding]:
    """Yield an issue where its HS code means a hazard that is not marked."""
    name = product.name or product.sku
    for kind, headings in _HEADINGS.items():
        if product.hs.startswith(headings) and kind not in product.restricted:
            yield finding(Code.HAZARD_NOT_MARKED, _HS_SOURCE, product=name, hs=product.hs, goods=kind.value)
    if product.hs.startswith(_PLANTS):
        yield finding(Code.HAZARD_NOT_MARKED, _HS_SOURCE, product=name, hs=product.hs, goods="plants")
