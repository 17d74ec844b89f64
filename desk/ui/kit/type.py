"""Type: the sizes of the look, in points that follow the system's font size, and tabular figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QFont, QFontDatabase, QGuiApplication

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

FAMILY = "Noto Sans"
FIRST = ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf")
SMALL, BODY, STRONG, HEAD, LIVE, OUNCES, NUMBER = 12, 14, 17, 22, 26, 92, 148  # pixels at 100 %
_BASE_POINTS = 10.0  # the system font size the pixel sizes are drawn for


def load_fonts(folder: Traversable) -> None:
    """Make the shipped fonts known, so that the program looks the same wherever it runs."""
    for name in FIRST:
        QFontDatabase.addApplicationFontFromData((folder / name).read_bytes())


def load_other_scripts(folder: Traversable) -> None:
    """Make the fonts of other scripts known, after the first paint: names come in every script, and they are large."""
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".ttf") and file.name not in FIRST:
            QFontDatabase.addApplicationFontFromData(file.read_bytes())


def scale() -> float:
    """How much larger than usual the system's font is: 2.0 at 200 %."""
    points = QGuiApplication.font().pointSizeF()
    return points / _BASE_POINTS if points > 0 else 1.0


def font(size: int, *, bold: bool = False) -> QFont:
    """A font of one of the sizes above, scaled with the system's, figures of one width."""
    made = QFont(FAMILY)
    made.setPixelSize(max(1, round(size * scale())))
    made.setBold(bold)
    made.setFeature(QFont.Tag("tnum"), 1)
    return made


def heading_font() -> QFont:
    """A heading: small capitals, spaced."""
    made = font(SMALL, bold=True)
    made.setCapitalization(QFont.Capitalization.AllUppercase)
    made.setLetterSpacing(QFont.SpacingType.PercentageSpacing, 104)
    return made
