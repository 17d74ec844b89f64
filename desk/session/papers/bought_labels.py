"""The saved record of bought labels: imported files, scan results, and whether only matched pieces may leave."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from desk.domain.faults import Refused
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.store.tables import settings

SETTING = "bought labels"


@dataclass(frozen=True, slots=True)
class BoughtLabels:
    """Files that were accepted, by digest with their names; what scanning said, by reference: True for a match.

    `must_match`: only scanned and matched pieces may be handed over.
    """

    files: Mapping[str, str] = field(default_factory=dict)
    scanned: Mapping[str, bool] = field(default_factory=dict)
    must_match: bool = False


def bought_labels(sitting: Sitting) -> BoughtLabels:
    """Return the saved record of bought labels."""
    with sitting.store.reading() as conn:
        return settings.read(conn, SETTING, BoughtLabels())


def refuse_unmatched(sitting: Sitting, pile: Pile, piece_ids: Iterable[int]) -> None:
    """Refuse when only matched pieces may be handed over and one of these was not matched."""
    kept = bought_labels(sitting)
    if not kept.must_match:
        return
    for number in piece_ids:
        verdict = pile.verdicts[number]
        reference = verdict.case.key.reference
        if verdict.payment is Payment.ONLINE and not kept.scanned.get(reference, False):
            raise Refused(f"{reference} was not matched. Scan its slip and its label first.")
