"""The memory of past weighings: learned weights, and how plausible each reading was when it was taken.

Everything follows from the weighings in use, in order, so it can always be learned again. The latest weighing can be
undone at once; an older correction makes the memory stale until it is rebuilt.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from desk.domain.finding import Code
from desk.domain.shop.shop import Shop
from desk.domain.weight import GRAMS_IN
from desk.learning.learner import Learner
from desk.learning.parcel import Expected, Parcel, ShownWeight
from desk.learning.verdicts import WeightVerdict
from desk.session.learned.parcels import parcel_of, reading_of, typed_mailers, typed_products
from desk.session.sitting import Sitting
from desk.session.verdict.case import Case
from desk.session.verdict.default_mailer import guessed_mailer
from desk.store.tables import hand_overs, weighings

LEARN_AT_ONCE = 300  # about a tenth of a second
TENTH_OUNCE_G = 2.8349523125
KEPT_STEPS = 8  # how many of the latest weighings can be undone at once
EXTRA_PACKING = "extra-packing"  # the answer "heavy from extra packing": nothing is learned about the products
ODD_WEIGHT = frozenset({Code.LIGHTER_THAN_CONTENTS, Code.HEAVIER_THAN_CONTENTS})


@dataclass(frozen=True, slots=True)
class Taught:
    """What is saved of a weighing that was learned from; `packed` are the contents of a package of a divided order."""

    weighing_id: int
    right: bool | None = None
    packed: str = ""


@dataclass(frozen=True, slots=True)
class PastWeighing:
    """One weighing in use; `number` names its piece. `right` is the answer about the contents; None: no answer."""

    weighing_id: int
    piece_id: int
    number: str
    parcel: Parcel
    reading: ShownWeight
    right: bool | None = None
    packed: str = ""

    @property
    def taught(self) -> Taught:
        """What is saved of it once it was learned from."""
        return Taught(self.weighing_id, self.right, self.packed)


@dataclass(slots=True)
class Memory:
    """Everything learned so far. `stale`: an older weighing was corrected, so it should be rebuilt."""

    learner: Learner
    verdicts: dict[int, WeightVerdict] = field(default_factory=dict)  # by weighing id
    neighbors: dict[int, str] = field(default_factory=dict)  # by weighing id: the piece weighed just before
    taught: dict[int, Taught] = field(default_factory=dict)  # by piece id, oldest first
    stale: bool = False
    last: str = ""  # number of the piece weighed last
    _steps: list[_Step] = field(default_factory=list)

    @classmethod
    def begin(cls, shop: Shop) -> Memory:
        """Return a memory that knows only the weights someone typed."""
        return cls(Learner.begin(typed_products(shop), typed_mailers(shop)))

    @classmethod
    def rebuild(
        cls,
        shop: Shop,
        past: Sequence[PastWeighing],
        progress: Callable[[int, int], None] = lambda _done, _all: None,
        canceled: Callable[[], bool] = lambda: False,
    ) -> Memory:
        """Return a memory rebuilt from all past weighings; stale when it was canceled."""
        memory = cls.begin(shop)
        for count, one in enumerate(past):
            if count % 100 == 0:
                progress(count, len(past))
                if canceled():
                    memory.stale = True
                    break
            memory.teach(one, keep_step=count >= len(past) - KEPT_STEPS)
        return memory

    @classmethod
    def unread(cls, sitting: Sitting, shop: Shop) -> Memory:
        """Return a memory for a store whose past weighings are not read yet: they are learned as they are read, or
        later.

        More than `LEARN_AT_ONCE` would take too long, and those of pieces that left are not read: the memory is then
        stale, and gives no expectations until rebuilt.
        """
        memory = cls.begin(shop)
        with sitting.store.reading() as conn:
            memory.stale = weighings.fingerprint(conn)[0] > LEARN_AT_ONCE or hand_overs.has_left(conn)
        return memory

    def verdict(self, weighing_id: int | None) -> WeightVerdict | None:
        """Return how plausible a weighing was when it was taken; None when nothing was learned from it."""
        return None if weighing_id is None else self.verdicts.get(weighing_id)

    def expect(self, case: Case, shop: Shop, mailer: str) -> Expected | None:
        """Return the expected reading for a piece in a mailer; None when its contents are not known.

        The scale's step is the shop's, else a tenth of an ounce.
        """
        parcel = parcel_of(replace(case, mailer=mailer), shop)
        return None if parcel is None else self.learner.expect(parcel, _step_g(shop))

    def shared_variance(self, parts: Sequence[tuple[Case, str, float]], shop: Shop) -> float:
        """Return what uncertain weights that pieces share add to the variance of a weighted sum of their readings.

        `parts` are cases, each with its mailer and its factor in the sum.
        """
        parcels = [(parcel_of(replace(case, mailer=mailer), shop), factor) for case, mailer, factor in parts]
        return self.learner.shared_variance([(parcel, factor) for parcel, factor in parcels if parcel is not None])

    def nets(self, case: Case, shop: Shop) -> dict[str, int] | None:
        """Return net weights in whole grams by product for a weighed piece; None when they are not known well."""
        parcel = parcel_of(case, shop)
        if parcel is None or case.weighing is None:
            return None
        return self.learner.nets(parcel, reading_of(case.weighing.shown))

    def weighed_before(self, weighing_id: int) -> str:
        """Return the number of the piece weighed just before; empty when unknown."""
        return self.neighbors.get(weighing_id, "")

    def follow(self, piece_id: int, now: PastWeighing | None) -> None:
        """Update the memory for one piece: it was weighed, weighed again, answered, or its weighing was undone."""
        before = self.taught.get(piece_id)
        if before == (now and now.taught):
            return
        if before is not None and not self._take_back(piece_id):
            self.stale = True
        elif now is not None:
            newest = next(reversed(self.taught.values())).weighing_id if self.taught else 0
            if now.weighing_id < newest:
                self.stale = True
            else:
                self.teach(now)

    def remembered(self, piece_id: int, weighing_id: int | None, case: Case, shop: Shop) -> Case:
        """Return the case with how plausible its weight is; learns from its weighing when that is new."""
        known = self.taught.get(piece_id)
        changed = weighing_id is None or known != Taught(weighing_id, _answered(case.answered), _packed(case))
        if changed and not self.stale:
            self.follow(piece_id, past_weighing(piece_id, weighing_id, case, shop))
        if weighing_id is None or (fit := self.verdicts.get(weighing_id)) is None:
            return case
        return replace(case, fit=fit, weighed_before=self.neighbors.get(weighing_id, ""))

    def teach(self, past: PastWeighing, *, keep_step: bool = True) -> None:
        """Learn from the next weighing. With `keep_step` a copy is kept so that it can be undone at once."""
        if keep_step:
            self._steps.append(_Step(past.piece_id, self.last, self.learner.copy()))
            del self._steps[:-KEPT_STEPS]
        verdict = self.learner.learn(past.parcel, past.reading, past.right)
        if past.right is not None:
            self.learner.answer(verdict.fit, right=past.right)
        self.verdicts[past.weighing_id] = verdict
        self.neighbors[past.weighing_id] = self.last
        self.taught[past.piece_id] = past.taught
        self.last = past.number

    def _take_back(self, piece_id: int) -> bool:
        """Undo the newest weighing; return False when the piece's weighing is not the newest."""
        if not self._steps or self._steps[-1].piece_id != piece_id:
            return False
        step = self._steps.pop()
        self.learner, self.last = step.learner, step.last
        weighing_id = self.taught.pop(piece_id).weighing_id
        del self.verdicts[weighing_id], self.neighbors[weighing_id]
        return True


