"""Times as UTC text, which sorts by time."""

from __future__ import annotations

from datetime import UTC, datetime


def to_utc_text(moment: datetime) -> str:
    """Return the moment in UTC with microseconds. Raises ValueError when it has no time zone."""
    if moment.tzinfo is None:
        raise ValueError("a time without a time zone cannot be stored")
    return moment.astimezone(UTC).isoformat(timespec="microseconds")


def from_utc_text(text: str | None) -> datetime | None:
    """Return the moment of such a text; None for None."""
    return None if text is None else datetime.fromisoformat(text)
