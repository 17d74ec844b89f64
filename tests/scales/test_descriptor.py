"""Report descriptors written by hand, HID 1.11 section 6.2.2 (from memory) and HID Usage Tables 1.7, page 0x8D."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from desk.scales.drivers.descriptor import ReportField, ReportLayout, common_layout, items, layout_of
from desk.scales.drivers.hid_report import decode

PAGE, WIDE_PAGE = "058D", "068D00"
# Status: collection 0x70 with usages 0x71..0x78, one array byte counting from 1. Unit: the same in 0x50.
STATUS = "0970A102 1501 2508 1971 2978 7508 9501 8100 C0"
UNIT = "0950A102 1501 250C 1951 295C 7508 9501 8100 C0"
SCALING = "0941 1581 257F 7508 9501 8102"
WEIGHT16 = "0940 1500 27FFFF0000 7510 9501 8102"
WEIGHT32 = "0940 1500 27FFFFFF7F 7520 9501 8102"


def descriptor(*parts, page=PAGE, top="0920", number="8503"):
    return bytes.fromhex("".join((page, top, "A101", number, "0932A102", *parts, "C0C0")))


COMMON = descriptor(STATUS, UNIT, SCALING, WEIGHT16)


@pytest.mark.parametrize("page", [PAGE, WIDE_PAGE])
@pytest.mark.parametrize("top", ["0920", "0901"])
def test_the_common_descriptor_gives_the_common_layout(page, top):
    assert layout_of(descriptor(STATUS, UNIT, SCALING, WEIGHT16, page=page, top=top)) == common_layout()


def test_the_report_number_follows_the_descriptor():
    assert layout_of(descriptor(STATUS, UNIT, SCALING, WEIGHT16, number="8504")) == common_layout(4)


def test_a_descriptor_without_report_numbers_is_read():
    layout = layout_of(descriptor(STATUS, UNIT, SCALING, WEIGHT16, number=""))
    assert layout == common_layout(None)
    assert decode(bytes.fromhex("040BFF0C00"), layout).value == Decimal("1.2")


def test_a_weight_of_four_bytes_is_read():
    layout = layout_of(descriptor(STATUS, UNIT, SCALING, WEIGHT32))
    assert layout.weight == ReportField(24, 32)
    assert decode(bytes.fromhex("030402FE70110100"), layout).value == Decimal("700.00")


def test_a_descriptor_without_a_status_is_read():
    layout = layout_of(descriptor(UNIT, SCALING, WEIGHT16))
    got = decode(bytes.fromhex("030BFF0C00"), layout)
    assert (got.state, got.value, got.may_capture) == ("not_told", Decimal("1.2"), "by equal readings only")


def test_the_weight_may_come_first():
    layout = layout_of(descriptor(WEIGHT16, SCALING, UNIT, STATUS))
    assert layout == ReportLayout(
        3, ReportField(0, 16), ReportField(16, 8), ReportField(32, 8, 1), ReportField(24, 8, 1)
    )
    assert decode(bytes.fromhex("030C00FF0B04"), layout).value == Decimal("1.2")


def test_arrays_may_count_from_zero():
    low = [part.replace("1501", "1500") for part in (STATUS, UNIT)]
    layout = layout_of(descriptor(*low, SCALING, WEIGHT16))
    assert decode(bytes.fromhex("03030AFF0C00"), layout).value == Decimal("1.2")


def test_padding_takes_space_without_a_value():
    layout = layout_of(descriptor("7503 9501 8101", "7505 9501 8103", STATUS, UNIT, SCALING, WEIGHT16))
    assert (layout.status.start, layout.weight.start) == (8, 32)


def test_push_pop_and_other_usage_pages_are_understood():
    keyboard = "A4 0507 1904 2906 7501 9508 8102 B4"
    layout = layout_of(descriptor(keyboard, STATUS, UNIT, SCALING, WEIGHT16))
    assert layout.weight == ReportField(32, 16)


def test_the_report_with_the_weight_is_chosen_among_several():
    several = bytes.fromhex(
        "058D0920A101 8504 0933A102" + STATUS + "C0 8503 0932A102" + STATUS + UNIT + SCALING + WEIGHT16 + "C0C0"
    )
    assert layout_of(several) == common_layout()


def test_a_field_with_two_values_is_read():
    layout = layout_of(descriptor(STATUS, UNIT, "0941 0940 7508 9502 8102"))
    assert (layout.scaling, layout.weight) == (ReportField(16, 8), ReportField(24, 8))


def test_no_exponent_means_a_plain_count():
    layout = layout_of(descriptor(STATUS, UNIT, WEIGHT16))
    assert decode(bytes.fromhex("03040B0500"), layout).value == Decimal(5)


def test_a_usage_may_name_its_own_page():
    weight = "0B40008D00 7510 9501 8102"
    assert layout_of(descriptor(STATUS, UNIT, SCALING, weight)).weight == ReportField(24, 16)


@pytest.mark.parametrize("junk", ["", "05", "C0C0C0", "B4", "0507", "FE0200AABB058D", "FE", "058D0940750095018102"])
def test_without_a_weight_there_is_no_layout(junk):
    assert layout_of(bytes.fromhex(junk)) is None


def test_a_truncated_item_ends_the_descriptor():
    assert list(items(bytes.fromhex("1581 27FF"))) == [(0x14, 0x81, -127)]


@given(st.binary(max_size=200))
def test_junk_raises_no_error(junk):
    layout_of(junk)


@given(st.integers(0, len(COMMON) - 1), st.integers(0, 255), st.binary(max_size=12))
def test_a_damaged_descriptor_raises_no_error(place, byte, report):
    damaged = COMMON[:place] + bytes([byte]) + COMMON[place + 1 :]
    layout = layout_of(damaged)
    if layout:
        decode(report, layout)


@given(st.binary(max_size=12), st.sampled_from([3, 4, None]))
def test_a_report_gives_a_reading_or_nothing(report, number):
    """A number is read only from a report that is long enough, has a unit and a state that may show one."""
    got = decode(report, common_layout(number))
    needed = 5 if number is None else 6
    if got is None:
        assert len(report) < needed or report[0] != number
    elif got.value is None:
        assert (got.grams, got.may_capture) == (None, "no")
    else:
        assert len(report) >= needed
        assert got.state in ("zero", "moving", "stable", "under_zero")
        assert got.value == 0 or (got.value < 0) == (got.state == "under_zero")


def test_a_constant_field_is_padding_whatever_its_usage():
    """HID 1.11, 6.2.2.5, from memory: bit 0 of an input item says that it is constant."""
    padding = WEIGHT16.removesuffix("8102") + "8103"
    layout = layout_of(descriptor(STATUS, UNIT, SCALING, padding, WEIGHT16))
    assert layout.weight == ReportField(common_layout().weight.start + 16, 16)


@pytest.mark.parametrize(("usage", "is_unit"), [("51", True), ("5C", True), ("5D", False)])
def test_a_single_unit_is_one_of_the_twelve_usages(usage, is_unit):
    """HID Usage Tables 1.7, page 0x8D: 0x51 milligram to 0x5C US ton."""
    alone = f"09{usage} 1500 2501 7508 9501 8102"
    layout = layout_of(descriptor(STATUS, alone, SCALING, WEIGHT16))
    assert (layout.unit is not None) is is_unit
