"""Splitting an order at the bench: one key, what is in which package, and Undo."""

from PySide6.QtCore import Qt


def test_an_order_is_split_by_one_key_and_says_what_is_in_which(bench):
    bench.open("1046")  # two sets of bookplates
    bench.press("/")
    card = bench.screen.split_card
    assert card is not None
    assert card.view.references == ("1046-1", "1046-2")
    card.fields[0][0].setValue(1)
    bench.qtbot.keyClick(card.fields[0][0], Qt.Key.Key_Return)
    assert bench.screen.split_card is None
    first, second = (bench.case(f"1046-{number}") for number in (1, 2))
    assert first.pieces_in_order == second.pieces_in_order == 2
    assert bench.desk.steps()[0] == "Split 1046 into packages"


def test_a_division_that_does_not_add_up_stays_open_and_escape_closes_it(bench):
    bench.open("1046")
    bench.press("/")
    card = bench.screen.split_card
    assert card is not None
    card.fields[0][0].setValue(2)
    bench.qtbot.keyClick(card.fields[0][0], Qt.Key.Key_Return)
    assert bench.screen.split_card is card  # nothing would be in the second package
    bench.qtbot.keyClick(card, Qt.Key.Key_Escape)
    assert bench.screen.split_card is None
