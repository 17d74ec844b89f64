"""Messages to buyers, from the shop's own template."""

from __future__ import annotations

from dataclasses import replace

import pytest

from desk.domain.faults import Refused
from desk.session.lists.messages import message_template, messages, save_message_template
from desk.session.money.after_mailing import mailed_pieces
from desk.session.money.paid import enter_paid, match_text
from tests.session import made

TRACKING = "9101026837331000039521"


pytestmark = pytest.mark.stocked([made.order("1001")], weights={"1001": made.weighing("0.7")}, left=[1])


def test_a_message_has_the_tracking_number_once_it_is_known(sitting, pile) -> None:
    save_message_template(sitting, "{order}: {tracking}")
    mailed = mailed_pieces(sitting, pile)
    (before,) = messages(sitting, pile, mailed)
    assert before.text.startswith("1001: no tracking, mailed on ")
    enter_paid(sitting, match_text(sitting, f"order,tracking\n1001,{TRACKING}\n"))
    (after,) = messages(sitting, pile, mailed)
    assert after.text == f"1001: tracking number {TRACKING}"


@pytest.mark.parametrize(("text", "why"), [("{buyer} hello", "There is no {buyer}"), ("  ", "Type a message")])
def test_a_template_with_an_unknown_field_or_no_text_is_refused_and_the_old_one_stays(sitting, text, why) -> None:
    save_message_template(sitting, "Hello {name}")
    with pytest.raises(Refused, match=why):
        save_message_template(sitting, text)
    assert message_template(sitting) == "Hello {name}"


def test_braces_in_a_name_are_kept_as_text(sitting, pile) -> None:

    save_message_template(sitting, "Hello {name}")
    (one,) = mailed_pieces(sitting, pile)
    (found,) = messages(sitting, pile, [replace(one, recipient="{order}")])
    assert found.text == "Hello {order}"
