"""How many keys a piece takes: those of the table in resources/handbook/keystrokes.md, counted as they are pressed."""

import pytest
from PySide6.QtCore import Qt

from desk.domain.length import Size
from desk.domain.orders.order import Order
from desk.session.importing.import_orders import import_orders
from desk.session.verdict.stamp_request import REQUESTED
from tests.session.made import CARD, HOME, line


class Counted:
    """Presses keys on the bench and counts them, as a hand does: slower than a barcode reader."""

    def __init__(self, bench):
        self.bench, self.keys = bench, 0
        bench.screen.find_field.by_reader = lambda: False

    def press(self, text):
        for one in text:
            self.bench.press(one)
            self.keys += 1

    def enter(self):
        self.bench.enter()
        self.keys += 1


@pytest.fixture
def hands(bench):
    bench.pan("0")
    return Counted(bench)


def weighed(bench, number):
    return bench.case(number).weighing is not None


def test_in_list_order_with_the_scale_a_piece_takes_no_key(bench, hands):
    bench.press("gn")
    for value in ("1.3", "2.4", "0.8"):
        bench.pan(value)
        bench.pan("0")
    assert [weighed(bench, number) for number in ("1041", "1042", "1043")] == [True, True, True]
    assert hands.keys == 0


def test_by_number_with_the_scale_a_piece_takes_five_keys(bench, hands):
    hands.press("1043")
    hands.enter()
    bench.pan("1.3")
    assert weighed(bench, "1043")
    assert hands.keys == 5


def test_by_the_last_digits_with_the_scale_a_piece_takes_three_keys(bench, hands):
    hands.press("43")
    hands.enter()
    bench.pan("1.3")
    assert weighed(bench, "1043")
    assert hands.keys == 3


def test_number_and_weight_are_typed_in_one_line_with_seven_keys(bench, hands):
    hands.press("43 1.3")
    hands.enter()
    assert bench.case("1043").weighing.shown.words == "1.3 oz"
    assert hands.keys == 7
    bench.press("1044 5 oz")
    bench.enter()
    assert bench.case("1044").weighing.shown.words == "5 oz"


def test_a_weight_that_cannot_be_read_stays_in_its_field_with_the_piece_open(bench, hands):
    hands.press("43 o.6")
    hands.enter()
    assert bench.screen.piece == bench.desk.pile.find("1043")
    assert bench.screen.weight_field.line.text() == "o.6"
    assert "o.6" in bench.screen.weight_field.fault.text()
    assert not weighed(bench, "1043")


@pytest.mark.parametrize("text", ["044 12345 9400", "44 123456789", "44 123 945"])
def test_a_long_number_in_groups_of_digits_is_not_a_piece_and_its_weight(bench, hands, text):
    hands.press(text)
    hands.enter()
    assert bench.screen.piece is None
    assert bench.screen.find_field.fault.text().startswith(f"No order {text} here.")


@pytest.mark.parametrize(
    ("numbers", "text", "opened", "is_weighed"),
    [
        (["94001000"], "9400 1000", "94001000", False),
        (["TK-94001000"], "9400 1000", "TK-94001000", False),
        (["94001000", "9400"], "9400 1000", "9400", True),  # both exist: a number and its weight
        (["9400"], "9400 1000", "9400", True),
        (["94001", "9400"], "9400 1", "9400", True),
        (["7943150", "1943"], "943 150", "1943", True),  # three digits may be grams
    ],
)
def test_digits_in_groups_are_one_number_when_only_together_they_are_an_order(
    bench, hands, numbers, text, opened, is_weighed
):
    import_orders(bench.desk.sitting, [Order(number, HOME, (line(CARD),)) for number in numbers])
    hands.press(text)
    hands.enter()
    assert bench.screen.piece == bench.desk.pile.find(opened)
    assert (weighed(bench, opened) or bench.screen.weight_field.line.text() != "") is is_weighed


def test_several_orders_with_the_same_last_digits_ask_for_more(bench, hands):
    hands.press("4")
    hands.enter()
    assert "Type more of the number." in bench.screen.find_field.fault.text()
    assert bench.screen.piece is None


def test_a_reader_opens_only_a_whole_number(bench, hands):
    bench.screen.find_field.by_reader = lambda: True
    hands.press("43")
    hands.enter()
    assert bench.screen.piece is None
    bench.screen.find_field.line.clear()
    hands.press("43 1.3")  # no reader sends a space
    hands.enter()
    assert weighed(bench, "1043")


