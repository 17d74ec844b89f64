"""Identical pieces: the same contents in the same mailer. The weight of one can be used for the others.

Source for the average: identical pieces are weighed at least ten at random, and the sum is divided (DMM 133.1.3, an
older edition); the four places of a pound it asks for are 0.002 oz and 0.05 g.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Callable
from decimal import ROUND_HALF_UP, Decimal
from itertools import chain, islice, takewhile

from desk.domain.orders.piece import Weighing
from desk.domain.status import PieceStatus
from desk.domain.weight import Shown, WeightUnit
from desk.session.pile.pile import Pile
from desk.session.pile.stamps_out import Turn
from desk.session.pile.usual import UsualMailer, UsualSoFar, chosen_mailers, usual_of
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


class _Group:
    """The pieces with the same contents, sorted as they are asked for, so that no weighing walks all of them."""

    def __init__(self) -> None:
        self.places: dict[int, int] = {}  # each piece's place in import order
        self.weighed: list[Turn] = []  # in the order of weighing
        self.unweighed: list[Turn] = []  # by place
        self.copies: list[Turn] = []  # by place: those whose weight was copied
        self.left: list[Case] = []  # weighed before and no longer here, oldest first
        self._turns: dict[int, int] = {}
        self._usual: tuple[int, UsualSoFar] | None = None  # how many of the weighed ones are counted

    def put(self, number: int, turn: int | None, case: Case) -> None:
        """Sort in a piece again, after its weighing changed."""
        place = (self.places[number], number)
        self._take_out(number, place)
        if turn is None:
            insort(self.unweighed, place)
            return
        self._turns[number] = turn
        index = bisect_left(self.weighed, (turn, number))
        self.weighed.insert(index, (turn, number))
        self._recount_from(index)
        if _is_copy(case):
            insort(self.copies, place)

    def usual(self, case_of: Callable[[int], Case]) -> UsualMailer | None:
        """Return the usual mailer of the weighed pieces; after another weighing only that one is counted."""
        counted, so_far = self._usual or (0, UsualSoFar(chosen_mailers(self.left)))
        for used in chosen_mailers(case_of(number) for _, number in self.weighed[counted:]):
            so_far.add(used)
        self._usual = (len(self.weighed), so_far)
        return so_far.usual()

    def _take_out(self, number: int, place: Turn) -> None:
        before = self._turns.pop(number, None)
        for line, entry in ((self.unweighed, place), (self.copies, place), (self.weighed, (before or 0, number))):
            index = bisect_left(line, entry)
            if index < len(line) and line[index] == entry:
                del line[index]
                if line is self.weighed:
                    self._recount_from(index)

    def _recount_from(self, index: int) -> None:
        """Count the usual mailer from the start again if a piece among those counted changed."""
        if self._usual is not None and index < self._usual[0]:
            self._usual = None


class Alike:
    """The pieces of a pile by contents. It follows the pile."""

    def __init__(self, pile: Pile) -> None:
        self._pile = pile
        self._keys: dict[int, Key] = {}
        self._groups: dict[Key, _Group] = {}
        self._is_stale = True
        pile.followers.add(self)

    def follow(self, piece_id: int | None) -> None:
        """Follow a piece whose verdict changed; None: everything was read again."""
        verdict = self._pile.verdicts.get(piece_id) if piece_id is not None else None
        key = self._key(verdict.case) if verdict is not None else None
        if piece_id is None or verdict is None or key is None or self._keys.get(piece_id) != key:
            self._is_stale = True
        elif not self._is_stale:
            self._groups[key].put(piece_id, self._pile.turn_of(piece_id), verdict.case)

    def _group(self, piece_id: int) -> _Group:
        if self._is_stale:
            self._sort_all()
        key = self._keys.get(piece_id)  # of an order without lines: ()
        return _NO_GROUP if key is None else self._groups[key]

    def _sort_all(self) -> None:
        self._is_stale, self._keys, self._groups = False, {}, {}
        for place, (number, verdict) in enumerate(self._pile.verdicts.items()):
            if (key := self._key(verdict.case)) is not None:
                self._keys[number] = key
                group = self._groups.setdefault(key, _Group())
                group.places[number] = place
                group.put(number, self._pile.turn_of(number), verdict.case)
        for one in self._pile.latest:
            key = self._key(one.case)
            if one.id not in self._pile.verdicts and key in self._groups:
                self._groups[key].left.append(one.case)

    @property
    def confirmed(self) -> frozenset[str]:
        """The issues confirmed once per product."""
        return self._pile.terms.confirmed

    def same_contents(self, piece_id: int) -> list[int]:
        """Return the other pieces with the same contents, in import order."""
        members = self._group(piece_id).places
        return [number for number in members if number != piece_id and number in self._pile.verdicts]

    def have_same_contents(self, one: int, other: int) -> bool:
        """Return whether two different pieces have the same contents."""
        return one != other and one in self._group(other).places

    def last_weighed(self, piece_id: int) -> Case | None:
        """Return the last weighed case with the same contents."""
        latest = [number for _, number in self._group(piece_id).weighed[-2:] if number != piece_id]
        left = self._group(piece_id).left[-1:]
        return self._case(latest[-1]) if latest else left[0] if left else None

    def usual(self, piece_id: int) -> UsualMailer | None:
        """Return the mailer usually used for the same contents; None when too few were weighed."""
        group = self._group(piece_id)
        if self._pile.turn_of(piece_id) is None:
            return group.usual(self._case)
        here = (self._case(number) for _, number in group.weighed if number != piece_id)
        return usual_of(chosen_mailers(chain(group.left, here)))

    def waiting(self, piece_id: int) -> list[int]:
        """Return the unweighed pieces that may use this weight: in no other mailer. Empty for a copied weight."""
        case = self._case(piece_id)
        if case.weighing is None or case.weighing.copied_from:
            return []
        return [number for number in self._unweighed(piece_id) if self._may_take(number, case.mailer_name)]

    def with_postage(self, piece_id: int) -> list[int]:
        """Return identical unweighed pieces that already have their postage on and can take no weight."""
        return [number for number in self._unweighed(piece_id) if self._case(number).is_paid]

    def _unweighed(self, piece_id: int) -> list[int]:
        return [number for _, number in self._group(piece_id).unweighed if number != piece_id]

    def weight_for_others(self, piece_id: int) -> Shown:
        """Return the weight for the others: this one, or the average of ten that were on the scale."""
        case = self._case(piece_id)
        assert case.weighing is not None
        own = case.weighing.shown
        others = [number for _, number in self._group(piece_id).weighed if number != piece_id]
        sample = [own, *(shown for number in others if (shown := self._own_weight(number, case, own.unit)))]
        if len(sample) < SAMPLE:
            return own
        mean = sum((shown.value for shown in sample), Decimal(0)) / len(sample)
        return Shown(mean.quantize(FINEST[own.unit], ROUND_HALF_UP), own.unit, max(each.division for each in sample))

    def to_check(self, piece_id: int) -> list[int]:
        """Return the copies to check on the scale: the first, middle and last, minus as many as were checked."""
        return self._checks_of(self._group(piece_id))

    def all_to_check(self) -> list[int]:
        """Return the spot checks of every group with copied weights."""
        if self._is_stale:
            self._sort_all()
        copied = sorted((group for group in self._groups.values() if group.copies), key=lambda group: group.copies[0])
        return [number for group in copied for number in self._checks_of(group)]

    def _checks_of(self, group: _Group) -> list[int]:
        """Return the copies to check that are not paid for; a piece weighed after the last copy was such a check."""
        copies = [number for _, number in group.copies if not self._case(number).is_paid]
        if not copies:
            return []
        latest = (self._case(number) for _, number in reversed(group.weighed))
        checked = list(islice(takewhile(lambda case: not _is_copy(case), latest), SPOT_CHECKS))
        proposed = dict.fromkeys((copies[0], copies[len(copies) // 2], copies[-1]))
        return list(proposed)[: SPOT_CHECKS - len(checked)]

    def _key(self, case: Case) -> Key | None:
        """Return product and count of each line; without a known product, item and variant must be equal.

        None for an order in several packages, since the contents of each are unknown.
        """
        if case.pieces_in_order != 1:
            return None
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

    def _own_weight(self, piece_id: int, like: Case, unit: WeightUnit) -> Shown | None:
        case = self._case(piece_id)
        weighing = case.weighing
        if weighing is None or weighing.copied_from or weighing.shown.unit is not unit:
            return None
        return weighing.shown if case.mailer_name == like.mailer_name else None


_NO_GROUP = _Group()  # of a piece in an order of several: never filled


def _is_copy(case: Case) -> bool:
    weighing: Weighing | None = case.weighing
    return weighing is not None and bool(weighing.copied_from)
