"""Change what the shop has settled, one record at a time. What is typed is read by the rules of the shop file.

Each act takes the values of one record as the shop file names them. When something in them cannot be read, nothing is
kept and each fault comes back with the field it belongs to; else the change is one named step that can be undone.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer, MailerKind
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop
from desk.domain.shop.stamp import StampKind, StampStock
from desk.session.pile.stored_cases import read_terms
from desk.session.sitting import Sitting
from desk.store.tables import shop as shelf
from desk.store.tables.movements import stamp_name

Values = Mapping[str, Any]
WHOLE = ("max_stamps", "pack_count", "count")  # whole numbers, which a shop file writes without quotes
ANYBODY = {"name": "x", "address1": "x", "city": "x", "region": "x", "postal_code": "x", "country": "US"}
NEEDED_OF_SENDER = ("address1", "city", "region", "postal_code", "country")


@dataclass(frozen=True, slots=True)
class FieldFault:
    """What is wrong with one field. `kept` is True when the record was kept all the same: something is lacking still."""

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
        return (FieldFault("country", "Expected a country, by its English name or its code of two letters."),)
    typed["country"] = country
    sender = Address(recipient=typed.pop("name", ""), **typed)
    _keep(sitting, replace(terms.shop, sender=sender), "Change the sender")
    return missing_of_sender(sender)


def missing_of_sender(sender: Address) -> Faults:
    """What the sender still lacks, field by field."""
    lacking = [name for name in NEEDED_OF_SENDER if not getattr(sender, name)]
    if not sender.recipient and not sender.company:
        lacking.insert(0, "name")
    words = {"name": "Needed: a name or a company."}
    return tuple(FieldFault(name, words.get(name, "Needed on labels and forms."), kept=True) for name in lacking)


def save_policy(sitting: Sitting, values: Values) -> Faults:
    """Keep how the shop sends; amounts of mailers are in the policy's currency, as in a shop file."""
    return _save(sitting, ("policy",), values, "Change the rules")


def save_tax_ids(sitting: Sitting, values: Values) -> Faults:
    """Keep the numbers under which tax is paid ahead; their form is looked at where they are used."""
    return _save(sitting, ("tax_ids",), values, "Change the tax numbers")


def save_mailer(sitting: Sitting, place: int, values: Values) -> Faults:
    """Keep the mailer at that place of the shelf; under another kind, what nobody set by hand is as that kind is."""
    known = read_terms(sitting).shop.mailers[place]
    if values.get("kind") != known.kind.value:
        values = {key: value for key, value in values.items() if not _by_kind(known, key, value)}
    return _save(sitting, ("mailers", place), values, f"Change mailer {values.get('name', '')}")


def _by_kind(known: Mailer, key: str, value: object) -> bool:
    return key in ("stiff", "paper") and value == getattr(known, key)


def save_product(sitting: Sitting, place: int, values: Values) -> Faults:
    """Keep the product at that place of the list."""
    return _save(sitting, ("products", place), values, f"Change product {values.get('name') or values.get('sku', '')}")


def save_stamp(sitting: Sitting, place: int, values: Values) -> Faults:
    """Keep the kind of stamp at that place; another count is what was counted in the drawer just now."""
    return _save(sitting, ("stamps", place), values, f"Count stamps {_words(values.get('kind', ''))}")


def save_choice(sitting: Sitting, before: str, name: str, services: Sequence[str]) -> Faults:
    """Keep which services a buyer's choice allows, under a new name too; an empty `before` adds it."""
    terms, name = read_terms(sitting), name.strip()
    if not name:
        return (FieldFault("name", "Type the words the buyer chooses by."),)
    if name != before and name in terms.shop.choices:
        return (FieldFault("name", "This choice is already in the list."),)
    renamed = {name if key == before else key: value for key, value in terms.shop.choices.items()}
    _keep(sitting, replace(terms.shop, choices={**renamed, name: tuple(services)}), f"Change shipping choice {name}")
    return ()


def remove_choice(sitting: Sitting, name: str) -> None:
    """Take a choice away; orders with it follow the policy then."""
    shop = read_terms(sitting).shop
    kept = {key: value for key, value in shop.choices.items() if key != name}
    _keep(sitting, replace(shop, choices=kept), f"Remove shipping choice {name}")


def add_mailer(sitting: Sitting) -> int:
    """Put a new envelope on the shelf; its place."""
    shop = read_terms(sitting).shop
    name = _free_name("New mailer", [mailer.name for mailer in shop.mailers])
    _keep(sitting, replace(shop, mailers=(*shop.mailers, Mailer(name, MailerKind.ENVELOPE))), "Add a mailer")
    return len(shop.mailers)


def add_product(sitting: Sitting) -> int:
    """Add an empty product; return its index."""
    shop = read_terms(sitting).shop
    name = _free_name("New product", [product.name for product in shop.products])
    _keep(sitting, replace(shop, products=(*shop.products, Product("", name))), "Add a product")
    return len(shop.products)


