"""Light, dark, or as the system says; kept with the window's place, and followed while the program runs."""

from __future__ import annotations

from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from desk.ui.kit.palette import qt_palette, sheet_in_force

SCHEMES = {"system": Qt.ColorScheme.Unknown, "light": Qt.ColorScheme.Light, "dark": Qt.ColorScheme.Dark}
KEY = "look/scheme"


def chosen_scheme() -> str:
    """`system`, `light` or `dark`."""
    kept = str(QSettings().value(KEY, "system"))
    return kept if kept in SCHEMES else "system"


def choose_scheme(name: str) -> None:
    """Keep the choice and follow it at once; KeyError for another name."""
    scheme = SCHEMES[name]
    QSettings().setValue(KEY, name)
    _ask_for(scheme)


def keep_to_scheme(app: QApplication) -> None:
    """Colour the program by the choice, now and whenever the system changes."""
    hints = QGuiApplication.styleHints()
    hints.colorSchemeChanged.connect(lambda _scheme: app.setPalette(qt_palette(sheet_in_force())))
    _ask_for(SCHEMES[chosen_scheme()])
    app.setPalette(qt_palette(sheet_in_force()))


def _ask_for(scheme: Qt.ColorScheme) -> None:
    hints = QGuiApplication.styleHints()
    if scheme is Qt.ColorScheme.Unknown:
        hints.unsetColorScheme()
    else:
        hints.setColorScheme(scheme)
