"""The sums the shop sets: from which a paid amount counts as different, and an order as charged too much."""

from __future__ import annotations

from dataclasses import dataclass, replace

from desk.domain.money import Money
from desk.session.money.paid_differences import USUAL_LEAST
from desk.session.sitting import Sitting
from desk.session.words.figures import amount_words
from desk.store.tables import settings

THRESHOLDS = "money thresholds"  # the setting they are saved under


@dataclass(frozen=True, slots=True)
class Thresholds:
    """`differs`: paid less estimated beyond it is shown. `overcharged`: None when the shop wants no such list."""

    differs: Money = USUAL_LEAST
    overcharged: Money | None = None


def thresholds(sitting: Sitting) -> Thresholds:
    """Return the sums the shop set, or the usual ones."""
    with sitting.store.reading() as conn:
        return settings.read(conn, THRESHOLDS, Thresholds())


def set_difference(sitting: Sitting, least: Money) -> None:
    """Set the sum above which paid and estimated postage count as different."""
    with sitting.store.act(f"Differences over {amount_words(least)} shown") as tx:
        settings.write(tx, THRESHOLDS, replace(settings.read(tx.conn, THRESHOLDS, Thresholds()), differs=least))
    sitting.announce(sitting.store.last_changes)


def set_overcharged(sitting: Sitting, least: Money | None) -> None:
    """Set the sum above which an order was charged too much for shipping; None for no list."""
    step = f"Orders overcharged by over {amount_words(least)} listed" if least else "Overcharged orders not listed"
    with sitting.store.act(step) as tx:
        settings.write(tx, THRESHOLDS, replace(settings.read(tx.conn, THRESHOLDS, Thresholds()), overcharged=least))
    sitting.announce(sitting.store.last_changes)
