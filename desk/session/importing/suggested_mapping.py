"""Suggest a mapping for an order list: what is certain, what is likely, and what is ignored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from desk.domain.faults import Refused, Unreadable
from desk.domain.whole_file import write_whole
from desk.intake.order_headers.mapping_file import ColumnMapping, mapping_text, read_mapping
from desk.session.importing.preview import Preview, preview_orders

HEAD = """\
# Which column of {file} is which field. Check the lines marked "likely", then run with --map.
"""


def write_suggested_mapping(orders: Path, mapping: Path | None, path: Path) -> None:
    """Write a suggested mapping for an order list; nothing when the list is no table.

    Refused when the file can't be written; Unreadable when the existing mapping can't be read.
    """
    known = read_mapping(mapping) if mapping else ColumnMapping()
    try:
        preview = preview_orders(orders, known)
    except Unreadable:
        return  # the run reports it with every other fault
    try:
        write_whole(path, suggested_mapping(preview, known).encode())
    except OSError as error:
        raise Refused(f"{path} cannot be written: {error.strerror}. Choose another place.") from error


def suggested_mapping(preview: Preview, known: ColumnMapping) -> str:
    """Return a mapping as TOML text with every column in use and every suggestion; ignored columns are comments."""
    columns = dict(zip(preview.columns, preview.headers, strict=True))
    comments = {}
    for offer in preview.suggestions:
        columns.setdefault(offer.ours, offer.header)
        comments[offer.ours] = f"likely: {', '.join(offer.values)}"
    closed = {name: "" for name, header in known.columns.items() if not header}
    whole = replace(known, columns={**columns, **closed})
    lines = [
        HEAD.format(file=preview.path.name),
        mapping_text(whole, comments),
        *_open_formats(preview, known),
        *_ignored(preview),
    ]
    return "".join(lines)


def _open_formats(preview: Preview, known: ColumnMapping) -> Iterator[str]:
    if preview.questions and not known.formats:
        yield "[formats]\n"
    for question in preview.questions:
        words = " or ".join(f'"{word}"' for word in question.readings)
        yield f"# {question.mapping_line}  # {words}: {question.count} cells read two ways\n"


def _ignored(preview: Preview) -> Iterator[str]:
    if preview.ignored:
        yield "# Not read. To stop being told, add them to ignore = [...] above [columns]:\n"
    for one in preview.ignored:
        yield "# " + " ".join(one.words().split()) + "\n"
