"""The import preview: what each column is, what can't be read, what the import would do. Only Enter imports."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import Unreadable
from desk.domain.severity import Severity
from desk.session.importing import import_table
from desk.session.importing.columns import accepted, as_field, exchanged, skipped
from desk.session.importing.preview import Preview
from desk.session.unfinished import WorkKind, begin, end
from desk.session.words.figures import counted
from desk.ui.batch.importing.column_line import ColumnLine
from desk.ui.batch.importing.column_table import ColumnTable
from desk.ui.batch.importing.difference_rows import WhatItDoes
from desk.ui.batch.importing.import_words import does_words, fault_words, remarks, shortened, taken_words
from desk.ui.batch.importing.mapping_line import MappingLine
from desk.ui.batch.importing.reading_choices import ReadingChoicesBar
from desk.ui.batch.importing.table_reader import TableReader
from desk.ui.bridge import Desk, Event
from desk.ui.kit import type as typeface
from desk.ui.kit.form import Scrolled
from desk.ui.kit.plain import PlainLabel


class ImportOrdersPanel(QWidget):
    """The preview of one table. `ended` when it was imported or canceled."""

    ended = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._source: import_table.Source | None = None
        self._opened: import_table.OpenedTable | None = None
        self._outcome: import_table.ImportEffect | None = None
        self._name = ""
        self._header: tuple[str, ...] = ()
        self.reader = TableReader(desk)
        self.choices, self.kept, self.lines = ReadingChoicesBar(), MappingLine(desk), WhatItDoes()
        self.columns = ColumnTable()
        self._heading, self._sentences, self._does = PlainLabel(), PlainLabel(), PlainLabel()
        self._heading.setFont(typeface.font(typeface.HEAD, bold=True))
        for label in (self._heading, self._sentences, self._does):
            label.setWordWrap(True)
        self._parts = (
            self.choices,
            self._sentences,
            self.columns,
            ColumnLine(self.columns),
            self._does,
            self.lines,
            self.kept,
        )
        self._page = Scrolled("Table to import", self._heading, *self._parts)
        self._page.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        column.addWidget(self._page, 1)
        column.addLayout(self._build_foot())
        self._connect()

    def _build_foot(self) -> QHBoxLayout:
        self._bar = QProgressBar()
        self._bar.setAccessibleName("Reading progress")
        self._bar.hide()
        self._import_button = QPushButton("Import")
        self._cancel_button = QPushButton()
        line = QHBoxLayout()
        line.addWidget(self._bar, 1)
        line.addStretch(1)
        for button, slot in ((self._import_button, self.import_list), (self._cancel_button, self.leave)):
            button.setAccessibleName(button.text())
            button.clicked.connect(lambda _checked=False, slot=slot: slot())
            line.addWidget(button)
        self._show_work()
        return line

    def _connect(self) -> None:
        self.reader.opened.connect(self._show)
        self.reader.compared.connect(self._show_outcome)
        self.reader.failed.connect(self._fail)
        self.reader.worked.connect(self._show_work)
        self.reader.advanced.connect(self._show_progress)
        self.choices.changed.connect(self._open_again)
        self.kept.chosen.connect(self._read_by)
        self.kept.prefixed.connect(lambda prefix: self._read_by(replace(self.choices.mapping, prefix=prefix)))
        self.columns.said.connect(lambda place, ours: self._say(as_field, place, ours))
        self.columns.accepted.connect(self._accept)
        self.columns.rest_skipped.connect(lambda: self._say(skipped))
        self.columns.exchanged.connect(lambda one, other: self._say(exchanged, one, other))
        self.lines.entered_row.connect(lambda _row: self.import_list())

    @property
    def preview(self) -> Preview | None:
        """The preview shown now."""
        return self._opened.preview if self._opened else None

    @property
    def outcome(self) -> import_table.ImportEffect | None:
        """What the import would do; None until it is known."""
        return self._outcome

    @property
    def is_busy(self) -> bool:
        """True while the table is being read."""
        return self.reader.is_busy

    def look_into(self, source: import_table.Source, kind: str = "") -> None:
        """Preview a table; a file that is not a table is reported and the panel closes."""
        self.reader.forget()
        self._source, self._opened, self._header = source, None, ()
        self._name = source.name if isinstance(source, import_table.Pasted) else source.stem
        self._heading.setText(source.name)
        self.choices.mapping = import_table.ColumnMapping()
        self.kept.begin(self._name)
        self._show_outcome(None)
        for part in self._parts:
            part.hide()
        self.reader.open_list(source, self.choices.mapping, kind)

    def import_list(self) -> None:
        """Import new records and accepted changes, and save the mapping used."""
        outcome, opened = self._outcome, self._opened
        if outcome is None or opened is None or not self._import_button.isEnabled():
            return
        if opened.kind == import_table.ORDERS:
            self.kept.remember(self.choices.mapping, self._header)
        begin(self._desk.sitting, WorkKind.IMPORTING, self._name)
        done = self._desk.do_quietly(import_table.take, outcome, frozenset(self.lines.accepted))
        end(self._desk.sitting, WorkKind.IMPORTING)
        if done is None:  # something changed meanwhile, and a message explained it
            self._show_outcome(None)
            self.reader.compare(self.choices.mapping)
            return
        self._desk.happened.emit(Event(taken_words(outcome, done), undo=done.is_something))
        self._end()

    def leave(self) -> None:
        """Stop reading, and import nothing."""
        words = "Stopped. Nothing was imported." if self.reader.is_busy else "Nothing was imported."
        self._desk.happened.emit(Event(words, Severity.NOTE))
        self._end()

    def arrive(self) -> None:
        """Put the focus on the next step: an open question, a column without a type, or the Import button."""
        if self.choices.ask_first():
            return
        preview = self.preview
        asks = preview is not None and bool(
            preview.missing or preview.faults or preview.suggestions or preview.unsettled
        )
        if asks and self.columns.isVisible():
            self.columns.setFocus()
        else:
            (self._import_button if self._import_button.isEnabled() else self._cancel_button).setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.leave() if self._cancel_button.hasFocus() else self.import_list()
        else:
            super().keyPressEvent(event)

    def _open_again(self) -> None:
        """Preview the table again with the current choices."""
        self._show_outcome(None)
        if self._source is not None:
            self.reader.open_list(self._source, self.choices.mapping, self.choices.kind)

    def _read_by(self, mapping: import_table.ColumnMapping) -> None:
        if mapping != self.choices.mapping:
            self.choices.mapping = mapping
            self._open_again()

    def _say(self, change: Callable[..., import_table.ColumnMapping], *words: object) -> None:
        """Change what columns are read as, by a change of the mapping."""
        self._read_by(change(self.choices.mapping, self.columns.columns, *words))

    def _accept(self, places: list[int] | None) -> None:
        """Accept these suggestions, or all of them and those that become likely."""
        if places is not None:
            self._say(accepted, places)
        elif self._opened is not None:
            self._read_by(import_table.accept_suggestions(self._opened, self.choices.mapping, self.reader.rules()))

    def _show(self, opened: import_table.OpenedTable) -> None:
        """Show a table; the first time, apply the mapping saved for its header row."""
        is_first = not self._header
        if is_first:
            self._header = opened.preview.header
            self.choices.show_table(opened)
            if known := self.kept.found_for(opened):
                self._read_by(known)
                return
        is_new = self._opened is None
        self._opened = opened
        self._show_parts(opened)
        if opened.can_be_read:
            self.reader.compare(self.choices.mapping)
        if is_new or not self.columns.isVisible() or self.columns.hasFocus():
            self.arrive()

    def _show_parts(self, opened: import_table.OpenedTable) -> None:
        preview = opened.preview
        self._heading.setText(f"{preview.path.name}: {counted(preview.count, 'row')}")
        for part in self._parts:
            part.setVisible(part is not self.lines)
        self.choices.show_table(opened, self.reader.rules().countries.labels)
        self.kept.setVisible(opened.kind == import_table.ORDERS)
        self.kept.show_said(self.choices.mapping)
        self.columns.show_table(opened)
        self._tell(remarks(preview))

    def _show_outcome(self, outcome: import_table.ImportEffect | None) -> None:
        self._outcome = outcome
        focused = self.window().focusWidget()  # also while another window is in front
        waited = focused is self._cancel_button or (focused is self.columns and outcome is not None)
        self._import_button.setEnabled(outcome is not None)
        self.lines.show_outcome(outcome)
        self._does.setText(does_words(outcome) if outcome else "")
        self._does.setVisible(outcome is not None)
        if outcome is not None and waited:
            self.arrive()

    def _fail(self, error: Exception) -> None:
        if not isinstance(error, Unreadable):
            raise error
        if self._opened is None:
            self._desk.happened.emit(Event(error.sentence, Severity.STOP))
            if self._header:  # try without the saved mapping, which may name a sheet that is not there
                self.choices.mapping = import_table.ColumnMapping()
                self.kept.begin(self._name)
                self._open_again()
            else:
                self._end()
            return
        self._tell(shortened(fault_words(error.faults)))
        self._desk.happened.emit(Event("This file can't be imported yet. See what is wrong above.", Severity.STOP))

    def _tell(self, lines: list[str]) -> None:
        self._sentences.setText("\n".join(lines))
        self._sentences.setVisible(bool(lines))

    def _show_work(self) -> None:
        works = self.reader.is_busy
        self._bar.setVisible(works)
        self._bar.setRange(0, 0)
        words = "Stop" if works else "Cancel"
        self._cancel_button.setText(words)
        self._cancel_button.setAccessibleName(words)

    def _show_progress(self, done: int, of: int) -> None:
        self._bar.setRange(0, of)
        self._bar.setValue(done)

    def _end(self) -> None:
        """Forget the table."""
        self.reader.forget()
        self._source = self._opened = self._outcome = None
        self.ended.emit()
