"""Writing files whole or not at all: a pulled plug leaves the old file or the new one, never half of one.

What is written may hold people's addresses, so only the owner may read it. A part file is made under a name of its
own and never through a link that lies there.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

OWNER_ONLY = 0o600
FOLDER_OWNER_ONLY = 0o700


def write_whole(path: Path, content: bytes) -> None:
    """Put the content in the place of a file. OSError when it cannot be written; what was there stays then."""
    write_together({path: content})


def write_together(contents: Mapping[Path, bytes]) -> None:
    """Write several files that belong together: none is replaced before all are on disk. OSError when one fails."""
    parts = {path: _part_of(path) for path in contents}
    try:
        for path, content in contents.items():
            _write_new(parts[path], content)
        for path, part in parts.items():
            part.replace(path)
    except OSError:
        for part in parts.values():
            with suppress(OSError):
                part.unlink(missing_ok=True)
        raise
    sync_folders(path.parent for path in contents)


def make_private_folder(folder: Path) -> None:
    """Make a folder that only its owner may enter, with those above it; one that is there is left as it is.

    OSError when it cannot be made, or a file has its name.
    """
    if not folder.is_dir():
        folder.mkdir(FOLDER_OWNER_ONLY, parents=True, exist_ok=True)


def create_private(path: Path) -> int:
    """Create a file that only its owner may read, and return its descriptor; FileExistsError when anything is there."""
    return os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, OWNER_ONLY)


def sync_folders(folders: Iterable[Path]) -> None:
    """Flush the names in folders to disk, where the system can (not on Windows)."""
    for folder in set(folders):
        with suppress(OSError):
            handle = os.open(folder, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def _part_of(path: Path) -> Path:
    return path.with_name(f".{path.name}.part")


def _write_new(part: Path, content: bytes) -> None:
    part.unlink(missing_ok=True)  # left by a run that was cut off, or a link that somebody laid here
    with os.fdopen(create_private(part), "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
