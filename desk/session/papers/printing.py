"""Papers of chosen pieces: made whole or not at all, read back, given to a queue, noted as printed, voided.

Making and printing may run beside the window: they read what they are given and write nothing to the store. Noting is
an act. What cannot be printed is told with its reason, piece by piece.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from importlib.resources.abc import Traversable
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any, TypeVar

from desk.domain.finding import Severity
from desk.domain.stands import Stand
from desk.session.papers.contents import hand_over_content, keying_contents, label_contents, slip_contents
from desk.session.papers.print_check import check_printable, printable
from desk.session.pile.batch import Batch
from desk.session.sitting import Sitting
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.counts import pieces_in_words
from desk.session.words.sentences import sentence
from desk.store import papers

if TYPE_CHECKING:
    from desk.paper.press import Press
    from desk.paper.spool import Spooler

T = TypeVar("T")
Progress = Callable[[int, int], None]
Cancelled = Callable[[], bool]


class Paper(StrEnum):
    """What can be printed."""

    LABELS = "labels"
    SLIPS = "slips"
    KEYING_SHEETS = "keying sheets"
    HAND_OVER = "hand-over sheet"


NOTED_AS = {
    Paper.LABELS: papers.PaperKind.LABEL,
    Paper.SLIPS: papers.PaperKind.SLIP,
    Paper.KEYING_SHEETS: papers.PaperKind.KEYING_SHEET,
}


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A piece that was chosen and is not on the paper, and why."""

    reference: str
    why: str


@dataclass(frozen=True, slots=True)
class Made:
    """A paper: the PDF, its pages, the pieces on it by reference, those left out, and labels that do not read back."""

    paper: Paper
    pdf: bytes
    pages: int
    references: tuple[str, ...]
    left_out: tuple[LeftOut, ...] = ()
    unread: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which paper of which batch. `only` names the pieces by reference; None: all of them."""

    paper: Paper
    batch: Batch
    terms: Terms
    only: frozenset[str] | None = None

    def wants(self, reference: str) -> bool:
        """True when that piece was chosen."""
        return self.only is None or reference in self.only


def _nobody(_done: int, _of: int) -> None: ...


def _never() -> bool:
    return False


def make_paper(
    wanted: Wanted, resources: Traversable, progress: Progress = _nobody, cancelled: Cancelled = _never
) -> Made | None:
    """Make one paper; None when it was cancelled. Labels are read back at the printer's dots."""
    from desk.paper.fonts import Fonts
    from desk.paper.press import Press

    fonts = Fonts(resources / "fonts")
    checked = replace(wanted, batch=check_printable(wanted.batch, wanted.terms, fonts))
    total = sum(1 for verdict in checked.batch.verdicts if checked.wants(verdict.case.key.reference))
    press = Press(fonts, empty=EMPTY[wanted.paper], progress=lambda done: progress(done, total), cancelled=cancelled)
    out = BytesIO()
    references: list[str] = []
    pages = _WRITERS[wanted.paper](checked, out, press, references)
    if cancelled() or not pages:
        return None
    made = Made(wanted.paper, out.getvalue(), pages, tuple(references), tuple(_left_out(checked, set(references))))
    return _read_back(made, cancelled) if wanted.paper is Paper.LABELS else made


EMPTY = {
    Paper.LABELS: "No label to print.",
    Paper.SLIPS: "No piece here.",
    Paper.KEYING_SHEETS: "No piece here needs a declaration.",
    Paper.HAND_OVER: "Nothing is ready to be handed over.",
}


def _read_back(made: Made, cancelled: Cancelled) -> Made | None:
    from desk.paper.proof import unread

    lost = unread(made.pdf, made.references, cancelled=cancelled)
    return None if cancelled() else replace(made, unread=tuple(lost))


def _labels(wanted: Wanted, out: BytesIO, press: Press, references: list[str]) -> int:
    from desk.paper.label import write_labels

    return write_labels(_drawn(label_contents(wanted.batch, wanted.terms), wanted, press, references), out, press)


def _slips(wanted: Wanted, out: BytesIO, press: Press, references: list[str]) -> int:
    from desk.paper.slip import write_slips

    return write_slips(_drawn(slip_contents(wanted.batch), wanted, press, references), out, press)


def _keying_sheets(wanted: Wanted, out: BytesIO, press: Press, references: list[str]) -> int:
    from desk.paper.keying_sheet import write_keying_sheets

    return write_keying_sheets(
        _drawn(keying_contents(wanted.batch, wanted.terms), wanted, press, references), out, press
    )


def _hand_over(wanted: Wanted, out: BytesIO, press: Press, references: list[str]) -> int:
    from desk.paper.hand_over import write_hand_over

    chosen = [verdict for verdict in wanted.batch.verdicts if wanted.wants(verdict.case.key.reference)]
    content = hand_over_content(replace(wanted.batch, verdicts=tuple(chosen)), wanted.terms)
    references += [row.order for group in content.groups for row in group.rows]
    return write_hand_over(printable(content, press.fonts), out, press)


_WRITERS: dict[Paper, Callable[[Wanted, BytesIO, Press, list[str]], int]] = {
    Paper.LABELS: _labels,
    Paper.SLIPS: _slips,
    Paper.KEYING_SHEETS: _keying_sheets,
    Paper.HAND_OVER: _hand_over,
}


def _drawn(contents: Iterable[T], wanted: Wanted, press: Press, references: list[str]) -> Iterator[T]:
    """The contents of chosen pieces; each keeps its place of the whole batch, and its reference is noted."""
    for content in contents:
        reference = content.reference  # type: ignore[attr-defined]
        if wanted.wants(reference):
            references.append(reference)
            yield printable(content, press.fonts)


