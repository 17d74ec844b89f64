from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.orders.piece import PieceKey
from desk.domain.shop.shop import Policy
from desk.domain.weight import Shown, Weight, WeightUnit
from desk.scales.simulated.scale import read_script
from desk.session.scale.step_rule import step_rule, typed_weight
from desk.session.scale.virtual_pan import VirtualPan, demo_weights
from tests.session import made

KEY = PieceKey("1041")


def test_putting_on_and_lifting_are_commands_of_the_virtual_scale():
    sent = []
    pan = VirtualPan({KEY: Weight.of("1.3", "oz")}, sent.append)
    assert (pan.put(KEY), pan.is_loaded) == (True, True)
    assert pan.put(KEY) is True
    pan.lift()
    assert pan.is_loaded is False
    assert read_script("".join(sent)) == (
        ("place", "1.300"),
        ("lift",),
        ("wait", "0.8"),
        ("place", "1.300"),
        ("lift",),
    )


def test_outside_the_demo_a_weight_is_invented_and_stays_the_same():
    sent = []
    pan = VirtualPan({}, sent.append, invents=True)
    for key in (KEY, PieceKey("1042"), KEY):
        assert pan.put(key)
        pan.lift()
    first, second, again = (line for line in sent if line.startswith("place"))
    assert first == again != second
    assert 0.5 <= float(first.split()[1]) <= 16


def test_a_piece_without_a_weight_is_not_put_on():
    sent = []
    assert VirtualPan({}, sent.append).put(KEY) is False
    assert sent == []


def test_the_demo_has_weights_for_its_pieces(resources):
    weights = demo_weights(resources / "demo", made.shop())
    assert weights[KEY] == Weight.of("0.9", "oz")
    assert weights[PieceKey("1066", 2)] == Weight.of("40.2", "oz")


def test_the_step_is_that_of_the_shops_scale():
    rule = step_rule(Policy(scale_division=Decimal("0.1"), scale_unit=WeightUnit.POUND_OUNCE))
    assert (rule.division, rule.unit) == (Decimal("0.1"), "oz")
    assert step_rule(Policy()).division is None


@pytest.mark.parametrize(
    ("text", "live", "expected"),
    [
        ("4.2", None, Shown(Decimal("4.2"), WeightUnit.OUNCE, Decimal("0.1"))),
        ("119 g", None, Shown(Decimal(119), WeightUnit.GRAM, Decimal(1))),
        ("119", Shown(Decimal(3), WeightUnit.GRAM, Decimal(2)), Shown(Decimal(119), WeightUnit.GRAM, Decimal(2))),
        ("1 lb 3", None, Shown(Decimal(19), WeightUnit.POUND_OUNCE, Decimal("0.1"))),
    ],
)
def test_a_number_without_a_unit_is_in_the_unit_of_the_scale_or_the_shop(text, live, expected):
    policy = Policy(scale_division=Decimal("0.1"), scale_unit=WeightUnit.OUNCE)
    assert typed_weight(text, policy, live) == expected


def test_a_text_that_is_not_a_weight_is_refused():
    with pytest.raises(Refused):
        typed_weight("1,5", Policy())
