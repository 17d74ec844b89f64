"""One window per store: a second start wakes the window that is open, and ends."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtNetwork import QLocalServer, QLocalSocket

WAIT_MS = 500


class OneWindow(QObject):
    """The name under which the window of a store can be woken."""

    def __init__(self, store: Path) -> None:
        super().__init__()
        self.name = f"tare-and-tag-{sha256(str(store.absolute()).encode()).hexdigest()[:16]}"
        self._server = QLocalServer(self)
        self._server.setSocketOptions(QLocalServer.SocketOption.UserAccessOption)

    def wake_other(self) -> bool:
        """Wake the window that has this store open; False when there is none."""
        socket = QLocalSocket()
        socket.connectToServer(self.name)
        if not socket.waitForConnected(WAIT_MS):
            return False
        socket.write(b"wake")
        socket.waitForBytesWritten(WAIT_MS)
        socket.disconnectFromServer()
        return True

    def listen(self, wake: Callable[[], None]) -> None:
        """Be the window of this store; `wake` is called when the program is started once more."""
        QLocalServer.removeServer(self.name)  # left behind by a program that was killed
        self._server.newConnection.connect(lambda: self._answer(wake))
        self._server.listen(self.name)

    def close(self) -> None:
        """Let another window have the store."""
        self._server.close()

    def _answer(self, wake: Callable[[], None]) -> None:
        while (connection := self._server.nextPendingConnection()) is not None:
            connection.disconnected.connect(connection.deleteLater)
            wake()
