"""Change the shop's settings, one record at a time. Typed values follow the rules of the shop file,
but numbers are as the locale writes them.

Each act takes the values of one record under the shop file's names. If one can't be read, nothing is saved and faults
are returned with their fields; otherwise the change is one named step that can be undone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any  # records of several types

from desk.customs.hs_codes import FEWEST_DIGITS
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import SenderName, Shop
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session.pile.stored_cases import read_terms
from desk.session.rulebook import Rulebook
from desk.session.setup.shop_texts import NUMBERS
from desk.session.sitting import Sitting
from desk.session.words.figures import measure
from desk.session.words.stamp_names import name_of_stamp
from desk.session.words.typed_numbers import count_typed, with_points
from desk.store.tables import shop as shelf
from desk.store.tables.movements import stamp_name

Values = Mapping[str, object]
WHOLE = ("max_stamps", "pack_count", "count")  # whole numbers, unquoted in a shop file
_HS_WORDS = {  # by what the check of the code found
    "not digits": "An HS code has digits only.",
    "too short": f"An HS code needs at least {FEWEST_DIGITS} digits. Look it up on Customs.",
    "too long": "This HS code has too many digits.",
}
NEEDED_OF_SENDER = ("address1", "city", "region", "postal_code", "country")


@dataclass(frozen=True, slots=True)
class FieldFault:
    """What is wrong with one field. `kept` is True when the record was saved although something is missing."""

    field: str
    sentence: str
    kept: bool = False


Faults = tuple[FieldFault, ...]


def save_sender(sitting: Sitting, values: Values) -> Faults:
    """Save the sender. What is missing is reported and saved as missing; an unknown country is not saved."""
    terms = read_terms(sitting)
    typed = {name: str(value).strip() for name, value in values.items()}
    country = terms.rulebook.countries.find(typed.get("country", "")) if typed.get("country") else ""
    if country is None:
        return (FieldFault("country", "Enter a country by its English name or its two-letter code."),)
    typed["country"] = country
    name = SenderName(typed.pop("first_name", ""), typed.pop("last_name", ""))
    sender = Address(recipient=typed.pop("name", ""), **typed)
    _keep(sitting, replace(terms.shop, sender=sender, sender_name=name), "Sender saved")
    return missing_of_sender(sender)


def missing_of_sender(sender: Address) -> Faults:
    """Return what is missing in the sender, by field."""
    lacking = [name for name in NEEDED_OF_SENDER if not getattr(sender, name)]
    if not sender.recipient and not sender.company:
        lacking.insert(0, "name")
    words = {"name": "Needed: a name or a company."}
    return tuple(FieldFault(name, words.get(name, "Needed on labels and forms."), kept=True) for name in lacking)


def save_policy(sitting: Sitting, values: Values) -> Faults:
    """Save the shop's rules; mailer prices are in its currency, as in a shop file."""
    return _save(sitting, ("policy",), values, "Rules saved")


def save_tax_ids(sitting: Sitting, values: Values) -> Faults:
    """Save the numbers for prepaid tax; their format is checked where they are used."""
    return _save(sitting, ("tax_ids",), values, "Tax numbers saved")


def save_mailer(sitting: Sitting, place: int, values: Values) -> Faults:
    """Save the mailer at that index; with a new kind, fields not set by hand follow the kind."""
    known = read_terms(sitting).shop.mailers[place]
    if values.get("kind") != known.kind.value:
        values = {key: value for key, value in values.items() if not _by_kind(known, key, value)}
    return _save(sitting, ("mailers", place), values, f"Mailer saved: {values.get('name', '')}")


def _by_kind(known: Mailer, key: str, value: object) -> bool:
    return key in ("stiff", "paper") and value == getattr(known, key)


def save_product(sitting: Sitting, place: int, values: Values) -> Faults:
    """Save the product at that index. An HS code customs would send back is saved and reported.

    The country of origin may be a name or a code.
    """
    rulebook = sitting.rulebook
    typed = str(values.get("origin") or "").strip()
    origin = rulebook.countries.find(typed) if typed else ""
    if origin is None:
        _, faults = _read(read_terms(sitting).shop, ("products", place), {**values, "origin": ""})
        return (*faults, FieldFault("origin", "Enter a country by its English name or its two-letter code."))
    step = f"Product saved: {values.get('name') or values.get('sku', '')}"
    faults = _save(sitting, ("products", place), {**values, "origin": origin}, step)
    return faults or _hs_faults(rulebook, read_terms(sitting).shop.products[place])


