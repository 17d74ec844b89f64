"""Store: opening the database, reading it, and writing one step at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, select

from desk.domain.changes import Changes
from desk.domain.clock import Clock
from desk.domain.faults import Refused
from desk.domain.finding import Fact
from desk.store import journal, schema
from desk.store.engine import file_of, make_engine, rewrite, sentences_for_faults, take_write_lock, tell_others
from desk.store.health import mark_sound, refuse_damaged
from desk.store.journal import Note
from desk.store.tables import settings
from desk.store.times import to_utc_text
from desk.store.transaction import Transaction
from desk.store.upgrade import bring_up_to_date


class Store:
    """An open database. `bench` names who writes; `last_changes` is what the last step here touched."""

    def __init__(self, engine: Engine, clock: Clock, bench: str) -> None:
        self.engine = engine
        self.bench = bench
        self.last_changes = Changes()
        self.waiting: Callable[[], None] | None = None  # called over and over while another bench is writing
        self._clock = clock

    def act(self, step: str, *, at_bench: bool = False, **facts: Fact) -> AbstractContextManager[Transaction]:
        """One step in one transaction: all of it is on disk when the block ends, or nothing if it raises.

        `at_bench`: it is done with one piece in hand, or with those identical to it.

        Refused when another bench has been writing for five seconds. A step that changes nothing leaves no trace.
        """
        return self.write(Note(step, facts | {journal.AT_BENCH: True} if at_bench else facts))

    @contextmanager
    def write(self, note: Note) -> Iterator[Transaction]:
        """The transaction of a step with its journal row; undo and redo are steps too."""
        with self.writing() as conn:
            tx = Transaction(conn, to_utc_text(self._clock.now()))
            yield tx
            if journal.append(tx, note, self.bench) is not None:
                tell_others(conn)
        self.last_changes = tx.changes()

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection with the right to write that no step is made of: for moving a whole store, and for upkeep."""
        with sentences_for_faults(), self._connection() as conn, conn.begin():
            take_write_lock(conn)
            yield conn

    def _connection(self) -> Connection:
        conn = self.engine.connect()
        return conn if self.waiting is None else conn.execution_options(waiting=self.waiting)

    def wipe_forgotten(self) -> bool:
        """Rewrite the file so that nothing forgotten is left in it or in its log; False while another one is using it.

        Does nothing when nothing was forgotten since. A store whose file could not be rewritten does it the next time.
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
        """Do a step and take all of it back before it is kept: the first real one is then as quick as those after it.

        Refused as `act` is. Statements are put together the first time they are used, which takes longer than the disk.
        """
        with sentences_for_faults(), self.engine.connect() as conn, conn.begin() as work:
            take_write_lock(conn)
            tx = Transaction(conn, to_utc_text(self._clock.now()))
            step(tx)
            journal.append(tx, Note("rehearsal"), self.bench)
            work.rollback()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees the store as it is now, whatever is written meanwhile; for any thread."""
        options = (
            {"only_reads": True}
            if self.engine.dialect.name == "sqlite"
            else {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}
        )
        with sentences_for_faults(), self.engine.connect().execution_options(**options) as conn, conn.begin():
            yield conn

    @property
    def file(self) -> Path | None:
        """The file of the store; None for one on a server."""
        return Path(self.engine.url.database or "") if self.engine.dialect.name == "sqlite" else None

    @property
    def unread_settings(self) -> frozenset[str]:
        """The names of settings that could not be read, so that their defaults are in use."""
        return settings.unread(self.engine)

    @property
    def revision(self) -> int:
        """The number of the newest step of any bench."""
        with self.reading() as conn:
            return journal.revision(conn)

    def changes_since(self, revision: int) -> Changes:
        """What all steps after that revision touched, so that a second bench can follow."""
        with self.reading() as conn:
            return journal.changes_since(conn, revision)

    def close(self) -> None:
        """Give the connections back; the store can no longer be used."""
        self.engine.dispose()

    def close_in_order(self) -> None:
        """Close, and note how the file looks: the next start then need not read all of it to know that it is sound."""
        self.close()
        if self.file is not None:
            mark_sound(self.file)


def open_store(where: str | Path, clock: Clock, bench: str = "bench 1") -> Store:
    """Open a file or PostgreSQL URL, making the tables of a new store and bringing an older one up to date.

    Refused, with a sentence, for a newer store, one of another program, one without rights, or a busy one; `Damaged`
    for a file that cannot be trusted, which is left untouched. A copy is kept before an older file is changed.
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
    except Exception:
        engine.dispose()
        raise
    return Store(engine, clock, bench)
