"""What a file leaves open, to be asked of the person before it is taken in: dates and amounts that read two ways."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from desk.intake.columns.amounts import NotRead, TwoWays, day, money
from desk.intake.columns.headers import Columns
from desk.intake.columns.sheet import Sheet
from desk.intake.table.watch import UNWATCHED, WHOLE, Watch

DATE_FIELDS = ("placed",)
AMOUNT_FIELDS = ("unit_price", "shipping_paid", "discount")


@dataclass(frozen=True, slots=True)
class Question:
    """One thing a person settles for the whole file: `about` is `dates` or `decimal`, as in `Reading`.

    `readings` is the answer to hand in -> what the first doubtful cell then reads; `likely` is the answer that other
    cells of the file speak for, empty when none does.
    """

    about: str
    column: str
    line: int
    found: str
    readings: Mapping[str, str] = field(default_factory=dict, hash=False)
    likely: str = ""


def open_questions(sheet: Sheet, columns: Columns, currency: str, watch: Watch = UNWATCHED) -> tuple[Question, ...]:
    """The questions of a file, at most one of each kind, at its first doubtful cell. Stopped when it is wanted no more."""
    share = WHOLE // len(DATE_FIELDS + AMOUNT_FIELDS)
    dates = _asked("dates", _cells(sheet, columns, DATE_FIELDS, watch.part(0, share)), columns, day)
    cells = _cells(sheet, columns, AMOUNT_FIELDS, watch.part(share, WHOLE))
    amounts = _asked("decimal", cells, columns, lambda text, answer: money(text, currency, answer))
    return tuple(question for question in (dates, amounts) if question is not None)


def _asked(
    about: str, cells: Iterable[tuple[str, int, str]], columns: Columns, read: Callable[[str, str], object]
) -> Question | None:
    first: Question | None = None
    settled = ""
    for ours, line, text in cells:
        try:
            read(text, "")
        except TwoWays as doubt:
            first = first or Question(about, columns.name(ours), line, text, doubt.readings)
        except NotRead:
            continue
        else:
            settled = settled or _spoken_for(about, text)
    if first is None or settled not in first.readings:
        return first
    return Question(about, first.column, first.line, first.found, first.readings, settled)


def _cells(sheet: Sheet, columns: Columns, fields: tuple[str, ...], watch: Watch) -> Iterator[tuple[str, int, str]]:
    for turn, ours in enumerate(fields):
        part = watch.part(WHOLE * turn // len(fields), WHOLE * (turn + 1) // len(fields))
        rows = part.over(sheet.rows if ours in columns.places else ())
        yield from ((ours, row.line, text) for row in rows if (text := columns.cell(row.cells, ours)))


def _spoken_for(about: str, text: str) -> str:
    """The answer that a cell with one reading gives away: `25/04/2026` begins with the day, `1.234,50` has a comma."""
    if about == "decimal":
        marks = [sign for sign in text if sign in ",."]
        after = len(text.rstrip("0123456789 \u00a0$€£")) if marks else 0
        tail = text[after:].strip(" \u00a0$€£")
        return marks[-1] if marks and len(tail) != 3 else ""
    parts = text.replace(".", "/").replace("-", "/").split("/")
    if len(parts) < 3 or not parts[0].isdigit() or len(parts[0]) > 2 or not parts[1].isdigit():
        return ""
    return "day" if int(parts[0]) > 12 else "month" if int(parts[1]) > 12 else ""