def _hs_faults(rulebook: Rulebook, product: Product) -> Faults:
    """Return what customs would object to in a product's HS code; empty while it has none."""
    check = rulebook.codes.looked_at(product.hs, product.hs_edition) if product.hs else None
    if check is None or check.ok:
        return ()
    words = _HS_WORDS.get(check.why, "This code isn't in the HS edition in force. Look it up on Customs.")
    return (FieldFault("hs", words, kept=True),)


def save_stamp(sitting: Sitting, place: int, values: Values) -> Faults:
    """Save the kind of stamp at that index; a changed count means the stock was counted."""
    return _save(sitting, ("stamps", place), values, f"Stamp count updated: {_stamp_kind(values.get('kind', ''))}")


def save_choice(sitting: Sitting, before: str, name: str, services: Sequence[str]) -> Faults:
    """Save the services a shipping choice allows, renaming it if needed; an empty `before` adds it."""
    terms, name = read_terms(sitting), name.strip()
    if not name:
        return (FieldFault("name", "Type the words the buyer chooses by."),)
    if name != before and name in terms.shop.choices:
        return (FieldFault("name", "This choice is already in the list."),)
    renamed = {name if key == before else key: value for key, value in terms.shop.choices.items()}
    _keep(sitting, replace(terms.shop, choices={**renamed, name: tuple(services)}), f"Shipping choice saved: {name}")
    return ()


def remove_choice(sitting: Sitting, name: str) -> None:
    """Remove a shipping choice; its orders follow the rules then."""
    shop = read_terms(sitting).shop
    rest = {key: value for key, value in shop.choices.items() if key != name}
    _keep(sitting, replace(shop, choices=rest), f"Shipping choice removed: {name}")


def add_mailer(sitting: Sitting) -> int:
    """Add a mailer and return its index."""
    shop = read_terms(sitting).shop
    name = _free_name("New mailer", [mailer.name for mailer in shop.mailers])
    _keep(sitting, replace(shop, mailers=(*shop.mailers, Mailer(name, MailerKind.ENVELOPE))), "Mailer added")
    return len(shop.mailers)


def add_product(sitting: Sitting) -> int:
    """Add an empty product; return its index."""
    shop = read_terms(sitting).shop
    name = _free_name("New product", [product.name for product in shop.products])
    _keep(sitting, replace(shop, products=(*shop.products, Product("", name))), "Product added")
    return len(shop.products)


def add_stamp(sitting: Sitting, kind: StampKind) -> int:
    """Add a kind of stamp with none on hand and return its index, also when it is there already."""
    shop = read_terms(sitting).shop
    names, fresh = [stamp_name(stamp) for stamp in shop.stamps], StampStock(kind, 0)
    if stamp_name(fresh) in names:
        return names.index(stamp_name(fresh))
    _keep(sitting, replace(shop, stamps=(*shop.stamps, fresh)), f"Stamps added: {name_of_stamp(kind)}")
    return len(shop.stamps)


def remove(sitting: Sitting, kind: str, place: int) -> None:
    """Remove a record; `kind` is mailers, products or stamps. IndexError for no such index."""
    shop = read_terms(sitting).shop
    records = getattr(shop, kind)
    name = getattr(records[place], "name", "") or _stamp_kind(getattr(records[place], "kind", ""))
    rest = records[:place] + records[place + 1 :]
    _keep(sitting, replace(shop, **{kind: rest}), f"{kind.removesuffix('s').capitalize()} removed: {name}".rstrip(": "))


def read_record(
    shop: Shop, kind: str, place: int, values: Values
) -> tuple[Any, Faults]:  # any of three records, by kind
    """Return the record these values make at that index, and its faults; None with a fault."""
    read, faults = _read(shop, (kind, place), values)
    return (getattr(read, kind)[place] if read and not faults else None), faults


def _save(sitting: Sitting, at: tuple[str | int, ...], values: Values, step: str) -> Faults:
    shop = read_terms(sitting).shop
    read, faults = _read(shop, at, values)
    if read is not None and not faults:
        _keep(sitting, read, step)
    return faults


