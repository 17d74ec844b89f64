"""Splitting an order at the bench: one key, what is in which package, and Undo."""

from PySide6.QtCore import Qt

from desk.session.bench.correct_order import correct_order


def test_one_key_splits_an_order_into_packages_with_their_items(bench):
    bench.open("1046")  # two sets of bookplates
    bench.press("/")
    card = bench.screen.split_card
    assert card is not None
    assert card.view.references == ("1046-1", "1046-2")
    assert card.packages.hasFocus()
    bench.qtbot.keyClick(card.packages, Qt.Key.Key_Return)
    assert card.fields[0][0].hasFocus()
    bench.qtbot.keyClicks(card.fields[0][0], "1")
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


def test_no_package_is_added_until_the_split_is_saved(bench):
    bench.open("1046")
    before = len(bench.desk.pile.verdicts)
    bench.press("/")
    card = bench.screen.split_card
    assert (card.packages.value(), card.packages.maximum()) == (2, 2)  # two items, so at most two packages
    bench.qtbot.keyClick(card, Qt.Key.Key_Escape)
    assert len(bench.desk.pile.verdicts) == before
    assert bench.case("1046").pieces_in_order == 1


def test_the_number_of_packages_is_asked_for_and_one_more_is_proposed(bench):
    bench.open("1049")  # four bookmarks
    bench.press("/")
    card = bench.screen.split_card
    assert card.view.references == ("1049-1", "1049-2")
    bench.screen.does.splitting.split()
    assert card.view.references == ("1049-1", "1049-2", "1049-3")
    bench.qtbot.keyClick(card.packages, Qt.Key.Key_Return)
    for count, field in zip("12", card.fields[0], strict=True):
        bench.qtbot.keyClicks(field, count)
        bench.qtbot.keyClick(field, Qt.Key.Key_Return)
    assert bench.screen.split_card is None
    assert bench.case("1049").pieces_in_order == 3
    bench.press("z")
    assert bench.case("1049").pieces_in_order == 1


def test_a_single_item_ships_in_parts(bench):
    bench.open("1043")
    bench.press("/")
    card = bench.screen.split_card
    assert card is not None
    assert card.hint.text() == "There is only one item, so each package holds a part of it."
    bench.qtbot.keyClick(card.packages, Qt.Key.Key_Return)
    assert bench.screen.split_card is None
    assert [bench.case(f"1043-{number}").pieces_in_order for number in (1, 2)] == [2, 2]
    assert bench.screen.side.package.split_word.text() == "change packages"
    bench.press("z")
    assert bench.case("1043").pieces_in_order == 1
    assert bench.screen.side.package.split_word.text() == "split into packages"


def test_choosing_one_package_undoes_a_split(bench):
    bench.open("1043")
    bench.press("/")
    bench.qtbot.keyClick(bench.screen.split_card.packages, Qt.Key.Key_Return)
    bench.open("1043-2")
    bench.press("/")
    card = bench.screen.split_card
    bench.qtbot.keyClicks(card.packages, "1")
    assert card.hint.text() == "Everything goes in one package again."
    bench.qtbot.keyClick(card.packages, Qt.Key.Key_Return)
    assert bench.screen.split_card is None
    assert bench.case("1043").pieces_in_order == 1
    assert bench.desk.pile.find("1043-2") is None
    assert bench.screen.piece == bench.desk.pile.find("1043")  # the package that was open is gone
    assert bench.desk.steps()[0] == "Put 1043 back in one package"
    bench.press("z")
    assert bench.case("1043-2").pieces_in_order == 2


def test_a_single_item_for_another_country_stays_in_one_package(bench):
    messages = []
    bench.desk.happened.connect(messages.append)
    bench.desk.do(correct_order, bench.desk.pile.find("1043"), "country", "FR")
    bench.open("1043")
    bench.press("/")
    assert bench.screen.split_card is None
    assert messages[-1].words == "1043 has one item, and customs needs a whole item in each package."
