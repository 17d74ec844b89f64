"""Restricted goods: what Publication 52 bars from the air, from abroad, or altogether.

Read: flammable liquids (section 343), magnets (Packaging Instruction 9B; 49 CFR 173.21(d)), the standing of lithium
batteries (Postal Bulletins 22474 and 22482, without their figures). From memory: aerosols (section 342), and magnets
abroad. What is not known for sure is barred until the person has asked the post.
"""

from __future__ import annotations

from desk.domain.finding import Code, Finding, finding, reason
from desk.domain.service import Service
from desk.domain.shop.product import Restriction
from desk.rates.posting import Posting

SURFACE_ONLY = frozenset({Restriction.FLAMMABLE, Restriction.AEROSOL, Restriction.BATTERY})
_NEVER_ABROAD = frozenset({Restriction.FLAMMABLE, Restriction.AEROSOL})  # nor where mail goes by air as a rule
# Domestic places that mail reaches by air as a rule (common practice, no source).
OVERSEAS = frozenset("AA AE AP AK HI PR GU VI AS MP FM MH PW".split())
SOURCES = {
    Restriction.FLAMMABLE: "Publication 52 section 343",
    Restriction.AEROSOL: "Publication 52 section 342",
    Restriction.BATTERY: "Publication 52 section 349.22",
    Restriction.MAGNET: "Publication 52 Packaging Instruction 9B",
}


def barred_goods(posting: Posting) -> list[Finding]:
    """A stop for each restricted thing that may not go to this destination at all."""
    kinds = sorted(kind for kind in posting.restricted if _barred(kind, posting))
    where = "abroad" if posting.abroad else "overseas"
    return [finding(Code.RESTRICTED_GOODS, SOURCES[kind], goods=kind.value, where=where) for kind in kinds]


def air_bar(service: Service, posting: Posting) -> Finding | None:
    """Why a domestic service that flies may not carry the piece; None when it may."""
    if not posting.restricted or posting.abroad or service.surface_only:
        return None
    kinds = sorted(posting.restricted & SURFACE_ONLY)
    return reason(Code.RESTRICTED_BY_AIR, SOURCES[kinds[0]], goods=kinds[0].value) if kinds else None


def handling(posting: Posting) -> list[Finding]:
    """Reasons that go with restricted goods which the domestic mail does take."""
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
