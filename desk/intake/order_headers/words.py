"""Split a header into words, and find what they mean: `ShipToStreet1` is the recipient's street, line 1."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from desk.intake.columns.currencies import CURRENCIES
from desk.intake.order_headers.vocabulary import FILLERS, PAIRS, PARTIES, WORDS

_MEANING = {word: meaning for meaning, line in WORDS.items() for word in line.split()}
_PARTY = {word: party for party, line in PARTIES.items() for word in line.split()}
_PERSONS = frozenset(
    "recipient recipients addressee consignee receiver empfanger empfaenger destinataire destinatario destinataria receptor receptora".split()
)
_DOCUMENTS = frozenset("invoice inv rechnung facture factura".split())  # alone: the number of the sale, not a person
_KNOWN = frozenset({*_MEANING, *_PARTY, *FILLERS})
_SHORT = frozenset(
    "id no nr to of on at de du cp zip qty tel dt".split()
)  # short words that may end a run of joined words
# "Street number" is the house's, "street and number" is both, so it is no pair once the filler is gone.
_LATE_PAIRS = {pair: word for pair, word in PAIRS.items() if pair not in (("street", "number"), ("street", "no"))}
_SPELLINGS = sorted(word for word in _KNOWN if len(word) >= 4)
NEAR = 80  # of 100: one wrong letter in five; below it the similarity of two words is chance
_SHORTEST_PART = 3  # letters of a word inside a run of joined words
_HAPPENS = frozenset({"placed", "purchase", "shipped", "paid", "other-date"})  # what is done on a day
_SHORTEST_START = 4  # letters of a word cut off: "recip", "curr"; fewer begin too many words
_CUT_OFF = frozenset(
    "ship bill buyer order number quantity currency address street city country item description price amount discount".split()
)  # what people cut off; "track" and "gate" are words of their own, not "tracking" and "gateway"
_LONGEST = 60  # characters of a header; the rest is ignored
_CASE = re.compile(
    r"(?<=[a-z\u00df-\u00ff0-9])(?=[A-Z\u00c0-\u00de])|(?<=[A-Z])(?=[A-Z][a-z])|(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])"
)
REPEATED = re.compile(r" \[\d+\]$")  # how repeated headers are made unique (`columns.sheet`)
_SIGNS = (
    ("#", " number "),
    ("€", " eur "),
    ("£", " gbp "),
    ("$", " dollarsign "),
    ("%", " percent "),
    ("№", " number "),
    ("n°", " number "),
    ("nº", " number "),
    ("n.º", " number "),
)
_TWO_NUMBERS = re.compile(r"(\d)\s*(?:[&+,/]|and|und|et|y)\s*\d\b")  # "address 1 & 2" begins with the first
_ENDINGS = re.compile(
    r"([^\W\d_]{3})(?:\((?:e|s|n|es|in|a|se|os|as)\)|[/*:](?:in|a|e|se)\b)"
)  # "Client(e)", "Kunde/in"
_AT_START, _AT_END = {"from": "sender", "to": "shipto"}, {"from": "sender"}  # otherwise fillers
_PLURALS = (("ies", "y"), ("es", ""), ("s", ""), ("en", ""), ("n", ""), ("e", ""))
_ORDINALS = {"one": 1, "two": 2, "three": 3, "eins": 1, "zwei": 2}
ADDRESS_PARTS = frozenset(
    "name first-name last-name company address street post-town city region zip country email phone".split()
)
ADDRESS = frozenset(
    "name attn first-name last-name first last full company address line street house apartment inside post-town city st region zip postal country email phone".split()
)


_ON_AN_ENVELOPE = frozenset({"line", "street", "apartment", "city", "region", "zip", "country"})
_OF_GOODS = frozenset({"item", "sku", "listing", "stock", "variant"})


@dataclass(frozen=True, slots=True)
class HeaderMeaning:
    """What a header means. `party` is whom it is about, `index` its number (0: none).

    `unknown` are unknown words; with any of them nothing about the header is certain. `currency` is a code, or `$`.
    """

    party: str = ""
    concepts: frozenset[str] = frozenset()
    index: int = 0
    unknown: tuple[str, ...] = ()
    currency: str = ""


def _is_number(word: str) -> bool:
    return word.isascii() and word.isdecimal()


def plain(text: str) -> str:
    """Return the text in lower case without accents."""
    return "".join(char for char in unicodedata.normalize("NFKD", text.casefold()) if not unicodedata.combining(char))


@lru_cache(maxsize=4096)  # 5 microseconds a call, several for each header and rule
def header_meaning(header: str) -> HeaderMeaning:
    """Return what the words of a header mean together."""
    return _meaning_of(words_of(header))


def corrected_meaning(header: str) -> HeaderMeaning:
    """Return what a header means with unknown words corrected to the nearest known one; others stay unknown."""
    return _meaning_of(tuple(_nearest(word) or word for word in words_of(header)))


def _meaning_of(words: Sequence[str]) -> HeaderMeaning:
    parties: dict[str, None] = {}
    concepts: dict[str, None] = {}
    index, unknown, currency = 0, [], ""
    if len(words) == 1 and words[0] in _DOCUMENTS:
        return HeaderMeaning(concepts=frozenset({"receipt"}))
    for word in words:
        if _is_number(word) or word in _ORDINALS:
            index = int(word) if _is_number(word) and len(word) < 3 else _ORDINALS.get(word, index)
        elif word in _PARTY:
            parties |= dict.fromkeys([_PARTY[word], *(["person"] if word in _PERSONS else [])])
        elif word in _MEANING:
            concepts[_MEANING[word]] = None
        elif word == "dollarsign":
            currency = currency or "$"  # of several currencies
        elif word.upper() in CURRENCIES:
            currency = word.upper()
        else:
            unknown.append(word)
    _settle_mail_and_reference(words, parties, concepts)
    return replace(_settled(parties, concepts, index, tuple(unknown)), currency=currency)


def _settle_mail_and_reference(words: Sequence[str], parties: dict[str, None], concepts: dict[str, None]) -> None:
    """Settle "mail city", where the order goes by mail, and "order reference" or "item reference"; alone it may be
    either.
    """
    if "mail" in words and concepts.keys() & _ON_AN_ENVELOPE:
        del concepts["email"]
        parties["ship"] = None
    if "reference" in concepts and len(concepts) > 1:
        del concepts["reference"]
        concepts["code" if concepts.keys() & _OF_GOODS else "receipt"] = None


def _settled(
    parties: dict[str, None], concepts: dict[str, None], index: int, unknown: tuple[str, ...]
) -> HeaderMeaning:
    """Settle words with two meanings: "shipping" is the recipient's before an address part, else the service."""
    beside = {"shipping", "code", "number"} if "phone" in concepts else {"shipping", "code"}
    if "shipping" in concepts and len(concepts) > 1 and concepts.keys() - beside <= ADDRESS:
        del concepts["shipping"]
        parties["ship"] = None
    if "ship" in parties and concepts and not concepts.keys() - {"code", "number", "id"} & ADDRESS:
        del parties["ship"]
        concepts["shipping"] = None
    if "bill" in parties and concepts and concepts.keys() <= {"number", "id", "date", "code", "total", "amount"}:
        del parties["bill"]
        concepts["receipt"] = None
    if "person" in parties:
        concepts.pop("shipping", None)  # the "shipping recipient" is a person, not a service
        concepts.pop("item", None)  # "Warenempfänger" too
        parties["ship"] = None
    parts = concepts.keys() & ADDRESS_PARTS
    if parts and parts != {"address"}:
        concepts.pop("address", None)  # "shipping address city" is a city
    if parts and parties:
        concepts.pop("order", None)
    if {"ship", "buyer"} <= parties.keys() and not concepts:
        concepts["contact"] = None
    party = next((name for name in ("seller", "bill", "ship", "buyer") if name in parties), "")
    return HeaderMeaning(party, frozenset(concepts), index, unknown)


