"""Sources under a reason name only document and section; how we got hold of them belongs in SOURCE.md."""

from __future__ import annotations

import ast
import csv
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

HOW_WE_GOT_IT = re.compile(
    r"from memory|transcription|reprint|archive|second.?hand|\bread\b|\bweak\b|law.?firm|as told|stored|not shown|not visible"
    r"|could not|listing\)|python-stdnum|i18n-address|\bcopy\b|\bchart\b|policy",
    re.IGNORECASE,
)
MAKERS = {"finding", "reason", "Finding"}


def of_code(root: Path) -> Iterator[tuple[str, str]]:
    """Yield the texts passed as source to findings and reasons, and the constants named for sources."""
    for path in sorted((root / "desk").rglob("*.py")):
        where = path.relative_to(root).as_posix()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            values: list[ast.expr] = []
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in MAKERS:
                values = [*node.args[1:2], *node.args[3:4]]
                values += [word.value for word in node.keywords if word.arg == "source"]
            elif isinstance(node, ast.Assign) and any("SOURCE" in ast.unparse(target) for target in node.targets):
                values = list(node.value.values) if isinstance(node.value, ast.Dict) else [node.value]
            for value in values:
                yield from ((f"{where}:{one.lineno}", one.value) for one in ast.walk(value) if is_text(one))


def is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.Constant) and isinstance(node.value, str) and " " in node.value


def of_data(root: Path) -> Iterator[tuple[str, str]]:
    """Yield the column or field `source` of every table that is shipped."""
    for path in sorted((root / "resources").rglob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            rows = csv.DictReader(file)
            if "source" in (rows.fieldnames or ()):
                yield from ((path.relative_to(root).as_posix(), row["source"] or "") for row in rows)
    for path in sorted((root / "resources").rglob("*.toml")):
        name = path.relative_to(root).as_posix()
        yield from ((name, text) for text in sources_in(tomllib.loads(path.read_text(encoding="utf-8"))))


def sources_in(values: object) -> Iterator[str]:
    if isinstance(values, dict):
        if isinstance(values.get("source"), str):
            yield values["source"]
        for value in values.values():
            yield from sources_in(value)
    elif isinstance(values, list):
        for value in values:
            yield from sources_in(value)


def test_sources_in_the_code_name_only_document_and_section(root):
    found = list(of_code(root))
    assert len(found) > 80
    assert [one for one in found if HOW_WE_GOT_IT.search(one[1])] == []


def test_sources_in_the_data_name_only_document_and_section(root):
    found = list(of_data(root))
    assert len(found) > 300
    assert [one for one in found if HOW_WE_GOT_IT.search(one[1])] == []


@pytest.mark.parametrize(
    ("text", "is_fine"),
    [
        ("DMM 101.1.1", True),
        ("Price list of July 12, 2026, p. 15", True),
        ("EU guidance on goods descriptions, in a reprint", False),
        ("15 CFR 30.37(a); IMM 526 (2014-07-07 archive)", False),
        ("from memory: Monaco counts as France", False),
    ],
)
def test_phrases_about_where_a_figure_came_from_are_recognized(text, is_fine):
    assert bool(HOW_WE_GOT_IT.search(text)) is not is_fine
