"""Every module of the rules has its own test file, so that its tests are easy to find and run."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

FOLDERS = "domain tables rates customs costs intake scales store session".split()

# Modules without a test file of their own, and the file that tests them.
RECORD = "a bare record"
ELSEWHERE = {
    "domain/places/address.py": RECORD,
    "domain/shop/mailer.py": RECORD,
    "domain/orders/piece.py": RECORD,
    "domain/shop/product.py": RECORD,
    "domain/shop/stamp.py": RECORD,
    "session/words/customs.py": "session/words/test_sentences.py",
    "session/words/postage.py": "session/words/test_sentences.py",
    "domain/places/states.py": "session/money/test_pictures.py",
    "session/words/reasons.py": "session/words/test_sentences.py",
    "session/words/pieces.py": "session/words/test_sentences.py",
    "session/words/customs_facts.py": "session/words/test_sentences.py",
    "session/words/fact_words.py": "session/words/test_sentences.py",
    "costs/workbook.py": "session/money/test_books.py",
    "domain/orders/customs_details.py": "domain/test_packages.py",
    "domain/form_weight.py": "standards/test_worked_customs.py",
    "domain/ledger.py": "session/money/test_books.py",
    "intake/columns/header_words.py": "intake/columns/test_headers.py",
    "intake/columns/samples.py": "intake/order_headers/test_header_rows.py",
    "tables/workbook_cells.py": "tables/test_workbook.py",
    "tables/workbook_process.py": "tables/test_workbook_check.py",
    "session/bench/service_choice.py": "ui/bench/test_service_choice.py",
    "session/importing/list_findings.py": "app/test_run.py",
    "session/importing/suggested_mapping.py": "app/test_run.py",
    "session/money/catalog_costs.py": "session/money/test_charging.py",
    "session/money/entries.py": "session/money/test_books.py",
    "session/money/totals.py": "session/money/test_books.py",
    "session/money/year_file.py": "session/money/test_books.py",
    "session/pile/following/judged_pieces.py": "session/pile/test_pile.py",
    "session/pile/weighing_result.py": "session/bench/test_weigh.py",
    "session/verdict/piece_declaration.py": "session/verdict/test_judge.py",
    "session/words/importing.py": "session/importing/test_preview.py",
    "store/tables/piece_queries.py": "store/test_pieces.py",
    "store/summary.py": "store/test_copies.py",
    "store/upgrade.py": "store/test_migrations.py",
    **dict.fromkeys(
        (f"intake/order_headers/{name}.py" for name in "match rules settle_headers unread_columns words".split()),
        "intake/order_headers/test_header_rows.py",  # a hundred header rows with the correct answer
    ),
    **dict.fromkeys(
        (
            f"intake/orders/{name}.py"
            for name in "addresses cells column_formats hypotheses line_kinds order_lines order_rows order_texts statuses".split()
        ),
        "intake/orders/test_order_list.py",
    ),
    "tables/plausible.py": "tables/test_decoding.py",
    "domain/codes.py": "domain/test_finding.py",
    "domain/severity.py": "domain/test_finding.py",
    "domain/resources.py": "house/test_installed.py",
}


def modules(desk: Path) -> list[Path]:
    """Return the modules checked: those of these folders with any code, except the scripts of Alembic."""
    found = (path for folder in FOLDERS for path in sorted((desk / folder).rglob("*.py")))
    return [path for path in found if path.stem != "__init__" and "migrations" not in path.parts]


def without_tests(root: Path) -> list[str]:
    """Return the modules without a file `tests/<folder>/.../test_<name>.py`. Subfolders may be omitted."""
    desk = root / "desk"
    lacking = []
    for module in modules(desk):
        inside = module.relative_to(desk)
        own = (root / "tests" / inside.parent, root / "tests" / inside.parts[0])
        if not any((folder / f"test_{module.stem}.py").exists() for folder in own):
            lacking.append(inside.as_posix())
    return lacking


def test_each_module_has_a_test_file_of_its_own(root: Path) -> None:
    assert sorted(set(without_tests(root)) - ELSEWHERE.keys()) == []


def test_a_module_with_a_test_file_is_not_listed_as_an_exception(root: Path) -> None:
    assert sorted(ELSEWHERE.keys() - set(without_tests(root))) == []


@pytest.mark.parametrize("name", sorted(name for name, why in ELSEWHERE.items() if why == RECORD))
def test_an_empty_record_has_almost_nothing_to_test(root: Path, name: str) -> None:
    tree = ast.parse((root / "desk" / name).read_text(encoding="utf-8"))
    functions = [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]
    assert [node.name for node in functions if len(node.body) > 3] == []


@pytest.mark.parametrize("file", sorted({why for why in ELSEWHERE.values() if why != RECORD}))
def test_the_test_file_named_instead_exists(root: Path, file: str) -> None:
    assert (root / "tests" / file).is_file()


def test_a_module_without_tests_is_found(tmp_path: Path) -> None:
    for name in ("desk/rates/grams.py", "desk/rates/deep/near.py", "desk/rates/__init__.py", "desk/ui/view.py"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("x = 1\n", encoding="utf-8")
    assert without_tests(tmp_path) == ["rates/deep/near.py", "rates/grams.py"]
    for name in ("tests/rates/test_near.py", "tests/rates/test_grams.py"):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text("", encoding="utf-8")
    assert without_tests(tmp_path) == []
