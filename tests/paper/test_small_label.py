import pytest

from desk.paper.label import write_labels
from desk.paper.label_content import Payment, StampMark
from desk.paper.proof import codes_on_pages, pages_in_dots
from desk.paper.small_label import ADDRESS, LOW
from tests.paper.made import ADA, LONG, label, pdf, places


def small(order="1047", **changes):
    return pdf(write_labels, [label(order, letter=True, **changes)])


@pytest.mark.parametrize("order", ["1047", "ORD-2026-0000123", LONG])
def test_number_and_code_stand_above_the_address(order):
    # source: Publication 28, Appendix A1: other print in the read area above the address, as far from it as can be
    boxes = places(small(order))
    address = [box for box in boxes if box[4] in (*ADA, "DULUTH MN 55804")]
    number = next(box for box in boxes if order in box[4])
    assert number[1] > max(box[3] for box in address)
    assert ADDRESS[1] + ADDRESS[3] < LOW


def test_the_ground_right_of_and_below_the_address_is_bare():
    """The post prints its own code at the lower right; DMM 202.2.1, Publication 28, Appendix A1."""
    dots = next(pages_in_dots(small()))
    right = max(box[2] for box in places(small()) if box[4] in (*ADA, "DULUTH MN 55804"))
    corner = dots[-round(40 * 203 / 72) :, round((right + 2) * 203 / 72) :]
    assert corner.size > 0
    assert corner.min() == 255


def test_a_short_number_is_beside_the_code_and_a_long_one_below_it():
    beside = next(box for box in places(small()) if box[4].startswith("1047 "))
    below = next(box for box in places(small(LONG)) if box[4].startswith(LONG))
    assert beside[1] > LOW
    assert below[3] < LOW
    assert beside[3] - beside[1] > below[3] - below[1]


def test_a_long_number_still_has_its_code():
    assert list(codes_on_pages(small(LONG, payment=Payment.COUNTER))) == [(f"{LONG}-1",)]
    assert list(codes_on_pages(small(LONG, stamps=(StampMark("forever", "1"),) * 2))) == [(f"{LONG}-1",)]


@pytest.mark.parametrize("lines", [1, 2, 3, 4, 5, 7])
def test_the_sender_keeps_clear_of_code_and_frame(lines):
    sender = tuple(f"SENDER {number} OF THE INVENTED BINDERY ON SORREL STREET" for number in range(lines))
    boxes = places(small(sender=sender))
    senders = [box for box in boxes if box[4].startswith("SENDER")]
    assert len(senders) == min(lines, 4)
    frame = next(box for box in boxes if box[4] == "stamps here")
    assert min(box[1] for box in senders) > LOW + 22
    assert max(box[2] for box in senders) < frame[0]
