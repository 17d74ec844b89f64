"""Light and dark: every text is readable on its backgrounds, and each control of the platform is colored.

Contrast by the formula of WCAG 2.2, "relative luminance" and "contrast ratio"; limits by 1.4.3 (text, 4.5 to 1) and
1.4.11 (frames and marks, 3 to 1).
"""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from desk.ui.kit.card import Inked
from desk.ui.kit.mark import ROLE_OF
from desk.ui.kit.palette import DARK, LIGHT, ROLES, ColorSheet, is_dark, qt_palette, sheet_in_force
from desk.ui.kit.scheme import KEY, SCHEMES, choose_scheme, chosen_scheme, keep_to_scheme
from tests.ui.kit.pictures import grabbed, has

SHEETS = {"light": LIGHT, "dark": DARK}
TEXT, FRAME = 4.5, 3.0
TEXT_ROLES = ("ink", "soft_ink", "teal", "fine", "look", "stop")
GROUNDS = ("paper", "card")

# contrast by hand, from memory of the formula, to a tenth: on paper and on card
BY_HAND = """
light ink      14.7 16.0
light soft_ink  5.3  5.8
light teal      6.0  6.5
light fine      5.7  6.2
light look      5.5  6.0
light stop      6.4  7.0
dark  ink      14.5 13.2
dark  soft_ink  6.6  6.0
dark  teal      8.3  7.6
dark  fine      8.6  7.8
dark  look      8.6  7.8
dark  stop      7.0  6.4
"""


def luminance(color: str) -> float:
    """WCAG 2.2, relative luminance of an sRGB color."""
    parts = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, contrast ratio."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("#000000", "#FFFFFF", 21.0), ("#FFFFFF", "#FFFFFF", 1.0), ("#767676", "#FFFFFF", 4.54)],
)
def test_the_contrast_formula_gives_the_published_values(one: str, other: str, ratio: float) -> None:
    assert contrast(one, other) == pytest.approx(ratio, abs=0.005)  # 21:1 and #767676: WCAG 2.2, understanding 1.4.3


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("role", TEXT_ROLES)
@pytest.mark.parametrize("scheme", list(SHEETS))
def test_every_text_color_is_readable_on_paper_and_card(scheme: str, role: str, ground: str) -> None:
    sheet = SHEETS[scheme]
    assert contrast(getattr(sheet, role), getattr(sheet, ground)) >= TEXT


@pytest.mark.parametrize("line", BY_HAND.strip().splitlines())
def test_every_contrast_meets_its_limit(line: str) -> None:
    scheme, role, on_paper, on_card = line.split()
    sheet = SHEETS[scheme]
    got = [round(contrast(getattr(sheet, role), getattr(sheet, ground)), 1) for ground in GROUNDS]
    assert got == [float(on_paper), float(on_card)]


@pytest.mark.parametrize("scheme", list(SHEETS))
@pytest.mark.parametrize(("words", "ground"), [("card", "teal"), ("ink", "hairline")])
def test_text_on_a_selected_row_is_readable(scheme: str, words: str, ground: str) -> None:
    sheet = SHEETS[scheme]
    assert contrast(getattr(sheet, words), getattr(sheet, ground)) >= TEXT


@pytest.mark.parametrize("edge", ["look", "stop", "ink"])
@pytest.mark.parametrize("scheme", list(SHEETS))
def test_the_band_of_doubt_is_distinct_from_what_is_drawn_on_it(scheme: str, edge: str) -> None:
    sheet = SHEETS[scheme]
    assert contrast(getattr(sheet, edge), sheet.doubt) >= FRAME


@pytest.mark.parametrize("scheme", list(SHEETS))
def test_frames_and_marks_stand_out(scheme: str) -> None:
    sheet = SHEETS[scheme]
    roles = {"soft_ink", "teal", *ROLE_OF.values()}
    low = {
        role for role in roles for ground in GROUNDS if contrast(getattr(sheet, role), getattr(sheet, ground)) < FRAME
    }
    assert low == set()


@pytest.mark.parametrize("scheme", list(SHEETS))
def test_the_marks_of_a_scheme_have_colors_of_their_own(scheme: str) -> None:
    sheet = SHEETS[scheme]
    assert len({getattr(sheet, role) for role in ROLE_OF.values()}) == len(ROLE_OF)


