"""Suggest a mapping for an order list: what is certain, what is likely, and what is ignored."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from desk.domain.faults import Refused, Unreadable
from desk.domain.whole_file import write_whole
from desk.intake.order_headers.mapping_file import ColumnMapping, mapping_text, read_mapping
from desk.intake.orders.order_list import OrderRules
from desk.session.importing.preview import NO_SHOP, Preview, accept_all, open_table, preview_sheet
from desk.tables.decoding import EncodingUnsure

HEAD = """\
# Which column of {file} is which field. Check the lines marked "likely", then run with --map.
"""


def write_suggested_mapping(orders: Path, mapping: Path | None, path: Path, rules: OrderRules = NO_SHOP) -> None:
    """Write a suggested mapping for an order list; nothing when the list is no table.

    Refused when the file can't be written; Unreadable when the existing mapping can't be read.
    """
    known = read_mapping(mapping) if mapping else ColumnMapping()
    try:
        sheet = open_table(orders, known.reading)
    except EncodingUnsure as unsure:
        text = "".join(_encodings(orders, known, unsure))
    except Unreadable:
        return  # the run reports it with every other fault
    else:
        rules = replace(rules, mapping=known)
        now = preview_sheet(sheet, rules)
        later = preview_sheet(sheet, replace(rules, mapping=accept_all(sheet, rules)))
        text = suggested_mapping(now, later, known)
    try:
        write_whole(path, text.encode())
    except OSError as error:
        raise Refused(f"{path} cannot be written: {error.strerror}. Choose another place.") from error


def suggested_mapping(now: Preview, later: Preview, known: ColumnMapping) -> str:
    """Return a mapping as TOML text with every column in use and every suggestion; ignored columns are comments.

    `later` is the preview of the list with everything accepted that is suggested `now`, and what becomes likely by it.
    """
    columns = dict(zip(later.columns, later.headers, strict=True))
    cells = {name: ", ".join(_examples(later, place)) for name, place in zip(later.columns, later.places, strict=True)}
    comments = {name: f"likely: {cells[name]}" for name in columns if name not in now.columns}
    closed = {name: "" for name, header in known.columns.items() if not header}
    whole = replace(known, columns={**columns, **closed}, country=known.country or now.likely_country)
    guess = f'# likely, by the postal codes: country = "{now.likely_country}"\n' if now.likely_country else ""
    lines = [
        HEAD.format(file=now.path.name),
        guess,
        mapping_text(whole, comments),
        *_open_formats(later, known),
        *_ignored(later),
    ]
    return "".join(lines)


def _examples(preview: Preview, place: int) -> list[str]:
    """Return the first few different cells of a column."""
    return list(dict.fromkeys(cells[place] for cells in preview.cells if place < len(cells) and cells[place]))[:3]


def _encodings(orders: Path, known: ColumnMapping, unsure: EncodingUnsure) -> Iterator[str]:
    """Yield the lines of a mapping that leaves only the encoding open."""
    yield HEAD.format(file=orders.name)
    for name, words in unsure.likely:
        yield f'# encoding = "{name}"  # reads as: {words}\n'
    yield mapping_text(known)


def _open_formats(preview: Preview, known: ColumnMapping) -> Iterator[str]:
    if preview.questions and not known.formats:
        yield "[formats]\n"
    for question in preview.questions:
        yield f"# {question.mapping_line}: {question.count} cells read two ways\n"


def _ignored(preview: Preview) -> Iterator[str]:
    if preview.ignored:
        yield "# Not read. To hide this note, add them to ignore = [...] above [columns]:\n"
    for one in preview.ignored:
        yield "# " + " ".join(one.words().split()) + "\n"
