"""Wiring: the only module that knows everything. It shows the window first and opens the store right after.

Before the first paint only Qt and our light modules may be imported; a test checks that.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication

from desk.app.background.collecting import collect_in_main_thread
from desk.app.paths import own_store
from desk.domain.resources import resources
from desk.domain.severity import Severity
from desk.ui.kit import type as typeface
from desk.ui.kit.scheme import keep_to_scheme
from desk.ui.window import Window

PLACES = {
    "Batch": "desk.ui.batch.view",
    "Bench": "desk.ui.bench.view",
    "Customs": "desk.ui.customs.view",
    "Papers": "desk.ui.papers.view",
    "Hand-over": "desk.ui.handover.view",
    "Costs": "desk.ui.costs.view",
    "Setup": "desk.ui.setup.view",
}
if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from desk.app.crash import CrashReports
    from desk.app.one_window import OneWindow
    from desk.domain.faults import Refused
    from desk.store.health import Damaged
    from desk.ui.bridge import Desk, OngoingState
    from desk.ui.jobs import Canceled, Job, Progress
    from desk.ui.screen import Screen

DEMO_FLAG, STORE_FLAG = "--demo", "--store"
LOADED_AFTER = ("desk.app.scale", "desk.app.sitting", *PLACES.values())  # after the first paint
# Longest turn of a thread. At most a key waits 54 to 248 ms while they load, 148 to 351 with Python's 0.005
# (scripts/measure/loading, six busy runs each).
TURN_S = 0.001


def open_window(arguments: Sequence[str] = ()) -> int:
    """Show the window, run until it is closed, and return the exit code.

    Without arguments it opens your own store, or the demo if there is none.
    """
    app = QApplication.instance() or QApplication([sys.argv[0]])
    assert isinstance(app, QApplication)
    prepare(app)
    collect_in_main_thread(app)
    where = _asked_for(arguments)
    opening = Opening(Window(words()))
    if not opening.claim(where):
        return 0
    opening.window.painted.connect(lambda: opening.open_soon(where))
    opening.window.fit(app.primaryScreen().availableGeometry())
    opening.window.show()
    code = app.exec()
    opening.close()
    return code


def _asked_for(arguments: Sequence[str]) -> str | Path | None:
    """Return the data to open: what `--store` names, else your own if it exists, else None for the demo."""
    if DEMO_FLAG in arguments:
        return None
    if STORE_FLAG in arguments:
        named = arguments[list(arguments).index(STORE_FLAG) + 1]
        return named if "://" in named else Path(named)
    return own_store() if own_store().exists() else None


def prepare(app: QApplication) -> None:
    """Set the program's name, style, fonts and colors."""
    app.setOrganizationName("tare-and-tag")
    app.setApplicationName("tare-and-tag")
    app.setApplicationDisplayName("Tare & Tag")
    app.setDesktopFileName("tare-and-tag")
    app.setStyle("Fusion")
    typeface.load_fonts(resources() / "fonts")
    app.setFont(typeface.program_font(typeface.system_font()))
    keep_to_scheme(app)


def words() -> tuple[str, ...]:
    """Return the titles of all screens."""
    return tuple(PLACES)


