"""Split the open order into packages, enter what is in each, or put all in one package again."""

from __future__ import annotations

from collections.abc import Sequence

from desk.domain.severity import Severity
from desk.session.bench.splitting import SplitView, split_by_counts, split_view
from desk.ui.bench.acts.opening import OpeningActs
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event
from desk.ui.trade.split_card import SplitCard


class SplittingActs:
    """Packages of the open order."""

    def __init__(self, view: BenchLayout, opening: OpeningActs) -> None:
        self._view, self._opening = view, opening

    def split(self) -> None:
        """Ask how many packages there are and what is in each; another press proposes one more. Saving adds them."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            view.desk.happened.emit(Event("Open a piece first: type its number, or press N.", Severity.LOOK))
            return
        if view.split_card is not None:
            view.split_card.add_package()
            return
        self._show(view.piece)

    def _show(self, piece: int) -> None:
        view = self._view
        packages = split_view(view.desk.sitting, piece)
        if packages.most < 2:
            words = f"{packages.order} has one item, and customs needs a whole item in each package."
            view.desk.happened.emit(Event(words, Severity.LOOK))
            return
        if packages.existing == 1:
            packages = split_view(view.desk.sitting, piece, 2)
        view.put_away_fields()
        card = SplitCard(packages, lambda count: split_view(view.desk.sitting, piece, count))
        card.saved.connect(lambda counts: self._save(card.view, counts))
        view.show_split(card)

    def _save(self, packages: SplitView, counts: Sequence[Sequence[int]]) -> None:
        """Save the split; one that doesn't add up stays open, with the reason in the message line."""
        view = self._view
        if not view.desk.has_done(split_by_counts, packages, counts):
            return
        view.put_away_fields()
        if view.piece is None and (first := view.desk.pile.find(packages.order)) is not None:
            self._opening.open_piece(first)  # the package that was open is gone
        view.arrive()