@lru_cache(maxsize=4096)  # 12 microseconds a call
def words_of(header: str) -> tuple[str, ...]:
    """Return the words of a header, known or unknown; fillers such as "of" are dropped."""
    text = REPEATED.sub("", header[:_LONGEST])
    if text.isupper() or not _CASE.search(text):
        text = re.sub(r"(?<=[^\W\d_])(?=\d)|(?<=\d)(?=[^\W\d_])", " ", text)
    else:
        text = _CASE.sub(" ", text)
    text = _TWO_NUMBERS.sub(r"\1", _ENDINGS.sub(r"\1", text).casefold())
    for sign, word in _SIGNS:
        text = text.replace(sign, word)
    words = re.findall(r"[^\W_]+", plain(text))
    if words:
        words[0] = _AT_START.get(words[0], words[0])
        words[-1] = _AT_END.get(words[-1], words[-1])
    words = list(_paired(words))
    words = [
        part for word in words for part in ([word] if word in _KNOWN or _is_number(word) else _singular_or_parts(word))
    ]
    words = [word if word in _KNOWN or _is_number(word) else _whole(word) for word in words]
    words = list(_paired(words))
    words = [word for word in words if word not in FILLERS or word in _MEANING]
    return tuple(_paired(words, _LATE_PAIRS))


