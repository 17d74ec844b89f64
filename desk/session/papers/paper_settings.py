"""Paper settings: what is loaded in each printer, and the printer, stock and page order of each paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from enum import StrEnum
from typing import Any  # fields of several types

from desk.paper.dots import MODULE_DOTS
from desk.paper.press import Calibration
from desk.paper.stock import MILLIMETER, STOCKS, USUAL, DoesNotFit, Stock, StockKind, checked
from desk.session.papers.kinds import Paper
from desk.session.setup.change_shop import FieldFault
from desk.session.sitting import Sitting
from desk.session.words.figures import measure
from desk.session.words.typed_numbers import number_typed
from desk.store.tables import settings

SETTING = "papers"
WHOLE_PAGES = frozenset({Paper.PACKING_SLIPS, Paper.KEYING_SHEETS, Paper.HAND_OVER})
LEAST_PAGE = (3.5 * 72, 5 * 72)  # points; sheets of lines need at least this
LEAST_LABEL = (2 * 72, 1.9 * 72)  # points; a smaller label has no room for code, sender and address
MOST_OFFSET, LEAST_SCALE, MOST_SCALE = Decimal(25), Decimal(90), Decimal(110)


class PageOrder(StrEnum):
    """The order in which pieces are printed."""

    PILE = "pile"
    REVERSE = "reverse"
    MAILER = "mailer"
    DESTINATION = "destination"


class SmallLabels(StrEnum):
    """How a small address label is printed on a larger one."""

    ONE = "one"  # one per label; rotated where the envelope is large enough
    SEVERAL = "several"  # as many as fit, with cut lines


@dataclass(frozen=True, slots=True)
class PrinterSettings:
    """A print queue: its stock, resolution (dots per inch), offset (mm) and scale (percent)."""

    queue: str
    stock: str = USUAL
    dpi: int = 203
    right_mm: Decimal = Decimal(0)
    up_mm: Decimal = Decimal(0)
    scale_percent: Decimal = Decimal(100)

    @property
    def calibration(self) -> Calibration:
        """The offset and scale of this printer, offset in points."""
        right, up = float(self.right_mm) * MILLIMETER, float(self.up_mm) * MILLIMETER
        return Calibration(right, up, float(self.scale_percent) / 100)


@dataclass(frozen=True, slots=True)
class PaperChoice:
    """Settings of one paper: its printer (empty: none), its stock (empty: what is in the printer), its page order."""

    queue: str = ""
    stock: str = ""
    order: PageOrder = PageOrder.PILE


@dataclass(frozen=True, slots=True)
class PaperSettings:
    """All settings of Setup > Papers. `choices` is by paper id; `own` are your own sizes."""

    printers: tuple[PrinterSettings, ...] = ()
    choices: Mapping[str, PaperChoice] = field(default_factory=dict)
    small_labels: SmallLabels = SmallLabels.ONE
    own: tuple[Stock, ...] = ()
    thanks: str = "Thank you for your order!"
    gift_words: tuple[str, ...] = ("gift",)

    def choice(self, paper: Paper) -> PaperChoice:
        """Return the settings of a paper."""
        return self.choices.get(paper.value, PaperChoice())

    def printer(self, queue: str) -> PrinterSettings:
        """Return the settings of a print queue; defaults for a new one."""
        return next((one for one in self.printers if one.queue == queue), PrinterSettings(queue))

    def stocks(self) -> tuple[Stock, ...]:
        """Return all stocks, your own sizes last."""
        return (*STOCKS, *self.own)

    def stock_named(self, stock_id: str) -> Stock:
        """Return a stock by its id; the default one when there is none."""
        return next((one for one in self.stocks() if one.id == stock_id), STOCKS[0])

    def stock_of(self, paper: Paper) -> Stock:
        """Return the stock that a paper is laid out for."""
        choice = self.choice(paper)
        stock = self.stock_named(choice.stock or self.printer(choice.queue).stock)
        return stock if fits(stock, paper) else STOCKS[0]

    def is_too_small(self, stock_id: str, paper: Paper, queue: str) -> bool:
        """Return True when a paper does not fit on a printer's stock; without a printer only labels must."""
        return bool(queue or paper is Paper.LABELS) and not fits(self.stock_named(stock_id), paper)

    def calibration_of(self, paper: Paper) -> Calibration:
        """Return the offset and scale of a paper's printer."""
        return self.printer(self.choice(paper).queue).calibration

    def dpi_of(self, paper: Paper) -> int:
        """Return the resolution of a paper's printer in dots per inch."""
        return self.printer(self.choice(paper).queue).dpi


