"""Read a file as bytes; every way this can fail has its own message."""

from __future__ import annotations

import stat
from pathlib import Path

from desk.tables.faults_found import unreadable

MOST_BYTES = 64 * 1024 * 1024  # a hundred times the largest order list we know; anything larger is some other file


def read_bytes(path: Path) -> bytes:
    """Return the bytes of a file. Raises Unreadable when it is missing, a folder, not permitted, or over 64 MB."""
    name = str(path)
    try:
        status = path.stat()
        size = status.st_size
        if stat.S_ISDIR(status.st_mode):
            raise unreadable(name, "a file, but this is a folder")
        if not stat.S_ISREG(status.st_mode):
            raise unreadable(name, "a regular file, but this is a device or a pipe")
        if size > MOST_BYTES:
            raise unreadable(name, f"a file of at most 64 MB, but this one has {size / 1024 / 1024:.0f} MB")
        return path.read_bytes()
    except FileNotFoundError:
        raise unreadable(name, "an existing file; there is none with this name") from None
    except PermissionError:
        raise unreadable(name, "a file you have permission to read") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise unreadable(name, f"a file that can be read, but the system says: {reason}") from None
