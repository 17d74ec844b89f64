from desk.session.contents.worksheet_contents import keying_contents
from desk.session.pile.batch import judge_batch
from tests.session.made import BOOK, FRANCE, case, line


def test_only_pieces_with_a_declaration_have_a_worksheet_in_the_money_that_is_keyed(terms):
    abroad = case("13", "Padded", number="8", address=FRANCE, lines=(line(BOOK, 2),))
    (sheet,) = keying_contents(judge_batch([case(), abroad], terms), terms)
    assert (sheet.reference, sheet.total_value, sheet.lines[0].quantity) == ("8-1", "13.00 USD", "2")
    assert sheet.cautions
