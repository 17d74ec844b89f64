"""Save the lists of Hand-over as CSV: the postage to buy, and the data of a firm sheet."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QWidget

from desk.domain.faults import Refused
from desk.domain.severity import Severity
from desk.session.lists.firm_sheet import save_firm_sheet
from desk.session.lists.postage_list import left_out_rows, save_postage_list
from desk.session.papers.saving import cannot_write
from desk.session.words.figures import pieces_in_words
from desk.ui.bridge import Desk, Event
from desk.ui.kit.files import file_to_save

CSV = "CSV (*.csv)"


def ask_where_list(desk: Desk, parent: QWidget) -> None:
    """Ask for the file of the postage list, and save it."""
    if (file := file_to_save(parent, "Save the postage list", "postage-list.csv", CSV)) is not None:
        save_list(desk, file)


def save_list(desk: Desk, file: Path) -> None:
    """Save the list of postage to buy online."""
    try:
        batch = desk.pile.batch()
        count, left_out = save_postage_list(batch, desk.pile.terms, file), len(left_out_rows(batch))
    except OSError as fault:
        desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))
    else:
        desk.happened.emit(Event(f"Saved {pieces_in_words(count)}: {file}.{_left_out(left_out)}"))


def ask_where_firm_sheet(desk: Desk, parent: QWidget) -> None:
    """Ask for the file of the firm sheet's data, and save it."""
    if (file := file_to_save(parent, "Save the firm sheet's data", "firm-sheet.csv", CSV)) is not None:
        save_firm_sheet_to(desk, file)


def save_firm_sheet_to(desk: Desk, file: Path) -> None:
    """Save the data of a firm sheet, and say what its certificates cost."""
    try:
        desk.happened.emit(Event(save_firm_sheet(desk.pile.batch(), desk.pile.terms, file)))
    except Refused as why:
        desk.happened.emit(Event(str(why), Severity.LOOK))
    except OSError as fault:
        desk.happened.emit(Event(cannot_write(file, fault), Severity.STOP))


def _left_out(count: int) -> str:
    """Return how many pieces are not in the list, and where to see why; empty for none."""
    return f" {count} left out: Batch > Save tables says why." if count else ""
