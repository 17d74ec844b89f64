"""The chosen set is the best of all sets: checked against trying every one, on small drawers."""

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from desk.domain.money import Money
from desk.domain.shop.stamp import StampKind, StampStock
from desk.rates.stamps.stamps import choose_stamps

DRAWERS = st.lists(st.tuples(st.integers(1, 130), st.integers(0, 4)), max_size=5)


def tried_all(postage: int, drawer: list[tuple[int, int]], most: int | None) -> tuple[int, int] | None:
    """Overpayment and number of stamps of the best set, by making every set there is."""
    sets = product(*(range(count + 1) for _, count in drawer))
    ranked = [
        (paid - postage, sum(taken))
        for taken in sets
        if (paid := sum(worth * number for (worth, _), number in zip(drawer, taken, strict=True))) >= postage
        and (most is None or sum(taken) <= most)
    ]
    return min(ranked, default=None)


@settings(max_examples=300, deadline=None)
@given(postage=st.integers(1, 500), drawer=DRAWERS, most=st.none() | st.integers(0, 8))
def test_no_set_of_stamps_is_better_than_the_chosen_one(postage, drawer, most):
    stock = [StampStock(StampKind.FACE, count, Money(worth)) for worth, count in drawer]
    found = choose_stamps(Money(postage), stock, {}, most)
    got = found and (found.overpaid.minor, sum(stamp.number for stamp in found.stamps))
    assert got == tried_all(postage, drawer, most)


@settings(max_examples=200, deadline=None)
@given(postage=st.integers(1, 2000), drawer=DRAWERS)
def test_a_set_uses_only_stamps_in_stock(postage, drawer):
    stock = [StampStock(StampKind.FACE, count, Money(worth)) for worth, count in drawer]
    found = choose_stamps(Money(postage), stock, {})
    if found is None:
        assert sum(worth * count for worth, count in drawer) < postage
        return
    left = {worth: sum(count for other, count in drawer if other == worth) for worth, _ in drawer}
    for stamp in found.stamps:
        left[stamp.value.minor] -= stamp.number
    assert min(left.values()) >= 0
    assert sum(stamp.value.minor * stamp.number for stamp in found.stamps) - postage == found.overpaid.minor
