"""The bench by its keys: find, weigh, type, copies; what settles and where it goes."""

from decimal import Decimal

import pytest

from desk.domain.status import PieceStatus
from desk.scales.port import Link, LinkState, Trouble
from desk.session.pile.bulk_changes import set_beside
from desk.session.words.figures import time_in_words


def test_without_an_open_piece_the_bench_says_how_to_begin(bench):
    figure = bench.screen.write.figure.figure
    assert (figure.number, figure.hint) == ("", "Type a number, or press N for the next piece")
    assert bench.screen.scale_card.says.text() == "No scale. Press T to type a weight."


def test_without_orders_the_bench_says_where_to_import_them(qtbot, empty_desk):
    from desk.ui.bench.view import BenchScreen

    screen = BenchScreen(empty_desk)
    qtbot.addWidget(screen)
    screen.show()
    assert screen.write.figure.figure.hint == "No orders yet. Import some in Batch (Ctrl+1)"
    assert screen.pieces.nothing_next.text() == "No orders yet. Import orders on the Batch screen."


def test_digits_search_for_a_piece_and_enter_opens_it(bench):
    bench.open("1047")
    assert bench.screen.write.figure.figure.number == "1047"
    assert bench.screen.find_field.isHidden()
    assert bench.screen.hasFocus()


def test_an_unknown_number_is_reported_at_the_field(bench):
    bench.open("9999")
    assert bench.screen.find_field.fault.text() == "No order 9999 here. Type another number, or press Esc."
    bench.escape()
    assert bench.screen.find_field.isHidden()
    assert bench.screen.piece is None


def test_the_next_piece_of_an_order_is_created_by_its_number(bench):
    bench.open("1066-2")
    assert bench.screen.write.figure.figure.number == "1066-2"
    assert bench.desk.steps()[0] == "Piece 1066-2 added"


def test_a_settled_weight_is_saved_before_it_is_reported(bench, clock):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    assert str(bench.case("1043").weighing.shown.value) == "1.3"
    assert bench.screen.write.recorded.text() == f"recorded {time_in_words(clock.now())}"
    assert bench.screen.write.figure.figure.ounces == "2 oz"
    assert bench.screen.scale_card.state.text() == "settled"
    assert [bench.screen.pieces.last.rows[0].number, bench.screen.pieces.last.rows[0].figure] == ["1043", "2 oz"]


