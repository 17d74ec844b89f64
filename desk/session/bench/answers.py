"""Mark issues as checked ("It's right"). A stop can't be answered; its cause has to be fixed."""

from __future__ import annotations

from collections.abc import Collection

from desk.domain.codes import FIXED, Code
from desk.domain.faults import Refused
from desk.session.learned.memory import EXTRA_PACKING
from desk.session.pile.stored_cases import read_stored, read_terms
from desk.session.sitting import Sitting
from desk.session.verdict.confirmed import CONFIRMED, Confirmed, cause_of
from desk.session.verdict.judge import judge
from desk.store.tables import answers, settings


def answer_looks(sitting: Sitting, piece_id: int, codes: Collection[str], *, reference: str) -> None:
    """Save that these issues of a piece were checked; what is asked once per product is saved for the product too.

    Refused for an issue that has to be fixed, such as a missing HS code.
    """
    for code in codes:
        if code in FIXED:
            raise Refused(f"{reference}: this can't be answered, it has to be fixed. See the Customs screen.")
    causes = _causes(sitting, piece_id, codes)
    with sitting.store.act(f"Answer {reference}", at_bench=True) as tx:
        for code in codes:
            answers.answer(tx, piece_id, code)
        known = settings.read(tx.conn, CONFIRMED, Confirmed())
        if causes - set(known.causes):
            settings.write(tx, CONFIRMED, known.and_(sorted(causes)))
    sitting.announce(sitting.store.last_changes)


def answer_extra_packing(sitting: Sitting, piece_id: int, *, reference: str) -> None:
    """Mark a piece as heavy because of its packing: the issue is answered, and nothing is learned from its weight."""
    answer_looks(sitting, piece_id, (Code.HEAVIER_THAN_CONTENTS, EXTRA_PACKING), reference=reference)


def _causes(sitting: Sitting, piece_id: int, codes: Collection[str]) -> set[str]:
    """Return what these answers settle for products as well as for this piece."""
    terms = read_terms(sitting)
    judged = [judge(stored.case, terms) for stored in read_stored(sitting, [piece_id])]
    found = [one for verdict in judged for one in verdict.findings if one.code in codes]
    return {cause for one in found if (cause := cause_of(one))}
