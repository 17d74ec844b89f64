"""Bring a file of orders: its first rows under our names, what cannot be read, then take it in beside the window."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QProgressBar,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from desk.domain.faults import Unreadable
from desk.domain.order import Order
from desk.session.preview import Preview, preview_orders, read_orders_of
from desk.session.take_in import take_in_orders
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Cancelled, Job, Progress
from desk.ui.kit import type as typeface

DELIMITERS = {",": "comma", ";": "semicolon", "\t": "tab", "|": "bar"}


class BringPanel(QWidget):
    """The preview of one file. `ended` when it was taken in or left alone."""

    ended = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._path = Path()
        self._mapping: dict[str, str] = {}
        self._preview: Preview | None = None
        self._job: Job | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        self._heading = QLabel()
        self._heading.setFont(typeface.font(typeface.HEAD, bold=True))
        self._told = QLabel()
        self._told.setWordWrap(True)
        self._rows = self._build_rows()
        column.addWidget(self._heading)
        column.addWidget(self._told)
        column.addWidget(self._rows, 1)
        column.addLayout(self._build_foot())
        desk.closing.connect(self.leave)

    def _build_rows(self) -> QTableWidget:
        rows = QTableWidget()
        rows.setAccessibleName(self.tr("The first rows of the file under our names"))
        rows.setEditTriggers(QTableWidget.EditTrigger.NoEditTriggers)
        rows.setTabKeyNavigation(False)
        rows.setWordWrap(False)
        rows.verticalHeader().hide()
        rows.horizontalHeader().setDefaultSectionSize(round(130 * typeface.scale()))
        rows.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        return rows

    def _build_foot(self) -> QHBoxLayout:
        self._bar = QProgressBar()
        self._bar.setAccessibleName(self.tr("How far the reading is"))
        self._bar.hide()
        self._accept = QPushButton(self.tr("Take these headers as meant"))
        self._take_button = QPushButton(self.tr("Take in"))
        self._leave_button = QPushButton(self.tr("Leave it"))
        line = QHBoxLayout()
        line.addWidget(self._bar, 1)
        line.addStretch(1)
        buttons = (
            (self._accept, self._accept_offered),
            (self._take_button, self.take_in),
            (self._leave_button, self.leave),
        )
        for button, slot in buttons:
            button.setAccessibleName(button.text())
            button.clicked.connect(slot)
            line.addWidget(button)
        return line

    @property
    def preview(self) -> Preview | None:
        """What is shown now."""
        return self._preview

    @property
    def is_busy(self) -> bool:
        """True while the file is being read."""
        return self._job is not None

    def look_into(self, path: Path) -> bool:
        """Show the first rows of a file; False when it is no table at all, and then that is said."""
        self._path, self._mapping = path, {}
        return self._look()

    def take_in(self) -> None:
        """Read the whole file beside the window, then take its orders in."""
        path, terms, mapping = self._path, self._desk.pile.terms, dict(self._mapping)

        def work(progress: Progress, cancelled: Cancelled) -> Sequence[Order]:
            progress(0, 0)
            return read_orders_of(path, terms, mapping, cancelled)

        self._show_work(True)
        self._job = Job(work, self)
        self._job.advanced.connect(self._show_progress)
        self._job.done.connect(self._take)
        self._job.failed.connect(self._tell_failure)
        self._job.stopped.connect(self._stop)
        self._job.start()

    def leave(self) -> None:
        """Stop reading, or leave the file alone."""
        if self._job is not None:
            self._job.cancel()
            self._job.wait()
        else:
            self.ended.emit()

    def arrive(self) -> None:
        """Put the focus on the next step."""
        (self._take_button if self._take_button.isEnabled() else self._leave_button).setFocus()

    def _look(self) -> bool:
        try:
            found = preview_orders(self._path, self._mapping)
        except Unreadable as unreadable:
            self._desk.happened.emit(Event(unreadable.sentence, "stop"))
            return False
        self._preview = found
        self._heading.setText(self.tr("{file}: {count} rows").format(file=self._path.name, count=found.count))
        self._told.setText("\n".join(self._remarks(found)))
        self._fill(found)
        self._take_button.setEnabled(not found.faults and not found.missing)
        self._accept.setVisible(bool(found.offered))
        return True

    def _remarks(self, found: Preview) -> list[str]:
        how = ", ".join(filter(None, (found.encoding, DELIMITERS.get(found.delimiter, found.delimiter))))
        said = [self.tr("Read as {how}.").format(how=how)] if how else []
        if found.missing:
            said.append(self.tr("No column yet for: {fields}.").format(fields=", ".join(found.missing)))
        said += [
            self.tr("Perhaps {header} is our {field}.").format(header=header, field=field)
            for field, header in found.offered.items()
        ]
        if found.left_out:
            said.append(self.tr("Not read: {headers}.").format(headers=", ".join(found.left_out)))
        already_said = set(found.missing)
        return said + [str(fault) for fault in found.faults if fault.column not in already_said]

    def _fill(self, found: Preview) -> None:
        rows = self._rows
        rows.clear()
        rows.setColumnCount(len(found.columns))
        rows.setRowCount(len(found.rows))
        heads = [
            ours if ours == theirs else f"{ours}\n({theirs})"
            for ours, theirs in zip(found.columns, found.headers, strict=True)
        ]
        rows.setHorizontalHeaderLabels(heads)
        for down, cells in enumerate(found.rows):
            for across, text in enumerate(cells):
                rows.setItem(down, across, QTableWidgetItem(text))

    def _accept_offered(self) -> None:
        if self._preview is not None:
            self._mapping |= self._preview.offered
            self._look()
            self.arrive()

    def _show_work(self, works: bool) -> None:
        self._bar.setVisible(works)
        self._take_button.setEnabled(not works)
        self._leave_button.setText(self.tr("Cancel") if works else self.tr("Leave it"))

    def _show_progress(self, done: int, of: int) -> None:
        self._bar.setRange(0, of)
        self._bar.setValue(done)

    def _take(self, orders: Sequence[Order]) -> None:
        self._end_job()
        taken = self._desk.do_quietly(take_in_orders, orders)
        if taken is not None:
            said = self.tr("Taken in: {new} new, {changed} changed, {same} as before.")
            words = said.format(new=len(taken.new), changed=len(taken.changed), same=taken.same)
            self._desk.happened.emit(Event(words, undo=bool(taken.new or taken.changed)))
            self.ended.emit()

    def _tell_failure(self, error: Exception) -> None:
        self._end_job()
        if not isinstance(error, Unreadable):
            raise error
        first = [str(fault) for fault in error.faults[:20]]
        more = len(error.faults) - len(first)
        self._told.setText("\n".join([*first, *([self.tr("and {count} more").format(count=more)] if more else [])]))
        self._desk.happened.emit(Event(self.tr("Nothing was taken in: the file has faults."), "stop"))

    def _stop(self) -> None:
        self._end_job()
        self._desk.happened.emit(Event(self.tr("Stopped; nothing was taken in."), "note"))
        self.ended.emit()

    def _end_job(self) -> None:
        self._job = None
        self._show_work(False)
