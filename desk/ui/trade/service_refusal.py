"""Say at once that a service chosen by hand can't carry a piece, and offer Undo."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.severity import Severity
from desk.session.bench.service_choice import why_not
from desk.ui.bridge import Desk, Event


def show_if_it_cannot(desk: Desk, pieces: Sequence[int]) -> None:
    """Say why the service just chosen can't carry the first piece it doesn't fit."""
    pile = desk.pile
    verdicts = (pile.verdicts[piece] for piece in pieces if piece in pile.verdicts)
    if words := next(filter(None, (why_not(verdict, pile.terms) for verdict in verdicts)), ""):
        desk.happened.emit(Event(words, Severity.STOP, undo=True))
