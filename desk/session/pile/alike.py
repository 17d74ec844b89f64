"""Identical pieces: the same contents in the same mailer. The weight of one can be used for the others.

Source for the average: identical pieces are weighed at least ten at random, and the sum is divided (DMM 133.1.3, an
older edition); the four places of a pound it asks for are 0.002 oz and 0.05 g.
"""

from __future__ import annotations

from collections import defaultdict
from decimal import ROUND_HALF_UP, Decimal

from desk.domain.orders.piece import Weighing
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.pile.pile import Pile
from desk.session.pile.usual import UsualMailer, chosen_mailers, usual_of
from desk.session.verdict.case import Case

SAMPLE = 10
SPOT_CHECKS = 3
FINEST = {
    WeightUnit.OUNCE: Decimal("0.001"),
    WeightUnit.POUND_OUNCE: Decimal("0.001"),
    WeightUnit.POUND: Decimal("0.0001"),
    WeightUnit.GRAM: Decimal("0.01"),
    WeightUnit.KILOGRAM: Decimal("0.0001"),
}

Key = tuple[tuple[str, str, int], ...]


class Alike:
    """The pieces of a batch by contents. Make it again when orders or the shop change."""

    def __init__(self, pile: Pile) -> None:
        self._pile = pile
        self._keys: dict[int, Key] = {}
        self._groups: dict[Key, list[int]] = defaultdict(list)
        for number, verdict in pile.verdicts.items():
            if verdict.case.pieces_in_order == 1:  # otherwise the contents of each package are unknown
                key = self._key(verdict.case)
                self._keys[number] = key
                self._groups[key].append(number)

    @property
    def confirmed(self) -> frozenset[str]:
        """The issues confirmed once per product."""
        return self._pile.terms.confirmed

    def same_contents(self, piece_id: int) -> list[int]:
        """Return the other pieces with the same contents, in import order."""
        group = self._groups.get(self._keys.get(piece_id, ()), [])
        return [number for number in group if number != piece_id and number in self._pile.verdicts]

    def last_weighed(self, piece_id: int) -> Case | None:
        """Return the last weighed case with the same contents."""
        weighed = [(turn, n) for n in self.same_contents(piece_id) if (turn := self._pile.turn_of(n)) is not None]
        return self._case(max(weighed)[1]) if weighed else None

    def usual(self, piece_id: int) -> UsualMailer | None:
        """Return the mailer usually used for the same contents; None when too few were weighed."""
        turns = ((self._pile.turn_of(number), number) for number in self.same_contents(piece_id))
        weighed = sorted((turn, number) for turn, number in turns if turn is not None)
        return usual_of(chosen_mailers(self._case(number) for _, number in weighed))

    def waiting(self, piece_id: int) -> list[int]:
        """Return the unweighed pieces that may use this weight: in no other mailer. Empty for a copied weight."""
        case = self._case(piece_id)
        if case.weighing is None or case.weighing.copied_from:
            return []
        return [number for number in self.same_contents(piece_id) if self._may_take(number, case.mailer_name)]

    def with_postage(self, piece_id: int) -> list[int]:
        """Return identical unweighed pieces that already have their postage on and can take no weight."""
        return [number for number in self.same_contents(piece_id) if self._is_paid_unweighed(number)]

    def weight_for_others(self, piece_id: int) -> Shown:
        """Return the weight for the others: this one, or the average of ten that were on the scale."""
        case = self._case(piece_id)
        assert case.weighing is not None
        own = case.weighing.shown
        sample = [own, *(shown for n in self.same_contents(piece_id) if (shown := self._own_weight(n, case, own.unit)))]
        if len(sample) < SAMPLE:
            return own
        mean = sum((shown.value for shown in sample), Decimal(0)) / len(sample)
        return Shown(mean.quantize(FINEST[own.unit], ROUND_HALF_UP), own.unit, max(each.division for each in sample))

    def to_check(self, piece_id: int) -> list[int]:
        """Return the copies to check on the scale: the first, middle and last, minus those already checked."""
        group = sorted({piece_id, *self.same_contents(piece_id)})
        copies = [number for number in group if self._is_copy(number)]
        if not copies:
            return []
        copied = max(self._pile.turn_of(number) or 0 for number in copies)
        checked = [n for n in group if not self._is_copy(n) and (self._pile.turn_of(n) or 0) > copied]
        proposed = dict.fromkeys((copies[0], copies[len(copies) // 2], copies[-1]))
        return list(proposed)[: max(0, SPOT_CHECKS - len(checked))]

    def all_to_check(self) -> list[int]:
        """Return the spot checks of every group with copied weights."""
        firsts = {self._keys[n]: n for n in self._keys if n in self._pile.verdicts and self._is_copy(n)}
        return [number for first in firsts.values() for number in self.to_check(first)]

    def _key(self, case: Case) -> Key:
        """Return product and count of each line; without a known product, item and variant must be equal."""
        shop = self._pile.terms.shop
        lines = []
        for line in case.order.lines:
            product = shop.product_for(line)
            name = (product.sku, product.name) if product else (line.item, line.variant)
            lines.append((*name, line.quantity))
        return tuple(sorted(lines))

    def _case(self, piece_id: int) -> Case:
        return self._pile.verdicts[piece_id].case

    def _may_take(self, piece_id: int, mailer: str) -> bool:
        verdict = self._pile.verdicts[piece_id]
        return verdict.status is PieceStatus.TO_WEIGH and verdict.case.mailer_name in ("", mailer)

    def _is_paid_unweighed(self, piece_id: int) -> bool:
        case = self._case(piece_id)
        return case.weighing is None and case.is_paid

    def _own_weight(self, piece_id: int, like: Case, unit: WeightUnit) -> Shown | None:
        case = self._case(piece_id)
        weighing = case.weighing
        if weighing is None or weighing.copied_from or weighing.shown.unit is not unit:
            return None
        return weighing.shown if case.mailer_name == like.mailer_name else None

    def _is_copy(self, piece_id: int) -> bool:
        weighing: Weighing | None = self._case(piece_id).weighing
        return weighing is not None and bool(weighing.copied_from)
