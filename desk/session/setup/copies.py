"""Backups: copies of everything in one file, and what restoring one would change."""

from __future__ import annotations

from pathlib import Path

from desk.domain.faults import Refused
from desk.session.sitting import Sitting
from desk.session.words.figures import counted, moment_in_words, number_in_words
from desk.store import backup, copies
from desk.store.copies import StoreCopy
from desk.store.summary import summary_in, summary_of

NUMBERS = (
    ("orders", "order"),
    ("weighed", "weighed piece"),
    ("stamped", "stamped piece"),
    ("handed_over", "piece handed over"),
)


def name_of_copy(sitting: Sitting) -> str:
    """Return a file name with date and minute, so that copies sort by time and none is replaced."""
    return f"tare-and-tag {sitting.clock.now().astimezone():%Y-%m-%d %H%M}.sqlite"


def copies_here(sitting: Sitting) -> list[StoreCopy]:
    """Return the program's own copies, newest first."""
    return copies.copies_of(sitting.store.file) if sitting.store.file is not None else []


def good_copies(file: Path, most: int = 3) -> list[StoreCopy]:
    """Return the newest good copies of a data file that can't be opened."""
    good = []
    for one in copies.copies_of(file):
        try:
            backup.refuse_unfit(one.file)
        except Refused:
            continue
        good.append(one)
        if len(good) == most:
            break
    return good


def copy_for_the_hour(sitting: Sitting) -> Path | None:
    """Copy the data into the folder beside it and delete old copies; None for data on a server.

    Callable from any thread. Refused, with a sentence, when it fails.
    """
    if sitting.store.file is None:
        return None
    try:
        return copies.make_copy(sitting.store.file, sitting.clock.now()).file
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(f"{copies.folder_of(sitting.store.file)} cannot be written ({why}).") from fault


def copy_store(sitting: Sitting, file: Path) -> Path:
    """Back up the open data, whole or not at all. Callable from any thread. Refused, with a sentence, when it fails."""
    try:
        return backup.copy(sitting.store.file, file)
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(f"Can't write {file}: {why}. Choose another folder.") from fault


def restore_preview(sitting: Sitting, file: Path) -> tuple[str, ...]:
    """Return sentences about what restoring that copy would change. Refused when it can't be restored."""
    backup.refuse_unfit(file)
    then = summary_of(file)
    with sitting.store.reading() as conn:
        now = summary_in(conn)
    parts = [
        f"Last step in this copy: {then.newest_step}, {moment_in_words(then.newest_at)}."
        if then.newest_at
        else "This copy is empty."
    ]
    if then.store != now.store:
        parts.append("It is a copy of other data.")
    elif then.revision < now.revision:
        parts.append(f"{counted(now.revision - then.revision, 'later step')} would be lost, up to {now.newest_step}.")
    else:
        parts.append("Nothing would be lost.")
    for name, words in NUMBERS:
        before, after = getattr(now, name), getattr(then, name)
        if before != after:
            parts.append(f"{counted(before, words, _many(words))} now, {number_in_words(after)} in the copy.")
    return tuple(parts)


def _many(words: str) -> str:
    return words.replace("piece", "pieces") if "piece" in words else f"{words}s"
