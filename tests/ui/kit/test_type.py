from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtGui import QFont

from desk.ui.kit import type as typeface


@pytest.fixture(autouse=True)
def kept() -> Iterator[None]:
    before = QSettings().value(typeface.KEY)
    yield
    if before is None:
        QSettings().remove(typeface.KEY)
    else:
        QSettings().setValue(typeface.KEY, before)


@pytest.mark.parametrize(("choice", "points"), [("100", 9.0), ("125", 11.25), ("150", 13.5), ("200", 18.0)])
def test_the_type_size_is_that_of_the_system_times_the_choice(choice: str, points: float) -> None:
    typeface.choose_size(choice)
    system = QFont("Sans")
    system.setPointSizeF(9.0)
    made = typeface.program_font(system)
    assert (made.family(), made.pointSizeF()) == (typeface.FAMILY, points)
    assert system.pointSizeF() == 9.0


def test_a_system_font_in_pixels_stays_as_it_is() -> None:
    typeface.choose_size("200")
    system = QFont("Sans")
    system.setPixelSize(14)
    assert typeface.program_font(system).pixelSize() == 14


@pytest.mark.parametrize("kept_before", [None, "300", "large", ""])
def test_an_invalid_saved_size_means_that_of_the_system(kept_before: str | None) -> None:
    QSettings().setValue(typeface.KEY, kept_before)
    assert typeface.chosen_size() == "100"


def test_another_size_is_refused() -> None:
    with pytest.raises(ValueError, match="300"):
        typeface.choose_size("300")
