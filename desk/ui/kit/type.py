"""Type: the font sizes, in points that follow the system's font size, and tabular figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QFont, QFontDatabase, QGuiApplication

from desk.ui.kit.kept_choice import keep_choice, kept_choice

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

FAMILY = "Noto Sans"
FIRST = ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf")
SMALL, BODY, STRONG, HEAD, LIVE, OUNCES, NUMBER = 12, 14, 17, 22, 26, 92, 148  # pixels at 100%
CHOICES, KEY = ("100", "125", "150", "200"), "look/type"
SYSTEM = "system font"  # a property of the application
_BASE_POINTS = 10.0  # the system font size the pixel sizes are designed for


def load_fonts(folder: Traversable) -> None:
    """Load the shipped fonts, so that the program looks the same everywhere."""
    for name in FIRST:
        QFontDatabase.addApplicationFontFromData((folder / name).read_bytes())


def load_other_scripts(folder: Traversable) -> None:
    """Load the fonts of other scripts, after the first paint because they are large."""
    for file in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if file.name.endswith(".ttf") and file.name not in FIRST:
            QFontDatabase.addApplicationFontFromData(file.read_bytes())


def chosen_size() -> str:
    """Return the chosen text size in percent of the system's; one of `CHOICES`."""
    return kept_choice(KEY, CHOICES, CHOICES[0], "text size")


def choose_size(name: str) -> None:
    """Save the choice; a window built after it has that size. ValueError for another one."""
    if name not in CHOICES:
        raise ValueError(name)
    keep_choice(KEY, name)


def system_font() -> QFont:
    """Return the system's font, as it was before the program set its own."""
    app = QGuiApplication.instance()
    assert app is not None
    if not app.property(SYSTEM):
        app.setProperty(SYSTEM, QGuiApplication.font().toString())
    made = QFont()
    made.fromString(str(app.property(SYSTEM)))
    return made


def program_font(system: QFont) -> QFont:
    """Return the program's font, at the system's size times the chosen scale."""
    made = QFont(system)
    made.setFamily(FAMILY)
    if system.pointSizeF() > 0:
        made.setPointSizeF(system.pointSizeF() * int(chosen_size()) / 100)
    return made


def scale() -> float:
    """Return how much larger than usual the system's font is: 2.0 at 200%."""
    points = QGuiApplication.font().pointSizeF()
    return points / _BASE_POINTS if points > 0 else 1.0


def font(size: int, *, bold: bool = False) -> QFont:
    """Return a font of one of the sizes above, scaled with the system's, with tabular figures."""
    made = QFont(FAMILY)
    made.setPixelSize(max(1, round(size * scale())))
    made.setBold(bold)
    made.setFeature(QFont.Tag("tnum"), 1)
    return made


def heading_font() -> QFont:
    """Return the heading font: spaced small capitals."""
    made = font(SMALL, bold=True)
    made.setCapitalization(QFont.Capitalization.AllUppercase)
    made.setLetterSpacing(QFont.SpacingType.PercentageSpacing, 104)
    return made
