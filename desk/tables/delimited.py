"""Split delimited text into rows: detect the delimiter, and number each record by its first line.

The form is RFC 4180, extended to the delimiters in use. Quotes are read strictly: an open quote would silently swallow
the rest of the file.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice

from desk.tables.faults_found import unreadable
from desk.tables.watch import EVERY, UNWATCHED, Watch

DELIMITERS = (",", ";", "\t", "|")
MOST_LINES = 2_000_000  # ten for each of the rows a table may have; more are blank, or no table
LONGEST_CELL = 2_000_000  # characters; Python's own limit of 131,072 refuses long notes
_SAMPLE = 200  # records, or fewer if the sample is shorter
_HEAD = 400_000  # characters
# written by some spreadsheets; not part of the table
_SEPARATOR_LINE = re.compile(r"sep=([,;\t|])\r?\n?", re.IGNORECASE)

Records = Iterable[tuple[int, list[str]]]


def records(text: str, file: str, delimiter: str, watch: Watch = UNWATCHED) -> Iterator[tuple[int, list[str]]]:
    """Yield each record with the number of its first line, without keeping the others in memory.

    Raises:
        Unreadable: open or stray quotes, an endless cell, or too many lines.
    """
    csv.field_size_limit(LONGEST_CELL)
    lines = max(text.count("\n"), text.count("\r"))
    if lines > MOST_LINES:
        raise unreadable(file, f"at most {MOST_LINES:,} lines, but this file has {lines:,}")
    reader = _reader(io.StringIO(text, newline=""), delimiter, strict=True)
    line = 1
    try:
        for place, cells in enumerate(reader):
            if not place % EVERY:
                watch.at(line, lines)
            yield line, cells
            line = reader.line_num + 1
    except csv.Error as error:
        raise unreadable(file, _quote_trouble(str(error)), line) from None
    watch.at(line, line)


def choose_delimiter(text: str, known_names: Callable[[Sequence[str]], int], watch: Watch = UNWATCHED) -> str:
    """Return the delimiter that shows the most known headers, then the most records of one width."""
    csv.field_size_limit(LONGEST_CELL)
    if marked := _SEPARATOR_LINE.match(text):
        return marked[1]
    lines = io.StringIO(_head(text), newline="")
    return max(watch.over(DELIMITERS, every=1), key=lambda mark: _fit(lines, mark, known_names))


def _head(text: str) -> str:
    """Return the beginning of a text, up to the end of a line."""
    head = text[:_HEAD]
    return head if head == text else head[: head.rfind("\n") + 1] or head


def without_separator_line(text: str) -> str:
    """Return the text with a leading `sep=;` line emptied, so that line numbers stay correct."""
    marked = _SEPARATOR_LINE.match(text)
    return "\n" + text[marked.end() :] if marked else text


def _fit(lines: io.StringIO, delimiter: str, known_names: Callable[[Sequence[str]], int]) -> tuple[int, float, int]:
    lines.seek(0)
    try:
        sample = [cells for cells in islice(_reader(lines, delimiter, strict=False), _SAMPLE) if any(cells)]
    except csv.Error:
        return (-1, 0.0, 0)
    widths = Counter(len(cells) for cells in sample if len(cells) > 1)
    known = max((known_names(cells) for cells in sample[:20] if len(cells) > 1), default=0)
    if not widths:
        return (known, 0.0, 0)
    width, count = max(widths.items(), key=lambda item: (item[1], item[0]))
    return (known, count / len(sample), width)


def _reader(lines: io.StringIO, delimiter: str, *, strict: bool) -> csv._reader:  # type: ignore[name-defined,unused-ignore]
    return csv.reader(lines, delimiter=delimiter, strict=strict, skipinitialspace=True)


def _quote_trouble(words: str) -> str:
    if "unexpected end" in words:
        return "a closing quote; the cell that opens here never ends"
    if "field larger" in words:
        return "cells of at most two million characters"
    return "quotes around the whole cell, with quotes inside it doubled"