def test_with_a_typed_weight_in_list_order_a_piece_takes_five_keys(bench, hands):
    bench.press("gn")
    hands.press("t1.3")
    hands.enter()
    assert weighed(bench, "1041")
    assert bench.screen.write.figure.figure.number == "1042"
    assert hands.keys == 5


def test_answering_a_check_moves_on_after_a_typed_weight(bench, hands):
    bench.press("g")
    bench.open("1041")
    hands.press("t9.9")  # much heavier than its contents
    hands.enter()
    assert bench.screen.write.figure.figure.number == "1041"
    while bench.screen.write.figure.figure.number == "1041" and hands.keys < 9:
        hands.press("y")
    assert bench.case("1041").answered
    assert bench.screen.write.figure.figure.number == "1042"


@pytest.mark.parametrize("advances", ["", "g"])
def test_answering_a_check_does_not_move_on_without_a_typed_weight(bench, hands, advances):
    bench.open("1041")
    bench.press("t9.9")
    bench.enter()
    bench.press(advances)
    hands.press("yy")
    assert bench.screen.write.figure.figure.number == "1041"


def test_a_stamp_request_takes_one_key_more(bench, hands):
    hands.press("1047")
    hands.enter()
    bench.pan("0.9")
    hands.press("r")
    assert REQUESTED in bench.case("1047").answered
    assert hands.keys == 6


def test_a_weight_is_undone_by_one_key(bench, hands):
    bench.open("1043")
    bench.pan("1.3")
    hands.press("z")
    assert not weighed(bench, "1043")
    assert hands.keys == 1


def test_automatic_advance_is_kept_over_a_restart_and_waits_at_a_check(bench, hands):
    bench.press("g")
    again = type(bench)(bench.qtbot, bench.desk)
    assert again.screen.goes_on
    assert again.screen.side.goes_on.isChecked()
    again.open("1047")
    again.press("t0.9")
    again.enter()
    assert again.screen.write.figure.figure.number == "1047"  # stamps were requested: it stays to be answered


def test_the_same_weight_again_is_not_asked_about_for_identical_contents(bench, hands):
    """1041 and 1051 hold one letterpress card each, so that the second may well weigh the same."""
    bench.open("1041")
    bench.pan("0.9")
    bench.pan("0")
    alike = bench.screen.alike.same_contents(bench.screen.piece)
    bench.screen.does.opening.open_piece(alike[0], in_list=True)
    bench.pan("0.9")
    assert not bench.screen.scale.live.asks
    assert bench.desk.pile.verdicts[alike[0]].case.weighing is not None


def test_the_same_weight_again_is_asked_about_for_different_contents(bench, hands):
    bench.open("1041")
    bench.pan("0.9")
    bench.pan("0")
    bench.screen.does.opening.open_piece(bench.desk.pile.find("1043"), in_list=True)
    bench.pan("0.9")
    assert bench.screen.scale.live.asks
    bench.qtbot.keyClick(bench.screen, Qt.Key.Key_Return)
    assert weighed(bench, "1043")


def test_the_reason_for_setting_aside_is_shown_with_the_status(bench, hands):
    bench.open("1043")
    bench.qtbot.keyClick(bench.screen, Qt.Key.Key_A, Qt.KeyboardModifier.ShiftModifier)
    bench.press("waiting for ink")
    bench.enter()
    assert bench.screen.write.recorded.text() == "set aside: waiting for ink"
    bench.press("a")
    assert bench.case("1043").beside is None


def test_a_size_is_typed_for_the_open_piece(bench, hands):
    bench.open("1043")
    bench.pan("1.3")
    bench.press("x9 x 6 x 0.5")
    bench.enter()
    assert bench.case("1043").weighing.size == Size.of("9", "6", "0.5", "in")


def test_one_key_shows_the_address_and_it_stays_for_the_next_piece(bench, hands):
    bench.open("1043")
    assert not bench.screen.side.package.address.isVisible()
    bench.press("c")
    assert "RUTH AMSEL" in bench.screen.side.package.address.text()
    bench.open("1044")
    assert bench.screen.side.package.address.isVisible()
    assert "THEO MARCHETTI" in bench.screen.side.package.address.text()


def test_a_piece_whose_service_is_not_eligible_does_not_look_unweighed(bench, hands):
    from desk.session.pile.bulk_changes import choose_service

    piece = bench.desk.pile.find("1086")
    bench.open("1086")
    bench.press("t39 lb")
    bench.enter()
    bench.desk.do(choose_service, [piece], "letter-stamped")
    assert bench.screen.write.figure.figure.hint == "39 lb: no service can carry it"
