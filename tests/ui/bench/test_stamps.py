"""The bench on stamps: the one-ounce question in large capitals, requests by one key, and the age of prices in one strip."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtGui import QFontMetricsF

from desk.session.bench.one_ounce import ounce_glance
from desk.session.papers.stamps_on import pile_stamps
from desk.session.pile.batch import Batch
from desk.session.verdict.stamp_request import DECLINED, REQUESTED
from desk.ui.bench.stamps_card import GLANCE

TEN_MM = 10 / 25.4 * 96  # pixels of a screen with 96 dots an inch


def stamped(desk):
    return {n: answer for n, v in desk.pile.verdicts.items() if (answer := ounce_glance(v)) is not None}


def test_an_unweighed_piece_shows_no_one_ounce_answer(bench):
    bench.open("1043")
    assert bench.screen.stamps.glance.isHidden()


def test_the_one_ounce_answer_has_capitals_of_ten_millimeters(bench, weigh_demo):
    weigh_demo()
    answers = stamped(bench.desk)
    assert {answer.mark for answer in answers.values()} >= {"fine", "look"}
    for words in {answer.words: n for n, answer in answers.items()}.values():
        bench.screen.does.opening.open_piece(words)
        glance = bench.screen.stamps.glance
        assert glance.isVisible()
        font = glance.font_for(glance.answer.words, GLANCE, glance.words_box())
        assert QFontMetricsF(font).capHeight() >= TEN_MM, (glance.answer.words, glance.words_box())


def test_each_letter_is_shown_as_under_over_or_too_close(bench, weigh_demo):
    weigh_demo()
    by_number = {v.case.key.order: ounce_glance(v) for v in bench.desk.pile.verdicts.values()}
    for answer in filter(None, by_number.values()):
        sentences = {"fine": "under 1 oz|Exactly 1 oz", "look": "over 1 oz|Close to 1 oz", "stop": "Too close to 1 oz"}
        assert any(words in answer.words for words in sentences[answer.mark].split("|")), answer
        assert answer.mark != "look" or "more than 1 oz" in answer.costs or "higher price" in answer.costs
    verdict = bench.desk.pile.verdicts[bench.desk.pile.find("1043")]
    assert ounce_glance(verdict).mark == "look"


def asked(desk):
    return next(n for n, v in desk.pile.verdicts.items() if any(f.code == REQUESTED for f in v.findings))


@pytest.mark.parametrize(("key", "code"), [("r", REQUESTED), ("d", DECLINED)])
def test_a_request_is_accepted_or_declined_by_one_key(bench, weigh_demo, key, code):
    weigh_demo()
    piece = asked(bench.desk)
    bench.screen.does.opening.open_piece(piece)
    assert bench.screen.side.by_stamp.isVisible()
    bench.press(key)
    assert code in bench.desk.pile.verdicts[piece].case.answered
    assert bench.screen.side.by_stamp.isHidden()
    bench.desk.undo()
    assert code not in bench.desk.pile.verdicts[piece].case.answered


def test_a_piece_without_a_request_ignores_both_keys(bench, weigh_demo):
    weigh_demo()
    bench.open("1043")
    before = bench.desk.steps()
    bench.press("rd")
    assert bench.desk.steps() == before


def test_outdated_prices_are_one_strip_that_opens_the_price_lists(bench, weigh_demo):
    weigh_demo()
    batch: Batch = bench.desk.pile.batch()
    assert batch.shared
    (strip,) = [state for state in bench.desk.states if state.ways and state.ways[0][0] == "Price lists"]
    opened = []
    bench.desk.screen_asked.connect(lambda *where: opened.append(where))
    strip.ways[0][1]()
    assert opened == [("Setup", "Price lists")]
    past = next(n for n, v in bench.desk.pile.verdicts.items() if v.offer and v.offer.chart.is_past(batch_day(bench)))
    bench.screen.does.opening.open_piece(past)
    assert any("valid through" in words for words, _, _ in bench.screen.side.costs.lines)


def test_the_strip_of_old_prices_is_shown_once_a_day(bench, weigh_demo):
    weigh_demo()
    before = len(bench.desk.states)
    (strip,) = [state for state in bench.desk.states if state.only_on == "Bench"]
    dict(strip.ways)["Dismiss"]()
    assert len(bench.desk.states) == before - 1
    bench.open("1043")
    bench.desk.read_all()
    assert len(bench.desk.states) == before - 1
    bench.desk.turn_to(bench.desk.sitting.on + timedelta(days=1))
    (later,) = [state for state in bench.desk.states if state.only_on == "Bench"]
    assert later.words == strip.words


def test_undo_skips_a_dismissed_strip(bench, weigh_demo):
    weigh_demo()
    (strip,) = [state for state in bench.desk.states if state.only_on == "Bench"]
    strip.dismissed()
    bench.desk.undo()
    assert not [state for state in bench.desk.states if state.only_on == "Bench"]


def batch_day(bench):
    return bench.desk.sitting.on


def test_kinds_that_run_low_are_reported_where_a_piece_is_stamped(bench, weigh_demo):
    weigh_demo()
    low = [total for total in pile_stamps(bench.desk.pile.batch()) if total.runs_low]
    bench.screen.does.opening.open_piece(next(iter(stamped(bench.desk))))
    reported = ", ".join(total.left_words for total in low)
    assert low
    assert bench.screen.stamps.low.text() == f"Running low: {reported}"