def test_the_billed_weight_stays_until_the_next_piece(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    assert bench.screen.write.figure.figure.ounces == "2 oz"
    bench.press("n")
    assert bench.screen.write.figure.figure.number == "1044"


def test_a_waiting_weight_goes_to_the_number_typed_after_it(bench):
    bench.pan("0")
    bench.pan("1.3")
    assert bench.screen.scale_card.says.text() == "1.3 oz is waiting for an order number."
    bench.open("1043")
    assert str(bench.case("1043").weighing.shown.value) == "1.3"


def test_a_weight_that_may_belong_to_another_piece_asks_and_enter_accepts_it(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.open("1044")
    bench.pan("1.3", 2)
    assert bench.case("1044").weighing is None
    assert bench.screen.scale_card.take.isVisible()
    bench.enter()
    assert str(bench.case("1044").weighing.shown.value) == "1.3"


@pytest.mark.parametrize(
    ("typed", "grams"),
    [("4.2", "119.068"), ("4.2 oz", "119.068"), ("1 lb 3", "538.641"), ("119 g", "119.000")],
)
def test_a_typed_weight_is_recorded(bench, typed, grams):
    bench.open("1043")
    bench.press("t" + typed)
    bench.enter()
    assert f"{bench.case('1043').weighing.shown.weight.grams:.3f}" == grams
    assert bench.screen.weight_field.isHidden()


def test_an_invalid_typed_weight_is_reported_at_the_field(bench):
    bench.open("1043")
    bench.press("t1,5")
    bench.enter()
    assert "comma" in bench.screen.weight_field.fault.text()
    bench.escape()
    assert bench.case("1043").weighing is None


def test_no_weight_is_typed_for_no_piece(bench):
    bench.press("t")
    assert bench.screen.weight_field.isHidden()


def test_a_barcode_reader_in_the_weight_field_opens_its_piece(bench, monkeypatch):
    bench.open("1043")
    bench.press("t")
    times = iter(range(100))
    monkeypatch.setattr(bench.screen.weight_field, "_clock", lambda: next(times) * 0.004)
    bench.press("1045")
    bench.enter()
    assert bench.screen.write.figure.figure.number == "1045"
    assert bench.case("1043").weighing is None


def test_a_hand_types_slower_than_a_reader(bench, monkeypatch):
    bench.open("1043")
    bench.press("t")
    times = iter(range(100))
    monkeypatch.setattr(bench.screen.weight_field, "_clock", lambda: next(times) * 0.15)
    bench.press("1045")
    bench.enter()
    assert bench.case("1043").weighing.shown.value == Decimal(1045)


def test_the_last_weight_is_undone_and_weighed_again(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.press("z")
    assert bench.case("1043").weighing is None
    bench.pan("0")
    bench.pan("1.3")
    assert str(bench.case("1043").weighing.shown.value) == "1.3"


def test_identical_pieces_get_the_weight_and_some_are_to_be_checked(bench, monkeypatch):
    bench.open("1041")
    bench.press("t0.9")
    bench.enter()
    waiting = bench.screen.alike.waiting(bench.screen.piece)
    assert len(waiting) >= 3
    assert bench.screen.scale_card.alike_word.text() == f"use this weight for {len(waiting)} identical orders"
    bench.press("e")
    copies = [bench.desk.pile.verdicts[number].case.weighing.copied_from for number in waiting]
    assert set(copies) == {"1041-1"}
    assert [row.is_check for row in bench.screen.pieces.next.rows[:4]] == [True, True, True, False]
    assert [jump.words for jump in bench.screen.jumps()] == ["3 to reweigh"]
    with monkeypatch.context() as many:
        many.setattr(bench.screen.alike, "all_to_check", lambda: range(1200))
        assert [jump.words for jump in bench.screen.jumps()] == ["1,200 to reweigh"]
    bench.press("n")
    assert bench.screen.write.recorded.text() == "weight copied from 1041"
    assert "(weight copied)" in {row.status.partition("ready ")[2] for row in bench.screen.pieces.last.rows}


def test_the_bench_advances_automatically_when_turned_on(bench):
    bench.press("g")
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    assert bench.screen.write.figure.figure.number == "1044"
    bench.pan("1.6")
    assert str(bench.case("1044").weighing.shown.value) == "1.6"


def test_in_list_order_the_same_weight_again_asks_and_enter_accepts_it(bench):
    bench.press("g")
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    bench.pan("1.3")
    assert bench.case("1044").weighing is None
    assert bench.screen.scale_card.says.text().startswith("Same weight as the last piece.")
    bench.enter()
    assert str(bench.case("1044").weighing.shown.value) == "1.3"


def test_a_number_takes_the_same_weight_without_a_question(bench):
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    bench.pan("0")
    bench.open("1044")
    bench.pan("1.3")
    assert str(bench.case("1044").weighing.shown.value) == "1.3"


def test_a_fault_is_on_the_strip_but_not_on_the_card(bench):
    bench.pan("-1.5", 2.5)
    assert [state.words for state in bench.desk.states] == [
        "The scale was zeroed with something on it. Clear it and press its zero key."
    ]
    assert bench.screen.scale_card.says.isHidden()
    bench.pan("0", 0.5)
    assert bench.desk.states == ()


def test_while_the_bench_is_not_shown_nothing_is_recorded(bench):
    bench.pan("0")
    bench.open("1043")
    bench.screen.hide()
    bench.pan("1.3")
    assert bench.case("1043").weighing is None
    bench.screen.show()
    assert bench.case("1043").weighing is None


def test_another_screen_opens_a_piece_here(bench):
    bench.screen.hide()
    bench.desk.piece_opened.emit(bench.desk.pile.find("1050"))
    bench.screen.show()
    assert bench.screen.write.figure.figure.number == "1050"
    assert bench.desk.scale.piece == bench.desk.pile.find("1050")


def test_a_change_made_elsewhere_is_shown(bench):
    bench.open("1043")
    set_beside(bench.desk.sitting, [bench.screen.piece], PieceStatus.LOST)
    assert bench.screen.write.recorded.text() == "lost"


def test_when_everything_is_weighed_the_next_key_says_so(bench, weigh_demo):
    weigh_demo()
    messages = []
    bench.desk.happened.connect(lambda event: messages.append(event.words))
    for piece, verdict in list(bench.desk.pile.verdicts.items()):
        if verdict.status is PieceStatus.TO_WEIGH:
            set_beside(bench.desk.sitting, [piece], PieceStatus.SET_ASIDE)
    bench.press("n")
    assert messages == ["Everything is weighed."]
    assert bench.screen.pieces.nothing_next.text() == "Everything is weighed."


def test_f_opens_the_field_and_an_empty_enter_leaves_it(bench):
    bench.press("f")
    assert bench.screen.find_field.line.hasFocus()
    bench.enter()
    assert bench.screen.find_field.isHidden()
    assert bench.screen.piece is None


def test_a_piece_with_its_postage_on_takes_no_weight(bench):
    from desk.store import schema

    piece = bench.desk.pile.find("1043")
    with bench.desk.sitting.store.act("Stamp") as tx:
        tx.update(schema.pieces, {piece: {"postage_on_at": "2026-07-15T12:00:00.000000+00:00"}})
    bench.desk.sitting.announce(bench.desk.sitting.store.last_changes)
    bench.pan("0")
    bench.open("1043")
    bench.pan("1.3")
    assert bench.case("1043").weighing is None
    assert bench.desk.scale.piece is None


def test_the_hint_for_the_open_piece_follows_the_scale(bench):
    bench.open("1041")
    hint = lambda: bench.screen.write.figure.figure.hint  # noqa: E731
    assert hint() == "Press T to type the weight"
    bench.pan("0", 1.0)
    assert hint() == "Put it on the scale"
    bench.desk.scale._hear(LinkState(Link.LOST, Trouble.UNPLUGGED))
    bench.now += 1.0
    bench.desk.scale._tick()
    assert hint() == "Press T to type the weight"


def test_a_confirmed_mailer_is_no_longer_a_guess(bench):
    for number in ("1041", "1042", "1043", "1045", "1046", "1052", "1057", "1060"):
        bench.open(number)
        if bench.screen.write.mailer.text().startswith("Guess: "):
            break
    bench.press("t0.9")
    bench.enter()
    assert bench.screen.write.mailer.text().startswith("Guess: ")
    bench.press("y")
    assert not bench.screen.write.mailer.text().startswith("Guess: ")
