"""Make a paper for chosen pieces: one table says how each kind is made, for the window and a run. Always proofread.

Making may run in the background: it reads its arguments and writes nothing to the store. A page that fails its proof is
left out with the reason; what can't be printed is reported for each piece.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from importlib.resources.abc import Traversable
from io import BytesIO
from typing import TYPE_CHECKING, BinaryIO, Protocol, TypeVar

from desk.domain.finding import Severity
from desk.domain.status import PieceStatus
from desk.session.contents.contents import label_contents, packing_contents, slip_contents
from desk.session.contents.hand_over_contents import hand_over_content
from desk.session.contents.worksheet_contents import keying_contents
from desk.session.papers.kinds import EMPTY, TITLES, Paper
from desk.session.papers.paper_settings import PageOrder, PaperSettings, SmallLabels
from desk.session.papers.print_check import check_printable, printable
from desk.session.pile.batch import Batch
from desk.session.pile.days_that_left import DayThatLeft
from desk.session.verdict.payment import Payment
from desk.session.verdict.verdict import Terms, Verdict
from desk.session.words.figures import day_in_words
from desk.session.words.sentences import sentence
from desk.session.words.statuses import status_name

if TYPE_CHECKING:
    from desk.paper.fonts import Fonts
    from desk.paper.hand_over import HandOverContent
    from desk.paper.ink import PageRecord
    from desk.paper.press import Press
    from desk.paper.proof import PageFault

Progress = Callable[[int, int], None]
Canceled = Callable[[], bool]
FAULTS = {  # sentences by the proof's kinds of faults
    "unread": "Its code {text} can't be read back.",
    "overlap": "“{text}” overlaps something on the page.",
    "edge": "“{text}” runs over the edge of the page.",
    "cut": "“{text}” runs over a cut line.",
}


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A chosen piece that is not on the paper, and why."""

    reference: str
    why: str


@dataclass(frozen=True, slots=True)
class MadePaper:
    """A finished paper: the PDF, the references on each page, and the pieces left out.

    `left_out` were not meant to be printed; `failed` were, and failed the proof. With `faults` the whole paper must not
    be printed. `size` is the page size in points, `proof_seconds` the processor time of the proof.
    """

    paper: Paper
    pdf: bytes
    on_pages: tuple[tuple[str, ...], ...]
    left_out: tuple[LeftOut, ...] = ()
    failed: tuple[LeftOut, ...] = ()
    faults: tuple[str, ...] = ()
    size: tuple[float, float] = (288.0, 432.0)
    proof_seconds: float = 0.0

    @property
    def pages(self) -> int:
        """How many pages it has."""
        return len(self.on_pages)

    @property
    def references(self) -> tuple[str, ...]:
        """The pieces on it, each once."""
        return tuple(dict.fromkeys(reference for page in self.on_pages for reference in page))


@dataclass(frozen=True, slots=True)
class PaperRequest:
    """Which paper to make of which batch, with its settings. `only` lists references; None: all pieces.

    With a `day`, a hand-over sheet lists what was handed over on it.
    """

    paper: Paper
    batch: Batch
    terms: Terms
    only: frozenset[str] | None = None
    settings: PaperSettings = field(default_factory=PaperSettings)
    day: DayThatLeft | None = None

    def wants(self, reference: str) -> bool:
        """Return True when that piece is wanted on the paper."""
        return self.only is None or reference in self.only


def _nobody(_done: int, _of: int) -> None: ...


def _never() -> bool:
    return False


def make_paper(
    wanted: PaperRequest, resources: Traversable, progress: Progress = _nobody, canceled: Canceled = _never
) -> MadePaper | None:
    """Make and proofread one paper; return None when it was canceled."""
    press = press_for(wanted.paper, wanted.terms, wanted.settings, resources)
    batch = replace(wanted.batch, verdicts=tuple(_in_order(wanted)))
    checked = replace(wanted, batch=check_printable(batch, wanted.terms, press.fonts, press))
    return make_checked(checked, press, progress, canceled)


