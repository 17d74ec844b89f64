"""The pieces that a new price list or zone chart is tried on."""

from __future__ import annotations

from collections.abc import Sequence

from desk.session.importing.demo_pieces import demo_verdicts
from desk.session.pile.earlier import ids_weighed_last
from desk.session.verdict.verdict import Terms, Verdict
from desk.ui.bridge import Desk

TRIED_ON = 100  # pieces of earlier days, when nothing was weighed today
FROM_DEMO = "Nothing weighed yet, so this uses the packages of the demo shop. "


def tried_on(desk: Desk) -> tuple[Sequence[Verdict], Terms, str]:
    """Return the pieces weighed so far, latest last, with their terms; else the demo's, with words that say so."""
    pile = desk.pile
    if pile.unread and not pile.last_weighed(1):
        pile.bring(ids_weighed_last(desk.sitting, TRIED_ON))
    weighed = [pile.verdicts[piece] for piece in pile.in_turn() if pile.verdicts[piece].offer is not None]
    if weighed:
        return weighed, pile.terms, ""
    return *demo_verdicts(desk.resources, pile.terms), FROM_DEMO
