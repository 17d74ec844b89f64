"""What there is to say of a table that is looked into: how it was read, what is missing, asked, offered and doubted."""

from __future__ import annotations

from collections.abc import Callable

from desk.session.preview import Preview
from desk.ui.batch.bring_choices import SIGNS

Say = Callable[[str], str]


def remarks(found: Preview, say: Say) -> list[str]:
    """One sentence each, the most needed first; `say` translates."""
    return [*_as_read(found, say), *_asked(found, say), *_offered(found, say), *_doubted(found, say)]


def _as_read(found: Preview, say: Say) -> list[str]:
    how = ", ".join(filter(None, (found.encoding, SIGNS.get(found.delimiter, found.delimiter), found.sheet)))
    said = [say("Read as {how}.").format(how=how)] if how else []
    said += [str(fault) for fault in found.faults if fault.column not in found.missing]
    if found.missing:
        said.append(say("No column yet for: {fields}.").format(fields=", ".join(found.missing)))
    return said


def _asked(found: Preview, say: Say) -> list[str]:
    words = say("Line {line}, {column}: {found} reads two ways. Say which below “Dates” or “Amounts”.")
    return [words.format(line=asked.line, column=asked.column, found=asked.found) for asked in found.questions]


def _offered(found: Preview, say: Say) -> list[str]:
    words = say("Perhaps {header} is our {field} ({values}).")
    values = {field: ", ".join(found.examples.get(field, ())) or "—" for field in found.offered}
    return [words.format(header=header, field=field, values=values[field]) for field, header in found.offered.items()]


def _doubted(found: Preview, say: Say) -> list[str]:
    words = say("What stands under {field} is mostly no such thing: {values}.")
    said = [words.format(field=field, values=", ".join(doubted)) for field, doubted in found.doubtful.items()]
    if found.left_out:
        said.append(say("Not read: {headers}.").format(headers=", ".join(found.left_out)))
    return said
