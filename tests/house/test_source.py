"""The source keeps the rules no linter checks."""

from __future__ import annotations

import ast
import re
from pathlib import Path

# Meaningless words: a class is named for what it is, a module for its contents.
EMPTY_WORDS = frozenset("manager helper helpers util utils data handler info processor".split())


def words_of(name: str) -> set[str]:
    """Return the words of a CamelCase or snake_case name, in lower case."""
    return {word.lower() for word in re.findall(r"[A-Z]+(?![a-z])|[A-Z]?[a-z]+", name)}


def test_every_module_has_a_docstring(module: Path, tree: ast.Module):
    assert ast.get_docstring(tree), f"{module} has no docstring"


def test_no_name_is_meaningless(module: Path, tree: ast.Module):
    classes = [node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef)]

    assert [name for name in (module.stem, *classes) if words_of(name) & EMPTY_WORDS] == []


def test_a_name_is_split_into_its_words():
    assert words_of("OrderDataManager") == {"order", "data", "manager"}
    assert words_of("price_info") == {"price", "info"}
    assert words_of("HTTPHandler") == {"http", "handler"}
    assert words_of("Database") == {"database"}


def floats_in(annotation: ast.expr | None) -> bool:
    return annotation is not None and any(
        isinstance(part, ast.Name) and part.id == "float" for part in ast.walk(annotation)
    )


def test_no_weight_length_or_money_is_a_float(module: Path, tree: ast.Module):
    """Names for such a value never have a `float` annotation."""
    value = re.compile(r"weight|grams?$|ounces?$|tare|gross|price|postage|money|cents|length|width|thickness")
    named = [
        (node.arg, node.annotation) for node in ast.walk(tree) if isinstance(node, ast.arg)
    ] + [
        (node.target.id, node.annotation)
        for node in ast.walk(tree)
        if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name)
    ]  # fmt: skip
    # Widths on paper and screens are points and pixels; learned weights are estimates with a spread.
    drawing = module.parent.name in ("paper", "label", "bought", "ui", "kit", "trade", "learning")

    assert [name for name, annotation in named if not drawing and value.search(name) and floats_in(annotation)] == []


def test_only_commands_print(module: Path, tree: ast.Module):
    """Only desk/app may write to the terminal: other modules return findings or raise faults."""
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)]

    assert module.parent.name == "app" or [call.lineno for call in calls if call.func.id == "print"] == []


WRITES_FILES = {"whole_file", "printing"}  # the second writes into a private folder that is removed right after


def writers_in(tree: ast.Module) -> list[int]:
    """Return the lines where a file is written or opened for writing."""
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call)]
    by_path = [call.lineno for call in calls if isinstance(call.func, ast.Attribute) and call.func.attr in WRITERS]
    opened = [
        call.lineno
        for call in calls
        if isinstance(call.func, ast.Name | ast.Attribute)
        and (call.func.id if isinstance(call.func, ast.Name) else call.func.attr) == "open"
        and any(isinstance(one, ast.Constant) and re.fullmatch("[wax]b?[+]?", str(one.value)) for one in call.args)
    ]
    return by_path + opened


WRITERS = {"write_text", "write_bytes"}


def test_files_are_written_atomically_by_one_module(module: Path, tree: ast.Module):
    assert module.stem in WRITES_FILES or writers_in(tree) == []


def test_every_way_to_write_a_file_is_found():
    assert writers_in(ast.parse('file.write_text("a")\nopen(file, "w")\nfile.open("ab")\nopen(file)')) == [1, 2, 3]


def without_docstring(node: ast.AST, *, in_ui: bool) -> list[str]:
    """Return the public functions and classes without a docstring.

    Functions inside functions need none, nor do overloads, nor overrides of Qt methods, which keep Qt's names and say
    what Qt says.
    """
    missing: list[str] = []
    for child in ast.iter_child_nodes(node):
        if not isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            continue
        is_class = isinstance(child, ast.ClassDef)
        excused = (
            child.name.startswith("_")
            or any(isinstance(mark, ast.Name) and mark.id in ("overload", "override") for mark in child.decorator_list)
            or (in_ui and not is_class and child.name != child.name.lower())
        )
        if not excused and not ast.get_docstring(child):
            missing.append(child.name)
        if is_class and not child.name.startswith("_"):
            missing += without_docstring(child, in_ui=in_ui)
    return missing


def test_every_public_function_and_class_has_a_docstring(module: Path, tree: ast.Module):
    assert without_docstring(tree, in_ui="ui" in module.parts) == []


def test_a_missing_docstring_is_found():
    source = "class A:\n  'It.'\n  def f(self): pass\n  def sizeHint(self): pass\n  def _g(self): pass\ndef h():\n  def inner(): pass\n"
    assert without_docstring(ast.parse(source), in_ui=True) == ["f", "h"]
    assert without_docstring(ast.parse(source), in_ui=False) == ["f", "sizeHint", "h"]


def test_a_module_that_imports_any_says_why(module: Path, tree: ast.Module):
    """`Any` turns the checker off, so each module says which library or format gives it."""
    lines = module.read_text(encoding="utf-8").splitlines()
    imports = [
        lines[node.lineno - 1]
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module == "typing" and "Any" in [each.name for each in node.names]
    ]
    assert [line for line in imports if "  # " not in line] == []
