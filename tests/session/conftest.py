"""The shipped rulebook, read once; terms of a made shop; a sitting on a store of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from desk.domain.orders.order import Order
from desk.domain.orders.piece import PieceKey, Weighing
from desk.domain.shop.shop import Shop
from desk.session.bench.weigh import weigh
from desk.session.papers.hand_over import hand_pieces_over
from desk.session.papers.stamps_on import put_stamps_on
from desk.session.pile.pile import Pile
from desk.session.rulebook import Rulebook, read_rulebook
from desk.session.sitting import Sitting
from desk.session.verdict.judge import judge
from desk.session.verdict.verdict import Terms, Verdict
from desk.store.store import open_store
from tests.conftest import ROOT, StillClock
from tests.session import made

Judge = Callable[..., Verdict]


@pytest.fixture(scope="session")
def rulebook() -> Rulebook:
    return read_rulebook(ROOT / "resources")


@pytest.fixture
def terms(rulebook: Rulebook) -> Terms:
    return Terms(made.shop(), rulebook, made.ON)


@pytest.fixture
def judged(rulebook: Rulebook) -> Judge:
    """Judge a made case: `judged(value, mailer, shop=..., on=..., **fields of case or order)`."""

    def one(*words: Any, shop: Any = None, on: Any = made.ON, **fields: Any) -> Verdict:
        return judge(made.case(*words, **fields), Terms(shop or made.shop(), rulebook, on))

    return one


@pytest.fixture
def sitting(rulebook: Rulebook, clock: StillClock, tmp_path: Path) -> Iterator[Sitting]:
    store = open_store(tmp_path / "store.sqlite", clock)
    yield Sitting(store, clock, rulebook, made.ON)
    store.close()


class Stocked(NamedTuple):
    """What a test file asks for with `pytest.mark.stocked`: orders, a shop of its own, weights by order or by piece.

    Pieces are named by id: those `stamped` have their postage on, those `left` are handed over too.
    """

    orders: Sequence[Order] = ()
    shop: Shop | None = None
    weights: Mapping[str | PieceKey, Weighing] = {}
    stamped: Sequence[int] = ()
    left: Sequence[int] = ()


def stocked(request: pytest.FixtureRequest) -> Stocked:
    asked = request.node.get_closest_marker("stocked")
    return Stocked(*asked.args, **asked.kwargs) if asked else Stocked()


@pytest.fixture
def full(sitting: Sitting, request: pytest.FixtureRequest) -> Sitting:
    """The sitting with the orders and weights of `stocked`."""
    asked = stocked(request)
    made.stock(sitting, asked.orders, asked.shop)
    if asked.weights:
        weigh(sitting, [(PieceKey(key) if isinstance(key, str) else key, read) for key, read in asked.weights.items()])
    return sitting


@pytest.fixture
def pile(full: Sitting, request: pytest.FixtureRequest) -> Pile:
    """A pile over `full` that follows every act."""
    asked, found = stocked(request), made.following_pile(full)
    if on := [*asked.stamped, *asked.left]:
        put_stamps_on(full, found, on)
    if asked.left:
        hand_pieces_over(full, found, asked.left)
    return found
