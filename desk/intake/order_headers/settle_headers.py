"""Headers with two meanings: which one the cells and other headers settle, and which ones stay only likely."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from desk.intake.columns.samples import Samples
from desk.intake.columns.value_kinds import (
    contradicted,
    fits,
    is_person_name,
    is_plain_count,
    is_status,
    looks_like_a_unit,
    looks_like_an_address_part,
)
from desk.intake.order_headers.price_by_lines import price_and_line_total
from desk.intake.order_headers.rules import PLACE, FieldGuess, candidates, candidates_of
from desk.intake.order_headers.words import corrected_meaning, header_meaning

_MISSPELLED, _OTHER_WORDS = 100, 200  # added to the rank of a header with a misspelled word, or with unknown words
_ANY_NAME = 300  # rank of the name of something we do not know: "track name" may be the item
_NAMES_OF_THINGS = frozenset({"name", "title", "designation", "description"})
_VAGUE = frozenset({"id", "number", "name", "code", "date", "time", "line", "address", "first", "last", "note", "price", "total", "amount", "status"})  # fmt: skip
# Fields for which a single likely column is enough, if its cells fit and no other column could be it.
_ALONE = ("placed", "item", "sku", "quantity", "shipping_paid", "shipping_choice", "region", "buyer_note", "variant")
_NEVER_ALONE = {
    "item": frozenset({"category", "line"}),
    "quantity": frozenset({"item-count"}),
    "region": frozenset({"state-shipping"}),
    "variant": frozenset({"opt"}),
}
_NOTHING: frozenset[str] = frozenset()
_UNITS = ({"each"}, {"each", "number"}, {"each", "shipping"})  # "unit" may be an apartment, and "mailing unit" too
_STATE_OR_STATUS = {"state-shipping"}
_STATE_CODE = re.compile("[A-Z]{2,3}")
_LONG_NUMBER = re.compile("[^0-9.,]*[0-9]{3,}[^.,]*")  # "1001", "A-1001"; no amount
_LINE_COUNT = re.compile("[0-9]{1,2}")
_BUYER = frozenset({"recipient", "first_name", "last_name", "full_address", "address1", "postal_code", "email"})
_NUMBERS = frozenset(
    {"order", "purchase", "receipt", "reference", "number", "id", "code"}
)  # what an order number may be called


def likely_candidates(header: str) -> tuple[FieldGuess, ...]:
    """Return every field a header may be, also with unknown words corrected or skipped; nothing is certain here."""
    known = candidates(header)
    meaning = header_meaning(header)
    if known or not meaning.unknown:
        return tuple(replace(one, is_certain=False) for one in known)
    corrected = corrected_meaning(header)
    rank = _MISSPELLED
    if corrected.unknown:
        if corrected.concepts <= _VAGUE and not (corrected.party == "ship" and not corrected.concepts):
            is_thing = corrected.concepts & _NAMES_OF_THINGS and not corrected.party
            return (FieldGuess("item", _ANY_NAME, False),) if is_thing else ()
        corrected, rank = replace(corrected, unknown=()), _OTHER_WORDS
    return tuple(replace(one, rank=one.rank + rank, is_certain=False) for one in candidates_of(corrected))


def settled_by_context(
    header: Sequence[str],
    samples: Samples,
    places: dict[str, int],
    closed: set[str],
    free: Callable[[], list[int]],
) -> None:
    """Assign columns to fields where the header alone is not certain, but the rest of the table leaves one reading."""
    rows = _Context(header, samples, places, closed, free)
    rows.order_number()
    rows.names()
    rows.buyers_address()
    rows.address()
    rows.street_of_house_number()
    rows.house_number()
    rows.second_line()
    rows.state_or_status()
    for name in _ALONE:
        rows.alone(name)
    places |= price_and_line_total(header, samples, places, free())
    rows.price()


def _may_number_orders(header: str) -> bool:
    """Return whether a header is about a number, and about nothing that an order number is not."""
    meaning = corrected_meaning(header)
    return not meaning.party and bool(meaning.concepts & _NUMBERS) and meaning.concepts <= _NUMBERS | {"source"}


def _have_digits(values: Sequence[str]) -> bool:
    return all(any(char.isdigit() for char in value) for value in values)


def _are_streets(values: Sequence[str]) -> bool:
    return looks_like_an_address_part(values) and not looks_like_a_unit(values)


class _Context:
    def __init__(
        self,
        header: Sequence[str],
        samples: Samples,
        places: dict[str, int],
        closed: set[str],
        free: Callable[[], list[int]],
    ) -> None:
        self.header, self.samples, self.places, self.closed, self.free = header, samples, places, closed, free

    def is_open(self, name: str) -> bool:
        """Return whether no column is the field yet, and the mapping does not rule it out."""
        return name not in self.places and name not in self.closed

    def likely(self, name: str) -> list[int]:
        """Return the free columns that may be a field by words we know."""
        return [place for place in self.free() if any(one.field == name for one in candidates(self.header[place]))]

    def order_number(self) -> None:
        """Assign the order number to the only column of the table that may be a number of the shop's own.

        A plain code may be the product's, unless that has its own column. Any number is doubtful when two rows with the
        same one have different buyers.
        """
        if not self.is_open("order"):
            return
        columns = [place for place in self.free() if _may_number_orders(self.header[place])] or self.likely("order")
        if len(columns) != 1:
            return
        place = columns[0]
        is_named = place in self.likely("order") or self._is_number_of_an_order(place)
        if corrected_meaning(self.header[place]).concepts in ({"code"}, {"reference"}) and "sku" not in self.places:
            return
        is_number = self._holds("order", place) and _have_digits(self.samples.values(place))
        if is_named and is_number and self._has_one_buyer_each(place):
            self.places["order"] = place

    def _is_number_of_an_order(self, place: int) -> bool:
        """Return whether a header has "order" beside words we do not know, and its cells are long numbers: "Kit order"."""
        has_word = "order" in header_meaning(self.header[place]).concepts
        return has_word and all(map(_LONG_NUMBER.fullmatch, self.samples.values(place)))

    def _has_one_buyer_each(self, place: int) -> bool:
        """Return whether rows with the same number have one buyer; empty cells are ignored."""
        cells = self.samples.cells
        for name in _BUYER.intersection(self.places):
            buyers: dict[str, str] = {}
            for number, buyer in zip(cells[place], cells[self.places[name]], strict=True):
                if buyer and buyers.setdefault(number, buyer) != buyer:
                    return False
        return True

    def buyers_address(self) -> None:
        """Assign the buyer's address where the table has no other."""
        if PLACE & self.places.keys() or self._has_party("ship"):
            return
        places_of: dict[str, list[int]] = {}
        for place in self.free():
            meaning = header_meaning(self.header[place])
            if meaning.party == "buyer":
                fields = {one.field for one in candidates_of(replace(meaning, party="")) if one.is_certain}
                for name in fields & PLACE:
                    places_of.setdefault(name, []).append(place)
        for name, places in places_of.items():
            if len(places) == 1 and self.is_open(name) and self._holds(name, places[0]):
                self.places[name] = places[0]

    def street_of_house_number(self) -> None:
        """Assign a column called "street no." to the street when its cells are whole streets and no column is it."""
        if not self.is_open("address1") or "full_address" in self.places or self.likely("address1"):
            return
        columns = [p for p in self.likely("house_number") if header_meaning(self.header[p]).party in ("", "ship")]
        columns = [p for p in columns if self._holds("address1", p) and _are_streets(self.samples.values(p))]
        if len(columns) == 1:
            self.places["address1"] = columns[0]

    def house_number(self) -> None:
        """Assign a column called just "number" to the house when it is right of the street and its cells are like that."""
        street = self.places.get("address1")
        if street is None or not self.is_open("house_number") or street + 1 not in self.free():
            return
        is_number = header_meaning(self.header[street + 1]).concepts in ({"number"}, {"address", "number"})
        if is_number and self._holds("house_number", street + 1):
            self.places["house_number"] = street + 1

    def second_line(self) -> None:
        """Assign a column called just "unit" to the second line of the address when its cells are apartments or floors."""
        if "address1" not in self.places or not self.is_open("address2"):
            return
        units = [p for p in self.free() if header_meaning(self.header[p]).concepts in _UNITS]
        units = [place for place in units if looks_like_a_unit(self.samples.values(place))]
        if len(units) == 1:
            self.places["address2"] = units[0]

    def names(self) -> None:
        """Assign a column called just "name": the last name with a first name, else the recipient if none is."""
        self._split_names()
        plain = [place for place in self.likely("recipient") if header_meaning(self.header[place]).concepts == {"name"}]
        whole = [place for place in plain if self._is_whole_name(place)]
        if len(whole) == 1 and self.is_open("recipient"):
            self.places["recipient"] = whole[0]
            return
        for part, other in (("last_name", "first_name"), ("first_name", "last_name")):
            mates = [
                p for p in plain if part not in self.places and other in self.places and self._same_party(p, other)
            ]
            if len(mates) == 1 and self.is_open(part):
                self.places[part] = mates[0]
                return
        people = [one for one in self.likely("recipient") if self._holds_people(one)]
        people = [one for one in people if "attn" not in header_meaning(self.header[one]).concepts]
        has_parts = {"first_name", "last_name"} & self.places.keys() or any(
            one.field in ("first_name", "last_name")
            for place in self.free()
            for one in likely_candidates(self.header[place])
        )
        if len(people) == 1 and not has_parts and self.is_open("recipient") and not self._may_be_another(people[0]):
            self.places["recipient"] = people[0]
        first, last = self.likely("first_name") or plain, self.likely("last_name") or plain
        is_pair = len(first) == len(last) == 1 and first != last and set(people) <= {*first, *last}
        if is_pair and self.is_open("recipient") and not {"first_name", "last_name"} & self.places.keys():
            self.places |= {"first_name": first[0], "last_name": last[0]}

    def _may_be_another(self, place: int) -> bool:
        """Return whether another column of the delivery names people, perhaps others than the buyers."""
        meanings = ((other, header_meaning(self.header[other])) for other in self.free() if other != place)
        return any(
            one.party == "ship" and (one.unknown or "attn" in one.concepts) and self._holds_people(other)
            for other, one in meanings
        )

    def _split_names(self) -> None:
        """Turn a recipient called just "name" into the last name with a first name, unless its cells hold both."""
        for part, mate in (("last_name", "first_name"), ("first_name", "last_name")):
            place = self.places.get("recipient")
            if place is None or mate not in self.places or part in self.places or part in self.closed:
                continue
            if header_meaning(self.header[place]).concepts == {"name"} and not self._holds_cells_of(place, mate):
                self.places[part] = self.places.pop("recipient")

    def _holds_cells_of(self, place: int, name: str) -> bool:
        """Return whether most cells of a column contain the other column's cell."""
        cells = self.samples.cells
        pairs = [(whole, part) for whole, part in zip(cells[place], cells[self.places[name]], strict=True) if part]
        return 2 * sum(part in whole for whole, part in pairs) > len(pairs)

    def _is_whole_name(self, place: int) -> bool:
        """Return whether most cells of a column contain the first and last names that other columns have."""
        parts = [name for name in ("first_name", "last_name") if name in self.places and self._same_party(place, name)]
        return bool(parts) and all(self._holds_cells_of(place, name) for name in parts)

    def _same_party(self, place: int, other: str) -> bool:
        return header_meaning(self.header[place]).party == header_meaning(self.header[self.places[other]]).party

    def _holds_people(self, place: int) -> bool:
        values = self.samples.values(place)
        is_billing = header_meaning(self.header[place]).party == "bill"
        return not is_billing and bool(values) and 2 * sum(map(is_person_name, values)) >= len(values)

    def address(self) -> None:
        """Assign a column called just "address": the street if the city has a column, else the whole address."""
        near = ("ship", "", "buyer") if not self._has_party("ship") else ("ship", "")
        whole = [p for p in self.likely("full_address") if header_meaning(self.header[p]).party in near]
        parts = {"city", "postal_code", "city_line"} & self.places.keys()
        best = min((near.index(header_meaning(self.header[p]).party) for p in whole), default=0)
        whole = [p for p in whole if header_meaning(self.header[p]).party == near[best]]
        whole = [p for p in whole if not any(self.samples.same_cells(p, other) for other in whole if other < p)]
        if len(whole) != 1:
            return
        if parts and self.is_open("address1") and self._holds("address1", whole[0]):
            self.places["address1"] = whole[0]
        elif (
            not parts
            and self.is_open("full_address")
            and self.is_open("address1")
            and self._holds("full_address", whole[0])
        ):
            if self.places.get("recipient") == whole[0]:
                return
            self.places["full_address"] = whole[0]

    def _has_party(self, party: str) -> bool:
        return any(header_meaning(name).party == party for name in self.header if name)

    def _holds(self, name: str, place: int) -> bool:
        values = self.samples.values(place)
        return bool(values) and fits(name, values) and not contradicted(name, values)

    def alone(self, name: str) -> None:
        """Assign the field to its only likely column, by words we know and by its cells."""
        if not self.is_open(name):
            return
        columns = [place for place in self.likely(name) if self._holds(name, place)]
        columns = [p for p in columns if not header_meaning(self.header[p]).concepts & _NEVER_ALONE.get(name, _NOTHING)]
        if name == "quantity":
            columns = [place for place in columns if all(map(is_plain_count, self.samples.values(place)))]
        if name == "item" and not {"recipient", "first_name", "full_address"} & self.places.keys():
            columns = [p for p in columns if "name" not in header_meaning(self.header[p]).concepts]  # whose name?
        if name == "sku":
            columns = [place for place in columns if not self._counts_lines(place)]
        if len(columns) == 1:
            self.places[name] = columns[0]

    def state_or_status(self) -> None:
        """Assign "estado de envío", an address's state or an order's status, where all cells are one of them."""
        either = [place for place in self.free() if header_meaning(self.header[place]).concepts == _STATE_OR_STATUS]
        if len(either) != 1:
            self._state_of_orders()
            return
        values = self.samples.values(either[0])
        if self.is_open("shipped") and values and all(map(is_status, values)):
            self.places["shipped"] = either[0]
        elif self.is_open("region") and values and all(map(_STATE_CODE.fullmatch, values)):
            self.places["region"] = either[0]

    def _state_of_orders(self) -> None:
        """Assign a column called just "state" to the status where all its cells are one."""
        states = [place for place in self.free() if header_meaning(self.header[place]).concepts == {"region"}]
        values = self.samples.values(states[0]) if len(states) == 1 else ()
        if self.is_open("status") and values and all(map(is_status, values)):
            self.places["status"] = states[0]

    def _counts_lines(self, place: int) -> bool:
        """Return whether an item number, or anything else that could be one, may just count the lines: 1, 2, 3."""
        is_number = header_meaning(self.header[place]).concepts in ({"item", "number"}, {"barcode"})
        return not is_number or all(_LINE_COUNT.fullmatch(value) for value in self.samples.values(place))

    def price(self) -> None:
        """Assign a column called just "price" to one piece when the same goods cost the same in other quantities."""
        if not self.is_open("unit_price") or "item" not in self.places:
            return
        columns = [place for place in self.likely("unit_price") if self._holds("unit_price", place)]
        if len(columns) == 1 and self._is_of_one_piece(columns[0]):
            self.places["unit_price"] = columns[0]

    def _is_of_one_piece(self, place: int) -> bool:
        if "quantity" not in self.places:
            return not any(self._holds("quantity", other) for other in self.free())
        cells = self.samples.cells
        goods = cells[self.places.get("sku", self.places["item"])]
        prices: dict[str, set[str]] = {}
        quantities: dict[str, set[str]] = {}
        for name, quantity, price in zip(goods, cells[self.places["quantity"]], cells[place], strict=True):
            prices.setdefault(name, set()).add(price)
            quantities.setdefault(name, set()).add(quantity)
        if {"1"} >= {quantity for each in quantities.values() for quantity in each}:
            return True  # one of each: unit price and total are the same
        several = [name for name, each in quantities.items() if len(each) > 1]
        return bool(several) and all(len(prices[name]) == 1 for name in several)
