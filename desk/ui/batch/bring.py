"""Bring a table: its first rows under our names, what cannot be read, what it would do; taken in by Enter, not before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from desk.domain.faults import Unreadable
from desk.session import bring
from desk.session.mappings import mapping_for, save_mapping
from desk.session.preview import Preview
from desk.ui.batch.bring_choices import BringChoices, can_be_saved
from desk.ui.batch.bring_rows import FirstRows, WhatItDoes
from desk.ui.batch.bring_words import remarks
from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Cancelled, Job, Progress
from desk.ui.kit import type as typeface
from desk.ui.kit.form import Scrolled

MOST_REMARKS = 12


class BringPanel(QWidget):
    """The preview of one table. `ended` when it was taken in or left alone."""

    ended = Signal()
    compared = Signal()  # it is known what taking it in would do

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._source: bring.Source | None = None
        self._looked: bring.Looked | None = None
        self._outcome: bring.Outcome | None = None
        self._header: tuple[str, ...] = ()
        self._saved = bring.ColumnMapping()
        self._job: Job | None = None
        self._heading, self._told, self._does = QLabel(), QLabel(), QLabel()
        self._heading.setFont(typeface.font(typeface.HEAD, bold=True))
        self.choices, self.rows, self.lines = BringChoices(), FirstRows(), WhatItDoes()
        for label in (self._told, self._does):
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
        parts = (self._heading, self.choices, self._told, self.rows, self._does, self.lines)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 8)
        page = Scrolled(self.tr("The table that is brought"), *parts)
        page.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column.addWidget(page, 1)
        column.addLayout(self._build_foot())
        self.choices.changed.connect(self._look)
        self.lines.entered_row.connect(lambda _row: self.take_in())
        desk.closing.connect(self.stop)

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
        ways = (
            (self._accept, self._accept_offered),
            (self._take_button, self.take_in),
            (self._leave_button, self.leave),
        )
        for button, slot in ways:
            button.setAccessibleName(button.text())
            button.clicked.connect(slot)
            line.addWidget(button)
        return line

    @property
    def preview(self) -> Preview | None:
        """What is shown now."""
        return self._looked.preview if self._looked else None

    @property
    def outcome(self) -> bring.Outcome | None:
        """What taking it in would do; None until that is known."""
        return self._outcome

    @property
    def is_busy(self) -> bool:
        """True while the table is being read."""
        return self._job is not None

    def look_into(self, source: bring.Source) -> bool:
        """Show the first rows of a table; False when it is none at all, and then that is said."""
        self.stop()
        self._source, self._looked, self._saved = source, None, bring.ColumnMapping()
        name = source.name if isinstance(source, bring.Pasted) else source.stem
        self.choices.begin(self._saved, name)
        if not self._look(fresh=True) or self._looked is None:
            return False
        self._header = self._looked.preview.header
        known = mapping_for(self._desk.sitting, self._header) if can_be_saved(self._looked.kind) else None
        if known is not None:
            self._saved = known.mapping
            self.choices.begin(known.mapping, name)
            self._look()
        return True

    def take_in(self) -> None:
        """Take in what is new and what was accepted, and remember how the table was read."""
        if self._outcome is None or not self._take_button.isEnabled():
            return
        self._remember()
        done = self._desk.do_quietly(bring.take, self._outcome, frozenset(self.lines.accepted))
        if done is None:
            self._compare_again()
            return
        left = len(self._outcome.changed) - done.changed
        said = self.tr("Taken in: {new} new, {changed} changed, {same} as before.")
        words = said.format(new=done.new, changed=done.changed, same=self._outcome.same)
        if left:
            words += " " + self.tr("{count} changes left as they were.").format(count=left)
        if done.set_aside:
            words += " " + self.tr("{count} cancelled, set aside.").format(count=done.set_aside)
        self._desk.happened.emit(Event(words, undo=bool(done.new or done.changed or done.set_aside)))
        self.ended.emit()

    def leave(self) -> None:
        """Stop reading, or leave the table alone."""
        if self._job is None:
            self.ended.emit()
            return
        self.stop()
        self._desk.happened.emit(Event(self.tr("Stopped; nothing was taken in."), "note"))
        self.ended.emit()

    def stop(self) -> None:
        """Stop reading; whatever the thread still finds is dropped."""
        if self._job is not None:
            self._job.blockSignals(True)
            self._job.cancel()
            self._end_job()

    def arrive(self) -> None:
        """Put the focus on the next step."""
        if not self.choices.ask_first():
            (self._take_button if self._take_button.isEnabled() else self._leave_button).setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.leave() if self._leave_button.hasFocus() else self.take_in()
        else:
            super().keyPressEvent(event)

    def _look(self, *, fresh: bool = False) -> bool:
        self.stop()
        kind = "" if fresh else self.choices.kind
        currency = self._desk.pile.terms.shop.policy.currency
        try:
            assert self._source is not None
            looked = bring.look(self._source, self.choices.mapping, kind, currency)
        except Unreadable as unreadable:
            self._desk.happened.emit(Event(unreadable.sentence, "stop"))
            return False
        self._looked = looked
        found = looked.preview
        self._heading.setText(self.tr("{file}: {count} rows").format(file=found.path.name, count=found.count))
        self.choices.show_table(looked)
        self.rows.show_table(looked)
        self._accept.setVisible(bool(set(found.offered) & set(found.missing or found.offered)))
        self._told.setText("\n".join(remarks(found, self.tr)[:MOST_REMARKS]))
        self._show_outcome(None)
        if looked.can_be_read:
            self._read(looked.kind)
        return True

    def _read(self, kind: str) -> None:
        source, mapping, terms = self._source, self.choices.mapping, self._desk.pile.terms
        assert source is not None
        if kind != bring.ORDERS:
            self._compare(lambda: bring.compare_shelf(self._desk.sitting, source, kind, mapping))
            return

        def work(progress: Progress, cancelled: Cancelled) -> object:
            progress(0, 0)
            return bring.read_list(source, terms, mapping, bring.Watch(progress, cancelled))

        self._job = Job(work, self)
        self._job.advanced.connect(self._show_progress)
        self._job.done.connect(self._compare_read)
        self._job.failed.connect(self._tell_failure)
        self._show_work(True)
        self._job.start()

    def _show_progress(self, done: int, of: int) -> None:
        self._bar.setRange(0, of)
        self._bar.setValue(done)

    def _show_work(self, works: bool) -> None:
        self._bar.setVisible(works)
        self._leave_button.setText(self.tr("Cancel") if works else self.tr("Leave it"))

    def _compare_read(self, read: bring.OrdersFile | None) -> None:
        self._end_job()
        if read is not None:
            self._compare(lambda: bring.compare_list(self._desk.sitting, read))

    def _compare(self, compare: Callable[[], bring.Outcome]) -> None:
        try:
            self._show_outcome(compare())
        except Unreadable as unreadable:
            self._tell_failure(unreadable)
        self.compared.emit()

    def _compare_again(self) -> None:
        if self._looked is not None:
            self._read(self._looked.kind)

    def _show_outcome(self, outcome: bring.Outcome | None) -> None:
        self._outcome = outcome
        had_focus = self._leave_button.hasFocus()
        self._take_button.setEnabled(outcome is not None)
        self.lines.show_outcome(outcome)
        said = ""
        if outcome is not None:
            words = self.tr("{new} new, {same} the same, {changed} changed.")
            said = words.format(new=outcome.new, same=outcome.same, changed=len(outcome.changed))
            if outcome.changed:
                said += " " + self.tr("Space accepts a change, A all of them; what is not accepted stays as it was.")
            if had_focus:
                self.arrive()
        self._does.setText(said)

    def _tell_failure(self, error: Exception) -> None:
        self._end_job()
        if not isinstance(error, Unreadable):
            raise error
        faults = [str(fault) for fault in error.faults]
        more = len(faults) - MOST_REMARKS
        told = faults[:MOST_REMARKS] + ([self.tr("And {count} more.").format(count=more)] if more > 0 else [])
        self._told.setText("\n".join(told))
        self._desk.happened.emit(Event(self.tr("Nothing can be taken in: the file has faults."), "stop"))

    def _end_job(self) -> None:
        self._job = None
        self._show_work(False)

    def _accept_offered(self) -> None:
        if self._looked is not None:
            found = self._looked.preview
            wanted = found.missing or tuple(found.offered)
            taken = {field: header for field, header in found.offered.items() if field in wanted}
            columns = {**self.choices.mapping.columns, **taken}
            self.choices.mapping = replace(self.choices.mapping, columns=columns)
            self._look()
            self.arrive()

    def _remember(self) -> None:
        """Keep the mapping by its name for this header row, when the person said anything; a step before the other."""
        said = replace(self.choices.mapping, name=self.choices.name.text().strip())
        nothing = replace(said, name="") == bring.ColumnMapping()
        if self._looked is None or not can_be_saved(self._looked.kind) or nothing or said == self._saved:
            return
        self._desk.do_quietly(save_mapping, said.name, said, self._header)
