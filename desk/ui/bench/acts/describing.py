"""Describe how the open piece is packed: mailer, thickness, size, rigid or lumpy."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from desk.domain.severity import Severity
from desk.session.bench.service_choice import service_choices
from desk.session.bench.weigh import describe
from desk.session.pile.bulk_changes import choose_service, size_typed
from desk.session.pile.packing import Placement
from desk.ui.bench.layout import BenchLayout
from desk.ui.bridge import Event
from desk.ui.trade.service_refusal import show_if_it_cannot

CHEAPEST = "cheapest"
WEIGH_FIRST = "Weigh it to see which services can carry it."


class DescribingActs:
    """What you can tell by hand about the package."""

    def __init__(self, view: BenchLayout) -> None:
        self._view = view

    def offer_mailers(self) -> None:
        """Show the list of mailers, or hide it."""
        view = self._view
        if view.verdict is None or view.mailers.isVisible():
            view.mailers.hide()
            view.arrive()
            return
        view.put_away_fields()
        names = [(mailer.name, mailer.name) for mailer in view.desk.pile.terms.shop.mailers]
        view.mailers.open(names, view.placement.mailer)

    def offer_services(self) -> None:
        """Show or hide the services that can carry the piece."""
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.services.isVisible():
            view.services.hide()
            view.arrive()
            return
        choices = service_choices(verdict, view.desk.pile.terms)
        if not choices:
            weighed = verdict.case.weighing is not None
            words = f"No service can carry {verdict.case.number} at this weight and size." if weighed else WEIGH_FIRST
            view.desk.happened.emit(Event(words, Severity.LOOK))
            return
        view.put_away_fields()
        pairs = [*((one.service, one.words) for one in choices), (CHEAPEST, "Cheapest that fits")]
        view.services.open(pairs, next((one.service for one in choices if one.is_used), ""))

    def choose_service(self, service: str) -> None:
        """Choose a service; one that can't carry the piece says why at once."""
        view = self._view
        if view.piece is not None:
            view.desk.do(choose_service, [view.piece], "" if service == CHEAPEST else service)
            show_if_it_cannot(view.desk, [view.piece])
        view.arrive()

    def choose_mailer(self, name: str) -> None:
        """Choose the mailer."""
        mailer = self._view.desk.pile.terms.shop.mailer(name)
        if mailer is not None:
            self._change(lambda now: now.in_mailer(mailer))
        self._view.arrive()

    def set_thickness(self, name: str) -> None:
        """Set the thickness; the same again returns to the mailer's own."""
        view = self._view
        mailer = view.desk.pile.terms.shop.mailer(view.placement.mailer)
        if mailer is None or mailer.size is None:
            view.desk.happened.emit(Event("Choose a mailer first (M).", Severity.LOOK))
            return
        self._change(lambda now: now.as_thick(name, mailer))

    def ask_size(self) -> None:
        """Open the field for a size."""
        if self._view.verdict is not None:
            self._view.put_away_fields()
            self._view.size_field.open()

    def size_typed(self, text: str) -> None:
        """Save the typed size."""
        view = self._view
        size = view.desk.do_quietly(lambda _sitting: size_typed(text))
        if size is not None:
            view.size_field.close_field()
            self._change(lambda now: replace(now, size=size))

    def toggle_rigid(self) -> None:
        """Switch between rigid and not rigid."""
        now = self._view.write.stiff.isChecked()
        self._change(lambda placement: replace(placement, stiff=not now))

    def toggle_lumpy(self) -> None:
        """Switch between lumpy and even."""
        self._change(lambda placement: replace(placement, uneven=not placement.uneven))

    def _change(self, change: Callable[[Placement], Placement]) -> None:
        view, verdict = self._view, self._view.verdict
        if verdict is None or view.piece is None:
            return
        before = view.placement
        after = change(before)
        view.scale.placement = after
        if verdict.case.weighing is not None or after.mailer != before.mailer or after.is_chosen != before.is_chosen:
            view.desk.do(describe, view.piece, after)
        view.show_all()
