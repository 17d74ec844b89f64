"""Decide which column of an order list is which field, by its header, its cells, and the other headers.

Only certain matches are used without asking: words of one meaning, or of two where cells and other headers settle it.
The rest is suggested. Every unused column is listed, with the reason.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from desk.intake.columns.headers import Columns, Suggestion, folded
from desk.intake.columns.samples import Samples
from desk.intake.columns.value_kinds import contradicted, fits
from desk.intake.order_headers.labeled_address import labeled_address
from desk.intake.order_headers.rules import NEEDED, ORDER_FIELDS, candidates
from desk.intake.order_headers.settle_headers import likely_candidates, settled_by_context
from desk.intake.order_headers.unread_columns import IgnoredColumn, ignored_columns
from desk.intake.order_headers.words import REPEATED, header_meaning
from desk.tables.faults_found import FaultsFound

OWN_NAME = -1  # the rank of our own name of a field, before all other words
_MANY = 3  # recipients; fewer may well work for one company
OWN_NAMES = {folded(name): name for name in ORDER_FIELDS}
_LOOSE = frozenset(
    {"region", "shipped", "total", "line_total"}
)  # our own name only in lower case, since other lists use the words too
_NUMBERED = frozenset({"order", "quantity"})  # fields that a "#" says the same of: "Quantity (#)"
_DONE_BY = {
    "recipient": ("first_name", "last_name"),
    "country": ("full_address",),
}  # fields that can replace a needed one


@dataclass(frozen=True, slots=True)
class OrderColumns:
    """The columns of an order list: `suggestions` for missing fields; `ignored` for the rest.

    `doubtful` are columns in use whose cells mostly look like something else. `country` is the code of the country of all
    orders that have none, as the mapping says; `likely_country` is what it may be where nothing says it.
    """

    columns: Columns
    suggestions: tuple[Suggestion, ...] = ()
    ignored: tuple[IgnoredColumn, ...] = ()
    doubtful: tuple[Suggestion, ...] = ()
    country: str = ""
    likely_country: str = ""

    @property
    def missing(self) -> tuple[str, ...]:
        """Return the missing fields without which nothing can be read."""
        return tuple(name for name in NEEDED if not self._is_there(name))

    def _is_there(self, name: str) -> bool:
        places = self.columns.places
        if name == "country" and self.country:
            return True
        return name in places or any(other in places for other in _DONE_BY.get(name, ()))


@dataclass(slots=True)
class _Matching:
    """A header row during matching: `places` are the columns assigned so far."""

    header: Sequence[str]
    samples: Samples
    places: dict[str, int] = field(default_factory=dict)
    closed: set[str] = field(default_factory=set)  # fields without a column by the mapping
    ignored: set[int] = field(default_factory=set)  # columns skipped by the mapping

    def free(self) -> list[int]:
        """Return the columns not assigned yet."""
        used = {*self.places.values(), *self.ignored}
        return [place for place, name in enumerate(self.header) if name and place not in used]

    def give_certain(self) -> None:
        """Assign each field its surest free column whose cells do not contradict it; a tie assigns none."""
        offers: dict[str, list[tuple[int, int]]] = {}
        for place in self.free():
            for name, rank in certain_fields(self.header[place]):
                is_open = name not in self.places and name not in self.closed
                is_own = rank == OWN_NAME and self.header[place] == name
                if is_open and self._may_be(name, place, is_own=is_own):
                    offers.setdefault(name, []).append((rank, place))
        for name, columns in offers.items():
            best = min(rank for rank, _ in columns)
            places = [place for rank, place in columns if rank == best and place not in self.places.values()]
            if places and all(self.samples.same_cells(places[0], place) for place in places[1:]):
                self.places[name] = places[0]

    def _may_be(self, name: str, place: int, *, is_own: bool) -> bool:
        values = self.samples.values(place)
        return not contradicted(name, values) and (is_own or name not in _CHECKED or fits(name, values))


_CHECKED = frozenset({"order", "house_number", "city_line", "recipient", "company", "postal_code", "full_address", "email", "phone", "currency", "placed", "country", "region", "shipping_choice", "buyer_note", "shipped", "tax", "tip", "gift_wrap", "insurance", "line_discount", "discount"})  # fmt: skip


def certain_fields(header: str) -> list[tuple[str, int]]:
    """Return the fields a header certainly is by its words, each with its rank; our own name comes first."""
    own = OWN_NAMES.get(folded(REPEATED.sub("", header)), "")  # "Address [2]" is not our address2
    is_about = "%" in header or ("#" in header and own not in _NUMBERED)  # "Tax %" is no amount, "Item #" no name
    if own and not is_about and (own not in _LOOSE or header == own):
        return [(own, OWN_NAME)]
    return [(one.field, one.rank) for one in candidates(header) if one.is_certain]


def match_order_headers(
    header: Sequence[str],
    samples: Samples,
    mapped: Mapping[str, str],
    ignore: Sequence[str],
    faults: FaultsFound,
    line: int,
) -> OrderColumns:
    """Return the fields of a header row that is on `line`.

    `mapped` (field -> header; empty: no column) and `ignore` (headers) win. Adds a fault for each of their headers that
    does not appear exactly once.
    """
    matching = _Matching(header, samples)
    _apply_mapping(matching, mapped, ignore, faults, line)
    matching.give_certain()
    settled_by_context(header, samples, matching.places, matching.closed, matching.free)
    _drop_second_names(matching.places)
    if mapped.get("company") is None and _is_one_company_for_many(matching):
        del matching.places["company"]
    if mapped.get("discount") is None and _is_percent_of_lines(matching):
        matching.places["line_discount"] = matching.places.pop("discount")
    columns = Columns(tuple(header), dict(matching.places))
    offers = _suggestions(matching)
    offered = {offer.place for offer in offers}
    return OrderColumns(
        columns,
        tuple(offers),
        ignored_columns(header, samples, [place for place in matching.free() if place not in offered], matching.places),
        tuple(
            _suggested(name, header, samples, place)
            for name, place in matching.places.items()
            if not fits(name, samples.values(place))
        ),
    )


def _apply_mapping(
    matching: _Matching, mapped: Mapping[str, str], ignore: Sequence[str], faults: FaultsFound, line: int
) -> None:
    for name, wanted in mapped.items():
        if not wanted:
            matching.closed.add(name)
            continue
        places = called(matching.header, wanted)
        if len(places) > 1 and all(matching.samples.same_cells(places[0], place) for place in places[1:]):
            places = places[:1]
        if len(places) == 1:
            matching.places[name] = places[0]
        else:
            count = f"{len(places)} are" if places else "none is"
            faults.add(line, wanted, "", f"one column called {wanted!r}, as the mapping says for {name}; {count} there")
            matching.closed.add(name)
    for wanted in ignore:
        matching.ignored.update(called(matching.header, wanted))
    matching.ignored -= set(matching.places.values())


def called(header: Sequence[str], wanted: str) -> list[int]:
    """Return the columns with that header: exact matches if any, else ignoring case, accents, and spaces."""
    exact = [place for place, name in enumerate(header) if name == wanted.strip()]
    return exact or [place for place, name in enumerate(header) if name and folded(name) == folded(wanted)]


def _drop_second_names(places: dict[str, int]) -> None:
    """Drop first and last name where there is a full name, and a whole-address column where there is a street line."""
    for whole, parts in (("recipient", ("first_name", "last_name")), ("address1", ("full_address",))):
        if whole in places:
            for part in parts:
                places.pop(part, None)


def _is_one_company_for_many(matching: _Matching) -> bool:
    """Return whether every row names a company, and many recipients share one: perhaps the shop, or who delivers."""
    cells, places = matching.samples.cells, matching.places
    if "company" not in places or "recipient" not in places or not all(cells[places["company"]]):
        return False
    recipients = {name for name in cells[places["recipient"]] if name}
    return len(recipients) >= _MANY and 2 * len(set(cells[places["company"]])) <= len(recipients)


def _is_percent_of_lines(matching: _Matching) -> bool:
    """Return whether a discount is a percentage of lines: lines have a total, or the line's amount is right of it.

    One that only the first row of an order has is the order's.
    """
    places = matching.places
    if "discount" not in places or {"line_discount"} & {*places, *matching.closed}:
        return False
    place = places["discount"]
    if header_meaning(matching.header[place]).concepts != {"discount", "percent"} or _is_once_an_order(matching, place):
        return False
    return "line_total" in places or (
        place + 1 in matching.free() and header_meaning(matching.header[place + 1]).concepts == {"amount"}
    )


def _is_once_an_order(matching: _Matching, place: int) -> bool:
    """Return whether a further row of an order leaves the cell empty that the order's first row fills."""
    if "order" not in matching.places:
        return False
    first: dict[str, str] = {}
    numbers, cells = matching.samples.cells[matching.places["order"]], matching.samples.cells[place]
    return any(first.setdefault(number, cell) and not cell for number, cell in zip(numbers, cells, strict=True))


