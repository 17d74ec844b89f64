"""What has changed and was not told yet: kept in the store, so that a plug pulled between change and telling loses nothing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from desk.session.sitting import Sitting
from desk.store import settings
from desk.store.transaction import Transaction

UNTOLD = "untold_changes"


def tell_later(tx: Transaction, changes: Sequence[dict[str, Any]]) -> None:
    """Remember changes within the step that makes them."""
    if changes:
        before = json.loads(settings.get(tx.conn, UNTOLD) or "[]")
        fresh = [change for change in changes if change not in before]
        settings.put(tx, UNTOLD, json.dumps([*before, *fresh]))


def untold(sitting: Sitting) -> list[dict[str, Any]]:
    """What has changed since it was last told."""
    with sitting.store.reading() as conn:
        return list(json.loads(settings.get(conn, UNTOLD) or "[]"))


def mark_told(sitting: Sitting) -> None:
    """Forget what has now been told."""
    if untold(sitting):
        with sitting.store.act("Tell changes") as tx:
            settings.put(tx, UNTOLD, "[]")
