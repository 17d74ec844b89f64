"""A sitting: the record every act takes first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date

from desk.domain.changes import Changes
from desk.domain.clock import Clock
from desk.session.rulebook import Rulebook
from desk.store.store import Store


@dataclass(slots=True)
class Sitting:
    """Store, clock, rulebook and mailing date of one sitting, and the listeners for changes.

    `on` is the mailing date unless another was chosen (`mailing_date.posting_day`).
    """

    store: Store
    clock: Clock
    rulebook: Rulebook
    on: date
    listeners: list[Callable[[Changes], None]] = field(default_factory=list)

    def announce(self, changes: Changes) -> None:
        """Tell every listener, after the commit. A listener may read and repaint but calls no act."""
        for listener in tuple(self.listeners):
            listener(changes)