def add_stamp(sitting: Sitting, kind: StampKind) -> int:
    """Add a kind of stamp with none of it in the drawer; its place, which it may have already."""
    shop = read_terms(sitting).shop
    names, fresh = [stamp_name(stamp) for stamp in shop.stamps], StampStock(kind, 0)
    if stamp_name(fresh) in names:
        return names.index(stamp_name(fresh))
    _keep(sitting, replace(shop, stamps=(*shop.stamps, fresh)), f"Add stamps {_words(kind)}")
    return len(shop.stamps)


def remove(sitting: Sitting, kind: str, place: int) -> None:
    """Take a record away: `kind` is mailers, products or stamps. IndexError when there is none at that place."""
    shop = read_terms(sitting).shop
    records = getattr(shop, kind)
    name = getattr(records[place], "name", "") or _words(getattr(records[place], "kind", ""))
    kept = records[:place] + records[place + 1 :]
    _keep(sitting, replace(shop, **{kind: kept}), f"Remove {kind.removesuffix('s')} {name}".rstrip())


def read_record(shop: Shop, kind: str, place: int, values: Values) -> tuple[Any, Faults]:
    """The record these values make in that place of this shop, and what is wrong; None when something is."""
    read, faults = _read(shop, (kind, place), values)
    return (getattr(read, kind)[place] if read and not faults else None), faults


def _save(sitting: Sitting, at: tuple[str | int, ...], values: Values, step: str) -> Faults:
    shop = read_terms(sitting).shop
    read, faults = _read(shop, at, values)
    if read is not None and not faults:
        _keep(sitting, read, step)
    return faults


def _read(shop: Shop, at: tuple[str | int, ...], values: Values) -> tuple[Shop | None, Faults]:
    """The shop with those values at that place; only faults of that place are told."""
    from desk.intake.shop.shop_file import shop_of
    from desk.intake.shop.shop_values import shop_values

    whole = shop_values(shop) | {"sender": ANYBODY}
    tidy, faults = _tidied(values)
    faults += _name_taken(shop, at, tidy)
    if len(at) == 1:
        whole[str(at[0])] = tidy
    else:
        whole[str(at[0])][at[1]] = tidy

    def note(place: tuple[str | int, ...], _found: str, expected: str) -> None:
        if place[: len(at)] == at and not any(fault.field == _field(place, at) for fault in faults):
            faults.append(FieldFault(_field(place, at), f"Expected {expected.replace('_', ' ')}."))

    read = shop_of(whole, note)
    if read is not None and not faults:
        faults += _stamp_taken(read, at)
    return (_with_the_rest(read, shop) if read else None), tuple(faults)


def _with_the_rest(read: Shop, shop: Shop) -> Shop:
    """What a shop file does not carry stays as it was: the sender, and the edition of each code."""
    kept = {(product.sku, product.name, product.hs): product.hs_edition for product in shop.products}
    products = tuple(
        replace(product, hs_edition=kept.get((product.sku, product.name, product.hs), product.hs_edition))
        for product in read.products
    )
    return replace(read, sender=shop.sender, products=products)


def _tidied(values: Values) -> tuple[dict[str, Any], list[FieldFault]]:
    """The values without what was left empty, whole numbers read; a fault for each that is none."""
    tidy: dict[str, Any] = {}
    faults = []
    for name, value in values.items():
        if isinstance(value, str):
            value = value.strip()  # noqa: PLW2901 - the same value, as it counts
        if value in ("", None):
            continue
        if name in WHOLE and isinstance(value, str):
            if not (value.isascii() and value.isdigit()):
                faults.append(FieldFault(name, "Expected a whole number."))
                continue
            value = int(value)  # noqa: PLW2901 - the same value, read
        tidy[name] = value
    return tidy, faults


def _name_taken(shop: Shop, at: tuple[str | int, ...], values: Values) -> list[FieldFault]:
    """A name or sku that another record of the same kind has already."""
    key = {"mailers": "name", "products": "sku"}.get(str(at[0]))
    if key is None or not values.get(key):
        return []
    others = [record for place, record in enumerate(getattr(shop, str(at[0]))) if place != at[1]]
    taken = any(getattr(record, key) == values[key] for record in others)
    return [FieldFault(key, f"Another of the {at[0]} has this {key}.")] if taken else []


def _stamp_taken(read: Shop, at: tuple[str | int, ...]) -> list[FieldFault]:
    """A stamp that another line counts already: two lines of it would be counted for each other."""
    if at[0] != "stamps":
        return []
    names = [stamp_name(stamp) for stamp in read.stamps]
    if names.count(names[int(at[1])]) == 1:
        return []
    at_value = read.stamps[int(at[1])].value is not None
    return [FieldFault("value" if at_value else "kind", "This stamp is already in the list. Count it there.")]


def _field(place: tuple[str | int, ...], at: tuple[str | int, ...]) -> str:
    """The field a fault belongs to; what is said of a record as a whole belongs to its first field."""
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


def _words(kind: object) -> str:
    return str(kind).replace("_", " ")
