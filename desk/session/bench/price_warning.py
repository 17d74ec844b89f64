"""The warning about outdated prices: shown once a day, and its dismissal saved in the store."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from desk.session.sitting import Sitting
from desk.store.tables import settings

NAME = "price warning"


@dataclass(frozen=True, slots=True)
class PriceWarning:
    """The day on which the warning was dismissed last; None: never."""

    dismissed_on: date | None = None


def is_dismissed(sitting: Sitting) -> bool:
    """Return True when the warning was dismissed today, at any bench."""
    with sitting.store.reading() as conn:
        return settings.read(conn, NAME, PriceWarning()).dismissed_on == sitting.on


def dismiss(sitting: Sitting) -> None:
    """Dismiss the warning for today. No piece depends on it, so nothing is announced and Undo skips it."""
    with sitting.store.act("Price warning dismissed") as tx:
        tx.aside = True
        settings.write(tx, NAME, PriceWarning(sitting.on))
