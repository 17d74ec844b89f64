"""The columns of a table in file order, and changes to what each means. Every choice makes a new mapping.

A field belongs to one column. Giving it to another column swaps the two columns' fields.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.session.importing.preview import Preview

EXAMPLES = 3  # distinct values of a column to show


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `fields` are what it is read as (empty when ignored); `offered` is the suggested field.

    `values` are its first cells; `is_doubtful` when most of them don't look like the field; `looks_like` what an
    ignored column may hold (address, name, goods, note, money), empty when nothing is lost; `is_skipped` when you chose to
    skip it.
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
        """True when you have to choose what the column is, or skip it."""
        return bool(self.offered or self.looks_like)


def columns_of(preview: Preview) -> tuple[Column, ...]:
    """Return every column of a table, in the order of the file."""
    offered = {offer.place: offer.ours for offer in preview.suggestions}
    ignored = {one.place: one for one in preview.ignored}
    columns = []
    for place, header in enumerate(preview.header):
        fields = tuple(name for name, at in zip(preview.columns, preview.places, strict=True) if at == place)
        cells = dict.fromkeys(row[place] for row in preview.cells if place < len(row) and row[place])
        left = ignored.get(place)
        values = tuple(cells)[:EXAMPLES] or (left.values if left else ())
        columns.append(
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
    return tuple(columns)


def as_field(mapping: ColumnMapping, columns: Sequence[Column], place: int, name: str) -> ColumnMapping:
    """Return the mapping with a column read as a field; empty: skipped. The field's old column gets its old field."""
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
            chosen.pop(other, None)  # another column may be the field by its own header
    ignore = tuple(header for header in mapping.ignore if header != here.header)
    return replace(mapping, columns={**chosen, name: here.header}, ignore=ignore)


def skipped(mapping: ColumnMapping, columns: Sequence[Column], places: Collection[int] | None = None) -> ColumnMapping:
    """Return the mapping with these columns skipped; None: every column that still needs a choice."""
    chosen = [one for at, one in enumerate(columns) if (one.needs_a_choice if places is None else at in places)]
    headers = [one.header for one in chosen if one.header not in mapping.ignore]
    closed = {name: "" for one in chosen for name in one.fields if mapping.columns.get(name, one.header) == one.header}
    return replace(mapping, columns={**mapping.columns, **closed}, ignore=(*mapping.ignore, *headers))


def exchanged(mapping: ColumnMapping, columns: Sequence[Column], one: int, other: int) -> ColumnMapping:
    """Return the mapping with the meanings of two columns swapped."""
    chosen = dict(mapping.columns)
    for here, there in ((columns[one], columns[other]), (columns[other], columns[one])):
        chosen |= dict.fromkeys(here.fields, there.header)
    return replace(mapping, columns=chosen)


def accepted(mapping: ColumnMapping, columns: Sequence[Column], places: Collection[int]) -> ColumnMapping:
    """Return the mapping with the suggestions for the columns at these indexes accepted."""
    chosen = {one.offered: one.header for at, one in enumerate(columns) if one.offered and at in places}
    return replace(mapping, columns={**mapping.columns, **chosen})
