"""A copy of the whole store, for the day the disk dies."""

from __future__ import annotations

from pathlib import Path

from desk.domain.faults import Refused
from desk.session.sitting import Sitting
from desk.store import backup, copies


def name_of_copy(sitting: Sitting) -> str:
    """A file name with the day and the minute, so that copies stand in order and none is in the way of the next."""
    return f"tare-and-tag {sitting.clock.now().astimezone():%Y-%m-%d %H%M}.sqlite"


def copy_for_the_hour(sitting: Sitting) -> Path | None:
    """Make a copy in the folder beside the data and thin the older ones out; None for data on a server.

    Any thread may. Refused, with a sentence, when it fails.
    """
    if sitting.store.file is None:
        return None
    try:
        return copies.make_copy(sitting.store.file, sitting.clock.now()).file
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(f"{copies.folder_of(sitting.store.file)} cannot be written ({why}).") from fault


def copy_store(sitting: Sitting, file: Path) -> Path:
    """Copy the store while it is open, whole or not at all; any thread may. Refused, with a sentence, when it fails."""
    try:
        return backup.copy(sitting.store.file, file)
    except OSError as fault:
        why = (fault.strerror or str(fault)).lower()
        raise Refused(f"{file} cannot be written: {why}. Choose another folder.") from fault
