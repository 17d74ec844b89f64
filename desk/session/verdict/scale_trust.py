"""How far the scale is trusted: after a good check, its tolerance is halved for the rest of the day.

A scale in use may err by the maintenance tolerance of NIST Handbook 44 section 2.20 Table 6, a new or freshly checked
one by half of it (from memory; that a check holds for the day: common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from desk.domain.clock import local_day, today
from desk.session.sitting import Sitting
from desk.store.tables import settings
from desk.store.times import from_utc_text

SCALE_CHECK = "scale check"
_WHOLE, _HALF = Decimal(1), Decimal("0.5")


@dataclass(frozen=True, slots=True)
class ScaleTrust:
    """The latest check of the scale: time (UTC text), error in divisions, and whether it is good enough."""

    checked_at: str = ""
    error_divisions: Decimal = Decimal(0)
    ok: bool = False


def tolerance_scale(sitting: Sitting) -> Decimal:
    """Return the factor for the scale's tolerance: one half after a good check today, else one."""
    with sitting.store.reading() as conn:
        trust = settings.read(conn, SCALE_CHECK, ScaleTrust())
    checked = from_utc_text(trust.checked_at or None)
    fresh = checked is not None and local_day(checked) == today(sitting.clock)
    return _HALF if trust.ok and fresh else _WHOLE
