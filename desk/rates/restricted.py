"""Restricted goods: what Publication 52 bars from the air, from international mail, or altogether.

Taken from the publications: flammable liquids (section 343), magnets (Packaging Instruction 9B; 49 CFR 173.21(d)), the
rules on lithium batteries (Postal Bulletins 22474 and 22482, without their figures). From memory: aerosols (section
342), and magnets abroad. Anything uncertain is barred until the user has asked the post.
"""

from __future__ import annotations

from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.service import Service
from desk.domain.shop.product import Restriction
from desk.rates.posting import Posting

SURFACE_ONLY = frozenset({Restriction.FLAMMABLE, Restriction.AEROSOL, Restriction.BATTERY})
# also barred overseas, where mail usually goes by air
_NEVER_ABROAD = frozenset({Restriction.FLAMMABLE, Restriction.AEROSOL})
# Domestic places that mail usually reaches by air (common practice, no source).
OVERSEAS = frozenset("AA AE AP AK HI PR GU VI AS MP FM MH PW".split())
SOURCES = {
    Restriction.FLAMMABLE: "Publication 52 section 343",
    Restriction.AEROSOL: "Publication 52 section 342",
    Restriction.BATTERY: "Publication 52 section 349.22",
    Restriction.MAGNET: "Publication 52 Packaging Instruction 9B",
}


def barred_goods(posting: Posting) -> list[Finding]:
    """Return a stop for each restricted item that may not go to this destination at all."""
    kinds = sorted(kind for kind in posting.restricted if _barred(kind, posting))
    where = "abroad" if posting.abroad else "overseas"
    return [finding(Code.RESTRICTED_GOODS, SOURCES[kind], goods=kind.value, where=where) for kind in kinds]


def air_bar(service: Service, posting: Posting) -> Finding | None:
    """Return why a domestic air service may not carry the piece; None when it may."""
    if not posting.restricted or posting.abroad or service.surface_only:
        return None
    kinds = sorted(posting.restricted & SURFACE_ONLY)
    return reason(Code.RESTRICTED_BY_AIR, SOURCES[kinds[0]], goods=kinds[0].value) if kinds else None


def handling(posting: Posting) -> list[Finding]:
    """Return the handling reasons for restricted goods that domestic mail does take."""
    if posting.abroad:
        return []
    return [
        reason(Code.SURFACE_ONLY if kind in SURFACE_ONLY else Code.RESTRICTED_ALLOWED, SOURCES[kind], goods=kind.value)
        for kind in sorted(posting.restricted)
        if not _barred(kind, posting)
    ]


def barred_there(kind: Restriction, *, abroad: bool, region: str) -> bool:
    """Return True when the mail does not take such goods to that destination at all."""
    return kind in _NEVER_ABROAD and (abroad or region in OVERSEAS)


def _barred(kind: Restriction, posting: Posting) -> bool:
    return barred_there(kind, abroad=posting.abroad, region=posting.region)
