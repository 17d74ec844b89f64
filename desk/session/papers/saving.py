"""Save a paper as a PDF, whole or not at all."""

from __future__ import annotations

from pathlib import Path

from desk.domain.whole_file import write_whole
from desk.session.papers.making import Made


def save_paper(made: Made, file: Path) -> Path:
    """Write the PDF and return the file. OSError when it cannot be written; a file of that name then stays as it was."""
    file.parent.mkdir(parents=True, exist_ok=True)
    write_whole(file, made.pdf)
    return file


def cannot_write(file: Path | str, fault: OSError) -> str:
    """Return why a paper could not be saved, as a sentence with what to do."""
    return f"Can't write {file}: {(fault.strerror or str(fault)).lower()}. Choose another folder."
