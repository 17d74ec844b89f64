"""A page with several records of a kind: their names at the left, the selected one as a form at the right."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QSignalBlocker, QSize, Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QListWidget, QPushButton, QVBoxLayout, QWidget

from desk.session.learned.past_readings import PastReading, readings_in_words
from desk.session.learned.weights_learned import LearnedWeight
from desk.session.setup.change_shop import FieldFault
from desk.ui.bridge import Desk
from desk.ui.kit import type as typeface
from desk.ui.kit.card import Inked
from desk.ui.kit.empty import EmptyView
from desk.ui.kit.fields.choice_fields import ONE_COLUMN_FROM
from desk.ui.kit.fields.field import FieldValue
from desk.ui.kit.files import file_to_open
from desk.ui.kit.form import Form, Scrolled, keep
from desk.ui.kit.plain import set_tip
from desk.ui.setup.page import Page
from desk.ui.setup.readings_chart import ReadingsChart

LIST_WIDTH, LOWEST, ROW = 200, 66, 30
TABLES = "Tables (*.csv *.tsv *.txt *.xlsx *.ods)"


class RecordsPage(Page):
    """The base of such pages; the index in the list is the index in the shop."""

    kind = ""  # the kind of list that can be imported here (see `desk.session.importing.import_table`); empty: none

    def __init__(self, desk: Desk, name: str, form: Form, empty: str) -> None:
        super().__init__(desk, name)
        self.form = form
        self.list = QListWidget()
        self.list.setAccessibleName(name)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.add_button = QPushButton("Add")
        self.add_button.setAccessibleName(f"Add to {name.lower()}")
        self.remove_button = QPushButton("Remove")
        self.remove_button.setAccessibleName("Remove")
        self.take_button = QPushButton("Import a list…")
        self.take_button.setAccessibleName(f"Import a list of {name.lower()}")
        self.nothing = EmptyView(name, empty)
        self.scrolled = Scrolled(name, form)
        self.scrolled.setFocusPolicy(Qt.FocusPolicy.NoFocus)  # focused fields scroll into view
        self.learned, self.use_button = Inked(role="soft_ink"), QPushButton("Use this weight")
        self.use_button.setAccessibleName("Use this weight")
        self.learned.setWordWrap(True)
        self.chart = ReadingsChart()
        self._shown: int | None = None
        self._build()
        self._connect()

    def _build(self) -> None:
        self._chosen = self._build_chosen()
        for part in (self.list, self._chosen, self.nothing, self.add_button, self.remove_button, self.take_button):
            part.setParent(self)  # the Tab order: from the list into the fields, then the buttons
        large = typeface.scale() >= ONE_COLUMN_FROM
        buttons = QVBoxLayout() if large else QHBoxLayout()
        buttons.setSpacing(6)
        buttons.addWidget(self.add_button)
        buttons.addWidget(self.remove_button)
        left = QHBoxLayout() if large else QVBoxLayout()
        left.addWidget(self.list, 1)
        left.addLayout(buttons)
        (buttons if large else left).addWidget(self.take_button)
        if large:
            buttons.addStretch(1)
            self.list.setFixedHeight(round(LOWEST * typeface.scale()))
        else:
            self.list.setFixedWidth(round(LIST_WIDTH * typeface.scale()))
            left.addStretch()  # keeps the buttons at the top while the list is hidden
        line = QVBoxLayout(self) if large else QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 8)
        line.setSpacing(12 if large else 24)
        line.addLayout(left)
        line.addWidget(self._chosen, 1)
        line.addWidget(self.nothing, 1)
        self.take_button.setVisible(bool(self.kind))

    def _build_chosen(self) -> QWidget:
        """Return the selected record: its learned weight, and its fields."""
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 0, 0, 0)
        above = QHBoxLayout()
        above.addWidget(self.learned, 1)
        above.addWidget(self.use_button)
        column.addLayout(above)
        column.addWidget(self.chart)
        column.addWidget(self.scrolled, 1)
        return made

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(self._choose)
        self.list.itemActivated.connect(lambda _item: self._enter_form())
        self.form.left.connect(self._keep)
        self.add_button.clicked.connect(lambda _checked=False: self.add())
        self.remove_button.clicked.connect(lambda _checked=False: self.remove())
        self.take_button.clicked.connect(lambda _checked=False: self.ask_for_list())
        self.use_button.clicked.connect(lambda _checked=False: self._use_learned())

    @property
    def place(self) -> int:
        """Return the index of the selected record; -1 when there is none."""
        return self.list.currentRow()

    def names(self) -> Sequence[str]:
        """Return the names in the list."""
        raise NotImplementedError

    def values(self, place: int) -> Mapping[str, FieldValue]:
        """Return the values of the record at an index."""
        raise NotImplementedError

    def save(self, place: int, values: Mapping[str, FieldValue]) -> Sequence[FieldFault] | None:
        """Save the record at an index."""
        raise NotImplementedError

    def add_record(self) -> int | None:
        """Add a record and return its index."""
        raise NotImplementedError

    def remove_record(self, place: int) -> None:
        """Remove the record at an index."""
        raise NotImplementedError

    def refresh(self) -> None:
        """Show the current settings."""
        names = list(self.names())
        place = min(max(self.place, 0), len(names) - 1)
        with QSignalBlocker(self.list):
            if [self.list.item(row).text() for row in range(self.list.count())] != names:
                self.list.clear()
                self.list.addItems(names)
                for row, name in enumerate(names):
                    set_tip(self.list.item(row), name)
                    self.list.item(row).setSizeHint(QSize(0, round(ROW * typeface.scale())))
            self.list.setCurrentRow(place)
        self._show(fresh=self._shown != place)
        self.scrolled.setVisible(bool(names))
        for part in (self.list, self._chosen):
            part.setVisible(bool(names))
        self.nothing.setVisible(not names)
        self.remove_button.setEnabled(bool(names))

    def arrive(self) -> None:
        """Put the focus where work continues."""
        (self.list if self.list.count() else self.add_button).setFocus()

    def add(self) -> None:
        """Add a record and put the focus in its first field."""
        place = self.add_record()
        if place is not None:
            self.list.setCurrentRow(place)
            self._enter_form()

    def _enter_form(self) -> None:
        """Put the focus in the first field, with its text selected."""
        first = next(iter(self.form.fields.values())).editor()
        first.setFocus()
        if hasattr(first, "selectAll"):
            first.selectAll()

    def remove(self) -> None:
        """Remove the selected record; undo restores it."""
        if self.place >= 0:
            self._shown = None
            self.remove_record(self.place)

    def ask_for_list(self) -> None:
        """Ask for a list of such records, and open it in the import preview."""
        if (file := file_to_open(self, self.take_button.accessibleName(), TABLES)) is not None:
            self.desk.table_brought.emit(file, self.kind, self.name)

    def _choose(self, _row: int) -> None:
        self._show(fresh=True)

    def _show(self, *, fresh: bool) -> None:
        self._shown = self.place if self.place >= 0 else None
        if self._shown is None:
            for part in (self.learned, self.use_button):
                part.hide()
            return
        self.form.show_values(self.values(self._shown), fresh=fresh)
        name = self.list.item(self._shown).text()
        self.remove_button.setAccessibleName(f"Remove {name}")
        self._show_learned()

    def learned_at(self, place: int) -> LearnedWeight | None:  # noqa: ARG002 - not every kind is learned
        """Return the learned weight of the record at an index."""
        return None

    def usual_at(self, place: int) -> str:  # noqa: ARG002 - not every kind has one
        """Return a sentence about the usual mailer of the record at an index; empty when none is known."""
        return ""

    def readings_at(self, place: int) -> tuple[PastReading, ...]:  # noqa: ARG002 - not every kind is weighed
        """Return the past readings for the record at an index, oldest first."""
        return ()

    def use_learned(self, place: int, learned: LearnedWeight) -> None:
        """Use the learned weight as the typed one."""

    def _show_learned(self) -> None:
        learned = self.learned_at(self.place)
        readings, unit = self.readings_at(self.place), self.shop.policy.scale_unit
        about = readings_in_words(readings, unit)
        words = " ".join(filter(None, (learned.words if learned else "", self.usual_at(self.place), about)))
        self.learned.setText(words)
        self.learned.setVisible(bool(words))
        self.chart.show_readings(readings, about)
        self.use_button.setVisible(learned is not None and learned.can_be_used)

    def _use_learned(self) -> None:
        if (learned := self.learned_at(self.place)) is not None:
            self.use_learned(self.place, learned)

    def _keep(self, name: str) -> None:
        place = self._shown
        if place is not None and place < len(self.names()):
            keep(self.form, name, lambda values: self.save(place, values))
