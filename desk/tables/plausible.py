"""Decide which 8-bit or East Asian encodings a text may be in, by ruling out words no language writes.

"Dvořák" read in the wrong encoding becomes "Dvoøák", and no language has both letters; "José" becomes "JosŽ", with a
capital at the end. chardet ranks the encodings that remain. Alphabets: from memory.
"""

from __future__ import annotations

import codecs
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

WESTERN = "cp1252"
# Tried in this order; of two that read the same, the first is named.
CANDIDATES = (
    WESTERN, "cp1250", "cp1251", "cp1253", "cp1254", "cp1255", "cp1256", "cp1257", "iso8859-2", "iso8859-5", "iso8859-7", "iso8859-9",
    "iso8859-13", "iso8859-15", "koi8-r", "koi8-u", "cp437", "cp850", "cp852", "cp855", "cp857", "cp862", "cp866", "cp775", "cp737",
    "mac_roman", "mac_latin2", "mac_cyrillic", "mac_greek", "mac_turkish", "cp874", "cp932", "euc_jp", "gb18030", "big5", "cp949",
)  # fmt: skip
EAST_ASIAN = frozenset({"cp932", "euc_jp", "gb18030", "big5", "cp949"})
_OF_WINDOWS = frozenset(
    {"cp1250", "cp1254", "cp1257", "iso8859-2", "iso8859-9", "iso8859-13"}
)  # easily confused with Western text
# Non-ASCII letters of each language; a word with letters of two languages is in the wrong encoding.
_ALPHABETS = {
    "western": (
        "àâæçéèêëîïôœùûüÿ", "äöüß", "áéíñóúüç", "áâãàçéêíóôõúü", "àèéìíîòóùú", "éèëïóöüáí", "åäöéü", "æøåéèêóòôäöü", "áðéíóúýþæö"
    ),
    "central": (
        "ąćęłńóśźż", "áčďéěíňóřšťúůýž", "áäčďéíĺľňóôŕšťúýž", "áéíóöőúüű", "ăâîșțşţ", "čćđšž", "äöüßé", "éèêëáíóöüäçâô",
    ),
    "turkish": ("çğıiöşüâî", "éèäöüß"),
    "baltic": ("āčēģīķļņšūž", "ąčęėįšųūž", "äöüõšž", "éóöüä"),
}  # fmt: skip
_REGION = {
    **dict.fromkeys((WESTERN, "iso8859-15", "cp437", "cp850", "mac_roman"), "western"),
    **dict.fromkeys(("cp1250", "iso8859-2", "cp852", "mac_latin2"), "central"),
    **dict.fromkeys(("cp1254", "iso8859-9", "cp857", "mac_turkish"), "turkish"),
    **dict.fromkeys(("cp1257", "iso8859-13", "cp775"), "baltic"),
}
_BESIDE_WORDS = frozenset("’‘“”«»–—…€£¥§°ªº·¿¡®©™´`½¼¾²³¹×•±№")  # typographic marks that may touch a word
LONGEST_WORD = 100  # bytes; longer runs are not words
# a single character class, so that even a one-megabyte word matches in one pass
_WORDS = re.compile(rb"[A-Za-z'\x80-\xff]+")
_RUNS = re.compile(r"([A-Za-z]?)([^\x00-\x7f]+)([A-Za-z]?)")
_KANA = 0.1  # of the letters
_ELISION = re.compile(
    r"(?<![^\W\d_]{3})['’](?=[^\W\d_])|['’](?=s$)"
)  # D’Arcy, l’Étoile, Müller’s: few letters before the mark
_FEWEST_WORDS = 3  # distinct words; with fewer, any other reading leaves it open
_RIVALS = frozenset({"cp1250", "iso8859-2", "cp850", "cp437", "mac_roman"})  # what two words in cp1252 may be instead
_ICELANDIC = frozenset("ðþýÐÞÝ")  # what Turkish and Baltic letters read as in cp1252
_MOST_WRONG = 0.03  # share of words that may look unusual: names in brackets, a stray mark
_SURELY = 1.7  # times as likely as the next one, by chardet; measured, see SURE_WESTERN
# Western text is at most 1.66 times as likely to be anything else, on 1 to 30 rows of names and towns (chardet 7.7).
SURE_WESTERN = 0.6
MOST_WORDS = 400
LIKELY = 3  # encodings offered when unsure


@dataclass(frozen=True, slots=True)
class Guess:
    """The likeliest encodings, best first, each with sample words read in it; `is_sure` if the first is certain."""

    encodings: tuple[tuple[str, str], ...]
    is_sure: bool


def guess_encoding(sample: bytes) -> Guess:
    """Return the likely encodings of a text that is not UTF-8."""
    odd_words = (word for word in _WORDS.findall(sample) if len(word) <= LONGEST_WORD and not word.isascii())
    words = list(dict.fromkeys(odd_words))[:MOST_WORDS]
    readings: dict[tuple[str, ...], str] = {}
    for encoding in CANDIDATES:
        read = _read_whole(sample, encoding) if encoding in EAST_ASIAN else _read(words, encoding)
        if read is not None and _is_plausible(read, encoding):
            readings.setdefault(tuple(read), encoding)
    readings = _of_one_language(readings)
    if not readings:
        return Guess(tuple((encoding, "") for encoding in (WESTERN, "mac_roman", "cp850")), is_sure=False)
    surety = _surety(b" ".join(words))
    ranked = sorted(readings.items(), key=lambda one: -_rank(one[1], surety))
    likely = tuple((encoding, ", ".join(read[:4])) for read, encoding in ranked[:LIKELY])
    return Guess(likely, is_sure=_is_sure(ranked, surety))


