"""Damaged price lists, zones, lists of amounts, pasted text, labels and scale bytes: right or a sentence, never a crash.

`scripts/long/fuzz-intake others` reads 20,000 or more.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.mutated_others import PDFS, TEXTS, WORKBOOKS
from tests.intake.mutated import outcome

FORMS = {"texts": (TEXTS, 300), "workbooks": (WORKBOOKS, 10), "labels": (PDFS, 8)}


def test_each_file_is_read_before_it_is_damaged(tmp_path: Path) -> None:
    for number, (reader, raw) in enumerate([*TEXTS, *WORKBOOKS, *PDFS[:1]]):
        path = tmp_path / f"whole-{number}"
        path.write_bytes(raw)
        reader(path)


@pytest.mark.parametrize("form", FORMS)
def test_damaged_files_give_a_sentence_or_a_correct_result(tmp_path: Path, form: str) -> None:
    seeds, count = FORMS[form]
    found = {number: outcome(number, tmp_path, seeds) for number in range(count)}
    assert [(number, one) for number, one in found.items() if not one.is_well] == []
