"""Dates, times and money are written only by `desk.session.words.figures`."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.conftest import ROOT

FOLDERS = ("ui", "session", "app", "paper", "costs")
HOME = "desk/session/words/figures.py"
DAY_OR_TIME = re.compile(r"%[A-Za-z]")
WRITERS = {"strftime", "isoformat", "format_date", "format_time", "format_currency", "format_decimal"}
# Files for other programs, or for a field in which a date is typed as YYYY-MM-DD.
EXEMPT = {
    "desk/app/crash.py": "file names and log lines of reports",
    "desk/session/ask": "answers of `ask`",
    "desk/session/contents/worksheet_contents.py": "amounts as they are typed into the post's form",
    "desk/session/money/entries.py": "stored name of a price list",
    "desk/session/papers/run_results.py": "summary.json",
    "desk/session/lists/ledger_list.py": "a table other programs read",
    "desk/session/lists/shipped_list.py": "a table other programs read",
    "desk/session/setup/copies.py": "file names that sort by time",
    "desk/session/setup/one_buyer.py": "a JSON file",
    "desk/session/setup/price_lists.py": "folder names",
    "desk/session/setup/exchange_rates.py": "a date to be edited",
    "desk/ui/handover/view.py": "a file name",
    "desk/ui/setup/prices/cells.py": "a date to be edited",
    "desk/ui/setup/prices/import_panel.py": "a date to be edited",
}


def own_formats(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield each place that formats a date, a time or money: its line, and the call."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in WRITERS:
            yield node.lineno, node.func.attr
        elif isinstance(node, ast.JoinedStr):
            yield from _in_text(node)


def _in_text(node: ast.JoinedStr) -> Iterator[tuple[int, str]]:
    parts = node.values
    for part, following in zip(parts, [*parts[1:], None], strict=True):
        if isinstance(part, ast.FormattedValue) and part.format_spec and DAY_OR_TIME.search(_spec(part.format_spec)):
            yield node.lineno, "a format of its own for a date or time"
        if (
            isinstance(part, ast.Constant)
            and str(part.value).endswith("$")
            and isinstance(following, ast.FormattedValue)
        ):
            yield node.lineno, "a dollar sign of its own"
    written = [ast.unparse(part.value) for part in parts if isinstance(part, ast.FormattedValue)]
    if any(one.endswith(".text()") and f"{one[:-7]}.currency" in written for one in written):
        yield node.lineno, "an amount and its currency"


def _spec(spec: ast.expr) -> str:
    return "".join(str(part.value) for part in ast.walk(spec) if isinstance(part, ast.Constant))


def test_only_one_module_formats_dates_and_money():
    found = [
        (place, line, what)
        for folder in FOLDERS
        for path in sorted((ROOT / "desk" / folder).rglob("*.py"))
        if (place := path.relative_to(ROOT).as_posix()) != HOME and not place.startswith(tuple(EXEMPT))
        for line, what in own_formats(ast.parse(path.read_text(encoding="utf-8")))
    ]
    assert found == []


def test_every_exempt_file_needs_its_exemption():
    used = {
        name
        for name in EXEMPT
        for path in ([ROOT / name] if name.endswith(".py") else (ROOT / name).glob("*.py"))
        if any(own_formats(ast.parse(path.read_text(encoding="utf-8"))))
    }
    assert sorted(EXEMPT.keys() - used) == []


@pytest.mark.parametrize(
    ("source", "count"),
    [
        ('f"${amount}"', 1),
        ('f"{day:%Y-%m-%d}"', 1),
        ('day.strftime("%H:%M")', 1),
        ('f"{price.text()} {price.currency}"', 1),
        ("day.isoformat()", 1),
        ('f"{amount_words(price)} for {day_in_words(day)}"', 0),
        ('f"{share:.0%}, {field.text()}"', 0),
        ('f"{field.text()}: {name}"', 0),
    ],
)
def test_each_kind_of_formatting_is_detected(source, count):
    assert len(list(own_formats(ast.parse(source)))) == count
