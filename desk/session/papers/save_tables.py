"""Save the tables of a pile from the window: the same files that a headless run leaves."""

from __future__ import annotations

from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.session.papers.run_results import batch_tables
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms


def save_tables(batch: Batch, terms: Terms, folder: Path) -> tuple[str, ...]:
    """Write every table of a pile into a folder and return their names, the postage list among them.

    Files of these names in it are replaced, each whole or not at all. Refused when one cannot be written.
    """
    found = batch_tables(batch, terms, ())
    for name, content in found.items():
        try:
            write_whole(folder / name, content)
        except OSError as error:
            why = (error.strerror or str(error)).lower()
            raise Refused(f"Can't save {folder / name}: {why}. Choose another folder.") from error
    return tuple(found)
