"""Turn bytes into text: try encodings in order, the most certain first.

A byte order mark, then zero bytes at every second position (UTF-16), then strict UTF-8, then an 8-bit or East Asian
encoding (`plausible`). If the bytes do not settle it we ask: a name in the wrong letters would go on a label.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator, Sequence

from desk.domain.faults import FileFault, Unreadable
from desk.tables.faults_found import unreadable
from desk.tables.plausible import guess_encoding
from desk.tables.watch import UNWATCHED, Watch

MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_WIDE_MARKS = tuple(mark for mark, name in MARKS if name in ("utf-16", "utf-32"))
# What tables never contain: control characters other than tab and line ends, and a byte order mark inside the text.
_UNWANTED = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(127, 160), 0xFEFF))
BETWEEN_CELLS = "\x7f"  # one of them, so no cell has it
_UNWANTED_BYTES = bytes(code for code in _UNWANTED if code < 128)
_UNWANTED_PAIRS = re.compile(rb"\xc2[\x80-\x9f]|\xef\xbb\xbf")  # the rest of them, in UTF-8
_PIECE = 1 << 17  # bytes between checks for cancellation: about a thousand rows of orders
_SAMPLE = 200_000  # bytes passed to chardet
_BROKEN = "\ufffd"
_OTHER_KIND = "a table (CSV, TSV, XLSX or ODS), but this is some other kind of file"
# How files begin that are no tables, though people may give them a table's name.
_DOCUMENTS = (
    (b"%pdf", "a PDF"), (b"{\\rtf", "a text document"), (b"<!doctype", "a web page"), (b"<html", "a web page"), (b"<table", "a web page"),
    (b"<?xml", "an XML file"), (b'{"', "a JSON file"), (b"[{", "a JSON file"), (b'{\n', "a JSON file"),
)  # fmt: skip
_BINARY_SHARE = 20  # one control character in this many: not text


class EncodingUnsure(Unreadable):
    """Text that may be in several encodings; `likely` has the likeliest, each with sample words read in it."""

    def __init__(self, file: str, likely: Sequence[tuple[str, str]]) -> None:
        self.likely = tuple(likely)
        ways = " or ".join(f'encoding = "{name}"' + (f" ({words})" if words else "") for name, words in likely)
        super().__init__([FileFault(file, 0, "", "", f"text in UTF-8. Put the right line into a mapping: {ways}")])


def decode(raw: bytes, file: str, encoding: str = "", watch: Watch = UNWATCHED) -> tuple[str, str]:
    """Return the text without control characters, and its encoding.

    `encoding` is a person's choice.

    Raises:
        Unreadable: the bytes are not text, or not in that encoding.
        EncodingUnsure: nothing was chosen and the bytes do not settle it.
    """
    start = raw[:200].removeprefix(codecs.BOM_UTF8).lstrip().lower()
    if document := next((name for begin, name in _DOCUMENTS if start.startswith(begin)), ""):
        raise unreadable(file, f"a table (CSV, TSV, XLSX or ODS), but this is {document}; save it as CSV or XLSX")
    chosen, pieces = _chosen(raw, file, encoding, watch) if encoding else _found_out(raw, file, watch)
    clean = [without_controls(piece) for piece in pieces]
    length = sum(map(len, pieces))
    if (length - sum(map(len, clean))) * _BINARY_SHARE > length:
        raise unreadable(file, _OTHER_KIND)
    return "".join(clean), chosen


def without_controls(text: str) -> str:
    """Return the text without control characters, except tabs and line ends."""
    return text.translate(_UNWANTED) if text.isascii() or _may_hold_unwanted(text) else text


def _may_hold_unwanted(text: str) -> bool:
    """Return whether it may contain unwanted characters; searching bytes is much faster than non-ASCII text."""
    raw = text.encode("utf-8", "surrogatepass")
    return len(raw.translate(None, _UNWANTED_BYTES)) < len(raw) or _UNWANTED_PAIRS.search(raw) is not None


def _chosen(raw: bytes, file: str, encoding: str, watch: Watch) -> tuple[str, list[str]]:
    try:
        return encoding, list(_pieces(raw, encoding, watch))
    except (ValueError, LookupError):
        expected = f"text in {encoding}; save the file again as CSV in UTF-8"
        raise unreadable(file, expected) from None


def _found_out(raw: bytes, file: str, watch: Watch) -> tuple[str, list[str]]:
    """Return the detected encoding and the text. Raises Unreadable for UTF-8 broken in a few places."""
    marked = next((name for mark, name in MARKS if raw.startswith(mark)), "")
    sure = marked or _wide(raw[:4096]) or "utf-8"
    try:
        return sure, list(_pieces(raw, sure, watch.part(0, 500)))
    except ValueError:
        if sure != "utf-8":
            raise unreadable(file, _OTHER_KIND) from None
    _refuse_broken(raw, file, watch.part(500, 600))
    sample = raw[:_SAMPLE]
    if (len(sample) - len(sample.translate(None, _UNWANTED_BYTES))) * _BINARY_SHARE > len(sample):
        raise unreadable(file, _OTHER_KIND)
    guess = guess_encoding(sample)
    if not guess.is_sure:
        raise EncodingUnsure(file, guess.encodings)
    name = guess.encodings[0][0]
    try:
        return name, list(_pieces(raw, name, watch.part(600, 1000)))
    except ValueError:  # later bytes do not fit it
        raise EncodingUnsure(file, guess.encodings[1:] or guess.encodings) from None


def _pieces(raw: bytes, encoding: str, watch: Watch, errors: str = "strict") -> Iterator[str]:
    """Yield the text piece by piece. Raises LookupError for an unknown text encoding, ValueError for bytes that do not
    fit.
    """
    "".encode(encoding)  # refuses codecs that are not for text
    if encoding.casefold().replace("_", "-") in ("utf-16", "utf-32") and not raw.startswith(_WIDE_MARKS):
        encoding += "-le"
    decoder = codecs.getincrementaldecoder(encoding)(errors)
    for place in range(0, len(raw), _PIECE):
        watch.at(place, len(raw))
        yield decoder.decode(raw[place : place + _PIECE], place + _PIECE >= len(raw))


def _wide(start: bytes) -> str:
    """Return the UTF-16 variant of text without a mark: in mostly Latin tables nearly every second byte is zero."""
    even, odd = start[::2].count(0), start[1::2].count(0)
    half = max(len(start) // 2, 1)
    if odd * 3 > half and even * 10 < odd:
        return "utf-16-le"
    return "utf-16-be" if even * 3 > half and odd * 10 < even else ""


def _refuse_broken(raw: bytes, file: str, watch: Watch) -> None:
    """Refuse a file that is nearly all UTF-8, as joined files are: reading it as 8-bit text would garble most names."""
    broken = whole = 0
    for piece in _pieces(raw, "utf-8", watch, "replace"):
        bad = piece.count(_BROKEN)
        broken += bad
        whole += len(piece) - bad - len(piece.encode("ascii", "ignore"))
    if whole > 3 * broken:
        line = raw.count(b"\n", 0, _first_broken(raw)) + 1
        raise unreadable(file, "text in one encoding; most of the file is UTF-8, this line is not", line)


def _first_broken(raw: bytes) -> int:
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError as error:
        return error.start
    return len(raw)
