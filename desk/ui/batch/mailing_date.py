"""Choose the mailing date in the window, and show which paid packages are short of postage on it."""

from __future__ import annotations

from datetime import date

from desk.domain.severity import Severity
from desk.session.pile.mailing_date import post_on, short_now, short_on
from desk.session.words.figures import amount_words, day_in_words
from desk.ui.bridge import Desk, Event, OngoingState


def choose_mailing_date(desk: Desk, on: date) -> None:
    """Price everything for another mailing date; say so when nothing is short of postage then.

    A refusal is shown, and the date stays.
    """
    verdicts, terms = desk.pile.verdicts.values(), desk.pile.terms
    if on == terms.on:
        return
    short = short_on(verdicts, terms, on, short_now(desk.sitting, verdicts))
    desk.do_quietly(post_on, on, short)
    if not short and desk.pile.terms.on == on:
        words = f"Priced for {day_in_words(on)}. No paid package is short of postage."
        desk.happened.emit(Event(words, undo=True))


def show_short(desk: Desk) -> None:
    """Show what is short of postage on this mailing date, until it is fixed or the date changes."""
    short = short_now(desk.sitting, desk.pile.verdicts.values())
    numbers = desk.pile.numbers() if short else {}
    pieces = ", ".join(f"{numbers[one.piece.reference]} ({amount_words(one.by)})" for one in short)
    words = f"Short of postage on this mailing date: {pieces}"
    desk.state("short", OngoingState(words, Severity.LOOK) if short else None)