def _left_out(wanted: Wanted, on_it: set[str]) -> Iterator[LeftOut]:
    for verdict in wanted.batch.verdicts:
        reference = verdict.case.key.reference
        if wanted.wants(reference) and reference not in on_it and (why := _why_not(wanted.paper, verdict)):
            yield LeftOut(reference, why)


def _why_not(paper: Paper, verdict: Verdict) -> str:
    """Why a piece is not on a paper; empty where it has no business on it."""
    if verdict.case.weighing is None:
        return "Not weighed yet."
    if paper is Paper.KEYING_SHEETS:
        return ""
    if stop := next((found for found in verdict.findings if found.severity is Severity.STOP), None):
        return sentence(stop)
    if verdict.case.beside is not None:
        return f"It is {verdict.case.beside}."
    if paper is Paper.HAND_OVER:
        return "" if verdict.stands is Stand.HANDED_OVER else f"It stands at {verdict.stands}."
    return "Its postage is bought online and brings its own label." if verdict.payment is Payment.ONLINE else ""


@dataclass(frozen=True, slots=True)
class Told:
    """What became of a print: `mark` is a severity, `words` a sentence, `taken` whether the queue has it."""

    mark: str
    words: str
    taken: bool


def queue_names(spooler: Spooler | None = None) -> tuple[str, ...]:
    """The print queues of this machine; asks the spooler, so call it beside the window."""
    from desk.paper.spool import Spooler, queues

    return tuple(queues(spooler or Spooler()))


def print_paper(made: Made, queue: str, spooler: Spooler | None = None) -> Told:
    """Give a paper to a queue, a medium at a time, and tell what became of it. Stops at the first part refused."""
    from desk.paper.proof import by_page_size
    from desk.paper.spool import Outcome, Spooler, hand_to_queue

    told = Told("look", "There was nothing to print.", taken=False)
    with TemporaryDirectory(prefix="tare-and-tag-") as folder:
        for place, (size, part) in enumerate(by_page_size(made.pdf).items()):
            file = Path(folder) / f"{made.paper.replace(' ', '-')}-{place}.pdf"
            file.write_bytes(part)
            handed = hand_to_queue(file, queue, size, spooler or Spooler())
            told = _told(handed.outcome, queue, handed.said)
            if handed.outcome not in (Outcome.PRINTED, Outcome.WAITING):
                return told if not place else replace(told, words=f"{told.words} Part of it was taken before.")
    return told


def _told(outcome: Any, queue: str, said: str) -> Told:
    first = said.splitlines()[0].strip() if said else ""
    words = {
        "printed": ("fine", f"Printed on {queue}."),
        "waiting": ("note", f"{queue} has taken it and has not printed it yet."),
        "stopped": ("look", f"{queue} is paused; nothing was given to it. Start the queue and print again."),
        "no queue": ("stop", f"There is no print queue {queue} any more. Choose another."),
        "refused": ("stop", f"{queue} refused it: {first or 'it did not say why'}."),
        "no spooler": ("stop", "This machine has no print queues. Save the PDF and print it elsewhere."),
    }
    mark, sentence_of_it = words[outcome.value]
    return Told(mark, sentence_of_it, taken=outcome.value in ("printed", "waiting"))


def save_paper(made: Made, file: Path) -> Path:
    """Write the PDF, whole or not at all; the file. OSError when it cannot be written."""
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_name(f".{file.name}.part")
    try:
        beside.write_bytes(made.pdf)
        beside.replace(file)
    finally:
        beside.unlink(missing_ok=True)
    return file


def cannot_write(file: Path | str, fault: OSError) -> str:
    """Why a paper could not be saved, as a sentence with a way out."""
    return f"{file} cannot be written: {(fault.strerror or str(fault)).lower()}. Choose another folder."


def note_printed(sitting: Sitting, piece_ids: Collection[int], paper: Paper) -> None:
    """Note that a paper of each piece left for the printer. It cannot be undone, but voided; a hand-over sheet is of
    no piece and is not noted.
    """
    kind = NOTED_AS.get(paper)
    if kind is None or not piece_ids:
        return
    count = pieces_in_words(len(piece_ids))
    with sitting.store.act(f"Print {paper} of {count}") as tx:
        papers.printed(tx, piece_ids, kind)
    sitting.announce(sitting.store.last_changes)


def void_papers(sitting: Sitting, piece_ids: Collection[int], paper: Paper) -> int:
    """Void every paper of that kind that holds for these pieces; how many there were."""
    held = [one for one in holding(sitting, paper) if one.piece_id in piece_ids]
    if held:
        count = "1 paper" if len(held) == 1 else f"{len(held)} papers"
        with sitting.store.act(f"Void {count} of {paper}") as tx:
            for one in held:
                papers.void(tx, one.id)
        sitting.announce(sitting.store.last_changes)
    return len(held)


def holding(sitting: Sitting, paper: Paper) -> list[papers.Paper]:
    """The printings of that kind that were not voided, oldest first."""
    kind = NOTED_AS.get(paper)
    with sitting.store.reading() as conn:
        return [one for one in papers.all_papers(conn) if one.kind is kind and one.voided_at is None]


def printed_at(sitting: Sitting, paper: Paper) -> dict[int, datetime]:
    """When the last paper of that kind that holds was printed, by piece id (UTC)."""
    return {one.piece_id: one.at for one in holding(sitting, paper)}


def in_one_line(references: Sequence[str]) -> str:
    """References in one line for a message, the first few of many."""
    shown = ", ".join(references[:5])
    return shown if len(references) <= 5 else f"{shown} and {len(references) - 5} more"
