import hashlib
import subprocess
import sys
from io import BytesIO
from pathlib import Path

import pytest

from desk.paper.fonts import (
    BOLD,
    INK,
    Fonts,
    GlyphMissing,
    Run,
    clean,
    missing_glyphs,
    with_marks_for_missing,
)
from desk.paper.label.label import write_labels
from desk.paper.proof import pages_in_dots
from desk.paper.shaping import is_right_to_left, turned, visual_runs
from desk.paper.slip import write_slips
from tests.paper.made import FOLDER, FONTS, as_array, ink_on, label, pages, pdf, proved, slip

SCRIPTS = {
    "Latin": "Ada Quist ÄÖÜ ß ç ø ł ž ő Đường Nguyễn",
    "Cyrillic": "улица Ленина 7",
    "Greek": "Οδός Αθηνάς 5",
    "Hebrew": "שרה לוי 12",
    "Arabic": "محمد عبد الله 45",
    "Thai": "คุณน้ำผึ้ง",
    "Devanagari": "श्री अर्जुन",
    "Bengali": "সুমিত্রা ক্ষেত্র",
    "Tamil": "கோவிந்தன் ஸ்ரீ",
    "Armenian": "Աննա Պետրոսյան",
    "Georgian": "ნინო ბერიძე",
    "kana": "ひらがな カタカナ",
    "Han": "山田花子 张伟 東京都 〒",
    "Hangul": "홍길동 서울특별시",
}


@pytest.mark.parametrize("script", SCRIPTS)
@pytest.mark.parametrize("bold", [False, True])
def test_every_script_with_a_shipped_font_has_all_of_its_glyphs(script, bold):
    runs = FONTS.runs(SCRIPTS[script], bold=bold)
    for run in runs:
        assert FONTS.covers(run.face).issuperset(run.text)
    assert missing_glyphs(SCRIPTS[script], FONTS) == ""


def test_plain_text_is_one_run_in_the_requested_weight():
    assert FONTS.runs("Ada", bold=False) == (Run(INK, "Ada"),)
    assert FONTS.runs("Ada", bold=True) == (Run(BOLD, "Ada"),)
    assert FONTS.runs("") == ()


def test_runs_change_face_only_where_the_face_lacks_the_character():
    assert FONTS.runs("Ada 山田") == (Run(INK, "Ada "), Run("NotoSansSC-Regular.ttf", "山田"))


@pytest.mark.parametrize(("text", "lost"), [("Ada 🎈 b 🎈", "🎈"), ("ᚠᚢ", "ᚠᚢ"), ("\ue000", "\ue000")])
def test_a_glyph_in_no_font_is_named_and_never_drawn(text, lost):
    assert missing_glyphs(text, FONTS) == lost
    with pytest.raises(GlyphMissing) as caught:
        ink_on(BytesIO()).left(10, 10, text, 10)
    assert caught.value.characters == lost


def test_without_a_font_its_characters_are_missing(tmp_path):
    (tmp_path / INK).write_bytes((FOLDER / INK).read_bytes())
    few = Fonts(tmp_path)
    assert missing_glyphs("Ada 山", few) == "山"
    assert missing_glyphs("Ada", few) == ""


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Ada", "Ada"),
        ("e\u0301", "é"),
        ("Ada\u00a0Quist\tx", "Ada Quist x"),
        ("\u200fAda\u200b\ufeff\ufe0f", "Ada"),
        ("क्\u200dष", "क्\u200dष"),
        ("a\u200db", "ab"),
    ],
)
def test_invisible_characters_are_removed_and_the_joiners_of_hindi_kept(text, expected):
    assert clean(text) == expected


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("Ada (3)", "Ada (3)"),
        ("שרה (דירה 3)", "(3 הריד) הרש"),
        ("רחוב הרצל 12", "12 לצרה בוחר"),
        ("אבג ABC", "ABC גבא"),
    ],
)
def test_right_to_left_lines_are_reversed_and_brackets_mirrored(typed, seen):
    # source: Unicode Standard Annex 9, rules L2 and L4, worked by hand
    assert "".join(turned(part) if rtl else part for part, rtl in visual_runs(typed)) == seen


