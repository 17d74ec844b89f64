"""Print the labels accepted last, and after a jam only those still missing: none may be on two packages."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from desk.domain.faults import Refused
from desk.session.papers.bought_labels import SETTING, bought_labels
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import paper_settings
from desk.session.papers.printing import PrintResult, print_pdf
from desk.session.sitting import Sitting
from desk.store.tables import settings

if TYPE_CHECKING:
    from desk.paper.spool import Spooler

NONE_CAME_OUT = "0"


def print_labels(sitting: Sitting, last_good: str = NONE_CAME_OUT, spooler: Spooler | None = None) -> PrintResult:
    """Print the labels accepted last, in batch order, after the last one that came out; runs in the background.

    Refused when there are none, when no printer is chosen, when the PDF is gone, or when `last_good` is not in it.
    """
    from desk.paper.picture import from_page_on

    bought, paper = bought_labels(sitting), paper_settings(sitting)
    queue = paper.choice(Paper.LABELS).queue
    if not bought.saved:
        raise Refused("There are no labels to print. Import and accept some first.")
    if not queue:
        raise Refused("No printer is chosen for labels. Choose one on Papers, or print the saved PDF yourself.")
    going = references_after(bought.first_pages, last_good)
    try:
        pdf = Path(bought.saved).read_bytes()
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(
            f"Can't open {bought.saved} ({why}). Put it back, or print the labels from their own file."
        ) from fault
    first = bought.first_pages[going[0]] + 1
    part = pdf if first == 1 else from_page_on(pdf, first)
    return print_pdf(part, "bought-labels.pdf", paper.stock_of(Paper.LABELS).page, queue, spooler, going)


def note_labels_printed(sitting: Sitting) -> None:
    """Remember that a printer accepted the labels, so that printing again asks which came out."""
    bought = bought_labels(sitting)
    if not bought.was_printed:
        with sitting.store.act("Printed bought labels") as tx:
            settings.write(tx, SETTING, replace(bought, was_printed=True))
            tx.final = "What came out of the printer can't be undone."
        sitting.announce(sitting.store.last_changes)


def references_after(first_pages: Mapping[str, int], last_good: str) -> tuple[str, ...]:
    """Return the references whose labels come after the last good one; all for `0`.

    Refused when that number has no label among them, or when no label comes after it.
    """
    order = tuple(sorted(first_pages, key=lambda reference: first_pages[reference]))
    if last_good.strip() in ("", NONE_CAME_OUT):
        return order
    named = [one for one in order if last_good.strip() in (one, one.removesuffix("-1"))]
    if not named:
        raise Refused(f"No label in this PDF has the number {last_good}.")
    rest = order[order.index(named[0]) + 1 :]
    if not rest:
        raise Refused(f"{last_good.strip()} is the last label. There is nothing left to print.")
    return rest