@dataclass(frozen=True, slots=True)
class _Step:
    """The learner as it was before a piece was weighed."""

    piece_id: int
    last: str
    learner: Learner


def expected_reading(case: Case, shop: Shop, expecting: Callable[[Case, str], Expected | None]) -> Expected | None:
    """Return what `expecting` expects of a case in its mailer, else in the one that would be guessed.

    A weighed piece has what was expected when it was weighed. None when too little is known.
    """
    if case.fit is not None:
        expected: Expected | None = case.fit.expected
    else:
        named = case.mailer_name or guessed_mailer(case.order, shop)
        expected = expecting(case, named) if named else None
    return expected if expected is not None and expected.can_judge else None


def past_weighing(piece_id: int, weighing_id: int | None, case: Case, shop: Shop) -> PastWeighing | None:
    """Return a piece's weighing to learn from; None when nothing can be learned from it.

    Nothing is learned from copied weights, or from pieces whose contents or mailer are unknown.
    """
    weighing, parcel = case.weighing, parcel_of(case, shop)
    if weighing is None or weighing_id is None or parcel is None or weighing.copied_from:
        return None
    right = _answered(case.answered)
    return PastWeighing(weighing_id, piece_id, case.number, parcel, reading_of(weighing.shown), right, _packed(case))


def in_order(past: Iterable[PastWeighing | None]) -> list[PastWeighing]:
    """Return the weighings that can be learned from, in the order they were taken."""
    return sorted((one for one in past if one is not None), key=lambda one: one.weighing_id)


def _packed(case: Case) -> str:
    """Return what is in a package of a divided order, which may change after it was weighed; empty for any other."""
    if not case.is_divided:
        return ""
    return "; ".join(f"{line.key} x{line.quantity}" for line in case.order.lines)


def _answered(answered: frozenset[str]) -> bool | None:
    if EXTRA_PACKING in answered:
        return False
    return True if answered & ODD_WEIGHT else None


def _step_g(shop: Shop) -> float:
    policy = shop.policy
    if policy.scale_division is None or policy.scale_unit is None:
        return TENTH_OUNCE_G
    return float(policy.scale_division * GRAMS_IN[policy.scale_unit])
