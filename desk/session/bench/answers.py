"""Mark issues as checked ("It's right"). A stop can't be answered; its cause has to be fixed."""

from __future__ import annotations

from collections.abc import Collection

from desk.domain.codes import FIXED, Code
from desk.domain.faults import Refused
from desk.domain.finding import Finding
from desk.session.learned.memory import EXTRA_PACKING
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.setup.destination_rules import note_check
from desk.session.sitting import Sitting
from desk.session.verdict.confirmed import CONFIRMED, Confirmed, cause_of
from desk.session.verdict.judge import judge
from desk.store.tables import answers, settings


def answer_looks(sitting: Sitting, piece_id: int, codes: Collection[str], *, number: str) -> None:
    """Save that these issues of a piece were checked; what is asked once per product is saved for the product too.

    A suspension that was checked is settled for every piece to that country, with today's date. Refused for an issue that
    has to be fixed, such as a missing HS code.
    """
    for code in codes:
        if code in FIXED:
            raise Refused(f"{number}: this can't be answered, it has to be fixed. See the Customs screen.")
    about = _findings(sitting, piece_id, codes)
    causes = {cause for one in about if (cause := cause_of(one))}
    countries = {str(one.facts["country"]) for one in about if one.code is Code.DESTINATION_SUSPENDED}
    with sitting.store.act(f"Marked {number} as checked", at_bench=True) as tx:
        for code in codes:
            answers.answer(tx, piece_id, code)
        known = settings.read(tx.conn, CONFIRMED, Confirmed())
        if causes - set(known.causes):
            settings.write(tx, CONFIRMED, known.and_(sorted(causes)))
        for country in countries:
            note_check(tx, country, sitting.on)
    sitting.announce(sitting.store.last_changes)


def answer_extra_packing(sitting: Sitting, piece_id: int, *, number: str) -> None:
    """Mark a piece as heavy because of its packing: the issue is answered, and nothing is learned from its weight."""
    answer_looks(sitting, piece_id, (Code.HEAVIER_THAN_CONTENTS, EXTRA_PACKING), number=number)


def _findings(sitting: Sitting, piece_id: int, codes: Collection[str]) -> list[Finding]:
    """Return what these answers are about."""
    terms = read_terms(sitting)
    judged = [judge(stored.case, terms) for stored in read_stored(sitting, [piece_id])]
    return [one for verdict in judged for one in verdict.findings if one.code in codes]
