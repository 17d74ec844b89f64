"""From bytes to text: a ladder of encodings, the surest first.

A byte order mark, then zero bytes at every second place (UTF-16), then strict UTF-8, then an 8-bit or East Asian
encoding. For the last step nothing in the file is certain: chardet is asked, and Windows-1252 is taken unless
its answer is one we found reliable on lists of names and streets.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator

from desk.intake.table.faults_found import unreadable
from desk.intake.table.watch import UNWATCHED, Watch

MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_WIDE_MARKS = tuple(mark for mark, name in MARKS if name in ("utf-16", "utf-32"))
LAST_RESORT = "cp1252"
EVERY_BYTE = "mac_roman"  # has a letter or sign for each byte, and old Macs still write it
# Answers taken as they come, by the spelling of Python's codecs.
SURE = frozenset("cp1251 koi8-r cp1253 iso8859-7 cp1255 cp932 shift_jis euc_jp gb18030 big5 cp949 euc_kr".split())
# Encodings whose letters are easily taken for Western ones: taken when chardet, shown only the words with such letters,
# is so many times surer of them than of Windows-1252. Measured with chardet 7.7 on 1 to 30 rows of names and towns:
# at most 1.66 and 1.16 for Western text; at least 1.8 and 1.4 for the others, but for a few single names.
DOUBTED = {"cp1250": 1.7, "cp1254": 1.2}
_WORDS = re.compile(rb"[A-Za-z\x80-\xff]+")  # one class and no more: words of a megabyte are read in one go
# What no table holds: control characters other than tab and line ends, and the mark inside the text.
_UNWANTED = dict.fromkeys((*range(9), 11, 12, *range(14, 32), *range(127, 160), 0xFEFF))
_UNWANTED_BYTES = bytes(sign for sign in _UNWANTED if sign < 128)
_UNWANTED_PAIRS = re.compile(rb"\xc2[\x80-\x9f]|\xef\xbb\xbf")  # the others, in UTF-8
_PIECE = 1 << 17  # bytes between two looks at whether the reading is still wanted: about a thousand rows of orders
_SAMPLE = 200_000  # bytes shown to chardet
_BROKEN = "\ufffd"
_OTHER_KIND = "a table (CSV, TSV, XLSX or ODS), but this is some other kind of file"
_BINARY_SHARE = 20  # one control character in this many: not a text


def decode(raw: bytes, file: str, encoding: str = "", watch: Watch = UNWATCHED) -> tuple[str, str]:
    """The text without control characters, and the encoding it was in.

    `encoding` is what the person chose; Unreadable when the bytes are no text, or none in that encoding.
    """
    chosen, pieces = _chosen(raw, file, encoding, watch) if encoding else _found_out(raw, file, watch)
    clean = [without_controls(piece) for piece in pieces]
    length = sum(map(len, pieces))
    if (length - sum(map(len, clean))) * _BINARY_SHARE > length:
        raise unreadable(file, _OTHER_KIND)
    return "".join(clean), chosen


def without_controls(text: str) -> str:
    """The text without control characters, tabs and line ends excepted."""
    return text.translate(_UNWANTED) if text.isascii() or _may_hold_unwanted(text) else text


def _may_hold_unwanted(text: str) -> bool:
    """Whether anything unwanted may be in it. Bytes are looked through many times as fast as letters beyond ASCII."""
    raw = text.encode("utf-8", "surrogatepass")
    return len(raw.translate(None, _UNWANTED_BYTES)) < len(raw) or _UNWANTED_PAIRS.search(raw) is not None


def _chosen(raw: bytes, file: str, encoding: str, watch: Watch) -> tuple[str, list[str]]:
    try:
        return encoding, list(_pieces(raw, encoding, watch))
    except (ValueError, LookupError):
        expected = f"text in {encoding}; save the file again as CSV in UTF-8"
        raise unreadable(file, expected) from None


def _found_out(raw: bytes, file: str, watch: Watch) -> tuple[str, list[str]]:
    """The encoding by the ladder, and the text; Unreadable for UTF-8 that is broken in a few places."""
    marked = next((name for mark, name in MARKS if raw.startswith(mark)), "")
    sure = marked or _wide(raw[:4096]) or "utf-8"
    try:
        return sure, list(_pieces(raw, sure, watch.part(0, 500)))
    except ValueError:
        if sure != "utf-8":
            raise unreadable(file, _OTHER_KIND) from None
    _refuse_broken(raw, file, watch.part(500, 600))
    ladder = (_eight_bit(raw[:_SAMPLE]), LAST_RESORT, "cp932", "gb18030", EVERY_BYTE)
    for turn, name in enumerate(ladder):
        try:
            return name, list(_pieces(raw, name, watch.part(600 + 80 * turn, 680 + 80 * turn)))
        except ValueError:
            continue
    raise AssertionError(EVERY_BYTE)  # it has a sign for each byte


def _pieces(raw: bytes, encoding: str, watch: Watch, errors: str = "strict") -> Iterator[str]:
    """The text piece by piece; LookupError for no encoding of text, ValueError where the bytes are none of it."""
    "".encode(encoding)  # codecs that are not of text are refused here
    if encoding.casefold().replace("_", "-") in ("utf-16", "utf-32") and not raw.startswith(_WIDE_MARKS):
        encoding += "-le"
    decoder = codecs.getincrementaldecoder(encoding)(errors)
    for place in range(0, len(raw), _PIECE):
        watch.at(place, len(raw))
        yield decoder.decode(raw[place : place + _PIECE], place + _PIECE >= len(raw))


def _wide(start: bytes) -> str:
    """UTF-16 without a mark: in tables of mostly Latin signs nearly every second byte is zero."""
    even, odd = start[::2].count(0), start[1::2].count(0)
    half = max(len(start) // 2, 1)
    if odd * 3 > half and even * 10 < odd:
        return "utf-16-le"
    return "utf-16-be" if even * 3 > half and odd * 10 < even else ""


def _refuse_broken(raw: bytes, file: str, watch: Watch) -> None:
    """A file nearly all UTF-8 was joined from two: read as 8-bit text all its other names would be garbled."""
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


def _eight_bit(sample: bytes) -> str:
    guess = next(iter(_surety(sample)), LAST_RESORT)
    return guess if guess in SURE else _european(sample)


def _european(sample: bytes) -> str:
    """Windows-1252, 1250 or 1254, by the words with letters beyond ASCII; delimiters and digits mislead."""
    surety = _surety(b" ".join(sorted(word for word in set(_WORDS.findall(sample)) if not word.isascii())))
    western = surety.get(LAST_RESORT, 0.0)
    surer = [(surety[name], name) for name, times in DOUBTED.items() if surety.get(name, 0.0) > times * western]
    return max(surer, default=(0.0, LAST_RESORT))[1]


def _surety(sample: bytes) -> dict[str, float]:
    """What chardet makes of the bytes: its confidence by codec, the surest first."""
    import chardet

    surety: dict[str, float] = {}
    for answer in chardet.detect_all(sample):
        surety.setdefault(_codec(answer["encoding"]), answer["confidence"] or 0.0)
    return surety


def _codec(name: str | None) -> str:
    """Python's name of an encoding; empty for one it does not have."""
    try:
        return codecs.lookup(name or "").name
    except LookupError:
        return ""
