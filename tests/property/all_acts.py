"""Every act of the session that is not in `session_acts`: those of Setup, Papers, Hand over and lists."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal

from desk.domain.faults import Refused
from desk.domain.length import Size
from desk.domain.money import Money
from desk.domain.weight import Shown, WeightUnit
from desk.intake.order_headers.mapping_file import ColumnMapping
from desk.intake.shop.product_lists import ListKind
from desk.intake.shop.shop_values import mailer_values, policy_values, product_values, shop_values, stamp_values
from desk.session.bench.extra_choice import choose_extra
from desk.session.customs.product_goods import fix_product
from desk.session.importing.compare import import_all
from desk.session.importing.mappings import forget_mapping, save_mapping
from desk.session.importing.product_lists import CatalogPreview, ChangedRecord, import_catalog
from desk.session.papers.hand_over import hand_pieces_over, stamp_all, to_stamp
from desk.session.papers.kinds import Paper
from desk.session.papers.printed import note_printed, void_papers
from desk.session.pile.bulk_changes import set_size
from desk.session.pile.mailing_date import post_on, short_on
from desk.session.pile.pile import Pile
from desk.session.scale.choice import keep_tray, save_scale, trust_bit
from desk.session.scale.coin_check import check_scale, coins
from desk.session.setup import change_shop
from desk.session.setup.own_rules import OwnZones, drop_zones, load_zones
from desk.session.unreported import mark_reported
from tests.conftest import ROOT
from tests.property.session_acts import ACTS, ORDERS
from tests.session import made

Doing = Callable[[Pile, int, int], object]
PAPERS = (Paper.LABELS, Paper.SLIPS, Paper.PACKING_SLIPS, Paper.KEYING_SHEETS)
FINAL = frozenset({"print", "void"})  # what left the program is never undone


def _list(pile: Pile, piece: int, number: int) -> None:
    """A list with one order changed and one canceled since."""
    order = replace(ORDERS[number % 5], shipping_paid=Money(number))
    gone = pile.verdicts[piece].case.order.number
    import_all(pile.sitting, [order], [(gone, "canceled")] if gone != order.number else [])


def _catalog(pile: Pile, _piece: int, number: int) -> None:
    kept = pile.terms.shop.products
    if not kept:
        raise Refused("No product is left to change.")
    now = replace(kept[0], customs_words=f"Printed card, kind {number}")
    fresh = replace(made.CARD, sku=f"NEW-{number}", name=f"New card {number}")
    preview = CatalogPreview(ListKind.PRODUCTS, (fresh,), (), (ChangedRecord(now.sku, kept[0], now, ()),))
    import_catalog(pile.sitting, preview, [now.sku] if number % 2 else [])


def _post_on(pile: Pile, _piece: int, number: int) -> None:
    on = date(2026, 7, 15 + number % 9)
    post_on(pile.sitting, on, short_on(pile.verdicts.values(), pile.terms, on))


def _setup(pile: Pile, _piece: int, number: int) -> None:
    """Save one field of the shop in Setup."""
    sitting, shop = pile.sitting, pile.terms.shop
    ways: tuple[Callable[[], object], ...] = (
        lambda: change_shop.save_sender(sitting, {**shop_values(shop)["sender"], "address2": f"Unit {number}"}),
        lambda: change_shop.save_policy(sitting, {**policy_values(shop.policy), "insert_cost": f"0.{number:02}"}),
        lambda: change_shop.save_tax_ids(sitting, {"ioss": f"IM{number:010}"}),
        lambda: change_shop.save_choice(sitting, "", f"choice {number}", ["flat"]),
        lambda: change_shop.remove_choice(sitting, next(iter(shop.choices), "")),
        lambda: change_shop.save_mailer(sitting, 0, {**mailer_values(shop.mailers[0]), "pack_price": f"{number}.00"}),
        lambda: change_shop.save_product(sitting, 0, {**product_values(shop.products[0]), "hs": f"4909{number % 90}"}),
        lambda: change_shop.save_stamp(sitting, 0, {**stamp_values(shop.stamps[0]), "count": str(number)}),
    )
    shelves = {5: shop.mailers, 6: shop.products, 7: shop.stamps}
    if shelves.get(number % 8, True):
        ways[number % 8]()


def _scale(pile: Pile, _piece: int, number: int) -> None:
    shown = Shown(Decimal(number) / 10, WeightUnit.OUNCE, Decimal("0.1"))
    ways: tuple[Callable[[], object], ...] = (
        lambda: save_scale(pile.sitting, {"kind": "virtual" if number % 2 else "none"}),
        lambda: keep_tray(pile.sitting, shown if number % 3 else None),
        lambda: trust_bit(pile.sitting, None),
        lambda: check_scale(pile.sitting, shown, coins("quarter", 1 + number % 20)),
    )
    ways[number % 4]()


def _rules(pile: Pile, _piece: int, number: int) -> None:
    ways: tuple[Callable[[], object], ...] = (
        lambda: save_mapping(pile.sitting, f"fair {number % 3}", ColumnMapping({"order": f"No {number}"})),
        lambda: forget_mapping(pile.sitting, f"fair {number % 3}"),
        lambda: load_zones(pile.sitting, OwnZones("", "2026-07", {"100": 1 + number % 8}), "zones.csv"),
        lambda: drop_zones(pile.sitting),
        lambda: mark_reported(pile.sitting),
    )
    ways[number % 5]()


def _hand_over(pile: Pile, piece: int, number: int) -> None:
    if number % 2 and to_stamp(pile):
        stamp_all(pile.sitting, pile)
    else:
        hand_pieces_over(pile.sitting, pile, [piece])


def _size(pile: Pile, piece: int, number: int) -> None:
    set_size(pile.sitting, [piece], Size.of("9", "6", Decimal(1 + number) / 100, "in"))


def _extras(pile: Pile, piece: int, number: int) -> None:
    code = ("certificate-of-mailing", "certificate-firm-sheet", "insurance")[number % 3]
    chosen = code in pile.verdicts[piece].case.extras
    choose_extra(pile.sitting, piece, code, wanted=not chosen)


def _words(pile: Pile, piece: int, number: int) -> None:
    line = pile.verdicts[piece].case.order.lines[0]
    fix_product(pile.sitting, line, {"customs_words": f"Letterpress printed card number {number}", "origin": "US"})


OTHERS: dict[str, Doing] = {
    "list": _list,
    "catalog": _catalog,
    "post on": _post_on,
    "setup": _setup,
    "scale": _scale,
    "rules": _rules,
    "hand over": _hand_over,
    "size": _size,
    "words": _words,
    "extras": _extras,
    "weigh piece": lambda pile, piece, number: made.weigh_piece(pile.sitting, piece, made.weighing(f"0.{1 + number}")),
    "print": lambda pile, piece, number: note_printed(pile.sitting, [piece], PAPERS[number % 3]),
    "void": lambda pile, piece, number: void_papers(pile.sitting, [piece], PAPERS[number % 3]),
}
ALL: dict[str, Doing] = {**ACTS, **OTHERS}

# Acts that are not drawn, and where they are undone instead.
NOT_DRAWN = {
    "price warning": "undo skips it on purpose: tests/session/bench/test_price_warning.py",
    "forget": "it says itself that it stays: tests/session/test_forget.py",
    "charts": "it writes a folder, which stays: tests/session/test_charts.py",
}


def modules_with_acts() -> set[str]:
    """The modules of the session that begin a step of the journal."""
    folder = ROOT / "desk" / "session"
    return {path.stem for path in folder.glob("*.py") if "store.act(" in path.read_text(encoding="utf-8")}


def modules_drawn() -> set[str]:
    """The modules of the session whose acts are imported here or among the acts at the bench."""
    texts = [
        (ROOT / "tests" / "property" / name).read_text(encoding="utf-8") for name in ("all_acts.py", "session_acts.py")
    ]
    named = re.compile(r"^from desk\.session(?:\.(\w+))? import (.+)$", re.MULTILINE)
    return {module or what for text in texts for module, what in named.findall(text)}
