"""Words people read are plain English: no overused phrases, short sentences, one ellipsis, buttons in sentence case.

The strings are found by walking the syntax tree of `desk`, so a new screen is read without being listed here.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tests.conftest import ROOT

LONGEST = 22  # words in a sentence
# Phrases this program once used too often, each hiding who does what.
OVERUSED = re.compile(
    r"\bnobody (?:said|knows?|has)\b|\bis said to be\b|\bit stands\b|\bstands? (?:at|by|here|there)\b|\btak(?:e|en|ing) in\b"
    r"|\bbr(?:ing|ought)\b|\bmend(?:ed|s|ing)?\b|\bdearer\b|\banew\b|\bkept along\b|\bthose chosen\b|\bsome of these\b"
    r"|\bmay be of\b|\bwhat is so\b|\bthat is so\b|\bthere it is\b|\bputs? (?:this|it) away\b|\bby the list\b|\bthrough the slot\b"
    r"|\bgo on by itself\b|\bWhat is so\b|\b(?:have|takes?|is) a look\b|\bas the contract says\b|\bone transcription\b"
    r"|\bfrom memory\b|\bsecond-hand\b|\bcould not be had\b|\bno source\b|\bway out\b|\bthe likest\b|\bseen, it is right\b",
    re.IGNORECASE,
)
ON_SCREENS = re.compile(OVERUSED.pattern + r"|\bof them\b|\bdoes not know\b|\bwhoever\b|\bnought\b", re.IGNORECASE)
SCREENS = ("desk/ui", "desk/session", "desk/app")
STATUS = "needs a look"  # a state in the tables, which stays
# Where words about how a figure was found belong: Setup's page of price lists reads them from the lists.
PRIVATE = ("migrations", "simulated")
NAMES = set(
    "Tare Tag Setup Batch Bench Customs Papers Hand-over Costs Sender Mailers Products Rules Scale Shipping Stamps Price "
    "Data Appearance PDF CSV TOML HS ZIP USB EU UK ITN VAT SKU IOSS VOEC GST ARN Enter Space Esc Ctrl United States "
    "English American Debian Sorrel Street Bindery I XLSX ODS US ID Postgres PostgreSQL A4 Letter".split()
)
DOTS = r"[A-Za-z] ?\.\.\.(?!\])| \u2026$"
BUTTONS = {"KeyWord", "QPushButton", "Act", "button"}


def files() -> list[Path]:
    return [path for path in sorted((ROOT / "desk").rglob("*.py")) if not set(PRIVATE) & set(path.parts)]


def docstrings(tree: ast.Module) -> set[int]:
    """Return the ids of the constants that are docstrings."""
    holders = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    bodies = (node.body for node in ast.walk(tree) if isinstance(node, holders) and node.body)
    firsts = (body[0] for body in bodies)
    return {id(first.value) for first in firsts if isinstance(first, ast.Expr)}


def texts(path: Path) -> Iterator[tuple[int, str]]:
    """Yield every string of a module that reads like words, with its line; f-strings as one text."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    skipped = docstrings(tree)
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            parts = [str(part.value) if isinstance(part, ast.Constant) else "X" for part in node.values]
            yield node.lineno, "".join(parts)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in skipped | inside:
            yield node.lineno, node.value


@cache
def words_people_read() -> tuple[tuple[str, str], ...]:
    return tuple(
        (f"{path.relative_to(ROOT)}:{line}", text)
        for path in files()
        for line, text in texts(path)
        if (" " in text.strip() or text[:1].isupper())
        and re.search(r"[a-z]{2}", text)
        and not text.startswith(("SELECT", "CREATE", "http"))
    )


def sentences(text: str) -> list[str]:
    """Split into sentences; code, usage lines and lists of column names are left out."""
    plain = re.sub(r"`[^`]*`", "X", re.sub(r"^ +(?:tare-and-tag|\[).*$", "", text, flags=re.MULTILINE))
    if not re.search(r"[.!?,:]", plain) and "_" in plain:
        return []
    return [part for part in re.split(r"(?<=[.!?])\s+|\n\s*\n|\n[-|#*\d]", plain) if part.strip()]


PAGES = ("README.md", "DEVELOPERS.md", "CHANGELOG.md", "resources/handbook", "resources/charts/README.md")


def pages() -> Iterator[tuple[str, str]]:
    for name in PAGES:
        for path in [ROOT / name] if name.endswith(".md") else sorted((ROOT / name).glob("*.md")):
            yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")