def glyph_names(text):
    """Return the names of the glyphs that draw a text, from the left, by the font's own tables."""
    from reportlab.pdfbase import pdfmetrics

    names = []
    for run in FONTS.runs(text):
        font = pdfmetrics.getFont(run.face)
        glyphs = (font.face.charToGlyph[ord(character)] for character in run.shaped(20))
        names += [font.hbFont().glyph_to_string(glyph) for glyph in glyphs]
    return names


def test_arabic_letters_are_joined_by_the_face_itself():
    # source: Unicode Standard, chapter 9.2: beh initial, yeh medial, teh final, from the right; the number from the left
    assert glyph_names("بيت 45") == ["four", "five", "space", "uniFE96", "uniFEF4", "uniFE91"]


def test_no_ligature_changes_the_letters_of_a_name():
    """The ligature of the word Allah adds marks that are not in the text; lam and alef are one glyph in every font."""
    assert not any("fdf2" in name.lower() or "allah" in name.lower() for name in glyph_names("عبد الله"))
    assert len(glyph_names("لا")) <= 2


def test_the_direction_follows_from_the_characters():
    assert is_right_to_left("Ada שרה")
    assert not is_right_to_left("Ada 山田 श्री")


def test_hindi_is_shaped_and_not_set_letter_by_letter():
    word = "क्षि"
    (run,) = FONTS.runs(word)
    plain = sum(Run(run.face, sign).width(20) for sign in word)
    assert 0 < run.width(20) < plain * 0.8
    assert run.shaped(20) != word


def test_thai_marks_are_placed_above_the_letter_without_width():
    assert FONTS.runs("กำ")[0].width(20) == pytest.approx(FONTS.runs("ก้ำ")[0].width(20), abs=0.5)


def test_drawn_text_can_be_found_again():
    out = BytesIO()
    ink = ink_on(out)
    for place, text in enumerate(("Ada Quist", "山田花子", "홍길동", "улица")):
        ink.left(20, 400 - 30 * place, text, 14)
    ink.canvas.showPage()
    ink.canvas.save()
    text = pages(out.getvalue())[0][2]
    for words in ("Ada Quist", "山田花子", "홍길동", "улица"):
        assert words in text


def test_the_license_is_in_the_font_folder():
    text = (FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in text
    assert len(list(Path(FOLDER).glob("*.ttf"))) == 12


def test_shaped_runs_are_cached_up_to_a_limit():
    fonts = Fonts(FOLDER)
    first = fonts.runs("Ada")
    assert fonts.runs("Ada") is first
    for number in range(5002):
        fonts.runs(str(number))
    assert len(fonts._runs) < 5001
    assert fonts.runs("Ada") == first


@pytest.mark.parametrize("script", SCRIPTS)
def test_a_name_in_every_script_leaves_ink_on_its_label(script):
    _, found = proved(write_labels, [label(recipient=(SCRIPTS[script], "DULUTH MN  55804"))])
    assert found.faults == ()
    document, plain = (pdf(write_labels, [label(recipient=(words,))]) for words in (SCRIPTS[script], ""))
    darker = (as_array(next(pages_in_dots(one)))[:, 180:] == 0 for one in (document, plain))
    assert next(darker).sum() > next(darker).sum() + 300


def test_a_document_does_not_depend_on_earlier_ones():
    """In another process nothing was shaped before, and the bytes are the same."""
    made = "from tests.paper.made import *; from desk.paper.slip import write_slips; import hashlib;"
    made += "print(hashlib.sha256(pdf(write_slips, [slip(recipient_short='हिन्दी क्षेत्री')])).hexdigest())"
    fresh = subprocess.run(
        [sys.executable, "-c", made], check=True, capture_output=True, text=True, cwd=FOLDER.parents[1]
    )
    for run in FONTS.runs("श्री अर्जुन र्त्र क्षि"):
        run.shaped(10)
    here = hashlib.sha256(pdf(write_slips, [slip(recipient_short="हिन्दी क्षेत्री")])).hexdigest()
    assert fresh.stdout.strip() == here


def test_no_font_covers_private_characters():
    FONTS.runs("श्री")[0].shaped(10)
    assert missing_glyphs("\ue000\ue010", Fonts(FOLDER)) == "\ue000\ue010"


def test_slips_show_a_mark_for_characters_that_cannot_be_printed():
    assert with_marks_for_missing("Ada 🎈\ufe0f ᚠ", FONTS) == "Ada ? ?"
    assert with_marks_for_missing("Ada Łukasz", FONTS) == "Ada Łukasz"