def press_for(paper: Paper, terms: Terms, settings: PaperSettings, resources: Traversable) -> Press:
    """Return the press for a paper: its printer, stock and fonts."""
    from desk.paper.press import Press

    sender = terms.shop.sender
    return Press(
        _fonts(resources),
        stock=settings.stock_of(paper),
        dpi=settings.dpi_of(paper),
        calibration=settings.calibration_of(paper),
        several=settings.small_labels is SmallLabels.SEVERAL,
        title=f"{TITLES[paper]}, {day_in_words(terms.on)}",
        author=sender.recipient or sender.company,
        empty=EMPTY[paper],
    )


def _fonts(resources: Traversable) -> Fonts:
    from desk.paper.fonts import Fonts

    return Fonts(resources / "fonts")


def make_checked(
    wanted: PaperRequest, press: Press, progress: Progress = _nobody, canceled: Canceled = _never
) -> MadePaper | None:
    """Make and proofread one paper of a batch checked by `check_printable`; return None when it was canceled."""
    from desk.paper.proof import prove

    total = sum(1 for verdict in wanted.batch.verdicts if wanted.wants(verdict.case.key.reference))
    press = replace(press, progress=lambda done: progress(done, total), canceled=canceled)
    failed: dict[str, str] = {}
    seconds = 0.0
    while True:
        out = BytesIO()
        records = _WRITERS[wanted.paper](wanted, out, press, frozenset(failed))
        proof = prove(out.getvalue(), records, press.dpi, canceled) if records else None
        if proof is None or canceled():
            return None
        seconds += proof.seconds
        fresh = {reference: _why(fault) for fault in proof.faults for reference in fault.references}
        if not proof.faults or not (fresh.keys() - failed.keys()):
            break
        failed |= fresh
    on_pages = _on_pages(wanted, records)
    on_it = {reference for page in on_pages for reference in page}
    return MadePaper(
        wanted.paper,
        out.getvalue(),
        on_pages,
        tuple(_left_out(wanted, on_it | failed.keys())),
        tuple(LeftOut(reference, why) for reference, why in failed.items()),
        tuple(dict.fromkeys(_why(fault) for fault in proof.faults)),
        press.stock.page,
        seconds,
    )


def _why(fault: PageFault) -> str:
    return f"Failed its check before printing. {FAULTS[fault.kind.value].format(text=fault.text)}"


def _on_pages(wanted: PaperRequest, records: Sequence[PageRecord]) -> tuple[tuple[str, ...], ...]:
    """Return the references on each page; a hand-over sheet counts all its pieces for page one."""
    if wanted.paper is Paper.HAND_OVER:
        rows = [row.reference for group in _hand_over_content(wanted).groups for row in group.rows]
        return tuple(tuple(rows) if not page else () for page in range(len(records)))
    return tuple(tuple(record.references) for record in records)


def _labels(wanted: PaperRequest, out: BinaryIO, press: Press, without: frozenset[str]) -> tuple[PageRecord, ...]:
    from desk.paper.label.label import write_labels

    return write_labels(_chosen(label_contents(wanted.batch, wanted.terms), wanted, press, without), out, press)


def _slips(wanted: PaperRequest, out: BinaryIO, press: Press, without: frozenset[str]) -> tuple[PageRecord, ...]:
    from desk.paper.slip import write_slips

    contents = slip_contents(wanted.batch, wanted.settings.gift_words)
    return write_slips(_chosen(contents, wanted, press, without), out, press)


def _packing_slips(
    wanted: PaperRequest, out: BinaryIO, press: Press, without: frozenset[str]
) -> tuple[PageRecord, ...]:
    from desk.paper.packing_slip import write_packing_slips

    settings = wanted.settings
    contents = packing_contents(wanted.batch, wanted.terms, settings.gift_words, settings.thanks)
    return write_packing_slips(_chosen(contents, wanted, press, without), out, press)


