"""`AtTheScale` without a store: weights are passed to the test's own function."""

from __future__ import annotations

from collections.abc import Callable

from desk.domain.faults import Refused
from desk.domain.weight import Shown
from desk.scales.settling import StepRule
from desk.session.scale.at_the_scale import AtTheScale, Live, PieceLifted, ScaleNews


class Rehearsal(AtTheScale):
    """Call `save(piece, shown, again)` for each weight; False from it counts as refused."""

    def __init__(
        self,
        save: Callable[[int, Shown, bool], object],
        rule: StepRule | None = None,
        *,
        live: Callable[[Live], object] = lambda _live: None,
        lifted: Callable[[int], object] = lambda _piece: None,
    ) -> None:
        super().__init__(None, self._sort, rule)  # type: ignore[arg-type]  # no store: `_save` is replaced
        self.save, self.lifted, self._live = save, lifted, live

    def _save(self, piece: int, shown: Shown, *, again: bool) -> None:
        if self.save(piece, shown, again) is False:
            raise Refused("The store is busy.")

    def _sort(self, news: ScaleNews) -> None:
        if isinstance(news, Live):
            self._live(news)
        elif isinstance(news, PieceLifted):
            self.lifted(news.piece)