def fits(stock: Stock, paper: Paper) -> bool:
    """Return True when a paper fits on a stock: sheets of lines need whole pages of some size, labels a small one."""
    label = stock.labels()[0]
    if paper is Paper.LABELS:
        return label.width >= LEAST_LABEL[0] and label.height >= LEAST_LABEL[1]
    is_large = label.width >= LEAST_PAGE[0] and label.height >= LEAST_PAGE[1]
    return paper not in WHOLE_PAGES or (is_large and stock.kind is not StockKind.LABEL_SHEET)


def paper_settings(sitting: Sitting) -> PaperSettings:
    """Return the saved paper settings, or the defaults."""
    with sitting.store.reading() as conn:
        return settings.read(conn, SETTING, PaperSettings())


def choose_paper(sitting: Sitting, paper: Paper, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Save printer, stock and page order of one paper; return faults by field, and then nothing is saved."""
    before = paper_settings(sitting)
    queue = str(values.get("queue", before.choice(paper).queue))
    stock = str(values.get("stock", before.choice(paper).stock))
    order = str(values.get("order", before.choice(paper).order))
    changed = [name for name in ("queue", "stock") if name in values]
    faults = []
    if stock and stock not in {one.id for one in before.stocks()}:
        faults.append(FieldFault("stock", "Choose one of the listed sizes."))
    elif stock and not fits(before.stock_named(stock), paper):
        faults.append(FieldFault("stock", _need(paper)))
    elif not stock and before.is_too_small(before.printer(queue).stock, paper, queue) and changed:
        faults.append(FieldFault(changed[0], f"{_need(paper)} Choose one for this paper, or another printer."))
    if order not in tuple(PageOrder):
        faults.append(FieldFault("order", f"Choose one of {', '.join(PageOrder)}."))
    if not faults:
        choice = PaperChoice(queue, stock, PageOrder(order))
        _keep(
            sitting,
            before,
            replace(before, choices={**before.choices, paper.value: choice}),
            f"Settings saved for {paper.words}",
        )
    return tuple(faults)


def _need(paper: Paper) -> str:
    size = f"a size of at least {measure('2 × 1.9 in')}"
    if paper is not Paper.LABELS:
        size = f"whole pages of at least {measure('3.5 × 5 in')}"
    return f"The {paper.words} {'needs' if paper is Paper.HAND_OVER else 'need'} {size}."


def save_printer(sitting: Sitting, queue: str, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Save a printer's stock, resolution, offset and scale; with a fault nothing is saved."""
    before = paper_settings(sitting)
    old = before.printer(queue)
    typed: dict[str, Any] = {}  # only numbers, but `replace` is checked against the fields of every type
    faults = []
    limits = {
        "right_mm": (-MOST_OFFSET, MOST_OFFSET),
        "up_mm": (-MOST_OFFSET, MOST_OFFSET),
        "scale_percent": (LEAST_SCALE, MOST_SCALE),
    }
    for name, (low, high) in limits.items():
        if name not in values:
            continue
        number = _number(str(values[name]))
        if number is None or not low <= number <= high:
            faults.append(FieldFault(name, f"Enter a number between {measure(str(low))} and {measure(str(high))}."))
        else:
            typed[name] = number
    dpi = str(values.get("dpi", old.dpi))
    if not dpi.isdecimal() or int(dpi) not in MODULE_DOTS:
        faults.append(FieldFault("dpi", "Choose 203 or 300."))
    stock = str(values.get("stock", old.stock))
    if stock not in {one.id for one in before.stocks()}:
        faults.append(FieldFault("stock", "Choose one of the listed sizes."))
    elif stock != old.stock:
        follow = [one for one in Paper if (before.choice(one).queue, before.choice(one).stock) == (queue, "")]
        small = [one for one in follow if before.is_too_small(stock, one, queue)]
        faults += [FieldFault("stock", f"{_need(one)} Choose one for that paper first.") for one in small[:1]]
    if not faults:
        printer = replace(old, stock=stock, dpi=int(dpi), **typed)
        rest = tuple(one for one in before.printers if one.queue != queue)
        _keep(
            sitting,
            before,
            replace(before, printers=(*rest, printer)),
            f"Printer settings saved: {queue or 'no printer'}",
        )
    return tuple(faults)


def calibrate(sitting: Sitting, queue: str, measured: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Compute a printer's offset and scale from measurements of its test page.

    `left` and `bottom` are the distances (mm) of the crosshairs from the left and bottom edges, `length` that of the 50
    mm ruler. Faults are returned by field, and then nothing is saved.
    """
    limits = {
        "left": (Decimal(-5), Decimal(60)),
        "bottom": (Decimal(-5), Decimal(60)),
        "length": (Decimal(45), Decimal(55)),
    }
    numbers: dict[str, Decimal] = {}
    faults = []
    for name, (low, high) in limits.items():
        number = _number(str(measured.get(name, "")))
        if number is None or not low <= number <= high:
            faults.append(FieldFault(name, f"Enter millimeters between {low} and {high}."))
        else:
            numbers[name] = number
    if faults:
        return tuple(faults)
    old = paper_settings(sitting).printer(queue)
    scale = (old.scale_percent * RULER_MM / numbers["length"]).quantize(Decimal("0.01"))
    moved = {
        "right_mm": old.right_mm + CROSS_MM - numbers["left"],
        "up_mm": old.up_mm + CROSS_MM - numbers["bottom"],
        "scale_percent": scale,
    }
    return save_printer(sitting, queue, {name: measure(str(value)) for name, value in moved.items()})


RULER_MM, CROSS_MM = Decimal(50), Decimal(15)


def save_general(sitting: Sitting, values: Mapping[str, object]) -> tuple[FieldFault, ...]:
    """Save how small labels are printed, the thanks on packing slips, and the words that mean a gift."""
    before = paper_settings(sitting)
    small = str(values.get("small_labels", before.small_labels))
    if small not in tuple(SmallLabels):
        return (FieldFault("small_labels", "Choose one of the two."),)
    words = values.get("gift_words", before.gift_words)
    words = words if isinstance(words, tuple | list) else before.gift_words
    after = replace(
        before,
        small_labels=SmallLabels(small),
        thanks=str(values.get("thanks", before.thanks)).strip(),
        gift_words=tuple(word.strip() for word in words if word.strip()),
    )
    _keep(sitting, before, after, "Paper settings saved")
    return ()


def save_own_stock(sitting: Sitting, values: Mapping[str, str]) -> tuple[FieldFault, ...]:
    """Save your own paper size under its name, replacing one of the same name."""
    before = paper_settings(sitting)
    name = str(values.get("words", "")).strip()
    faults = [] if name else [FieldFault("words", "Give this size a name.")]
    sides = {side: _number(str(values.get(side, ""))) for side in ("width", "height")}
    faults += [
        FieldFault(side, f"Enter a number, such as 4 or {measure('2.25')}.")
        for side, value in sides.items()
        if value is None
    ]
    unit = str(values.get("unit", "in"))
    if unit not in ("in", "mm"):
        faults.append(FieldFault("unit", "Choose in or mm."))
    if faults:
        return tuple(faults)
    stock = Stock(
        id=f"own-{name}", words=name, kind=StockKind(str(values.get("kind", StockKind.ROLL))), unit=unit,
        width=sides["width"] or Decimal(0), height=sides["height"] or Decimal(0),
    )  # fmt: skip
    try:
        checked(stock)
    except DoesNotFit as fault:
        return (FieldFault("width", str(fault)),)
    rest = tuple(one for one in before.own if one.id != stock.id)
    _keep(sitting, before, replace(before, own=(*rest, stock)), f"Paper size added: {name}")
    return ()


def _number(typed: str) -> Decimal | None:
    try:
        return number_typed(typed)
    except ValueError:
        return None


def _keep(sitting: Sitting, before: PaperSettings, after: PaperSettings, step: str) -> None:
    if after == before:
        return
    with sitting.store.act(step) as tx:
        settings.write(tx, SETTING, after)
    sitting.announce(sitting.store.last_changes)
