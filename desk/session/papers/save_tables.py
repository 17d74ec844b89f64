"""Save the tables of a batch from the window: the same files a headless run writes."""

from __future__ import annotations

from pathlib import Path

from desk.domain.faults import Refused
from desk.domain.whole_file import write_whole
from desk.session.papers.run_results import batch_tables
from desk.session.pile.batch import Batch
from desk.session.verdict.verdict import Terms


def save_tables(batch: Batch, terms: Terms, folder: Path) -> tuple[str, ...]:
    """Write every table of a batch into a folder, including the postage list, and return their names.

    Files with these names are replaced, each whole or not at all. Refused when one can't be written.
    """
    made = batch_tables(batch, terms, ())
    for name, content in made.items():
        try:
            write_whole(folder / name, content)
        except OSError as error:
            why = (error.strerror or str(error)).lower()
            raise Refused(f"Can't save {folder / name}: {why}. Choose another folder.") from error
    return tuple(made)
