from decimal import Decimal

import pytest

from desk.paper.stock import STOCKS, Stock, StockKind
from desk.session.papers.kinds import Paper
from desk.session.papers.paper_settings import (
    PaperSettings,
    PrinterSettings,
    calibrate,
    choose_paper,
    fits,
    paper_settings,
    save_general,
    save_own_stock,
    save_printer,
)
from desk.session.papers.printer_check import make_test_page
from desk.session.undo import undo
from tests.conftest import ROOT

STOCK = {stock.id: stock for stock in STOCKS}


def faults(found):
    return [fault.field for fault in found]


def test_everything_goes_on_4_x_6_labels_until_something_else_is_chosen(sitting):
    settings = paper_settings(sitting)
    assert {settings.stock_of(paper).id for paper in Paper} == {"roll-4x6"}
    assert settings == PaperSettings()


def test_the_stock_of_a_document_is_chosen_saved_and_undone(sitting):
    assert choose_paper(sitting, Paper.SLIPS, {"stock": "letter", "order": "reverse"}) == ()
    assert choose_paper(sitting, Paper.SLIPS, {"queue": "desk"}) == ()
    choice = paper_settings(sitting).choice(Paper.SLIPS)
    assert (choice.stock, choice.order, choice.queue) == ("letter", "reverse", "desk")
    undo(sitting)
    assert paper_settings(sitting).choice(Paper.SLIPS).queue == ""


@pytest.mark.parametrize(
    ("values", "field"),
    [({"stock": "papyrus"}, "stock"), ({"order": "by mood"}, "order"), ({"stock": "roll-4x2"}, "stock")],
)
def test_an_invalid_value_is_reported_at_its_field_and_not_saved(sitting, values, field):
    assert faults(choose_paper(sitting, Paper.HAND_OVER, values)) == [field]
    assert paper_settings(sitting) == PaperSettings()


@pytest.mark.parametrize(
    ("stock", "fit"),
    [("roll-4x6", True), ("roll-4x2", False), ("sheet-4x2", False), ("a4", True), ("roll-100x150", True)],
)
def test_sheets_of_lines_need_whole_pages(stock, fit):
    assert fits(STOCK[stock], Paper.HAND_OVER) is fit
    assert fits(STOCK[stock], Paper.LABELS)


def test_the_stock_of_a_document_is_that_of_its_printer_unless_it_has_its_own(sitting):
    save_printer(sitting, "desk", {"stock": "letter", "dpi": "300"})
    choose_paper(sitting, Paper.SLIPS, {"queue": "desk"})
    settings = paper_settings(sitting)
    assert (settings.stock_of(Paper.SLIPS).id, settings.dpi_of(Paper.SLIPS)) == ("letter", 300)
    choose_paper(sitting, Paper.SLIPS, {"stock": "roll-4x2"})
    assert paper_settings(sitting).stock_of(Paper.SLIPS).id == "roll-4x2"


@pytest.mark.parametrize(
    ("values", "wrong"),
    [
        ({"right_mm": "25", "up_mm": "-25", "scale_percent": "90"}, []),
        ({"right_mm": "25.1"}, ["right_mm"]),
        ({"up_mm": "-25.1"}, ["up_mm"]),
        ({"scale_percent": "110"}, []),
        ({"scale_percent": "110.1"}, ["scale_percent"]),
        ({"scale_percent": "89.9"}, ["scale_percent"]),
        ({"right_mm": "a bit", "dpi": "600"}, ["right_mm", "dpi"]),
        ({"right_mm": "NaN"}, ["right_mm"]),
        ({"stock": "papyrus"}, ["stock"]),
    ],
)
def test_a_printers_numbers_have_limits(sitting, values, wrong):
    assert faults(save_printer(sitting, "desk", values)) == wrong
    assert bool(paper_settings(sitting).printers) is not bool(wrong)


def test_offset_and_scale_follow_from_the_measurements(sitting):
    """A printer that prints 2 mm too far right, 1 mm too low and 2% too large."""
    assert calibrate(sitting, "desk", {"left": "17", "bottom": "14", "length": "51"}) == ()
    printer = paper_settings(sitting).printer("desk")
    assert (printer.right_mm, printer.up_mm, printer.scale_percent) == (Decimal(-2), Decimal(1), Decimal("98.04"))
    calibrate(sitting, "desk", {"left": "15", "bottom": "15", "length": "50"})  # the next page is right
    assert paper_settings(sitting).printer("desk") == printer


@pytest.mark.parametrize(
    ("measured", "wrong"),
    [
        ({"left": "x", "bottom": "15", "length": "50"}, ["left"]),
        ({"left": "15", "bottom": "61", "length": "50"}, ["bottom"]),
        ({"left": "15", "bottom": "60", "length": "55"}, []),
        ({"left": "15", "bottom": "15", "length": "55.1"}, ["length"]),
        ({}, ["left", "bottom", "length"]),
    ],
)
def test_an_impossible_measurement_is_reported_and_nothing_moves(sitting, measured, wrong):
    found = faults(calibrate(sitting, "desk", measured))
    assert found == wrong or (not wrong and found == ["up_mm"])  # 45 mm down is beyond what a printer may be moved
    assert paper_settings(sitting).printers == ()