def _keying_sheets(
    wanted: PaperRequest, out: BinaryIO, press: Press, without: frozenset[str]
) -> tuple[PageRecord, ...]:
    from desk.paper.keying.keying_sheet import write_keying_sheets

    return write_keying_sheets(_chosen(keying_contents(wanted.batch, wanted.terms), wanted, press, without), out, press)


def _hand_over(wanted: PaperRequest, out: BinaryIO, press: Press, _without: frozenset[str]) -> tuple[PageRecord, ...]:
    from desk.paper.hand_over import write_hand_over

    return write_hand_over(printable(_hand_over_content(wanted), press.fonts), out, press)


def _hand_over_content(wanted: PaperRequest) -> HandOverContent:
    chosen = tuple(verdict for verdict in wanted.batch.verdicts if wanted.wants(verdict.case.key.reference))
    return hand_over_content(replace(wanted.batch, verdicts=chosen), wanted.terms, wanted.day)


_WRITERS: dict[Paper, Callable[[PaperRequest, BinaryIO, Press, frozenset[str]], tuple[PageRecord, ...]]] = {
    Paper.LABELS: _labels,
    Paper.SLIPS: _slips,
    Paper.PACKING_SLIPS: _packing_slips,
    Paper.KEYING_SHEETS: _keying_sheets,
    Paper.HAND_OVER: _hand_over,
}


class OfPiece(Protocol):
    """What is printed about one piece."""

    @property
    def reference(self) -> str:
        """Return the piece's number."""


C = TypeVar("C", bound=OfPiece)


def _chosen(contents: Iterable[C], wanted: PaperRequest, press: Press, without: frozenset[str]) -> Iterator[C]:
    """Yield the contents of chosen pieces, with a question mark for each character that cannot be printed."""
    for content in contents:
        if wanted.wants(content.reference) and content.reference not in without:
            yield printable(content, press.fonts)


def _in_order(wanted: PaperRequest) -> Sequence[Verdict]:
    """Return the pieces in the order their pages are printed in."""
    verdicts, order = wanted.batch.verdicts, wanted.settings.choice(wanted.paper).order
    if order is PageOrder.REVERSE:
        return verdicts[::-1]
    if order is PageOrder.MAILER:
        return sorted(verdicts, key=lambda verdict: verdict.case.mailer_name)
    if order is PageOrder.DESTINATION:
        return sorted(verdicts, key=_destination)
    return verdicts


def _destination(verdict: Verdict) -> tuple[bool, str, str]:
    """Return the sort key of a destination: home first, then by country; within a country by postal code."""
    address = verdict.case.order.address
    return verdict.is_abroad, address.country if verdict.is_abroad else "", address.postal_code


def _left_out(wanted: PaperRequest, on_it: set[str]) -> Iterator[LeftOut]:
    for verdict in wanted.batch.verdicts:
        reference = verdict.case.key.reference
        if wanted.wants(reference) and reference not in on_it and (why := _why_not(wanted.paper, verdict)):
            yield LeftOut(reference, why)


def _why_not(paper: Paper, verdict: Verdict) -> str:
    """Return why a piece is not on a paper; empty where it doesn't belong on one anyway."""
    if verdict.case.weighing is None:
        return "Not weighed yet."
    if paper is Paper.KEYING_SHEETS:
        return ""
    if stop := next((issue for issue in verdict.findings if issue.severity is Severity.STOP), None):
        return sentence(stop)
    if verdict.case.beside is not None:
        return f"Marked {verdict.case.beside}."
    if paper is Paper.HAND_OVER:
        return "" if verdict.status is PieceStatus.HANDED_OVER else f"Status: {status_name(verdict.status)}."
    if verdict.payment is Payment.ONLINE:
        return "Label comes with the postage you buy online."
    held = next((one for one in verdict.findings if one.severity is Severity.LOOK), None)
    return sentence(held) if verdict.payment is None and held else ""
