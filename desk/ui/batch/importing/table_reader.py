"""Read a table in the background: preview its first rows, then compare. It can be stopped."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from desk.session.importing import import_table
from desk.ui.bridge import Desk
from desk.ui.jobs import Canceled, Job, Progress

Watched = Callable[[import_table.Watch], object]
Opened = tuple[
    import_table.Source, import_table.ReadingChoices, str
]  # what affects opening: the same is not read again


class TableReader(QObject):
    """One job at a time; it ends in `opened`, `compared` or `failed`, or silently when stopped."""

    opened = Signal(object)  # import_table.OpenedTable
    compared = Signal(object)  # import_table.ImportEffect
    failed = Signal(object)  # the exception
    worked = Signal()  # it starts or stops working
    advanced = Signal(int, int)  # done, of how many

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._job: Job | None = None
        self._dropped: list[Job] = []
        self._opened: Opened | None = None
        self._found: import_table.OpenedTable | None = None
        desk.closing.connect(self._close)

    @property
    def is_busy(self) -> bool:
        """True while the table is being read."""
        return self._job is not None

    def rules(self) -> import_table.OrderRules:
        """Return how the shop reads an order list."""
        return import_table.order_rules(self._desk.pile.terms, import_table.ColumnMapping())

    def open_list(self, source: import_table.Source, mapping: import_table.ColumnMapping, kind: str = "") -> None:
        """Preview the first rows; `kind` is the chosen kind of table."""
        self.stop()
        opened, rules = (source, mapping.reading, kind), self.rules()
        known = self._found if self._opened == opened else None

        def work(watch: import_table.Watch) -> import_table.OpenedTable:
            if known is not None:
                return import_table.look_up_again(known.sheet, mapping, kind, rules, watch)
            return import_table.open_list(source, mapping, kind, rules, watch)

        def keep(table: import_table.OpenedTable) -> None:
            self._opened, self._found = (source, mapping.reading, table.kind), table
            self.opened.emit(table)

        self._begin(work, keep)

    def compare(self, mapping: import_table.ColumnMapping) -> None:
        """Compare the previewed table with what is saved."""
        self.stop()
        opened, sitting, terms = self._found, self._desk.sitting, self._desk.pile.terms
        if opened is not None:
            self._begin(lambda watch: import_table.compare(sitting, opened, terms, mapping, watch), self.compared.emit)

    def stop(self) -> None:
        """Stop; later results of the thread are dropped."""
        if self._job is not None:
            self._job.blockSignals(True)
            self._job.cancel()
            self._dropped = [job for job in (*self._dropped, self._job) if job.is_running()]
            self._end()

    def forget(self) -> None:
        """Stop and forget the table."""
        self.stop()
        self._opened = self._found = None

    def _begin(self, work: Watched, then: Callable[..., None]) -> None:
        def watched(progress: Progress, canceled: Canceled) -> object:
            return work(import_table.Watch(progress, canceled))

        def end(tell: Callable[..., None], result: object) -> None:
            self._end()
            tell(result)

        self._job = Job(watched, self)
        self._job.advanced.connect(self.advanced)
        self._job.done.connect(lambda result: end(then, result))
        self._job.failed.connect(lambda error: end(self.failed.emit, error))
        self.worked.emit()
        self._job.start()

    def _end(self) -> None:
        self._job = None
        self.worked.emit()

    def _close(self) -> None:
        """Wait for every thread to end, because the store is closing."""
        self.forget()
        for job in self._dropped:
            job.wait()
