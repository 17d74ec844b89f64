"""Scan to match: first the slip's code, then the label's. The last check against a swapped label."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from desk.domain.faults import Refused
from desk.domain.orders.check_digits import normalized
from desk.domain.orders.tracking import tracking_number
from desk.session.papers.bought_labels import SETTING, bought_labels
from desk.session.pile.pile import Pile
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.store.tables import pieces, settings


class ScanResult(StrEnum):
    """The result of two scans."""

    MATCH = "match"
    MISMATCH = "mismatch"


@dataclass(frozen=True, slots=True)
class MatchState:
    """Scanning progress: pieces that match, that don't, and that are not scanned yet, by reference."""

    matched: tuple[str, ...]
    mismatched: tuple[str, ...]
    unscanned: tuple[str, ...]


def scan_to_match(sitting: Sitting, pile: Pile, slip: str, label: str) -> ScanResult:
    """Compare a slip's code with a label's, and save the result.

    Refused when the slip belongs to no piece of this batch.
    """
    wanted = slip.strip()
    number = next((one for one, verdict in pile.verdicts.items() if verdict.case.key.reference == wanted), None)
    if number is None:
        raise Refused(f"No package has the number {wanted}. Scan its slip first, then its label.")
    matches = _is_label_of(sitting, number, wanted, label)
    before = bought_labels(sitting)
    words = "Label matches" if matches else "Label does NOT match"
    with sitting.store.act(f"{words}: {pile.verdicts[number].case.number}") as tx:
        settings.write(tx, SETTING, replace(before, scanned={**before.scanned, wanted: matches}))
    sitting.announce(sitting.store.last_changes)
    return ScanResult.MATCH if matches else ScanResult.MISMATCH


def _is_label_of(sitting: Sitting, piece_id: int, reference: str, label: str) -> bool:
    """Return True when the label's code is the piece's tracking number, or our reference on a label of ours."""
    with sitting.store.reading() as conn:
        (piece,) = pieces.some_pieces(conn, [piece_id])
    scanned = tracking_number(label) or normalized(label)
    return label.strip() == reference or (bool(piece.tracking) and scanned == piece.tracking)


def match_state(sitting: Sitting, pile: Pile) -> MatchState:
    """Return the scanning progress of pieces still here: those scanned, and bought labels not scanned yet."""
    scanned = bought_labels(sitting).scanned
    by_match: dict[bool | None, list[str]] = {True: [], False: [], None: []}
    for verdict in pile.verdicts.values():
        result = scanned.get(verdict.case.key.reference)
        if not verdict.case.handed_over and (result is not None or verdict.payment is Payment.ONLINE):
            by_match[result].append(verdict.case.key.reference)
    return MatchState(tuple(by_match[True]), tuple(by_match[False]), tuple(by_match[None]))


def require_match(sitting: Sitting, *, required: bool) -> None:
    """Require a scanned and matched label before hand-over, or stop requiring it."""
    before = bought_labels(sitting)
    if before.must_match == required:
        return
    step = "Only matched packages are handed over" if required else "Unmatched packages are handed over too"
    with sitting.store.act(step) as tx:
        settings.write(tx, SETTING, replace(before, must_match=required))
    sitting.announce(sitting.store.last_changes)
