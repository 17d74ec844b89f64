"""Five hundred damaged files: a correct result or a sentence, never a crash. `scripts/long/fuzz-intake` reads 20,000."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake.mutated import SEEDS, mutated, outcome


@pytest.mark.parametrize("tens", range(50))
def test_damaged_files_give_a_sentence_or_a_correct_result(tmp_path: Path, tens: int) -> None:
    found = {number: outcome(number, tmp_path) for number in range(tens * 10, tens * 10 + 10)}
    assert [(number, one) for number, one in found.items() if not one.is_well] == []


def test_the_same_number_gives_the_same_damage() -> None:
    assert [mutated(number) for number in range(20)] == [mutated(number) for number in range(20)]


def test_most_files_differ_from_the_original() -> None:
    changed = sum(mutated(number)[1] != SEEDS[number % len(SEEDS)][1] for number in range(200))
    assert changed > 150
