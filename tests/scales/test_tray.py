"""A tray is subtracted from every reading in its unit, exactly."""

from decimal import Decimal

from desk.scales.reading import Capture, Reading, State, shown_reading
from desk.scales.tray import Tray, without_tray

TRAY = Tray(Decimal("3.2"), "oz")


def test_the_tray_is_subtracted_exactly():
    heard = shown_reading(Decimal("4.5"), "oz", State.STABLE, b"raw").timed(2.5)
    left = without_tray(heard, TRAY)
    assert (left.value, left.unit, left.state, left.raw, left.at) == (Decimal("1.3"), "oz", State.STABLE, b"raw", 2.5)
    assert left.grams == Decimal("1.3") * Decimal("28.349523125")
    assert left.may_capture is Capture.YES


def test_the_tray_alone_weighs_zero_and_is_not_a_weight():
    left = without_tray(shown_reading(Decimal("3.2"), "oz", State.STABLE, b""), TRAY)
    assert (left.value, left.may_capture) == (0, Capture.NO)


def test_without_a_tray_a_reading_is_as_it_was():
    heard = shown_reading(Decimal("4.5"), "oz", State.STABLE, b"")
    assert without_tray(heard, None) is heard


def test_a_reading_without_a_number_is_unchanged():
    heard = Reading(None, "oz", State.OVER)
    assert without_tray(heard, TRAY) is heard


def test_another_unit_gives_no_number():
    left = without_tray(shown_reading(Decimal(128), "g", State.STABLE, b""), TRAY)
    assert (left.value, left.grams, left.unit, left.may_capture) == (None, None, "g", Capture.NO)


def test_a_net_mark_is_kept():
    assert without_tray(shown_reading(Decimal(5), "oz", State.STABLE, b"", net=True), TRAY).net


def test_a_tray_is_shown_with_its_unit():
    assert TRAY.words() == "3.2 oz"
