"""Connections to a PostgreSQL server that may stop answering in the middle of a step.

The server's own time limits do not help when its process hangs, and the network still answers for it. So each wait for
bytes is limited here, and a window can paint meanwhile.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Generator, Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from contextlib import contextmanager
from typing import Any, ClassVar, TypeVar, cast  # generators of psycopg are typed for its own use

import psycopg
from psycopg.waiting import Ready
from sqlalchemy import Connection

T = TypeVar("T")
SILENT_S = 4  # a server that sends nothing for this long in a step does not answer
PAINTS_AFTER_S = 0.3  # a server on a slow line is not a hanging one
AGAIN_AFTER_S = 1.0
NO_ANSWER = "the server does not answer"
NOT_UTF8 = "the database is not in UTF-8"
_TURN_S = 0.02


class ServerConnection(psycopg.Connection[Any]):
    """A connection that closes itself when the server sends nothing for four seconds, except for `unhurried` work.

    `meanwhile` is called about every 20 ms once the main thread has waited for long; a window sets it.
    """

    meanwhile: ClassVar[Callable[[], None] | None] = None
    is_painting: ClassVar[bool] = False
    silent_at: ClassVar[float] = float("-inf")  # when a connection last gave up
    patience: float | None = SILENT_S

    def wait(self, gen: Generator[Any, Any, T], interval: float = _TURN_S, timeout: float | None = None) -> T:
        """Run one exchange with the server. Raises psycopg.OperationalError when it does not answer.

        `timeout` ends it earlier, as psycopg says; the server need not answer then.
        """
        del interval
        return super().wait(self._watched(gen), _TURN_S, timeout)

    def _watched(self, gen: Generator[Any, Any, T]) -> Generator[Any, Any, T]:
        """Pass an exchange on, and end it when nothing comes for too long."""
        heard_at, is_heard = time.monotonic(), False
        try:
            wanted = next(gen)
            while True:
                ready = yield wanted
                if ready:
                    heard_at = time.monotonic()
                    is_heard = is_heard or bool(ready & Ready.R)  # a silent server takes bytes, but sends none
                elif self.patience is not None and time.monotonic() - heard_at > self.patience:
                    self.pgconn.finish()
                    ServerConnection.silent_at = time.monotonic()
                    raise psycopg.OperationalError(NO_ANSWER)
                else:
                    self._paint_or_close(time.monotonic() - heard_at)
                wanted = gen.send(ready)
        except StopIteration as ended:
            if is_heard:  # and was no end of file: a closed connection can be read too, but ends no exchange
                ServerConnection.silent_at = float("-inf")
            return cast("T", ended.value)

    def _paint_or_close(self, waited: float) -> None:
        """Paint once. When that fails, close the connection: the answer is no longer needed."""
        try:
            _let_paint(waited)
        except BaseException:
            self.pgconn.finish()
            raise


def connect(*words: Any, **options: Any) -> ServerConnection:
    """Open a connection; in a window's main thread, let it paint meanwhile.

    Refused right after another connection gave up, so the wait isn't repeated.
    """
    if time.monotonic() - ServerConnection.silent_at < AGAIN_AFTER_S:
        raise psycopg.OperationalError(NO_ANSWER)
    return _in_utf8(_opened(*words, **options))


def _in_utf8(conn: ServerConnection) -> ServerConnection:
    """Return a connection to a database in UTF-8. Raises psycopg.OperationalError for any other, which loses letters."""
    if conn.info.parameter_status("server_encoding") == "UTF8":
        return conn
    conn.close()
    raise psycopg.OperationalError(NOT_UTF8)


def _opened(*words: Any, **options: Any) -> ServerConnection:
    if not _may_paint():
        return ServerConnection.connect(*words, **options)
    thread = ThreadPoolExecutor(1, "connects to the server")
    opened = thread.submit(ServerConnection.connect, *words, **options)
    thread.shutdown(wait=False)
    began = time.monotonic()
    try:
        while not wait([opened], _TURN_S).done:
            _let_paint(time.monotonic() - began)
    except BaseException:
        opened.add_done_callback(_close_unused)
        raise
    return opened.result()


def _close_unused(opened: Future[ServerConnection]) -> None:
    if opened.exception() is None:
        opened.result().close()


@contextmanager
def unhurried(conn: Connection) -> Iterator[None]:
    """Let the server take its time over what may be long: migrations, and rewriting the database."""
    driver = conn.connection.driver_connection
    if not isinstance(driver, ServerConnection):
        yield
        return
    driver.patience = None
    try:
        yield
    finally:
        del driver.patience  # the usual one again


def _may_paint() -> bool:
    return ServerConnection.meanwhile is not None and threading.current_thread() is threading.main_thread()


def _let_paint(waited: float) -> None:
    """Paint once. Something that is painted meanwhile, and asks the server too, gives up at once."""
    if waited <= PAINTS_AFTER_S or not _may_paint() or (paint := ServerConnection.meanwhile) is None:
        return
    if ServerConnection.is_painting:
        raise psycopg.OperationalError(NO_ANSWER)
    ServerConnection.is_painting = True
    try:
        paint()
    finally:
        ServerConnection.is_painting = False