class Opening(QObject):
    """The open store, and switching to another one."""

    def __init__(self, window: Window) -> None:
        super().__init__()
        self.window = window
        self.desk: Desk | None = None
        self._loading: Job | None = None
        self._one: OneWindow | None = None
        self._reports: CrashReports | None = None
        self._has_fonts = False

    def claim(self, where: str | Path | None) -> bool:
        """Become the window of that store; return False when another window has it open and came to the front."""
        if self._one is not None:
            self._one.close()
            self._one = None
        if not isinstance(where, Path):
            return True  # every demo has its own store, and a server is for several benches
        from desk.app.one_window import OneWindow  # the network library is not needed for a demo

        one = OneWindow(where)
        if one.wake_other():
            return False
        one.listen(lambda: self.window.raise_to_front())  # noqa: PLW0108 - there may be another window by then
        self._one = one
        return True

    def open_soon(self, where: str | Path | None) -> None:
        """Load in the background what opening needs, then open. The window takes keys meanwhile."""
        from desk.ui.jobs import Job

        self._loading = Job(_load, self)
        for ended in (self._loading.done, self._loading.failed):  # `open` reports what failed to load
            ended.connect(lambda _result: self.open(where))
        self._loading.start()

    def open(self, where: str | Path | None) -> None:
        """Open that store, or with None the demo in a temporary one."""
        from desk.app.background.day import follow_the_day
        from desk.app.background.follow_benches import follow_others
        from desk.app.background.last_session import report_last_session
        from desk.app.background.low_stock import LowStock
        from desk.app.background.upkeep import Keeping
        from desk.app.background.warm_up import WarmUp
        from desk.app.scale import attach_scale

        self.close()
        self._watch_for_bugs()
        self.desk = self._desk_of(where)
        if self.desk is None:
            return
        attach_scale(self.desk)
        follow_the_day(self.desk)
        if not self._has_fonts:  # once per program run, whichever store is opened first
            self._has_fonts = True
            typeface.load_other_scripts(resources() / "fonts")
        self.desk.store_asked.connect(self._change_over)
        self.desk.copy_chosen.connect(lambda copy: QTimer.singleShot(0, lambda: self.put_back(copy, where)))
        self.desk.look_changed.connect(self._rebuild)
        if self.desk.is_demo:
            self.desk.state("demo", self._demo_state())
        self.window.seat(self.desk, screens_of(self.desk))
        WarmUp(self.desk)
        report_last_session(self.desk)
        follow_others(self.desk)
        Keeping(self.desk)
        LowStock(self.desk)

    def _rebuild(self) -> None:
        """Build the window again, after the click or key that changed the look has been dealt with."""
        from desk.app.rebuild import rebuilt

        def build() -> None:
            if self.desk is not None:
                self.window = rebuilt(self.window, self.desk, words(), screens_of)

        QTimer.singleShot(0, build)

    def _desk_of(self, where: str | Path | None) -> Desk | None:
        """Return the desk of a store; None, with a message, when it can't be opened."""
        from desk.app.sitting import open_demo, open_own  # these import the session, so not before the first paint
        from desk.domain.faults import Fault
        from desk.store.health import Damaged
        from desk.ui.bridge import Event
        from desk.ui.lone_view import show_instead

        try:
            return open_demo() if where is None else open_own(where)
        except Damaged as damaged:
            show_instead(self.window, self._recovery(damaged))
            sentence = damaged.sentence
        except Fault as fault:
            sentence = fault.sentence
        except OSError as error:
            words = "{file} can't be opened: {why}. Check that the disk has room and that you may write there."
            sentence = words.format(file=error.filename or where, why=(error.strerror or str(error)).lower())
        self.window.tell(Event(sentence, Severity.STOP))
        return None

    def _recovery(self, damaged: Damaged) -> QWidget:
        """Return the view for damaged data: its newest good copies, each restored with one press."""
        from desk.session.setup.copies import good_copies
        from desk.session.words.figures import moment_in_words
        from desk.ui.kit.empty import EmptyView

        def restore(copy: Path) -> Callable[[], None]:
            return lambda: QTimer.singleShot(0, lambda: self.put_back(copy, damaged.file))

        ways = [
            (f"Restore the copy of {moment_in_words(one.at)}", restore(one.file)) for one in good_copies(damaged.file)
        ]
        words = (
            f"{damaged.file} is damaged ({damaged.what}). It was not changed, and is set aside when you restore a copy."
        )
        ways += [("Restore another file…", lambda: self._restore_another(damaged.file))]
        ways += [("Open the demo", lambda: self._change_over(to_demo=True))]
        return EmptyView("Your data can't be opened", words, ways)

    def _restore_another(self, where: Path) -> None:
        from PySide6.QtWidgets import QFileDialog

        name, _ = QFileDialog.getOpenFileName(self.window, "Restore", str(where.parent), "Backups (*.sqlite)")
        if name:
            self.put_back(Path(name), where)

    def put_back(self, copy: Path, where: str | Path | None) -> None:
        """Restore a copy over the open store and open it; a demo can't be restored."""
        from desk.domain.faults import Fault
        from desk.store.backup import restore
        from desk.ui.bridge import Event

        if not isinstance(where, Path):
            return
        self.close()
        try:
            saved = restore(copy, where)
        except Fault as fault:
            event = Event(fault.sentence, Severity.STOP)
        else:
            before = f" What was here before is in {saved}." if saved else ""
            event = Event(f"Restored: {copy.name}.{before}")
        self.open(where)
        self.window.tell(event)

    def close(self) -> None:
        """End what belongs to the open store."""
        if self._loading is not None:
            self._loading.cancel()
            self._loading.wait()
            self._loading = None
        if self.desk is not None:
            self.desk.closing.emit()
            self.desk.sitting.store.close_in_order()
            self.desk = None

    def _watch_for_bugs(self) -> None:
        from platformdirs import user_state_path

        from desk.app.crash import CrashReports

        if self._reports is None:
            self._reports = CrashReports(
                user_state_path("tare-and-tag", appauthor=False) / "reports", self._tell_of_bug, self._tell_of_refusal
            )
            self._reports.watch()

    def _tell_of_bug(self, file: Path, text: str) -> None:
        """Show a strip with the report's file and continue. Before there are screens it is a message."""
        from PySide6.QtGui import QGuiApplication

        from desk.ui.bridge import Event, OngoingState

        sentence = "Something went wrong in the program. Your data on disk is safe; "
        opening = (("Open report", lambda: _open_file(file)),) if file.exists() else ()
        sentence += "a report was written." if opening else "a report could not be written."
        desk = self.desk
        if desk is None or desk is not self.window.desk:
            self.window.tell(Event(sentence, Severity.STOP))
            return
        ways = (
            *opening,
            ("Copy", lambda: QGuiApplication.clipboard().setText(text)),
            ("Close", lambda: desk.state("bug", None)),
        )
        desk.state("bug", OngoingState(sentence, Severity.STOP, ways))

    def _tell_of_refusal(self, refused: Refused) -> None:
        """Show why the data couldn't be read while something was shown, and read it again as soon as possible."""
        from desk.ui.bridge import Event

        self.window.tell(Event(refused.sentence, Severity.STOP))
        if self.desk is not None and self.desk is self.window.desk:
            self.desk.read_later()

    def _demo_state(self) -> OngoingState:
        from desk.ui.bridge import OngoingState

        sentence = "Demo shop. Nothing you do here is saved."
        return OngoingState(
            sentence,
            Severity.NOTE,
            (("Start with my own orders", lambda: self._change_over(to_demo=False)),),
            is_small=True,
        )

    def _change_over(self, to_demo: bool) -> None:
        where = None if to_demo else own_store()
        if self.claim(where):
            QTimer.singleShot(0, lambda: self.open(where))
        else:
            self.window.close()


def _open_file(file: Path) -> None:
    from PySide6.QtCore import QUrl
    from PySide6.QtGui import QDesktopServices

    QDesktopServices.openUrl(QUrl.fromLocalFile(file))


def _load(_progress: Progress, canceled: Canceled) -> None:
    usual = sys.getswitchinterval()
    sys.setswitchinterval(TURN_S)
    try:
        for module in LOADED_AFTER:
            if not canceled():
                import_module(module)
    finally:
        sys.setswitchinterval(usual)


def screens_of(desk: Desk) -> list[tuple[str, str, Screen]]:
    """Every screen that there is: its title, its key and itself."""
    made = []
    for title in words():
        view = import_module(PLACES[title])
        made.append((view.TITLE, view.SHORTCUT, view.build(desk)))
    return made
