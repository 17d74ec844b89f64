"""Light, dark, or as the system; saved with the window's place, and followed while the program runs."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from desk.ui.kit.kept_choice import keep_choice, kept_choice
from desk.ui.kit.palette import CHOSEN, qt_palette, sheet_in_force

SCHEMES = {"system": Qt.ColorScheme.Unknown, "light": Qt.ColorScheme.Light, "dark": Qt.ColorScheme.Dark}
KEY = "look/scheme"


def chosen_scheme() -> str:
    """Return `system`, `light` or `dark`."""
    return kept_choice(KEY, SCHEMES, "system", "theme")


def choose_scheme(name: str) -> None:
    """Save the choice and apply it at once; KeyError for another name."""
    scheme = SCHEMES[name]
    keep_choice(KEY, name)
    _follow(name, scheme)


def keep_to_scheme(app: QApplication) -> None:
    """Color the program by the choice, now and whenever the system changes."""
    QGuiApplication.styleHints().colorSchemeChanged.connect(
        lambda _scheme: app.setPalette(qt_palette(sheet_in_force()))
    )
    name = chosen_scheme()
    _follow(name, SCHEMES[name])


def _follow(name: str, scheme: Qt.ColorScheme) -> None:
    """Tell the platform too, so that window frames and file dialogs match where possible."""
    app, hints = QApplication.instance(), QGuiApplication.styleHints()
    assert isinstance(app, QApplication)
    app.setProperty(CHOSEN, name)
    if scheme is Qt.ColorScheme.Unknown:
        hints.unsetColorScheme()
    else:
        hints.setColorScheme(scheme)
    app.setPalette(qt_palette(sheet_in_force()))