def _read(shop: Shop, at: tuple[str | int, ...], values: Values) -> tuple[Shop | None, Faults]:
    """Return the shop with these values at that index, and the faults there."""
    from desk.intake.shop.shop_file import shop_of
    from desk.intake.shop.shop_values import ANYBODY, shop_values

    whole = shop_values(shop) | {"sender": ANYBODY}
    tidy, faults = _tidied(values)
    faults += _name_taken(shop, at, tidy)
    if len(at) == 1:
        whole[str(at[0])] = tidy
    else:
        whole[str(at[0])][at[1]] = tidy

    def note(place: tuple[str | int, ...], _found: str, expected: str) -> None:
        if place[: len(at)] == at and not any(fault.field == _field(place, at) for fault in faults):
            faults.append(FieldFault(_field(place, at), measure(f"Expected {expected.replace('_', ' ')}.")))

    read = shop_of(whole, note)
    if read is not None and not faults:
        faults += _stamp_taken(read, at)
    return (_with_the_rest(read, shop) if read else None), tuple(faults)


def _with_the_rest(read: Shop, shop: Shop) -> Shop:
    """Return the shop with what no shop file holds taken from the old one: sender, and editions of codes."""
    editions = {(product.sku, product.name, product.hs): product.hs_edition for product in shop.products}
    products = tuple(
        replace(product, hs_edition=editions.get((product.sku, product.name, product.hs), product.hs_edition))
        for product in read.products
    )
    return replace(read, sender=shop.sender, sender_name=shop.sender_name, products=products)


def _tidied(values: Values) -> tuple[dict[str, object], list[FieldFault]]:
    """Return the values without empty ones, with numbers as a shop file has them; and a fault for each bad number."""
    tidy: dict[str, object] = {}
    faults = []
    for name, value in values.items():
        if isinstance(value, str):
            value = value.strip()  # noqa: PLW2901 - the same value, stripped
        if value in ("", None):
            continue
        try:
            tidy[name] = _number_read(name, value) if isinstance(value, str) else value
        except ValueError as fault:
            faults.append(FieldFault(name, str(fault)))
    return tidy, faults


def _number_read(name: str, typed: str) -> str | int:
    """Return a field's number as a shop file has it, other text unchanged; ValueError with a sentence."""
    if name in NUMBERS:
        return with_points(typed)
    if name not in WHOLE:
        return typed
    if (count := count_typed(typed)) is None:
        raise ValueError("Expected a whole number.")
    return count


def _name_taken(shop: Shop, at: tuple[str | int, ...], values: Values) -> list[FieldFault]:
    """Return a fault when another record of the same kind has this name or SKU."""
    key = {"mailers": "name", "products": "sku"}.get(str(at[0]))
    if key is None or not values.get(key):
        return []
    others = [record for place, record in enumerate(getattr(shop, str(at[0]))) if place != at[1]]
    taken = any(getattr(record, key) == values[key] for record in others)
    return [FieldFault(key, f"Another {str(at[0]).removesuffix('s')} has this {key}.")] if taken else []


def _stamp_taken(read: Shop, at: tuple[str | int, ...]) -> list[FieldFault]:
    """Return a fault when the list has this stamp already, since two lines would share one count."""
    if at[0] != "stamps":
        return []
    names = [stamp_name(stamp) for stamp in read.stamps]
    if names.count(names[int(at[1])]) == 1:
        return []
    at_value = read.stamps[int(at[1])].value is not None
    return [FieldFault("value" if at_value else "kind", "This stamp is already in the list. Count it there.")]


def _field(place: tuple[str | int, ...], at: tuple[str | int, ...]) -> str:
    """Return the field a fault belongs to; a fault of the whole record goes to its first field."""
    inside = place[len(at) :]
    first = {"products": "name", "stamps": "value", "mailers": "name"}
    return str(inside[0]) if inside else first.get(str(at[0]), "")


def _keep(sitting: Sitting, shop: Shop, step: str) -> None:
    with sitting.store.act(" ".join(step.split())) as tx:
        shelf.save(tx, shop)
    sitting.announce(sitting.store.last_changes)


def _free_name(wanted: str, taken: Sequence[str]) -> str:
    number = 1
    while (name := wanted if number == 1 else f"{wanted} {number}") in taken:
        number += 1
    return name


def _stamp_kind(kind: object) -> str:
    return name_of_stamp(StampKind(str(kind))) if str(kind) in set(StampKind) else str(kind)
