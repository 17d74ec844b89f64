"""Send a paper to a print queue, starting at any page, and report the result."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from desk.domain.finding import Severity
from desk.session.papers.making import MadePaper

if TYPE_CHECKING:
    from desk.paper.spool import QueueAnswer, Spooler


@dataclass(frozen=True, slots=True)
class PrintResult:
    """The result of printing: its mark, a sentence, and the pieces on the pages the queue accepted."""

    mark: Severity
    words: str
    handed: tuple[str, ...] = ()

    @property
    def taken(self) -> bool:
        """True when the queue accepted it."""
        return self.mark in (Severity.FINE, Severity.NOTE)


def queue_names(spooler: Spooler | None = None) -> tuple[str, ...]:
    """Return this computer's print queues; asks the spooler, so call it in the background."""
    from desk.paper.spool import Spooler, queues

    return tuple(queues(spooler or Spooler()))


def print_paper(made: MadePaper, queue: str, from_page: int = 1, spooler: Spooler | None = None) -> PrintResult:
    """Send a paper to a queue, from a page (counted from 1) to its end. One that failed its proof is not sent."""
    from desk.paper.picture import from_page_on

    if made.faults:
        return PrintResult(Severity.STOP, f"Not printed. {made.faults[0]}")
    if not 1 <= from_page <= made.pages:
        pages = "only page 1" if made.pages == 1 else f"pages 1 to {made.pages}"
        return PrintResult(Severity.LOOK, f"There is no page {from_page}. This paper has {pages}.")
    pdf = made.pdf if from_page == 1 else from_page_on(made.pdf, from_page)
    on_it = tuple(dict.fromkeys(one for page in made.on_pages[from_page - 1 :] for one in page))
    return print_pdf(pdf, made.paper.file_name, made.size, queue, spooler, on_it)


def print_pdf(
    pdf: bytes,
    name: str,
    size: tuple[float, float],
    queue: str,
    spooler: Spooler | None = None,
    on_it: tuple[str, ...] = (),
) -> PrintResult:
    """Send a PDF with pages of that size (points) to a queue under a file name; `on_it` are its pieces."""
    from desk.paper.spool import Spooler, hand_to_queue

    try:
        with TemporaryDirectory(prefix="tare-and-tag-") as folder:
            file = Path(folder) / name
            file.write_bytes(pdf)
            handed = hand_to_queue(file, queue, size, spooler or Spooler())
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        return PrintResult(Severity.STOP, f"Not printed: can't write a temporary file ({why}).")
    return _result(handed, queue, on_it)


def _result(handed: QueueAnswer, queue: str, on_it: tuple[str, ...]) -> PrintResult:
    first = handed.answer.splitlines()[0].strip() if handed.answer else ""
    mark, words = {
        "printed": (Severity.FINE, f"Printed on {queue}."),
        "waiting": (Severity.NOTE, f"{queue} accepted it but has not printed it yet."),
        "out of paper": (Severity.NOTE, f"{queue} is out of paper. Load paper to continue."),
        "stopped": (Severity.LOOK, f"{queue} is paused. Nothing was printed. Start the printer and print again."),
        "no queue": (Severity.STOP, f"Printer “{queue}” is gone. Choose another."),
        "refused": (Severity.STOP, f"{queue} refused it: {first or 'it gave no reason'}."),
        "no spooler": (Severity.STOP, "No printers on this computer. Save the PDF and print it elsewhere."),
    }[handed.outcome.value]
    return PrintResult(mark, words, on_it if mark in (Severity.FINE, Severity.NOTE) else ())
