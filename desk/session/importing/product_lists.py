"""Import lists of products and mailers: compare with the shop, then save in one step."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, fields, replace
from typing import Any  # records of several types

from desk.domain.faults import Refused
from desk.domain.length import Length, Size
from desk.domain.money import Money
from desk.domain.places.address import Address
from desk.domain.shop.mailer import Mailer
from desk.domain.shop.product import Product
from desk.domain.shop.shop import Shop, usual_policy
from desk.domain.weight import Weight
from desk.intake.columns.headers import Suggestion
from desk.intake.columns.sheet import Sheet
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.shop.product_lists import CatalogRules, ListKind, Record, catalog_in, known_product
from desk.session.importing.compare import Difference
from desk.session.pile.stored_cases import read_terms
from desk.session.sitting import Sitting
from desk.session.words.figures import amount_words
from desk.store.tables import shop as shelf_rows
from desk.tables.watch import UNWATCHED, WHOLE, Watch


@dataclass(frozen=True, slots=True)
class ChangedRecord:
    """A changed product or mailer; `before` is what the shop has, `now` what the list says."""

    name: str
    before: Record
    now: Record
    differences: tuple[Difference, ...]


@dataclass(frozen=True, slots=True)
class CatalogPreview:
    """What an import would do. Records missing in the list stay as they are."""

    shelf: ListKind
    new: tuple[Record, ...] = ()
    same: tuple[Record, ...] = ()
    changed: tuple[ChangedRecord, ...] = ()
    header: tuple[str, ...] = ()
    suggestions: tuple[Suggestion, ...] = ()


def compare_shelf(
    sitting: Sitting, sheet: Sheet, shelf: ListKind, wanted: ColumnMapping, watch: Watch = UNWATCHED
) -> CatalogPreview:
    """Return how an open table of products or mailers differs from the shop; Unreadable with every fault."""
    terms = read_terms(sitting)
    read = catalog_in(
        sheet, shelf, CatalogRules(terms.shop, terms.rulebook.countries, wanted.columns), watch.part(0, 600)
    )
    new: list[Record] = []
    same: list[Record] = []
    changed: list[ChangedRecord] = []
    for record in watch.part(600, WHOLE).over(read.records):
        before = _known(terms.shop, record)
        now = _kept_edition(before, record)
        if before is None:
            new.append(now)
        elif before == now:
            same.append(now)
        else:
            changed.append(ChangedRecord(record_name(now), before, now, tuple(_differences(before, now))))
    return CatalogPreview(shelf, tuple(new), tuple(same), tuple(changed), read.header, read.suggestions)


def import_catalog(sitting: Sitting, preview: CatalogPreview, accepted: Collection[str] = ()) -> int:
    """Save new records and the accepted changes, as one step; return how many there were.

    Refused when one of these records changed since the preview.
    """
    wanted = [changed for changed in preview.changed if changed.name in accepted]
    with sitting.store.act(f"{str(preview.shelf).capitalize()} imported", count=len(preview.new) + len(wanted)) as tx:
        shop = shelf_rows.load(tx.conn) or Shop(Address(), usual_policy())
        moved = [changed for changed in wanted if changed.before not in getattr(shop, str(preview.shelf))]
        if moved or any(_known(shop, record) is not None for record in preview.new):
            raise Refused("Some entries changed since the preview. Check it again before you import.")
        turned = {id(_known(shop, changed.before)): changed.now for changed in wanted}
        records = tuple(turned.get(id(record), record) for record in getattr(shop, str(preview.shelf)))
        whole: dict[str, Any] = {str(preview.shelf): (*records, *preview.new)}
        shelf_rows.save(tx, replace(shop, **whole))
    sitting.announce(sitting.store.last_changes)
    return len(preview.new) + len(wanted)


def record_name(record: Record) -> str:
    """Return the name of a record in a preview: a product's SKU, else its name; a mailer's name."""
    return (record.sku if isinstance(record, Product) else "") or record.name


def _known(shop: Shop, record: Record) -> Record | None:
    if isinstance(record, Mailer):
        return shop.mailer(record.name)
    return known_product(shop, record.sku, record.name)


def _kept_edition(before: Record | None, record: Record) -> Record:
    """Return the edition of an HS code: lists don't carry it, so an unchanged code keeps its edition."""
    if isinstance(before, Product) and isinstance(record, Product) and _digits(before.hs) == _digits(record.hs):
        return replace(record, hs=before.hs, hs_edition=before.hs_edition)
    return record


def _digits(code: str) -> str:
    return code.replace(".", "").replace(" ", "")


def _differences(before: Record, now: Record) -> Iterator[Difference]:
    for name in (field.name for field in fields(before)):
        old, new = getattr(before, name), getattr(now, name)
        if old != new:
            yield Difference(name, _text(old), _text(new))


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Money):
        return amount_words(value)
    if isinstance(value, Weight):
        return f"{value.grams.normalize():f} g"
    if isinstance(value, Length):
        return f"{value.inches():.3f} in"
    if isinstance(value, Size):
        return " x ".join(f"{side.inches():.3f}" for side in (value.length, value.width, value.thickness)) + " in"
    if isinstance(value, tuple):
        return ", ".join(map(str, value))
    return "" if value is None else str(value)
