"""Which mailers, inserts and labels are not enough for what waits here; stamps have an issue of their own."""

from __future__ import annotations

from collections import Counter

from desk.session.money.stock import materials_of
from desk.session.money.stock_moves import ever_had
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.words.figures import listed
from desk.store.tables import movements
from desk.store.tables.movements import CountedKind

COUNTED = (CountedKind.MAILER, CountedKind.LABEL)


def running_out(sitting: Sitting, pile: Pile) -> tuple[str, ...]:
    """Return the names of what was ever bought or counted, and is not enough for the packages that wait here."""
    with sitting.store.reading() as conn:
        known = ever_had(conn)
        left = {(kind, name): count for kind in COUNTED for name, count in movements.on_hand(conn, kind).items()}
    waiting = (one for one in pile.verdicts.values() if not one.case.handed_over and one.case.beside is None)
    needed = Counter(key for verdict in waiting for key in materials_of(verdict) if key in known)
    return tuple(name for (kind, name), count in sorted(needed.items()) if left.get((kind, name), 0) < count)


def running_out_words(names: tuple[str, ...]) -> str:
    """Return what is not enough, in a sentence; empty when everything is."""
    return f"Not enough for the packages here: {listed(names)}. See Costs > Stock." if names else ""
