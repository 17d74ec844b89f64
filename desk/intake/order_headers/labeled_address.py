"""Find the only address of a table when its headers share an unknown word: "Zorp City", "Zorp Zip".

It is only suggested, never used unseen: the word may mean the buyer, or a pickup point, an artist, a venue.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from desk.intake.columns.samples import Samples
from desk.intake.columns.value_kinds import fits
from desk.intake.order_headers.rules import PERSON, PLACE, candidates_of
from desk.intake.order_headers.words import ADDRESS, HeaderMeaning, header_meaning

_FEWEST = 4  # columns of an address with its own label
_MANY = 3  # rows; of fewer, all may well go to one address


def labeled_address(
    header: Sequence[str], samples: Samples, places: dict[str, int], free: Iterable[int]
) -> dict[str, int]:
    """Return the columns of an address whose headers all begin with the same unknown words, by field.

    Empty when the table has another address, two such labels, or one address for most of its rows: the shop's branch.
    """
    if any(header_meaning(name).party and _is_of_a_place(header_meaning(name)) for name in header if name):
        return {}
    labels: dict[tuple[str, ...], dict[str, int]] = {}
    for place in free:
        meaning = header_meaning(header[place])
        if meaning.unknown and not meaning.party and meaning.concepts <= ADDRESS:
            _add(labels.setdefault(meaning.unknown, {}), meaning, place, samples)
    whole = [label for label in labels.values() if len(label) >= _FEWEST and {"city", "postal_code"} <= label.keys()]
    if len(whole) != 1 or PLACE & places.keys() or _is_one_for_many(whole[0], samples):
        return {}
    return {name: place for name, place in whole[0].items() if name not in places}


def _is_of_a_place(meaning: HeaderMeaning) -> bool:
    return bool(meaning.concepts & (ADDRESS - {"name", "first", "last", "email", "phone", "company"}))


def _add(places: dict[str, int], meaning: HeaderMeaning, place: int, samples: Samples) -> None:
    """Add the field that a header means without its label, if its cells fit and no other column is the same field."""
    known = replace(meaning, unknown=(), party="ship")
    names = [one.field for one in candidates_of(known) if one.field in PERSON | PLACE]
    name = "address1" if "address1" in names else next(iter(names), "")
    if name and name not in places and samples.values(place) and fits(name, samples.values(place)):
        places[name] = place


def _is_one_for_many(places: dict[str, int], samples: Samples) -> bool:
    """Return whether one address is in more than half of the rows: the shop's own, or a branch."""
    rows = list(zip(*(samples.cells[place] for name, place in places.items() if name in PLACE), strict=True))
    return len(rows) >= _MANY and 2 * max(map(rows.count, set(rows))) > len(rows)