def test_thanks_gift_words_and_small_labels_are_saved(sitting):
    assert (
        save_general(
            sitting, {"small_labels": "several", "thanks": " Thanks! ", "gift_words": ("gift", " present", "")}
        )
        == ()
    )
    settings = paper_settings(sitting)
    assert (settings.small_labels, settings.thanks, settings.gift_words) == ("several", "Thanks!", ("gift", "present"))
    assert faults(save_general(sitting, {"small_labels": "tiny"})) == ["small_labels"]


@pytest.mark.parametrize(
    ("values", "wrong"),
    [
        ({"words": "Half sheet", "width": "5.5", "height": "8.5", "unit": "in"}, []),
        ({"words": "Small", "width": "1.5", "height": "1", "unit": "in"}, []),
        ({"words": "Too small", "width": "1.4", "height": "1", "unit": "in"}, ["width"]),
        ({"words": "", "width": "4", "height": "x", "unit": "in"}, ["words", "height"]),
        ({"words": "Odd", "width": "4", "height": "4", "unit": "ell"}, ["unit"]),
    ],
)
def test_custom_sizes_can_be_added(sitting, values, wrong):
    assert faults(save_own_stock(sitting, values)) == wrong
    assert [stock.words for stock in paper_settings(sitting).own] == ([] if wrong else [values["words"]])


def test_a_size_with_the_same_name_replaces_the_old_one(sitting):
    for width in ("4", "5"):
        save_own_stock(sitting, {"words": "Mine", "width": width, "height": "6", "unit": "in"})
    (own,) = paper_settings(sitting).own
    assert own.page == (360, 432)


@pytest.mark.parametrize("stock", ["roll-4x6", "roll-4x2", "letter"])
def test_the_test_page_is_made_for_the_loaded_stock(stock):
    import pypdfium2

    settings = PaperSettings((PrinterSettings("desk", stock),))
    opened = pypdfium2.PdfDocument(make_test_page(settings, "desk", ROOT / "resources"))
    assert (len(opened), opened.get_page_size(0)) == (1, pytest.approx(STOCK[stock].page))
    opened.close()


@pytest.mark.parametrize(("width", "height", "fit"), [("3.5", "5", True), ("3.49", "5", False), ("3.5", "4.99", False)])
def test_a_sheet_of_lines_needs_three_and_a_half_by_five_inches(width, height, fit):
    own = Stock(id="own", words="Own", kind=StockKind.ROLL, width=Decimal(width), height=Decimal(height))
    assert fits(own, Paper.HAND_OVER) is fit


@pytest.mark.parametrize(
    ("left", "length", "wrong"),
    [
        ("-5", "50", []),
        ("-5.1", "50", ["left"]),
        ("15", "45", []),
        ("15", "44.9", ["length"]),
        ("15", "55", []),
    ],
)
def test_measures_at_the_ends_of_their_ranges_are_accepted(sitting, left, length, wrong):
    found = faults(calibrate(sitting, "desk", {"left": left, "bottom": "15", "length": length}))
    assert [name for name in found if name in ("left", "bottom", "length")] == wrong


@pytest.mark.parametrize(
    ("dpi", "wrong"), [("203", []), ("300", []), ("200", ["dpi"]), ("", ["dpi"]), ("fine", ["dpi"])]
)
def test_a_printer_has_203_or_300_dots(sitting, dpi, wrong):
    assert faults(save_printer(sitting, "labels", {"dpi": dpi})) == wrong


@pytest.mark.parametrize(("width", "height", "fit"), [("2", "1.9", True), ("1.9", "1.9", False), ("2", "1.8", False)])
def test_labels_need_two_by_one_point_nine_inches(sitting, width, height, fit):
    save_own_stock(sitting, {"words": "Mine", "width": width, "height": height, "unit": "in"})
    found = choose_paper(sitting, Paper.LABELS, {"stock": "own-Mine"})
    assert [fault.sentence for fault in found] == ([] if fit else ["The labels need a size of at least 2 × 1.9 in."])
    assert choose_paper(sitting, Paper.SLIPS, {"stock": "own-Mine"}) == ()


def test_labels_too_small_in_the_printer_are_refused_for_papers_that_follow_it(sitting):
    save_own_stock(sitting, {"words": "Mine", "width": "2.25", "height": "1.25", "unit": "in"})
    assert faults(save_printer(sitting, "", {"stock": "own-Mine"})) == ["stock"]  # labels follow this one
    assert save_printer(sitting, "", {"stock": "roll-4x2"}) == ()
    assert save_printer(sitting, "small", {"stock": "own-Mine"}) == ()
    assert faults(choose_paper(sitting, Paper.LABELS, {"queue": "small"})) == ["queue"]
    assert choose_paper(sitting, Paper.LABELS, {"queue": "small", "stock": "roll-4x2"}) == ()
    assert faults(choose_paper(sitting, Paper.LABELS, {"stock": ""})) == ["stock"]
    assert choose_paper(sitting, Paper.HAND_OVER, {"queue": "desk"}) == ()
    (fault,) = save_printer(sitting, "desk", {"stock": "roll-4x2"})
    assert (fault.field, fault.sentence) == (
        "stock",
        "The hand-over sheet needs whole pages of at least 3.5 × 5 in. Choose one for that paper first.",
    )
    assert paper_settings(sitting).stock_of(Paper.LABELS).id == "roll-4x2"