def test_no_overused_phrase_on_a_screen_or_paper():
    found = [(place, m[0]) for place, text in words_people_read() if (m := ON_SCREENS.search(text.replace(STATUS, "")))]
    assert found == []


def test_no_overused_phrase_in_the_pages():
    found = [(name, m[0]) for name, text in pages() for m in OVERUSED.finditer(text.replace(STATUS, ""))]
    assert found == []


def test_no_sentence_is_longer_than_twenty_two_words():
    long = [
        (place, len(part.split()), part)
        for place, text in words_people_read()
        for part in sentences(text)
        if len(part.split()) > LONGEST
        and text.count("|") < 3
        and (re.search(r"[.,;:!?]", part) or place.startswith(SCREENS))  # elsewhere it may be a list of words to match
    ]
    assert long == []


def prose(text: str) -> list[str]:
    """Return the sentences of a page: its paragraphs and lists, without tables, code and headings."""
    text = re.sub(r"^```.*?^```", "", text, flags=re.MULTILINE | re.DOTALL)
    text = re.sub(r"`[^`\n]*`(?:, `[^`\n]*`)*", "X", text)
    lines = [line for line in text.splitlines() if not re.match(r"\||    |#|!\[", line)]
    blocks = re.split(r"\n\s*\n|\n(?=[-*]|\d+\.)", "\n".join(lines))
    return [part for block in blocks for part in re.split(r"(?<=[.!?:;])[*)]*\s+", block.replace("\n", " ")) if part]


def test_no_sentence_of_a_page_is_longer_than_twenty_two_words():
    long = [
        (name, len(part.split()), part) for name, text in pages() for part in prose(text) if len(part.split()) > LONGEST
    ]
    assert long == []


def test_an_ellipsis_is_one_character_without_a_space():
    wrong = [(place, text) for place, text in words_people_read() if re.search(DOTS, text)]
    assert wrong == []


def test_an_ellipsis_in_a_page_is_one_character_without_a_space():
    assert [(name, part) for name, text in pages() for part in prose(text) if re.search(DOTS, part)] == []


def test_no_sentence_with_its_facts_is_longer_than_twenty_two_words():
    """Quoted facts count as one word."""
    page = (ROOT / "tests/golden/sentences.txt").read_text(encoding="utf-8")
    lines = [re.sub(r"“[^”]*”", "X", re.sub(r"^[\w-]+ \(\w+\): ", "", line.strip())) for line in page.splitlines()]
    every = [part for line in lines for part in re.split(r"(?<=[.!?])\s+", line)]
    assert len(every) > 300
    assert [part for part in every if len(part.split()) > LONGEST] == []


def name_called(call: ast.Call) -> str:
    """Return the last name of what is called: `_button` of `self._button(...)`."""
    return getattr(call.func, "id", getattr(call.func, "attr", ""))


def buttons() -> Iterator[tuple[str, str]]:
    """Yield the words on buttons: the first string handed to what makes one."""
    for path in files():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and name_called(node).removeprefix("_add").strip("_") in BUTTONS:
                strings = [a.value for a in node.args if isinstance(a, ast.Constant) and isinstance(a.value, str)]
                yield from ((f"{path.relative_to(ROOT)}:{node.lineno}", text) for text in strings if text)


def is_sentence_case(text: str) -> bool:
    words = re.findall(r"[A-Za-z][\w'-]*", text)
    return "+" in text or all(word[0].islower() or word in NAMES or word.isupper() for word in words[1:])


def test_buttons_are_in_sentence_case():
    assert [(place, text) for place, text in buttons() if not is_sentence_case(text)] == []


@pytest.mark.parametrize(
    ("text", "is_overused"),
    [
        ("Nobody said how large it is.", True),
        ("Dearer taken.", True),
        ("Take in orders", True),
        ("The postal code was mended.", True),
        ("needs a look", False),
        ("Size unknown, so it is priced as a parcel.", False),
        ("This recommends a mailer.", False),
    ],
)
def test_overused_phrases_are_detected(text, is_overused):
    assert bool(OVERUSED.search(text.replace(STATUS, ""))) is is_overused


@pytest.mark.parametrize(("text", "expected"), [("Save as PDF\u2026", True), ("Save As", False), ("Open Setup", True)])
def test_sentence_case_is_recognized(text, expected):
    assert is_sentence_case(text) is expected
