"""The check of the scale: its error in divisions, what is saved, and its effect on the doubt."""

from decimal import Decimal

import pytest

from desk.domain.faults import Refused
from desk.domain.weight import Shown, WeightUnit
from desk.session.scale import coin_check as scale_check
from desk.session.scale.coin_check import check_scale, coins, error_of, own_weight, scale_checks
from desk.session.setup.change_shop import save_policy
from desk.session.undo import undo
from desk.session.verdict.scale_trust import tolerance_scale
from desk.store.times import from_utc_text


def shown(value, unit="oz", division="0.1"):
    return Shown(Decimal(value), WeightUnit(unit), Decimal(division))


@pytest.mark.parametrize(
    ("value", "inside", "narrows"),
    [
        ("4.0", True, True),
        ("4.1", True, False),  # a whole division off: allowed in use, not when new
        ("3.9", True, False),
        ("4.2", False, False),
        ("3.7", False, False),
    ],
)
def test_a_check_at_four_ounces_has_its_error_in_divisions(sitting, value, inside, narrows):
    check = check_scale(sitting, shown(value), own_weight("4 oz"))
    assert (check.inside, check.narrows) == (inside, narrows)
    assert tolerance_scale(sitting) == (Decimal("0.5") if narrows else 1)


def test_errors_are_exact_and_signed():
    assert error_of(shown("28", "g", "1"), coins("quarter", 5)) == Decimal("-0.350")
    assert error_of(shown("51", "g", "1"), coins("nickel", 10)) == 1


@pytest.mark.parametrize(("up", "error", "narrows"), [(False, "1.0", False), (True, "0.5", True)])
def test_rounding_up_is_not_counted_as_an_error(sitting, up, error, narrows):
    """Five quarters are 28.350 g, a hair over an ounce: a weight classifier of 0.1 oz shows 1.1 and is right."""
    save_policy(sitting, {"scale_rounds_up": up})
    check = check_scale(sitting, shown("1.1"), coins("quarter", 5))
    assert (round(check.error, 2), check.narrows) == (Decimal(error), narrows)


@pytest.mark.parametrize(
    ("value", "tolerance"), [("500", "1"), ("501", "2"), ("2000", "2"), ("4000", "3"), ("4001", "5")]
)
def test_the_tolerance_grows_with_the_load(sitting, value, tolerance):
    """NIST Handbook 44, section 2.20, Table 6, class III, maintenance."""
    check = check_scale(sitting, shown(value, "g", "1"), own_weight(f"{value} g"))
    assert (check.tolerance, check.error, check.narrows) == (Decimal(tolerance), 0, True)


def test_too_light_for_the_step_is_refused_with_what_would_do(sitting):
    with pytest.raises(Refused) as refused:
        check_scale(sitting, shown("0.2"), coins("nickel", 1))
    assert refused.value.sentence == ("1 nickel is too light to check a scale of this step. Put on 1 oz or more.")
    assert scale_checks(sitting) == ()


def test_the_history_is_newest_first_and_limited(sitting, clock, monkeypatch):
    monkeypatch.setattr(scale_check, "KEPT", 3)
    for value in ("1.0", "1.1", "1.2", "1.0"):
        check_scale(sitting, shown(value), coins("quarter", 5))
    assert [str(check.shown.value) for check in scale_checks(sitting)] == ["1.0", "1.2", "1.1"]


def test_one_act_undone_in_one_step(sitting):
    check_scale(sitting, shown("1.1"), coins("quarter", 5))
    check_scale(sitting, shown("1.0"), coins("quarter", 5))
    assert tolerance_scale(sitting) == Decimal("0.5")
    assert undo(sitting) == "Scale checked with 5 quarters"
    assert len(scale_checks(sitting)) == 1
    assert tolerance_scale(sitting) == 1


def test_a_bad_check_cancels_an_earlier_good_one(sitting):
    check_scale(sitting, shown("1.0"), coins("quarter", 5))
    check_scale(sitting, shown("1.4"), coins("quarter", 5))
    assert tolerance_scale(sitting) == 1


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ("1.0", "5 quarters: the scale is off by 0 steps. Good: for today its tolerance is halved."),
        ("1.1", "5 quarters: the scale is off by 1 step, 1 allowed for a class III scale in use."),
        ("1.4", "5 quarters: the scale is off by 4 steps, more than the 1 allowed for a class III scale."),
    ],
)
def test_the_result_is_a_sentence(sitting, value, words):
    assert check_scale(sitting, shown(value), coins("quarter", 5)).sentence().startswith(words)


@pytest.mark.parametrize("count", [0, -1, 501])
def test_an_unreasonable_number_of_coins_is_refused(count):
    with pytest.raises(Refused):
        coins("nickel", count)


def test_custom_weights_are_read_like_typed_ones():
    assert own_weight("200").weight == own_weight("0.2 kg").weight
    assert own_weight(" 1  lb 2 ").words == "1 lb 2"
    with pytest.raises(Refused):
        own_weight("a stone")


def test_a_check_has_its_time(sitting, clock):
    at = check_scale(sitting, shown("1.0"), coins("quarter", 5)).at
    assert from_utc_text(at) == sitting.clock.now()


@pytest.mark.parametrize(("count", "fit"), [(0, False), (1, True), (500, True), (501, False)])
def test_between_one_and_five_hundred_coins_can_be_counted(count, fit):
    if fit:
        assert coins("nickel", count).weight.grams == 5 * count
    else:
        with pytest.raises(Refused, match="from 1 to 500"):
            coins("nickel", count)


@pytest.mark.parametrize(("grams", "fit"), [("9.9", False), ("10", True)])
def test_a_check_weight_is_at_least_ten_steps_of_the_scale(sitting, grams, fit):
    if fit:
        assert check_scale(sitting, shown("10", "g", "1"), own_weight(f"{grams} g")).inside
    else:
        with pytest.raises(Refused, match="too light"):
            check_scale(sitting, shown("10", "g", "1"), own_weight(f"{grams} g"))


@pytest.mark.parametrize(("value", "narrows"), [("4.05", True), ("4.06", False), ("3.95", True), ("3.94", False)])
def test_half_of_the_tolerance_still_narrows_it(sitting, value, narrows):
    """4 oz are 40 divisions of 0.1 oz: one division is allowed, half of it narrows."""
    assert check_scale(sitting, shown(value), own_weight("4 oz")).narrows is narrows
