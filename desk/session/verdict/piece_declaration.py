"""The declaration of one piece, counting what else goes to the same addressee that day."""

from __future__ import annotations

from dataclasses import replace

from desk.customs.declaration import DOMESTIC, Consignment, CustomsRules, Declaration, declare
from desk.customs.goods import Goods, goods_of
from desk.domain.finding import Code, finding
from desk.domain.money import zero
from desk.domain.places.address import Address
from desk.domain.places.country import DOMESTIC_PLACES, HOME, MILITARY_STATES
from desk.domain.service import Service
from desk.domain.shop.shop import Shop
from desk.domain.weight import NOTHING, Weight
from desk.session.verdict.case import Case
from desk.session.verdict.verdict import Terms

# What depends on which goods are in the package, apart from what each line lacks.
_OF_EACH_PACKAGE = {Code.NET_OVER_GROSS, Code.EU_DUTY, Code.IMPORT_CHARGES}


def _goods(case: Case, shop: Shop, packed: Weight | None) -> tuple[Goods, ...]:
    """Return the goods of a piece; learned net weights count only where all of it stays within the piece's weight."""
    goods = goods_of(case.order, shop, case.nets)
    net = sum((line.net for line in goods if line.net is not None), NOTHING)
    if packed is None or net <= packed:
        return goods
    return goods_of(case.order, shop)


def is_plainly_domestic(address: Address) -> bool:
    """Return True for an address in a state, where no form and no filing can be needed."""
    return address.country == HOME and address.region.strip().upper() not in DOMESTIC_PLACES | MILITARY_STATES


def declaration_of(case: Case, terms: Terms, *, gross: Weight | None, service: Service | None) -> Declaration:
    """Return the declaration of a piece, an empty one within the states; without lines, and stopped, until all its goods have a name and the contents of each package are given.

    Until then the form is chosen for the whole order, which is the stricter choice.
    """
    if is_plainly_domestic(case.order.address):
        return DOMESTIC
    shop, rulebook = terms.shop, terms.rulebook
    packed = None if gross is None else gross + shop.policy.label_weight
    piece = Consignment(
        goods=_goods(case, shop, packed),
        gross=packed,
        service=service,
        address=case.order.address,
        details=case.order.customs,
        paid=case.order.goods_value,
        same_day=tuple(line for order in case.for_addressee for line in goods_of(order, shop)),
    )
    rules = CustomsRules(rulebook.destinations, rulebook.codes, shop.tax_ids, terms.rates)
    declared = declare(piece, rules, terms.on)
    is_listed = all(line.key for line in case.order.lines)
    if (case.contents_known and is_listed) or not declared.has_form:
        return declared
    unknown = finding(Code.CONTENTS_UNKNOWN, pieces=case.pieces_in_order, listed=is_listed)
    shared = (one for one in declared.findings if one.code not in _OF_EACH_PACKAGE and one.facts.get("item") != "")
    nothing = zero(declared.total_value.currency)
    return replace(declared, lines=(), total_net_g=None, total_value=nothing, findings=(unknown, *shared))