def _whole(word: str) -> str:
    """Return the known word that a cut-off one begins, if all that it begins mean the same; else the word itself.

    At least half of the known word has to be there: "person" is no "personalization".
    """
    if len(word) < _SHORTEST_START:
        return word
    longer = [known for known in _SPELLINGS if known.startswith(word)]
    meanings = {_PARTY.get(known) or _MEANING.get(known, "") for known in longer}
    shortest = min(longer, key=len, default="")
    return shortest if len(meanings) == 1 and meanings <= _CUT_OFF and len(shortest) <= 2 * len(word) else word


@lru_cache(maxsize=4096)  # 39 microseconds a call
def _nearest(word: str) -> str:
    """Return the known word that an unknown one is most likely a misspelling of; empty when none is near."""
    from rapidfuzz import fuzz, process

    if word in _KNOWN or _is_number(word) or word in _ORDINALS or len(word) < _SHORTEST_PART:
        return word
    near = process.extractOne(word, _SPELLINGS, scorer=fuzz.ratio, score_cutoff=NEAR)
    return near[0] if near else ""


def _paired(words: Sequence[str], pairs: Mapping[tuple[str, str], str] = PAIRS) -> Iterator[str]:
    """Yield the words, with each pair that has one meaning joined."""
    at = 0
    while at < len(words):
        joined = pairs.get((words[at], words[at + 1])) if at + 1 < len(words) else None
        yield joined or words[at]
        at += 2 if joined else 1


def _singular_or_parts(word: str) -> tuple[str, ...]:
    """Return the known word that an unknown one is the plural of, else the words it is joined from."""
    for ending, singular in _PLURALS:
        if (
            word.endswith(ending)
            and (one := word.removesuffix(ending) + singular) in _KNOWN
            and len(one) > _SHORTEST_PART
        ):
            return (one,)
    return _parts(word)


@lru_cache(maxsize=4096)  # 20 microseconds a call; saves 8% of reading orders
def _parts(word: str) -> tuple[str, ...]:
    """Return the fewest known words that make up a run of joined letters; the word itself when there are none."""
    best: list[tuple[str, ...] | None] = [(), *([None] * len(word))]
    for end in range(1, len(word) + 1):
        for start in range(end):
            before, part = best[start], word[start:end]
            known = part in _KNOWN or (part.endswith("s") and part[:-1] in _KNOWN)  # German joins words with an s
            if before is None or not known or (len(part) < _SHORTEST_PART and part not in _SHORT):
                continue
            now = best[end]
            if now is None or len(before) + 1 < len(now):
                best[end] = (*before, part if part in _KNOWN else part[:-1])
    parts = best[len(word)] or (word,)
    return (word,) if len(parts) > 1 and not _may_end(parts[-2:]) else parts


def _may_end(parts: Sequence[str]) -> bool:
    """Return whether a run of joined letters may end so: "shipto", "orderedon", but not "carton" or "formato"."""
    before, last = parts
    is_filler = last in FILLERS and last not in _MEANING
    return not is_filler or _PARTY.get(before) == "ship" or _MEANING.get(before) in _HAPPENS
