"""Above the table: statuses with counts, issues, the mailing date, and the find field."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from PySide6.QtCore import QDate, QLocale, QSignalBlocker, Signal
from PySide6.QtWidgets import QComboBox, QDateEdit, QLineEdit, QPushButton, QVBoxLayout, QWidget

from desk.domain.status import PieceStatus
from desk.session.words.figures import day_pattern, number_in_words, system_locale
from desk.session.words.issue_names import issue_name
from desk.session.words.statuses import status_name
from desk.ui.batch.pieces.model import PieceFilter
from desk.ui.kit import type as typeface
from desk.ui.kit.words import Word
from desk.ui.kit.wrapping import FlowLayout, labeled


class FilterBar(QWidget):
    """Filters for the table, and the mailing date."""

    wanted_changed = Signal(object)  # PieceFilter
    date_changed = Signal(object)  # date
    entered = Signal()  # Enter in the find field
    import_asked = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._stands: PieceStatus | None = None
        self._is_quiet = False
        self._words: dict[PieceStatus | None, Word] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        self._line_of_words = QWidget()
        self._line_of_words.setLayout(self._build_words())
        column.addWidget(self._line_of_words)
        column.addLayout(self._build_fields())

    def _build_words(self) -> FlowLayout:
        line = FlowLayout(gap=4)
        for status in (None, *PieceStatus):
            word = Word("", typeface.BODY)
            word.setCheckable(True)
            word.setChecked(status is None)
            word.clicked.connect(lambda _checked=False, status=status: self.want_statuses(status))
            self._words[status] = word
            line.addWidget(word)
        return line

    def _build_fields(self) -> FlowLayout:
        self.search = QLineEdit()
        self.search.setClearButtonEnabled(True)
        self.search.setPlaceholderText("Number, name, city or item")
        self.search.setMinimumWidth(round(220 * typeface.scale()))
        self.search.textChanged.connect(self._tell)
        self.search.returnPressed.connect(self.entered)
        self.code = QComboBox()
        self.code.setMinimumContentsLength(16)
        self.code.currentIndexChanged.connect(self._tell)
        self.date = QDateEdit()
        self.date.setCalendarPopup(True)
        self.date.setLocale(QLocale(system_locale()))
        self.date.setDisplayFormat(day_pattern().replace("y", "yyyy"))  # CLDR writes the whole year as y
        self.date.editingFinished.connect(self._tell_date)
        import_orders = QPushButton("Import orders…")
        import_orders.setAccessibleName(import_orders.text())
        import_orders.clicked.connect(self.import_asked)
        line = FlowLayout(gap=12)
        line.addWidget(labeled("&Find", self.search, grows=True))
        self._folds = (labeled("&Issue", self.code), labeled("Mailing &date", self.date), import_orders)
        for part in self._folds:
            line.addWidget(part)
        return line

    def fold(self, folded: bool) -> None:
        """Hide everything except the find field where the table needs the room; the keys still work."""
        for part in (self._line_of_words, *self._folds):
            part.setVisible(not folded)

    def show_counts(self, status: Mapping[PieceStatus, int], codes: Mapping[str, int]) -> None:
        """Show the number of pieces by status and by issue."""
        self._words[None].say(
            f"In progress {number_in_words(sum(status.values()) - status.get(PieceStatus.HANDED_OVER, 0))}"
        )
        for one in PieceStatus:
            word, count = self._words[one], status.get(one, 0)
            word.say(f"{status_name(one).capitalize()} {number_in_words(count)}")
            word.setVisible(bool(count) or one is self._stands)
        self._list_codes(codes)

    def show_date(self, on: date) -> None:
        """Show the mailing date."""
        with QSignalBlocker(self.date):
            self.date.setDate(QDate(on.year, on.month, on.day))

    def want_statuses(self, status: PieceStatus | None) -> None:
        """Show pieces with these statuses; None: any."""
        self._stands = status
        for key, word in self._words.items():
            word.setChecked(key is status)
        self._tell()

    def next_status(self) -> PieceStatus | None:
        """Return the status after the chosen one, among those shown."""
        visible = [status for status, word in self._words.items() if not word.isHidden()]
        return visible[(visible.index(self._stands) + 1) % len(visible)]

    def want_only(self, status: PieceStatus | None) -> None:
        """Show pieces with these statuses and clear every other filter; None: all pieces."""
        self._is_quiet = True  # one signal, not three; the field's own clear button must still see it
        self.search.clear()
        self.code.setCurrentIndex(0)
        self._is_quiet = False
        self.want_statuses(status)

    @property
    def wanted(self) -> PieceFilter:
        """Return the current filter."""
        return PieceFilter(self._stands, self.code.currentData() or "", self.search.text().strip())

    def _list_codes(self, codes: Mapping[str, int]) -> None:
        chosen = self.code.currentData() or ""
        with QSignalBlocker(self.code):
            self.code.clear()
            self.code.addItem("any", "")
            for code in sorted({*codes, *filter(None, [chosen])}, key=issue_name):
                self.code.addItem(f"{issue_name(code)} ({codes.get(code, 0)})", code)
            self.code.setCurrentIndex(max(0, self.code.findData(chosen)))

    def _tell(self) -> None:
        if not self._is_quiet:
            self.wanted_changed.emit(self.wanted)

    def _tell_date(self) -> None:
        chosen = self.date.date()
        self.date_changed.emit(date(chosen.year(), chosen.month(), chosen.day()))
