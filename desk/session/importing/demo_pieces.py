"""The pieces of the demo, judged by a shop's own rules: for trying a change before the shop has weighed anything."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from importlib.resources import as_file
from importlib.resources.abc import Traversable

from desk.session.importing.run_inputs import read_run_inputs
from desk.session.verdict.case import Case
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict


def demo_verdicts(resources: Traversable, terms: Terms) -> tuple[list[Verdict], Terms]:
    """Return the demo's pieces and the terms they are judged by: its products and mailers, the shop's rules and ZIP code."""
    with as_file(resources / "demo") as demo:
        orders, weights, shop = (demo / name for name in ("orders.csv", "weights.csv", "shop.toml"))
        read = read_run_inputs(terms.rulebook, orders=[orders], weights=weights, shop=shop)
    sender = terms.shop.sender if terms.shop.sender.postal_code else read.shop.sender
    tried = replace(terms, shop=replace(read.shop, policy=terms.shop.policy, sender=sender))
    known = {order.number: order for order in read.orders}
    weighed = [(key, weighing) for key, weighing in read.weights if key.order in known]
    of_order = Counter(key.order for key, _ in weighed)
    cases = (
        Case(key=key, order=known[key.order], weighing=weighing, pieces_in_order=of_order[key.order])
        for key, weighing in weighed
    )
    return [judge(case, tried) for case in cases], tried
