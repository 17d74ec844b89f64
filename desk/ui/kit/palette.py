"""The palette: warm paper and ink, light and dark. Every color on a screen has its role here.

Contrast figures are recomputed by a test with the WCAG formula (1.4.3 and 1.4.11).
"""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication, QPalette


class ColorSheet(NamedTuple):  # a dataclass would cost the first paint a hundredth of a second
    """One set of colors, as `#RRGGBB`."""

    paper: str
    card: str
    ink: str
    soft_ink: str
    hairline: str  # decoration only: never the only sign of anything
    teal: str  # the figure, jumps, prices
    fine: str
    look: str
    stop: str
    doubt: str  # the band of doubt; its edge is drawn in look or stop

    def color(self, role: str) -> QColor:
        """Return the color of a role."""
        return QColor(getattr(self, role))


LIGHT = ColorSheet(
    paper="#F7F3EA",
    card="#FFFDF8",
    ink="#23201B",
    soft_ink="#6B6459",
    hairline="#D9D1C1",
    teal="#1D6670",
    fine="#2F6B4A",
    look="#8A5710",
    stop="#9C3526",
    doubt="#E3C98F",
)
DARK = ColorSheet(
    paper="#1D1B18",
    card="#262320",
    ink="#F1EBDF",
    soft_ink="#A89F90",
    hairline="#3D3832",
    teal="#6FC1CB",
    fine="#7CC79D",
    look="#E3AE5C",
    stop="#F08A78",
    doubt="#675023",
)
CHOSEN = "scheme chosen"  # a property of the application, since Qt's own setting doesn't work on every platform
ROLES = ColorSheet._fields


def is_dark() -> bool:
    """Return whether dark is chosen, or left to a system that is dark."""
    app = QGuiApplication.instance()
    if app is not None and (chosen := app.property(CHOSEN)) in ("light", "dark"):
        return bool(chosen == "dark")
    return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark


def sheet_in_force() -> ColorSheet:
    """Return the colors of the current scheme."""
    return DARK if is_dark() else LIGHT


def qt_palette(sheet: ColorSheet) -> QPalette:
    """Return a Qt palette with our paper and ink, for controls without a role of their own."""
    palette = QPalette()
    pairs = {
        QPalette.ColorRole.Window: sheet.paper,
        QPalette.ColorRole.Base: sheet.card,
        QPalette.ColorRole.AlternateBase: sheet.paper,
        QPalette.ColorRole.Button: sheet.card,
        QPalette.ColorRole.ToolTipBase: sheet.card,
        QPalette.ColorRole.WindowText: sheet.ink,
        QPalette.ColorRole.Text: sheet.ink,
        QPalette.ColorRole.ButtonText: sheet.ink,
        QPalette.ColorRole.ToolTipText: sheet.ink,
        QPalette.ColorRole.PlaceholderText: sheet.soft_ink,
        QPalette.ColorRole.Mid: sheet.hairline,
        QPalette.ColorRole.Highlight: sheet.teal,
        QPalette.ColorRole.HighlightedText: sheet.card,
        QPalette.ColorRole.Link: sheet.teal,
    }
    for role, color in pairs.items():
        palette.setColor(role, QColor(color))
    for role in (QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, role, QColor(sheet.soft_ink))
    return palette
