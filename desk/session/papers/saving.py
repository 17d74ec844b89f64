"""Save a paper as a PDF, whole or not at all."""

from __future__ import annotations

from pathlib import Path

from desk.domain.whole_file import write_whole
from desk.session.papers.making import MadePaper


def save_paper(made: MadePaper, file: Path) -> Path:
    """Write the PDF and return the file. OSError, leaving an existing file unchanged, when it can't be written."""
    file.parent.mkdir(parents=True, exist_ok=True)
    write_whole(file, made.pdf)
    return file


def cannot_write(file: Path | str, fault: OSError) -> str:
    """Return a sentence saying why a paper could not be saved and what to do."""
    return f"Can't write {file}: {(fault.strerror or str(fault)).lower()}. Choose another folder."
