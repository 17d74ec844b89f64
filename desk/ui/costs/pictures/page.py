"""The page of pictures: where packages go, what they weigh, and paid against estimated; each with its table."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QStackedWidget, QWidget

from desk.domain.exact import short
from desk.domain.ledger import GroupBy
from desk.session.money import pictures
from desk.session.money.books import years_with_money
from desk.session.setup.shop_texts import all_services
from desk.session.words.figures import amount_words, share_in_words
from desk.session.words.services import service_words
from desk.ui.bridge import Desk
from desk.ui.costs.parts import fill_choices, lay_out
from desk.ui.costs.pictures.bar_list import BarList
from desk.ui.costs.pictures.paid_chart import PaidChart
from desk.ui.costs.pictures.picture import Picture
from desk.ui.costs.pictures.spread_chart import SpreadChart
from desk.ui.costs.pictures.tile_map import TileMap
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.rows import TextRows
from desk.ui.kit.table import PlainTable
from desk.ui.kit.wrapping import FlowLayout, labeled

STATES, COUNTRIES, WEIGHTS, PAID = "States", "Countries", "Weights and price steps", "Paid against estimated"
BOTH_FROM = 900  # pixels at 100%: narrower pages show the picture or its table
COLUMNS: Mapping[str, tuple[str, ...]] = {
    STATES: ("State", "Packages", "Share", ""),
    COUNTRIES: ("Country", "Packages", "Share", ""),
    WEIGHTS: ("Up to", "Price", "Packages", ""),
    PAID: ("Service", "Packages", "Estimated", "Paid"),
}


class PicturesPage(QWidget):
    """One picture at a time, of one year; the weights are those of the packages weighed last."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self._table_alone = False
        self.map, self.bars = TileMap(), BarList("Packages by country")
        self.spread, self.paid = SpreadChart(), PaidChart()
        self.pictures: Mapping[str, Picture] = {
            STATES: self.map,
            COUNTRIES: self.bars,
            WEIGHTS: self.spread,
            PAID: self.paid,
        }
        self.words = Inked()
        self.words.setWordWrap(True)
        self.model = TextRows(COLUMNS[STATES], (1, 2, 3))
        self.table = PlainTable("Figures of this picture")
        self.table.setModel(self.model)
        self.table.set_widths((190, 90, 90, 90), grows=(0,))
        self.stack = QStackedWidget()
        for picture in self.pictures.values():
            self.stack.addWidget(picture)
        self.nothing = EmptyView("Nothing to draw yet", "Pictures appear here when packages are handed over.")
        self.beside = QWidget()
        row = QHBoxLayout(self.beside)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(16)
        row.addWidget(self.stack, 3)
        row.addWidget(self.table, 2)
        parts = (self._build_choices(), self.words, self.beside, self.nothing)
        lay_out(self, "Pictures", parts, self.beside)

    def _build_choices(self) -> QWidget:
        self.which, self.year, self.service = QComboBox(), QComboBox(), QComboBox()
        self.which.addItems(list(self.pictures))
        for box in (self.which, self.year, self.service):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
            box.currentIndexChanged.connect(lambda _place: self.show_picture())
        self.swap = QPushButton("&Show as a table")
        self.swap.setAccessibleName("Show as a table")
        self.swap.clicked.connect(lambda _checked=False: self.swap_table())
        choices = QWidget()
        line = FlowLayout(choices)
        line.addWidget(labeled("&Picture", self.which))
        self.year_choice, self.service_choice = labeled("&Year", self.year), labeled("Ser&vice", self.service)
        for part in (self.year_choice, self.service_choice, self.swap):
            line.addWidget(part)
        return choices

    def refresh(self) -> None:
        """Read the years and services there are, and draw again; the choices stay."""
        services = pictures.services_weighed(self.desk.pile)
        fill_choices(self.year, [(year, str(year)) for year in years_with_money(self.desk.sitting)])
        named = dict(all_services(self.desk.sitting.rulebook))
        fill_choices(self.service, [(one, named.get(one, one)) for one in services])
        self.show_picture()

    def show_picture(self) -> None:
        """Draw the chosen picture and fill its table."""
        name = self.which.currentText()
        draw: Mapping[str, Callable[[], str]] = {
            STATES: self._draw_states,
            COUNTRIES: self._draw_countries,
            WEIGHTS: self._draw_weights,
            PAID: self._draw_paid,
        }
        self.model.name_columns(COLUMNS[name])
        words = draw[name]()
        self.words.setText(words)
        self.stack.setCurrentWidget(self.pictures[name])
        self.year_choice.setVisible(name != WEIGHTS)
        self.service_choice.setVisible(name == WEIGHTS)
        for part in (self.words, self.beside):
            part.setVisible(bool(words))
        self.nothing.setVisible(not words)
        self._share_room()

    def swap_table(self) -> None:
        """Show the table instead of the picture, or the picture again, where there is no room for both."""
        self._table_alone = not self._table_alone
        self._share_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_room()

    def _share_room(self) -> None:
        both = self.width() >= BOTH_FROM * typeface.scale()
        self.stack.setVisible(both or not self._table_alone)
        self.table.setVisible(both or self._table_alone)
        self.swap.setText("&Show as a picture" if self._table_alone else "&Show as a table")
        self.swap.setAccessibleName(self.swap.text().replace("&", ""))
        self.swap.setVisible(not both and not self.beside.isHidden())

    @property
    def _span(self) -> tuple[date, date]:
        year = self.year.currentData() or date.max.year
        return date(year, 1, 1), date(year, 12, 31)

    @property
    def _currency(self) -> str:
        return self.desk.pile.terms.shop.policy.currency

    def _draw_states(self) -> str:
        places = pictures.places(self.desk.sitting, GroupBy.STATE, self._span, self._currency)
        words = pictures.place_words(places, "state", "states")
        self.map.show_counts({place.code: place.count for place in places}, words)
        self._list_places(places)
        return words

    def _draw_countries(self) -> str:
        places = pictures.places(self.desk.sitting, GroupBy.COUNTRY, self._span, self._currency)
        words = pictures.place_words(places, "country", "countries")
        self.bars.show_bars([(place.name, place.count) for place in places], words)
        self._list_places(places)
        return words

    def _list_places(self, places: tuple[pictures.PlaceCount, ...]) -> None:
        self.model.show_rows([(place.name, str(place.count), share_in_words(place.share, 1), "") for place in places])

    def _draw_weights(self) -> str:
        spread = pictures.weight_spread(self.desk.pile, self.service.currentData() or "")
        words = pictures.spread_words(spread)
        self.spread.show_spread(spread, words)
        rows = [(f"{short(step.to)} oz", amount_words(step.price), str(step.count), "") for step in spread.steps]
        self.model.show_rows(rows)
        return words

    def _draw_paid(self) -> str:
        points = pictures.paid_points(self.desk.sitting, self._span, self._currency)
        lines = pictures.paid_lines(points)
        words = pictures.paid_words(lines)
        self.paid.show_points([(one.estimated, one.paid) for one in points], self._currency, words)
        amounts = [(amount_words(line.estimated), amount_words(line.paid)) for line in lines]
        rows = zip(lines, amounts, strict=True)
        self.model.show_rows([(service_words(line.service), str(line.packages), *sums) for line, sums in rows])
        return words
