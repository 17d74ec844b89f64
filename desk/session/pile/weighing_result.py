"""The result of recording a file's weighings, with a finding for each that came after its piece was paid for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from desk.domain.finding import Code, Finding, finding
from desk.domain.orders.piece import PieceKey, Weighing
from desk.session.pile.batch import Batch
from desk.session.verdict.judge import settle


@dataclass(frozen=True, slots=True)
class NotUsed:
    """A weighing that came after its piece's postage was on: it was not used."""

    key: PieceKey
    stays: Weighing | None
    came: Weighing


@dataclass(frozen=True, slots=True)
class Weighed:
    """The result of recording many weighings: pieces weighed first, pieces weighed again, keys without an order."""

    fresh: tuple[PieceKey, ...]
    changed: tuple[PieceKey, ...]
    strangers: tuple[PieceKey, ...]
    not_used: tuple[NotUsed, ...] = ()


def with_not_used(batch: Batch, not_used: Iterable[NotUsed]) -> Batch:
    """Return the batch with `weighed-after-paid` on each piece with an unused weighing."""
    by_key: dict[PieceKey, Finding] = {one.key: _finding(one) for one in not_used}
    return replace(
        batch,
        verdicts=tuple(
            settle(verdict, [*verdict.findings, by_key[verdict.case.key]]) if verdict.case.key in by_key else verdict
            for verdict in batch.verdicts
        ),
    )


def _finding(one: NotUsed) -> Finding:
    named = one.stays is None or one.stays.shown == one.came.shown  # then mailer, size or feel differs
    stays = _words(one.stays, named=named) if one.stays else "no weight"
    return finding(Code.WEIGHED_AFTER_PAID, stays=stays, came=_words(one.came, named=named))


def _words(weighing: Weighing, *, named: bool) -> str:
    """Return `1.2 oz`; with its mailer, size and feel where the weight alone does not tell two weighings apart."""
    words = [weighing.shown.words]
    if named:
        size = weighing.size
        words += [weighing.mailer or "no mailer"]
        words += [" x ".join(f"{side.inches():.3g}" for side in size.sides()) + " in"] if size else []
        words += ["rigid"] if weighing.stiff else []
        words += ["lumpy"] if weighing.uneven else []
    return ", ".join(words)
