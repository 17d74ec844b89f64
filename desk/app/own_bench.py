"""This computer's benches: each open window is another one, so that undo and "open at the other bench" tell them apart."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject

from desk.domain.whole_file import make_private_folder, write_whole


class OwnBench(QObject):
    """The first bench name not in use on this computer; held until `leave`, or the end of the process.

    The name is the same after a restart, so that undo still works.
    """

    def __init__(self, folder: Path) -> None:
        super().__init__()
        computer = _computer_name(folder)
        for place in count(1):
            lock = QLockFile(str(folder / f"bench-{place}.lock"))
            lock.setStaleLockTime(0)  # held until its process ends, however long that is
            if lock.tryLock(0) or lock.error() is not QLockFile.LockError.LockFailedError:
                break  # in a folder that can't be written, opening the data says so
        self._lock = lock
        self.name = computer if place == 1 else f"{computer} window {place}"

    def leave(self) -> None:
        """Let the next window be this bench."""
        self._lock.unlock()


def _computer_name(folder: Path) -> str:
    """Return the name saved in that folder; made once."""
    from uuid import uuid4

    file = folder / "bench"
    try:
        if name := file.read_text(encoding="utf-8").strip():
            return name
    except OSError:
        pass
    name = f"bench {uuid4()}"
    try:
        make_private_folder(folder)
        write_whole(file, name.encode())
    except OSError:
        return name
    return name