def _read(words: Iterable[bytes], encoding: str) -> list[str] | None:
    try:
        return [word.decode(encoding) for word in words]
    except (UnicodeDecodeError, LookupError):
        return None


def _of_one_language(readings: dict[tuple[str, ...], str]) -> dict[tuple[str, ...], str]:
    """Keep only the Japanese readings if one has kana: no text in another language reads like that."""
    japanese = {read: encoding for read, encoding in readings.items() if encoding in ("cp932", "euc_jp")}
    with_kana = {read: name for read, name in japanese.items() if _share(read, {"HIRAGANA", "KATAKANA"}) >= _KANA}
    return with_kana or readings


def _share(words: Iterable[str], scripts: set[str]) -> float:
    letters = [char for word in words for char in word if char.isalpha()]
    return sum(_script(char) in scripts for char in letters) / max(len(letters), 1)


def _read_whole(sample: bytes, encoding: str) -> list[str] | None:
    """Return the non-ASCII runs of a sample in a two-byte encoding, whose second bytes are often ASCII."""
    for cut in range(4):  # the sample may end within a character
        try:
            text = sample[: len(sample) - cut].decode(encoding)
        except UnicodeDecodeError:
            continue
        runs = _RUNS.findall(text)
        beside_letters = sum(bool(before or after) for before, _, after in runs)
        if beside_letters > _MOST_WRONG * len(runs):
            return None
        return list(dict.fromkeys(run for _, run, _ in runs))[:MOST_WORDS]
    return None


def _is_plausible(words: list[str], encoding: str) -> bool:
    wrong = sum(not _is_word(word, encoding) for word in words)
    return wrong <= _MOST_WRONG * len(words)


@lru_cache(maxsize=8192)  # saves 11% of reading lists in older encodings
def _is_word(word: str, encoding: str) -> bool:
    """Return whether a word is possible: letters of one script and language, capitals first or everywhere."""
    core = word.strip("".join(_BESIDE_WORDS) + "'")
    if not core:
        return True
    parts = _ELISION.split(core)
    return all(_is_part(part, encoding) for part in parts if part)


def _is_part(text: str, encoding: str) -> bool:
    if not all(unicodedata.category(char)[0] in "LM" for char in text):
        return False
    scripts = {_script(char) for char in text if unicodedata.category(char)[0] == "L"}
    if encoding in EAST_ASIAN:
        return scripts <= {
            "CJK",
            "HIRAGANA",
            "KATAKANA",
            "HANGUL",
            "LATIN",
            "FULLWIDTH",
            "IDEOGRAPHIC",
            "KATAKANA-HIRAGANA",
        }
    if len(scripts) > 1:
        return False
    rest = text[1:]
    if text != text.upper() and rest != rest.lower() and not _is_mixed_name(text):
        return False
    region = _REGION.get(encoding)
    special = {char for char in text.replace("İ", "i").lower() if ord(char) > 127}
    if scripts == {"LATIN"}:
        return region is not None and any(special <= set(letters) for letters in _ALPHABETS[region])
    return region is None


def _is_mixed_name(text: str) -> bool:
    """Return whether a name such as McÉvoy or DeÑoz has a capital in the middle."""
    return bool(re.fullmatch(r"(?:Mc|Mac|De|Di|La|Le|O)[^\W\d_]+", text)) and text[2:] != text[2:].upper()


def _script(char: str) -> str:
    return unicodedata.name(char, "NONE").split()[0]


def _rank(encoding: str, surety: dict[str, float]) -> float:
    likely = surety.get(codecs.lookup(encoding).name, 0.0)
    return likely * _SURELY if encoding == WESTERN else likely


def _is_sure(ranked: list[tuple[tuple[str, ...], str]], surety: dict[str, float]) -> bool:
    """Return whether the first is certain: nothing else is possible, or chardet prefers it on enough words."""
    if len(ranked) == 1:
        return True
    words, best = ranked[0]
    others = [name for _, name in ranked[1:]]
    if len(words) < _FEWEST_WORDS and (best != WESTERN or _RIVALS & set(others)):
        return False
    others = [name for name in others if best != WESTERN or name in _OF_WINDOWS]
    first, second = (surety.get(codecs.lookup(name).name, 0.0) for name in (best, (others or [best])[0]))
    if best in EAST_ASIAN or first == 0:
        return not others
    if best == WESTERN:
        return first >= second * SURE_WESTERN and not any(_ICELANDIC & set(word) for word in words)
    return first >= second * _SURELY and WESTERN not in others


def _surety(words: bytes) -> dict[str, float]:
    """Return chardet's confidence in the words, by codec."""
    import chardet

    surety: dict[str, float] = {}
    for answer in chardet.detect_all(words):
        try:
            name = codecs.lookup(answer["encoding"] or "").name
        except LookupError:
            continue
        surety[name] = max(surety.get(name, 0.0), answer["confidence"] or 0.0)
    return surety
