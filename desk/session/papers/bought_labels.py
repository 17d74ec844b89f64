"""The saved record of bought labels: imported files, scan results, and whether only matched pieces may leave."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field

from desk.domain.faults import Refused
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.store.tables import settings

SETTING = "bought labels"


@dataclass(frozen=True, slots=True)
class BoughtLabels:
    """Files that were accepted, by digest with their names; scan results by reference: True for a match.

    `begun` are files with labels still waiting: by digest, the places in the file of those accepted.

    `must_match`: only scanned and matched pieces may be handed over. `saved` is the PDF of the labels accepted last,
    `first_pages` the first page (from 0) of each label in it, by reference, and `was_printed` whether a printer took it.
    """

    files: Mapping[str, str] = field(default_factory=dict)
    begun: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    scanned: Mapping[str, bool] = field(default_factory=dict)
    must_match: bool = False
    saved: str = ""
    first_pages: Mapping[str, int] = field(default_factory=dict)
    was_printed: bool = False


def bought_labels(sitting: Sitting) -> BoughtLabels:
    """Return the saved record of bought labels."""
    with sitting.store.reading() as conn:
        return settings.read(conn, SETTING, BoughtLabels())


def unmatched_of(sitting: Sitting, pile: Pile, piece_ids: Iterable[int]) -> set[int]:
    """Return which of these pieces may not leave yet: only matched ones may be handed over, and they are not."""
    bought = bought_labels(sitting)
    if not bought.must_match:
        return set()
    verdicts = ((number, pile.verdicts[number]) for number in piece_ids)
    return {
        number
        for number, verdict in verdicts
        if verdict.payment is Payment.ONLINE and not bought.scanned.get(verdict.case.key.reference, False)
    }


def refuse_unmatched(sitting: Sitting, pile: Pile, piece_ids: Collection[int]) -> None:
    """Refuse when only matched pieces may be handed over and one of these was not matched."""
    unmatched = unmatched_of(sitting, pile, piece_ids)
    if unmatched:
        number = pile.verdicts[min(unmatched)].case.number
        raise Refused(f"{number} was not matched. Scan its slip and its label first.")
