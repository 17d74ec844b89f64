"""The Setup screen: page names at the left, the open page at the right."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from desk.session.setup.change_shop import missing_of_sender
from desk.ui.actions import Act
from desk.ui.bridge import Desk, DeskChanges
from desk.ui.common_keys import NEXT_PAGE, PAGE_BEFORE
from desk.ui.kit import type as typeface
from desk.ui.kit.words import Word
from desk.ui.screen import Jump, Screen
from desk.ui.setup import appearance, mailers, products, sender, stamps
from desk.ui.setup import rules as policy
from desk.ui.setup import shipping_choices as choices
from desk.ui.setup.customs import destinations, rates
from desk.ui.setup.data import page as store
from desk.ui.setup.page import Page
from desk.ui.setup.papers import page as papers
from desk.ui.setup.prices import page as charts
from desk.ui.setup.scale import page as scale

TITLE, SHORTCUT = "Setup", "Ctrl+7"
PAGES: tuple[tuple[str, Callable[[Desk], Page]], ...] = (
    (sender.TITLE, sender.SenderPage),
    (mailers.TITLE, mailers.MailersPage),
    (products.TITLE, products.ProductsPage),
    (policy.TITLE, policy.RulesPage),
    (scale.TITLE, scale.ScalePage),
    (papers.TITLE, papers.PapersPage),
    (choices.TITLE, choices.ChoicesPage),
    (stamps.TITLE, stamps.StampsPage),
    (charts.TITLE, charts.PriceListsPage),
    (rates.TITLE, rates.RatesPage),
    (destinations.TITLE, destinations.DestinationsPage),
    (store.TITLE, store.BackupPage),
    (appearance.TITLE, appearance.AppearancePage),
)


class SetupView(Screen):
    """Fields are saved when you leave them; faults are shown at the field. A page is made when it is opened first."""

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.words: dict[str, Word] = {}
        self._pages: dict[str, Page] = {}
        self.stack = QStackedWidget()
        self._build()
        self.open_page(sender.TITLE)

    def _build(self) -> None:
        titles = QWidget()
        names = QVBoxLayout(titles)
        names.setContentsMargins(0, 0, 0, 0)
        names.setSpacing(2)
        for title, _make in PAGES:
            word = self.words[title] = Word(title, typeface.BODY)
            word.setCheckable(True)
            word.clicked.connect(partial(self._open, title))
            names.addWidget(word)
        names.addStretch(1)
        self._titles = self._scrolled(titles)
        line = QHBoxLayout(self)
        line.setContentsMargins(26, 12, 32, 0)
        line.setSpacing(24)
        line.addWidget(self._titles)
        line.addWidget(self.stack, 1)

    def _scrolled(self, titles: QWidget) -> QScrollArea:
        """Return the list of pages, which scrolls where large type leaves too little height."""
        area = QScrollArea()
        area.setAccessibleName("Pages of Setup")
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setWidgetResizable(True)
        area.setWidget(titles)
        area.viewport().setAutoFillBackground(False)
        titles.setAutoFillBackground(False)
        area.setFixedWidth(titles.sizeHint().width() + area.verticalScrollBar().sizeHint().width())
        return area

    def refresh(self, changes: DeskChanges) -> None:
        """Show the shop again when it changed; only then may a field be overwritten."""
        if changes.changes.shop or changes.changes.settings:
            for page in self._pages.values():
                page.refresh()

    def acts(self) -> Sequence[Act]:
        """Return the keys of Setup."""
        return (
            Act(NEXT_PAGE, "Next page", partial(self.turn, 1)),
            Act(PAGE_BEFORE, "Previous page", partial(self.turn, -1)),
            Act("Ctrl+N", "Add to this page", self.add),
        )

    def places(self) -> Sequence[Act]:
        """Return one command for each page."""
        return [Act("", title, partial(self._open, title)) for title, _make in PAGES]

    def jumps(self) -> Sequence[Jump]:
        """Return the jump to an incomplete sender."""
        if not missing_of_sender(self.desk.pile.terms.shop.sender):
            return ()
        return (Jump("sender incomplete", partial(self.open_page, sender.TITLE)),)

    @property
    def page(self) -> Page:
        """The open page."""
        return next(page for page in self._pages.values() if page is self.stack.currentWidget())

    def pose(self, name: str) -> None:
        """For a picture: the mailers, or one with a weight that can't be read."""
        self._open(mailers.TITLE)
        if name == "trouble":
            tare = self.page.form.fields["tare"]  # type: ignore[attr-defined]
            tare.put("a feather")
            tare.commit()

    def open_page(self, title: str) -> None:
        """Open a page by its title, or at a part of it: `Price lists/zone chart`."""
        title, _, part = title.partition("/")
        for name, word in self.words.items():
            word.setChecked(name == title)
        self._titles.ensureWidgetVisible(self.words[title], 0, 0)
        page = self.page_of(title)
        self.stack.setCurrentWidget(page)
        if part:
            page.show_part(part)

    def page_of(self, title: str) -> Page:
        """Return the page with that title, made now if it wasn't opened before."""
        if title not in self._pages:
            page = self._pages[title] = dict(PAGES)[title](self.desk)
            self.stack.addWidget(page)
            page.refresh()
        return self._pages[title]

    def turn(self, by: int) -> None:
        """Go forward or back by a number of pages."""
        titles = [title for title, _make in PAGES]
        place = titles.index(self.page.name)
        self._open(titles[(place + by) % len(titles)])

    def add(self) -> None:
        """Add a record on pages that have several."""
        add = getattr(self.page, "add", None)
        if add is not None:
            add()

    def arrive(self) -> None:
        """Put the focus where work continues."""
        self.page.arrive()

    def _open(self, title: str, _checked: bool = False) -> None:
        self.open_page(title)
        self.page.arrive()


def build(desk: Desk) -> Screen:
    """Make the screen."""
    return SetupView(desk)