def _suggestions(matching: _Matching) -> list[Suggestion]:
    """Return the best free column whose cells fit, for each field without one; essential fields choose first."""
    open_fields = [name for name in ORDER_FIELDS if name not in matching.places and name not in matching.closed]
    if "recipient" in matching.places:
        open_fields = [name for name in open_fields if name not in ("first_name", "last_name")]
    if {"first_name", "last_name"} <= matching.places.keys():
        open_fields = [name for name in open_fields if name != "recipient"]  # the two are the whole name
    if "address1" in matching.places:
        open_fields = [name for name in open_fields if name != "full_address"]
    labeled = labeled_address(matching.header, matching.samples, matching.places, matching.free())
    offers = {name: (0, place) for name, place in labeled.items() if name in open_fields}
    taken = {place for _, place in offers.values()}
    likely = {place: likely_candidates(matching.header[place]) for place in matching.free()}
    unlabeled = [name for name in open_fields if name not in offers]
    for name in sorted(unlabeled, key=lambda one: (one not in NEEDED, ORDER_FIELDS.index(one))):
        named = [
            (one.rank, place)
            for place, ones in likely.items()
            if place not in taken and matching.samples.values(place)
            for one in ones
            if one.field == name
        ]
        ranked = [(rank, place) for rank, place in named if fits(name, matching.samples.values(place))]
        if name == "recipient" and not ranked:  # nicknames with digits look like codes
            ranked = [(rank, place) for rank, place in named if not contradicted(name, matching.samples.values(place))]
        if ranked:
            offers[name] = min(ranked)
            taken.add(offers[name][1])
    return [
        _suggested(name, matching.header, matching.samples, offers[name][1]) for name in open_fields if name in offers
    ]


def _suggested(name: str, header: Sequence[str], samples: Samples, place: int) -> Suggestion:
    return replace(Suggestion(name, header[place], samples.examples(place)), place=place)
