"""Store: open the database, read it, and write one step at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, suppress
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, select

from desk.domain.changes import Changes
from desk.domain.clock import Clock
from desk.domain.faults import Refused
from desk.domain.finding import Fact
from desk.store import journal, schema
from desk.store.engine import (
    NO_ANSWER,
    Busy,
    file_of,
    make_engine,
    rewrite,
    sentences_for_faults,
    take_write_lock,
    tell_others,
)
from desk.store.health import mark_sound, refuse_damaged
from desk.store.journal import Note
from desk.store.tables import settings
from desk.store.times import to_utc_text
from desk.store.transaction import Transaction
from desk.store.upgrade import bring_up_to_date

Elsewhere = Callable[[Callable[[], Connection]], Connection]


class Store:
    """An open database. `bench` names the writer; `last_changes` is what the last step here touched."""

    def __init__(self, engine: Engine, clock: Clock, bench: str) -> None:
        self.engine = engine
        self.bench = bench
        self.last_changes = Changes()
        self.is_unsure = (
            False  # a step may have been saved that was never read: a server fell silent, or reading failed
        )
        self.elsewhere: Elsewhere | None = None  # calls a function in another thread; a window sets it
        self._clock = clock

    def act(self, step: str, *, at_bench: bool = False, **facts: Fact) -> AbstractContextManager[Transaction]:
        """Run one step in one transaction: on disk when the block ends, or rolled back if it raises.

        A step that changes nothing leaves no trace. `at_bench` marks a step done with one piece in hand, or with those
        identical to it.

        Raises:
            Refused: another bench has been writing for almost five seconds.
        """
        return self.write(Note(step, facts | {journal.AT_BENCH: True} if at_bench else facts))

    @contextmanager
    def write(self, note: Note) -> Iterator[Transaction]:
        """Run a step's transaction and write its journal row; undo and redo are steps too."""
        with self.writing() as conn:
            tx = Transaction(conn, to_utc_text(self._clock.now()))
            yield tx
            if journal.append(tx, note, self.bench) is not None:
                tell_others(conn)
        self.last_changes = tx.changes()

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """Open a connection for writing outside any step: for moving a whole store, and for maintenance."""
        try:
            with sentences_for_faults(), self._turn() as conn:
                begun = conn.get_transaction()
                assert begun is not None
                with begun:
                    yield conn
        except Refused as refused:
            self.is_unsure = self.is_unsure or refused.sentence == NO_ANSWER
            raise

    def _turn(self) -> Connection:
        """Return a connection that has the write lock; a window waits for it in another thread.

        A file's lock is tried here first, since a free one is taken without waiting. A server may not answer at all.
        """
        if self.elsewhere is None:
            return self._wait_for_turn()
        if self.file is not None:
            with suppress(Busy):
                return self._wait_for_turn(patience=0)
        return self.elsewhere(self._wait_for_turn)

    def _wait_for_turn(self, patience: float | None = None) -> Connection:
        conn = self.engine.connect()
        try:
            if patience is not None:
                conn = conn.execution_options(patience=patience)
            conn.begin()
            take_write_lock(conn)
        except BaseException:
            conn.close()
            raise
        return conn

    def wipe_forgotten(self) -> bool:
        """Rewrite the file so that neither it nor its log contains deleted texts. Return False while it is in use.

        Does nothing when nothing was deleted since. A store that could not be rewritten tries again next time.
        """
        with self.reading() as conn:
            due = conn.execute(select(schema.meta.c.value).where(schema.meta.c.name == schema.WIPE_DUE)).scalar()
        if due is None:
            return True
        try:
            with sentences_for_faults():
                rewrite(self.engine)
        except Refused:
            return False
        with self.writing() as conn:
            conn.execute(delete(schema.meta).where(schema.meta.c.name == schema.WIPE_DUE))
        return True

    def rehearse(self, step: Callable[[Transaction], object]) -> None:
        """Run a step and roll it back, so that the first real one is as fast as the rest. Raises Refused like `act`.

        SQLAlchemy builds statements on first use, which takes longer than the disk.
        """
        with sentences_for_faults(), self.engine.connect() as conn, conn.begin() as work:
            take_write_lock(conn)
            tx = Transaction(conn, to_utc_text(self._clock.now()))
            step(tx)
            journal.append(tx, Note("rehearsal"), self.bench)
            work.rollback()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """Open a read-only snapshot of the store as it is now, from any thread."""
        options = (
            {"only_reads": True}
            if self.engine.dialect.name == "sqlite"
            else {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        )
        with sentences_for_faults(), self.engine.connect().execution_options(**options) as conn, conn.begin():
            yield conn

    @property
    def file(self) -> Path | None:
        """Return the store's file; None for a server."""
        return Path(self.engine.url.database or "") if self.engine.dialect.name == "sqlite" else None

    @property
    def unread_settings(self) -> frozenset[str]:
        """Return the names of settings that could not be read, whose defaults are in use."""
        return settings.unread(self.engine)

    @property
    def revision(self) -> int:
        """Return the number of the newest step of any bench."""
        with self.reading() as conn:
            return journal.revision(conn)

    def changes_since(self, revision: int) -> Changes:
        """Return what all steps after that revision touched, so that a second bench can follow."""
        with self.reading() as conn:
            return journal.changes_since(conn, revision)

    def ask_again(self) -> None:
        """Ask a server that fell silent. Raises Refused while it does not answer; otherwise nothing is unsure."""
        with self.reading() as conn:
            journal.revision(conn)
        self.is_unsure = False

    def close(self) -> None:
        """Close all connections; the store cannot be used any more."""
        self.engine.dispose()

    def close_in_order(self) -> None:
        """Close, and mark the file as sound, so that the next start need not read all of it."""
        self.close()
        if self.file is not None:
            mark_sound(self.file)


def open_store(where: str | Path, clock: Clock, bench: str = "bench 1") -> Store:
    """Open a file or PostgreSQL URL, creating a new store's tables or upgrading an older one.

    An older file is copied before it is changed.

    Raises:
        Refused: newer than this program, another program's, no permission, or busy.
        Damaged: the file cannot be trusted; it is left untouched.
    """
    from desk.store.copies import make_copy, newest_good

    file = file_of(where)
    if file is not None:
        refuse_damaged(file, newest_good)
    engine = make_engine(where)

    def keep_copy() -> None:
        if file is not None:
            make_copy(file, clock.now(), "before upgrade")

    try:
        with sentences_for_faults():
            bring_up_to_date(engine, to_utc_text(clock.now()), keep_copy)
    except Refused as refused:
        engine.dispose()
        if file is None or str(file) in refused.sentence:
            raise
        raise Refused(f"{file}: {refused.sentence}") from refused
    except Exception:
        engine.dispose()
        raise
    return Store(engine, clock, bench)
