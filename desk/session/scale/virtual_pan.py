"""The virtual pan of the demo: puts its pieces on the virtual scale, with invented weights."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from importlib.resources import as_file
from importlib.resources.abc import Traversable
from zlib import crc32

from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import Shop
from desk.domain.weight import Weight
from desk.intake.weights import read_weights

EMPTY_S = 0.8  # long enough for the empty scale to be noticed


class VirtualPan:
    """Puts pieces on the virtual scale. `send` takes one step of a script of `desk.scales.simulated.scale`.

    With `invents`, a piece without an invented weight gets one from its number, always the same.
    """

    def __init__(
        self, weights: Mapping[PieceKey, Weight], send: Callable[[str], None], *, invents: bool = False
    ) -> None:
        self._weights, self._send, self._invents = weights, send, invents
        self.is_loaded = False

    def put(self, key: PieceKey) -> bool:
        """Put that piece on; return False when it has no invented weight."""
        weight = self._weights.get(key) or (_invented(key) if self._invents else None)
        if weight is None:
            return False
        if self.is_loaded:
            self._send(f"lift\nwait {EMPTY_S}\n")
        self.is_loaded = True
        self._send(f"place {weight.ounces():.3f}\n")
        return True

    def lift(self) -> None:
        """Take everything off."""
        self.is_loaded = False
        self._send("lift\n")


def _invented(key: PieceKey) -> Weight:
    """Return an invented weight between half an ounce and a pound, fixed by the piece's number."""
    return Weight.of(Decimal(5 + crc32(key.reference.encode()) % 155) / 10, "oz")


def demo_weights(demo: Traversable, shop: Shop) -> dict[PieceKey, Weight]:
    """Return the weights of the demo's pieces; the later one counts."""
    with as_file(demo / "weights.csv") as file:
        return {row.key: row.weighing.shown.weight for row in read_weights(file, shop=shop)}
