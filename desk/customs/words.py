"""Words: does a description say what the thing is, well enough for customs?

A good one says what it is, what it is made of and what it is for, in 50 to 100 characters (the post's help article
on customs forms, undated). General words alone are refused (CN 22 and CN 23 instructions; PS 2976-A instructions).
"""

from __future__ import annotations

from desk.customs.checked import Checked
from desk.domain.country import fold
from desk.domain.finding import Code, Finding, finding

LONGEST = 100  # the post's help article on customs forms: 50 to 100 characters

# Each word with where it is refused. A description made of nothing else says nothing.
REFUSED = {
    **dict.fromkeys(
        "shirt shirts toy toys gift gifts clothes clothing".split(),
        "the post's customs-forms page; its news of 2023-03-15",
    ),
    **dict.fromkeys(
        "accessory accessories artwork artworks article articles bag bags birthday box boxes card cards decoration "
        "decorations decorative item items document documents".split(),
        "EU ICS2 stop-word list, in a reprint",
    ),
    **dict.fromkeys(
        "part parts spare spares sample samples food toiletries product products".split(),
        "CN 23 instruction text; PS 2976-A instructions, edition of 9/2012",
    ),
    **dict.fromkeys(
        "merchandise art arts stationery misc miscellaneous goods stuff thing things present presents craft crafts "
        "supplies apparel merch equipment personal effects household belongings order purchase handmade".split(),
        "from memory",
    ),
}
# Words that add nothing of their own: they neither save a description nor spoil one.
SILENT = frozenset(
    "a an and the of or for with my your new various assorted other some set sets pack pcs pc piece pieces x".split()
)


def check_words(text: str) -> Checked:
    """Look at one description. `why`: `empty`, `no letters`, `general words`, or `too long` (which is still ok)."""
    tidy = " ".join(text.split())
    if not tidy:
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "empty")
    if not any(sign.isalpha() for sign in tidy):
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "no letters")
    if general_words(tidy):
        return Checked(False, tidy, Code.WORDS_TOO_VAGUE, "general words")
    if len(tidy) > LONGEST:
        return Checked(True, tidy, Code.WORDS_TOO_LONG, "too long")
    return Checked(True, tidy)


def general_words(text: str) -> tuple[str, ...]:
    """The refused words of a description that consists of nothing else; empty when it says something."""
    words = [word for word in fold(text).split() if word not in SILENT and not word.isdigit()]
    return tuple(words) if words and all(word in REFUSED for word in words) else ()


def words_finding(item: str, text: str) -> Finding | None:
    """What is to be said of the words of one line; None when they will do."""
    checked = check_words(text)
    if not checked.code:
        return None
    return finding(
        Code(checked.code), source=_source(checked), item=item, words=checked.text, why=checked.why, longest=LONGEST
    )


def _source(checked: Checked) -> str:
    if checked.why == "general words":
        return REFUSED[general_words(checked.text)[0]]
    if checked.why == "no letters":
        return "EU guidance on goods descriptions, in a reprint"
    return "the post's help article on customs forms"
