"""The short names of issues: what the Result column, the filters and the headings of the bench show."""

import pytest

from desk.domain.finding import Code
from desk.session.words.issue_names import issue_heading, issue_name
from tests.house.test_words import OVERUSED

INSIDE_WORDS = ("chart", "flat", "stiff", "uneven", "mended", "malformed", "unsorted")  # words of codes, not of screens


@pytest.mark.parametrize(
    ("code", "name"),
    [
        (Code.HEAVIER_THAN_CONTENTS, "heavier than expected"),
        (Code.POSTAL_CODE_MENDED, "postal code corrected"),
        (Code.CHART_OUT_OF_DATE, "price list out of date"),
        (Code.MAILER_GUESSED, "mailer guessed"),
        ("a-code-of-a-newer-version", "a code of a newer version"),
    ],
)
def test_an_issue_has_a_short_name(code, name):
    assert issue_name(code) == name
    assert issue_heading(code) == name[0].upper() + name[1:]


@pytest.mark.parametrize("code", list(Code))
def test_no_name_has_a_word_that_only_the_code_uses(code):
    name = issue_name(code)
    assert not set(name.split()) & set(INSIDE_WORDS)
    assert not OVERUSED.search(name)
