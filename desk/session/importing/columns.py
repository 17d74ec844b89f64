"""The columns of a table as they are in the file, and what a person says of them. Every choice is a new mapping.

A field belongs to one column. Giving it to another column swaps the two: that one takes over what this one was.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.session.importing.preview import Preview

EXAMPLES = 3  # different values of a column that are shown


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `fields` are what it is read as, none when it is not read; `offered` the field it may be.

    `values` are the first in it; `is_doubtful` when most of them do not look like the field; `looks_like` what a column
    that is not read may hold (address, name, note, money), empty when nothing is lost; `is_skipped` when a person said so.
    """

    header: str
    fields: tuple[str, ...] = ()
    offered: str = ""
    values: tuple[str, ...] = ()
    is_doubtful: bool = False
    looks_like: str = ""
    is_skipped: bool = False

    @property
    def needs_a_choice(self) -> bool:
        """True when a person has to say what the column is, or skip it."""
        return bool(self.offered or self.looks_like)


def columns_of(preview: Preview) -> tuple[Column, ...]:
    """Return every column of a table, in the order of the file."""
    offered = {offer.place: offer.ours for offer in preview.suggestions}
    ignored = {one.place: one for one in preview.ignored}
    found = []
    for place, header in enumerate(preview.header):
        fields = tuple(name for name, at in zip(preview.columns, preview.places, strict=True) if at == place)
        cells = dict.fromkeys(row[place] for row in preview.cells if place < len(row) and row[place])
        left = ignored.get(place)
        values = tuple(cells)[:EXAMPLES] or (left.values if left else ())
        found.append(
            Column(
                header,
                fields,
                "" if fields else offered.get(place, ""),
                values,
                any(name in preview.doubtful for name in fields),
                left.looks_like if left else "",
                header in preview.skipped,
            )
        )
    return tuple(found)


def as_field(mapping: ColumnMapping, columns: Sequence[Column], place: int, name: str) -> ColumnMapping:
    """Return the mapping with a column read as a field; empty: it is skipped. The field's column before takes over its field."""
    here = columns[place]
    if not name:
        return skipped(mapping, columns, [place])
    if here.fields == (name,):
        return mapping
    chosen = dict(mapping.columns)
    holder = next((one for one in columns if name in one.fields), None)
    for other in here.fields:
        if holder is not None and holder is not here:
            chosen[other] = holder.header
        else:
            chosen.pop(other, None)  # another column may be it by its own header
    ignore = tuple(header for header in mapping.ignore if header != here.header)
    return replace(mapping, columns={**chosen, name: here.header}, ignore=ignore)


def skipped(mapping: ColumnMapping, columns: Sequence[Column], places: Collection[int] | None = None) -> ColumnMapping:
    """Return the mapping with these columns not read; None: every column that still needs a choice."""
    chosen = [one for at, one in enumerate(columns) if (one.needs_a_choice if places is None else at in places)]
    headers = [one.header for one in chosen if one.header not in mapping.ignore]
    closed = {name: "" for one in chosen for name in one.fields if mapping.columns.get(name, one.header) == one.header}
    return replace(mapping, columns={**mapping.columns, **closed}, ignore=(*mapping.ignore, *headers))


def exchanged(mapping: ColumnMapping, columns: Sequence[Column], one: int, other: int) -> ColumnMapping:
    """Return the mapping with what two columns are read as swapped."""
    chosen = dict(mapping.columns)
    for here, there in ((columns[one], columns[other]), (columns[other], columns[one])):
        chosen |= dict.fromkeys(here.fields, there.header)
    return replace(mapping, columns=chosen)


def accepted(mapping: ColumnMapping, columns: Sequence[Column], places: Collection[int]) -> ColumnMapping:
    """Return the mapping with the columns at these places read as what they are suggested to be."""
    chosen = {one.offered: one.header for at, one in enumerate(columns) if one.offered and at in places}
    return replace(mapping, columns={**mapping.columns, **chosen})
