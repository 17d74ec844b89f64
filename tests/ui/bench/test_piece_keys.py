"""Keys for the open piece: its mailer, thickness and traits, checking an issue, setting it aside."""

import pytest
from PySide6.QtCore import Qt

from desk.domain.status import PieceStatus
from desk.session.papers.stamps_on import put_stamps_on


def test_a_piece_that_is_not_weighed_has_no_issue_to_answer(bench):
    bench.open("1043")
    assert not bench.screen.side.seen.isVisible()
    bench.press("y")
    assert bench.case("1043").answered == frozenset()


def test_a_number_key_chooses_the_mailer(bench):
    bench.open("1043")
    assert bench.screen.write.mailer.text() == "No. 10 envelope (usual)"
    bench.press("m")
    assert bench.screen.mailers.isVisible()
    bench.press("1")
    assert bench.case("1043").mailer == "A7 envelope"
    assert bench.screen.write.mailer.text() == "A7 envelope (chosen)"
    bench.pan("0")
    bench.pan("1.3")
    bench.open("1043")
    assert bench.case("1043").weighing.mailer == "A7 envelope"


def test_m_and_escape_close_the_list_of_mailers(bench):
    bench.open("1043")
    for leave in (lambda: bench.press("m"), bench.escape):
        bench.press("m")
        assert bench.screen.mailers.isVisible()
        leave()
        assert bench.screen.mailers.isHidden()
        assert bench.screen.hasFocus()


def test_arrows_choose_in_the_list_of_mailers(bench):
    bench.open("1043")
    bench.press("m")
    bench.qtbot.keyClick(bench.screen.mailers, Qt.Key.Key_Down)
    bench.enter()
    assert bench.case("1043").mailer == "Square envelope"


@pytest.mark.parametrize(("key", "inches"), [("s", "0.25"), ("h", "0.50"), ("q", "0.75"), ("k", "1.00")])
def test_one_key_sets_the_thickness_before_and_after_weighing(bench, key, inches):
    bench.open("1043")
    bench.press(key)
    bench.press("t1.3")
    bench.enter()
    assert f"{bench.case('1043').weighing.size.thickness.inches():.2f}" == inches
    bench.press(key)
    assert bench.case("1043").weighing.size is None


def test_one_key_marks_a_piece_as_rigid_or_lumpy(bench):
    bench.open("1043")
    bench.press("t1.3")
    bench.enter()
    bench.press("bu")
    weighing = bench.case("1043").weighing
    assert (weighing.stiff, weighing.uneven) == (True, True)
    assert bench.screen.write.stiff.isChecked()
    bench.press("bu")
    weighing = bench.case("1043").weighing
    assert (weighing.stiff, weighing.uneven) == (False, False)


def test_an_issue_to_check_is_answered_with_one_key(bench):
    bench.open("1049")
    bench.press("t1.0")
    bench.enter()
    piece = bench.desk.pile.find("1049")
    assert bench.desk.pile.verdicts[piece].status is PieceStatus.NEEDS_A_LOOK
    assert bench.screen.side.seen.isVisible()
    bench.press("y")
    assert bench.desk.pile.verdicts[piece].status is PieceStatus.READY
    assert not bench.screen.side.seen.isVisible()


def test_one_key_sets_a_piece_aside_and_back(bench):
    bench.open("1043")
    bench.press("a")
    assert bench.case("1043").beside is PieceStatus.SET_ASIDE
    bench.press("a")
    assert bench.case("1043").beside is None


def test_a_thickness_needs_a_mailer_first(bench):
    messages = []
    bench.desk.happened.connect(lambda event: messages.append(event.words))
    bench.open("1066-2")
    bench.press("s")
    assert messages[-1] == "Choose a mailer first (M)."


def test_a_piece_with_its_postage_on_shows_its_own_mailer_and_takes_no_weight(bench):
    messages = []
    bench.desk.happened.connect(lambda event: messages.append(event.words))
    bench.pan("0")
    bench.open("1041")
    bench.pan("0.7")
    bench.pan("0")
    stamped, mailer = bench.screen.piece, bench.screen.write.mailer.text()
    put_stamps_on(bench.desk.sitting, bench.desk.pile, [stamped])
    bench.open("1043")
    bench.press("m2")
    assert bench.screen.write.mailer.text() != mailer
    bench.open("1041")
    assert bench.screen.write.mailer.text() == mailer
    messages.clear()
    bench.press("t")
    assert messages == ["1041 already has its postage, so its weight stays."]
    assert bench.screen.weight_field.isHidden()