def test_both_schemes_have_every_role_in_full() -> None:
    for sheet in SHEETS.values():
        assert [role for role in ROLES if not re.fullmatch("#[0-9A-F]{6}", getattr(sheet, role))] == []
    assert luminance(LIGHT.paper) > luminance(LIGHT.ink)
    assert luminance(DARK.paper) < luminance(DARK.ink)


PLATFORM = """
Window           paper
Base             card
AlternateBase    paper
Button           card
ToolTipBase      card
WindowText       ink
Text             ink
ButtonText       ink
ToolTipText      ink
PlaceholderText  soft_ink
Mid              hairline
Highlight        teal
HighlightedText  card
Link             teal
"""


@pytest.mark.parametrize("line", PLATFORM.strip().splitlines())
@pytest.mark.parametrize("scheme", list(SHEETS))
def test_controls_of_the_platform_take_our_colors(scheme: str, line: str) -> None:
    name, role = line.split()
    got = qt_palette(SHEETS[scheme]).color(getattr(QPalette.ColorRole, name))
    assert got == QColor(getattr(SHEETS[scheme], role))


@pytest.mark.parametrize("scheme", list(SHEETS))
@pytest.mark.parametrize(
    "role", [QPalette.ColorRole.WindowText, QPalette.ColorRole.Text, QPalette.ColorRole.ButtonText]
)
def test_disabled_controls_are_softer_but_readable(scheme: str, role: QPalette.ColorRole) -> None:
    sheet = SHEETS[scheme]
    palette = qt_palette(sheet)
    assert palette.color(QPalette.ColorGroup.Disabled, role) == QColor(sheet.soft_ink)
    assert palette.color(QPalette.ColorGroup.Active, role) == QColor(sheet.ink)


@pytest.mark.parametrize(("name", "sheet"), [("light", LIGHT), ("dark", DARK)])
def test_a_chosen_scheme_applies_at_once_and_is_saved(qapp: QApplication, name: str, sheet: ColorSheet) -> None:
    choose_scheme(name)
    assert sheet_in_force() is sheet
    assert is_dark() is (name == "dark")
    assert qapp.palette().color(QPalette.ColorRole.Window) == QColor(sheet.paper)
    assert QSettings().value(KEY) == name
    assert chosen_scheme() == name


def test_an_unknown_scheme_is_an_error() -> None:
    choose_scheme("dark")
    with pytest.raises(KeyError):
        choose_scheme("sepia")
    assert chosen_scheme() == "dark"


def test_an_unknown_saved_scheme_means_that_of_the_system() -> None:
    QSettings().setValue(KEY, "sepia")
    assert chosen_scheme() == "system"


def test_a_saved_scheme_applies_at_the_next_start(qapp: QApplication) -> None:
    QSettings().setValue(KEY, "dark")
    keep_to_scheme(qapp)
    assert is_dark()
    QSettings().setValue(KEY, "light")
    keep_to_scheme(qapp)
    assert not is_dark()


def test_every_scheme_has_a_name() -> None:
    assert set(SCHEMES) == {"system", "light", "dark"}


@pytest.mark.parametrize("role", TEXT_ROLES)
def test_colored_text_changes_with_the_scheme(qtbot: QtBot, role: str) -> None:
    line = Inked("WWWW", role, 26, bold=True)
    qtbot.addWidget(line)
    for name in ("light", "dark", "light"):
        choose_scheme(name)
        assert has(grabbed(line), getattr(SHEETS[name], role)), name


@pytest.mark.parametrize("kind", [QLabel, QPushButton, QLineEdit])
@pytest.mark.parametrize("scheme", list(SHEETS))
def test_existing_controls_follow_a_change_of_scheme(qtbot: QtBot, kind: type, scheme: str) -> None:
    made = kind("WWW")
    qtbot.addWidget(made)
    made.show()
    choose_scheme(scheme)
    QApplication.processEvents()  # Qt notifies the widgets in the next turn of the loop
    got = made.palette().color(made.foregroundRole())
    assert got == QColor(SHEETS[scheme].ink)
