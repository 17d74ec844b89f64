"""Laws that hold for every value: conversions there and back, sums, order, text."""

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from desk.domain.length import Length, LengthUnit, Size
from desk.domain.money import DECIMALS, Money, decimals_of, zero
from desk.domain.orders.check_digits import s10_digit, split_s10, tracking_digit, without_routing
from desk.domain.places.country import fold
from desk.domain.weight import GRAMS_IN, Shown, Weight, WeightUnit, last_place

SMALLEST_SEEN = Decimal("1E-20")  # division keeps 28 digits; desks weigh up to six before the point

readings = st.decimals(min_value=0, max_value=100_000, places=3, allow_nan=False, allow_infinity=False)
units = st.sampled_from(WeightUnit)
weights = st.builds(Weight.of, readings, units)
lengths = st.builds(Length.of, readings, st.sampled_from(LengthUnit))
currencies = st.sampled_from([*DECIMALS, "USD", "EUR", "GBP"])
cents = st.integers(min_value=-(10**12), max_value=10**12)


@given(readings, units)
def test_a_weight_is_read_back_in_its_unit(number, unit):
    assert abs(Weight.of(number, unit).in_unit(unit) - number) < SMALLEST_SEEN


@given(readings, units, units)
def test_a_weight_is_the_same_in_any_unit(number, unit, other):
    weight = Weight.of(number, unit)

    assert abs(weight.in_unit(other) * GRAMS_IN[other] - weight.grams) < SMALLEST_SEEN


@given(readings, units)
def test_a_weight_has_no_rounding_error(number, unit):
    """No rounding: fractions, which never round, give the same."""
    assert Fraction(Weight.of(number, unit).grams) == Fraction(number) * Fraction(GRAMS_IN[unit])
    assert Weight.of(str(number), unit) == Weight.of(number, unit)


@given(weights, weights, weights)
def test_weights_add_up_in_any_order(a, b, c):
    assert a + b == b + a
    assert (a + b) + c == a + (b + c)
    assert (a + b) - b == a


@given(weights, weights)
def test_weights_have_one_order(a, b):
    assert (a < b) + (a == b) + (a > b) == 1
    assert (a < b) == (a.grams < b.grams)


@given(weights, st.integers(min_value=0, max_value=50))
def test_many_identical_weights_weigh_that_many_times_one(weight, count):
    assert weight * count == sum([weight] * count, Weight(Decimal(0)))


@given(readings, units)
def test_a_reading_is_a_whole_number_of_its_own_steps(number, unit):
    shown = Shown(number, unit, last_place(number))

    assert (shown.value / shown.division) % 1 == 0
    assert shown.weight == Weight.of(number, unit)


@given(readings, st.sampled_from(LengthUnit))
def test_a_length_in_inches_is_its_millimeters(number, unit):
    length = Length.of(number, unit)

    assert abs(length.inches() * Decimal("25.4") - length.mm) < SMALLEST_SEEN


@given(lengths, lengths, lengths)
def test_sorted_sides_do_not_depend_on_the_orientation(a, b, c):
    sides = Size(a, b, c).sides()

    assert list(sides) == sorted([a, b, c], reverse=True)
    assert Size(c, a, b).sides() == sides


@given(lengths, lengths, lengths)
def test_volume_does_not_depend_on_the_orientation(a, b, c):
    volume = Size(a, b, c).cubic_inches()

    assert abs(Size(b, c, a).cubic_inches() - volume) <= abs(volume) * Decimal("1E-25")


@given(cents, currencies)
def test_money_is_read_back_from_its_text(minor, currency):
    money = Money(minor, currency)

    assert Money.of(money.text(), currency) == money
    assert len(money.text().partition(".")[2]) == decimals_of(currency)


@given(cents, cents, currencies)
def test_money_is_added_in_any_order_and_compared_by_amount(a, b, currency):
    left, right = Money(a, currency), Money(b, currency)

    assert left + right == right + left
    assert (left + right) - right == left
    assert (left < right) == (a < b)
    assert left - left == zero(currency)


@given(st.integers(min_value=0, max_value=10**9), st.integers(min_value=1, max_value=1000))
def test_parts_of_a_pack_miss_its_price_by_less_than_half_a_cent_each(minor, parts):
    assert abs(Money(minor).shared(parts).minor * parts - minor) * 2 <= parts


@given(st.text())
def test_folding_a_name_twice_changes_nothing(name):
    assert fold(fold(name)) == fold(name)


@given(st.from_regex(r"[0-9]{8}", fullmatch=True), st.integers(0, 7), st.integers(1, 9))
def test_one_wrong_digit_of_an_s10_serial_changes_its_check_digit(serial, place, shift):
    """The weights are all coprime to 11, so a single error shows, except between the remainders 0 and 1 (10 and 11
    become 0 and 5, which two other remainders may have as well)."""
    wrong = serial[:place] + str((int(serial[place]) + shift) % 10) + serial[place + 1 :]

    assert 0 <= s10_digit(serial) <= 9
    if not {s10_digit(serial), s10_digit(wrong)} & {0, 5}:
        assert s10_digit(wrong) != s10_digit(serial)


@given(st.from_regex(r"[A-Z]{2}[0-9]{9}[A-Z]{2}", fullmatch=True))
def test_an_s10_identifier_is_split_into_its_parts(identifier):
    assert "".join(split_s10(identifier) or ()) == identifier


@given(st.from_regex(r"9[0-9]{20}", fullmatch=True), st.integers(0, 20), st.integers(1, 9))
def test_one_wrong_digit_of_a_tracking_number_is_always_detected(body, place, shift):
    wrong = body[:place] + str((int(body[place]) + shift) % 10) + body[place + 1 :]

    assert tracking_digit(wrong) != tracking_digit(body)


@given(st.from_regex(r"9[0-9]{20}", fullmatch=True), st.from_regex(r"[0-9]{5}([0-9]{4})?", fullmatch=True))
def test_a_routing_code_before_a_tracking_number_is_removed(body, zip_code):
    code = f"{body}{tracking_digit(body)}"
    assert without_routing(f"420{zip_code}{code}") == code
