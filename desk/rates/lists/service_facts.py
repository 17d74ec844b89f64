"""Service facts: what the services of a folder of price lists are; reads and writes their TOML."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from enum import StrEnum
from importlib.resources.abc import Traversable
from typing import TypeVar

from desk.domain.faults import FileFault, Unreadable
from desk.domain.money import Money
from desk.domain.service import PaidBy, PostedAs, Service
from desk.rates.lists.head_table import HeadTable
from desk.tables.toml_text import parse_toml

SERVICES = "services.toml"
Word = TypeVar("Word", bound=StrEnum)
KEPT_FOR = ("", "documents", "media", "library", "military")


def read_services(folder: Traversable, faults: list[FileFault]) -> dict[str, Service]:
    """Return the services that `services.toml` of a folder describes, by id; none when there is no such file."""
    file = folder / SERVICES
    if not file.is_file():
        return {}
    try:
        values, keys = parse_toml(file.read_bytes(), SERVICES)
    except Unreadable as fault:
        faults.extend(fault.faults)
        return {}
    currency = HeadTable(SERVICES, keys, values, faults).needed_text("currency")
    services = {}
    for service, table in values.items():
        if isinstance(table, dict):
            head = HeadTable(SERVICES, keys, table, faults, (service,))
            services[service] = take_facts(head, Service(id=service), currency)
            head.close()
    return services


def facts_by_shape(service: str, shapes: frozenset[str], keyed_by: str) -> Service:
    """Return the facts of a service whose list gives only shapes and keys.

    A service that takes no parcels is a letter, card or large envelope: untracked, and paid the way the shop pays
    letters. A service priced by country group is international.
    """
    posted_as = next((each for each in (PostedAs.PARCEL, PostedAs.FLAT, PostedAs.LETTER) if each in shapes), None)
    posted_as = posted_as or (PostedAs.POSTCARD if PostedAs.POSTCARD in shapes else PostedAs.PARCEL)
    parcel = posted_as is PostedAs.PARCEL
    return Service(
        id=service,
        posted_as=posted_as,
        abroad=keyed_by == "group",
        tracked=parcel,
        paid_by=PaidBy.AS_PARCELS if parcel else PaidBy.AS_LETTERS,
    )


def take_facts(table: HeadTable, otherwise: Service, currency: str) -> Service:
    """Return the facts a table gives, with `otherwise` for every missing field; the table collects the faults."""
    return Service(
        id=otherwise.id,
        posted_as=_word(table, "posted_as", otherwise.posted_as),
        abroad=table.flag("abroad", default=otherwise.abroad),
        tracked=table.flag("tracked", default=otherwise.tracked),
        paid_by=_word(table, "paid_by", otherwise.paid_by),
        price_level=_word(table, "price_level", otherwise.price_level),
        surface_only=table.flag("surface_only", default=otherwise.surface_only),
        takes=table.one_of("takes", KEPT_FOR, otherwise.takes),
        packaging=table.text("packaging", otherwise.packaging),
        form=_word(table, "form", otherwise.form),
        measured_as=_word(table, "measured_as", otherwise.measured_as),
        girth_limit=table.number("girth_limit") or otherwise.girth_limit,
        cover=table.amount("cover", currency) or otherwise.cover,
        names=table.texts("names") or otherwise.names,
    )


def _word(table: HeadTable, name: str, otherwise: Word) -> Word:
    """Return a field that is one of the words of `otherwise`'s kind."""
    kind = type(otherwise)
    return kind(table.one_of(name, tuple(word.value for word in kind), otherwise.value))


def facts_text(facts: Service) -> Iterator[str]:
    """Yield the facts as lines of a `[services.ID]` table."""
    words: Mapping[str, str] = {
        "posted_as": facts.posted_as,
        "paid_by": facts.paid_by,
        "price_level": facts.price_level,
        "takes": facts.takes,
        "packaging": facts.packaging,
        "form": facts.form,
        "measured_as": facts.measured_as,
        "girth_limit": _plain(facts.girth_limit),
        "cover": _cover(facts.cover),
    }
    yield from (f"{name} = {json.dumps(word, ensure_ascii=False)}" for name, word in words.items() if word)
    if facts.names:
        yield f"names = {json.dumps(list(facts.names), ensure_ascii=False)}"
    flags = {"abroad": facts.abroad, "tracked": facts.tracked, "surface_only": facts.surface_only}
    yield from (f"{name} = {str(flag).lower()}" for name, flag in flags.items())


def _plain(number: Decimal) -> str:
    return re.sub(r"\.?0+$", "", f"{number:f}") if "." in f"{number:f}" else f"{number:f}"


def _cover(cover: Money | None) -> str:
    return cover.text() if cover is not None else ""
