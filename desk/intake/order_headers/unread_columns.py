"""Columns that are not read: what each looks like, so that part of an address is never skipped unseen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from desk.intake.columns.headers import examples_in_words
from desk.intake.columns.samples import Samples
from desk.intake.columns.value_kinds import (
    looks_like_a_note,
    looks_like_a_unit,
    looks_like_an_address_part,
    looks_like_money,
)
from desk.intake.order_headers.words import ADDRESS_PARTS, HeaderMeaning, header_meaning

LOOKS = ("address", "name", "goods", "note", "money", "")  # what an ignored column may contain, the most harmful first
_MONEY = frozenset("price total amount cost sales subtotal tip insurance".split())
_KNOWN_AS_OTHER = frozenset(
    "payment tracking barcode category weight source url refund other-date shipped list percent id number time date fulfillment status "
    "code subtotal currency tax sales extended".split()
)


@dataclass(frozen=True, slots=True)
class IgnoredColumn:
    """A column that is not read, with examples. `looks_like` is one of LOOKS; empty when skipping it loses nothing."""

    header: str
    place: int
    values: tuple[str, ...] = ()
    looks_like: str = ""

    def words(self) -> str:
        """Return it as a message lists it: `Gate code (17, 4B)`."""
        examples = examples_in_words(self.values)
        return self.header + (f" ({examples})" if examples else "")


def ignored_columns(
    header: Sequence[str], samples: Samples, places: Sequence[int], used: Mapping[str, int]
) -> tuple[IgnoredColumn, ...]:
    """Return the columns at these positions, those that look like part of an address, name, note, or money first."""
    ignored = [
        IgnoredColumn(header[place], place, samples.examples(place), _looks_like(header[place], place, samples, used))
        for place in places
    ]
    return tuple(sorted(ignored, key=lambda one: LOOKS.index(one.looks_like)))


def _looks_like(header: str, place: int, samples: Samples, used: Mapping[str, int]) -> str:
    """Return what an order may need from a column; empty if it has nothing, is read elsewhere, or is known not to
    matter.
    """
    values = samples.values(place)
    if not values or any(samples.same_cells(place, other) for other in used.values()):
        return ""
    meaning = header_meaning(header)
    return "" if _is_known_as_other(meaning) else _by_words(meaning, values)


def _by_words(meaning: HeaderMeaning, values: Sequence[str]) -> str:
    concepts = meaning.concepts
    if meaning.index > 1 and concepts & _GOODS:
        return "goods"
    if meaning.party == "ship" and not concepts:
        return "name"
    if concepts & _NAMES and not concepts & _NO_PERSON:
        return "name"
    if concepts & {*ADDRESS_PARTS, "line", "apartment", "house"} - {"company"} and not concepts & {"item", "listing"}:
        return "address"
    if concepts & {"note", "gift", "custom"}:
        return "note"
    if concepts & _MONEY:
        return "money" if looks_like_money(values) else ""
    says_nothing = bool(meaning.unknown) or not concepts
    return _by_cells(values) if says_nothing else "address" if looks_like_a_unit(values) else ""


_GOODS = frozenset({"item", "sku", "variant", "listing", "quantity"})  # "Item 2" is another line of the order
_NAMES = frozenset({"name", "first-name", "last-name", "company"})
_NO_PERSON = frozenset({"item", "listing", "shipping", "code"})


def _is_known_as_other(meaning: HeaderMeaning) -> bool:
    """Return whether a header is about another party, or about something orders here do not need."""
    if meaning.party in ("bill", "seller"):
        return True
    if meaning.unknown:
        return False
    return bool(meaning.concepts & _KNOWN_AS_OTHER) or (meaning.party == "buyer" and "note" not in meaning.concepts)


def _by_cells(values: Sequence[str]) -> str:
    """Return what a column with an unknown header looks like from its cells."""
    if looks_like_an_address_part(values):
        return "address"
    if looks_like_a_note(values):
        return "note"
    return "money" if looks_like_money(values) else ""
