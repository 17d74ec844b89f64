"""One window per store: a second start brings the open window to the front and exits."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from PySide6.QtCore import QDir, QLockFile, QObject
from PySide6.QtNetwork import QLocalServer, QLocalSocket

WAIT_MS = 500


class OneWindow(QObject):
    """The name by which the window of a store can be woken."""

    def __init__(self, store: Path) -> None:
        super().__init__()
        self.name = f"tare-and-tag-{sha256(str(store.absolute()).encode()).hexdigest()[:16]}"
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)
        self._lock = QLockFile(QDir.temp().filePath(f"{self.name}.lock"))
        self._lock.setStaleLockTime(0)  # held until its process ends, however long that is

    def wake_other(self) -> bool:
        """Wake the window that has this store open; return False when there is none.

        Of two simultaneous starts only one gets False: it holds the lock from then on.
        """
        socket = QLocalSocket()
        socket.connectToServer(self.name)
        if not socket.waitForConnected(WAIT_MS):
            return not self._lock.tryLock(0) and self._lock.error() is QLockFile.LockError.LockFailedError
        socket.write(b"wake")
        socket.waitForBytesWritten(WAIT_MS)
        socket.disconnectFromServer()
        return True

    def listen(self, wake: Callable[[], None]) -> None:
        """Become the window of this store; `wake` is called when the program is started again."""
        QLocalServer.removeServer(self.name)  # left behind by a program that was killed
        self._server.newConnection.connect(lambda: self._answer(wake))
        self._server.listen(self.name)

    def close(self) -> None:
        """Release the store for another window."""
        self._server.close()
        self._lock.unlock()

    def _answer(self, wake: Callable[[], None]) -> None:
        while (connection := self._server.nextPendingConnection()) is not None:
            connection.disconnected.connect(connection.deleteLater)
            wake()
