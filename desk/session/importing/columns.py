"""The columns of a table as they stand in the file, and what a person says that they are. Every choice is a new mapping.

A field belongs to one column. Who gives it to another column exchanges the two: that one takes over what this one was.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from desk.intake.columns.mapping_file import ColumnMapping
from desk.session.importing.preview import Preview

EXAMPLES = 3  # different values of a column that are shown


@dataclass(frozen=True, slots=True)
class Column:
    """One column. `ours` are the fields it is read as, none when nobody reads it.

    `offered` is the field it may be, taken by nobody so far; `values` are the first in it; `is_doubtful` when most of
    them can be no such thing.
    """

    header: str
    ours: tuple[str, ...] = ()
    offered: str = ""
    values: tuple[str, ...] = ()
    is_doubtful: bool = False


def columns_of(found: Preview) -> tuple[Column, ...]:
    """Every column of a table that was looked into, in the order of the file."""
    offered = {header: ours for ours, header in found.offered.items()}
    return tuple(_column(found, place, offered.get(header, "")) for place, header in enumerate(found.header))


def _column(found: Preview, place: int, offered: str) -> Column:
    ours = tuple(name for name, at in zip(found.columns, found.places, strict=True) if at == place)
    values = dict.fromkeys(cells[place] for cells in found.cells if place < len(cells) and cells[place])
    examples = tuple(values)[:EXAMPLES]
    return Column(found.header[place], ours, "" if ours else offered, examples, any(o in found.doubtful for o in ours))


def as_field(mapping: ColumnMapping, columns: Sequence[Column], place: int, ours: str) -> ColumnMapping:
    """That column is this field; empty: nobody reads it. The column that was it takes over what this one was."""
    here = columns[place]
    if here.ours == ((ours,) if ours else ()):
        return mapping
    said = dict(mapping.columns)
    held = next((one for one in columns if ours in one.ours), None)
    for name in here.ours:
        if held is not None and held is not here:
            said[name] = held.header
        elif ours:
            said.pop(name, None)  # another column may be it by its own header
        else:
            said[name] = ""
    return replace(mapping, columns=said | ({ours: here.header} if ours else {}))


def exchanged(mapping: ColumnMapping, columns: Sequence[Column], one: int, other: int) -> ColumnMapping:
    """Both columns take over what the other was."""
    said = dict(mapping.columns)
    for here, there in ((columns[one], columns[other]), (columns[other], columns[one])):
        said |= dict.fromkeys(here.ours, there.header)
    return replace(mapping, columns=said)


def accepted(mapping: ColumnMapping, columns: Sequence[Column], places: Collection[int] | None = None) -> ColumnMapping:
    """The columns at these places are what they are offered to be; None: all of them."""
    wanted = [one for at, one in enumerate(columns) if one.offered and (places is None or at in places)]
    return replace(mapping, columns={**mapping.columns, **{one.offered: one.header for one in wanted}})
