"""Build the window again on the same desk, so that another text size shows without a restart."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QApplication, QWidget

from desk.ui.bridge import Desk, Event
from desk.ui.jobs import Job
from desk.ui.kit import type as typeface
from desk.ui.screen import Screen
from desk.ui.setup import appearance
from desk.ui.window import Window

Screens = Sequence[tuple[str, str, Screen]]


def rebuilt(old: Window, desk: Desk, titles: Sequence[str], screens_of: Callable[[Desk], Screens]) -> Window:
    """Return a window that replaces another one, with the chosen text size, open on the page where it was chosen."""
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    app.setFont(typeface.program_font(typeface.system_font()))
    end_jobs(old)
    new, screens = Window(titles), screens_of(desk)
    new.restoreGeometry(old.saveGeometry())
    new.seat(desk, screens)
    for title, _, screen in screens:
        screen.resume(old.screen_of(title))
        screen.bring_up_to_date()
    new.show()
    old.close()
    old.deleteLater()
    new.open_page("Setup", appearance.TITLE)
    new.tell(Event("Text size changed."))
    return new


def end_jobs(old: QWidget) -> None:
    """End what runs for screens that go away; what is being printed is recorded first."""
    for job in old.findChildren(Job):
        job.end()
