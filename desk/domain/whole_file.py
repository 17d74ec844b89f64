"""Write files whole or not at all: a power cut leaves the old file or the new one, never half of one.

Files may contain people's addresses, so only the owner may read them. A part file gets its own name and is never
written through an existing link.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

OWNER_ONLY = 0o600
FOLDER_OWNER_ONLY = 0o700


def write_whole(path: Path, content: bytes) -> None:
    """Replace a file's content. Raises OSError when it cannot be written; the old content then stays."""
    write_together({path: content})


def write_together(contents: Mapping[Path, bytes]) -> None:
    """Write several files that belong together: none is replaced before all are on disk. Raises OSError on failure."""
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
    """Create a folder, with its parents, that only its owner may enter; an existing one is unchanged.

    Raises:
        OSError: it cannot be created, or a file has its name.
    """
    if not folder.is_dir():
        folder.mkdir(FOLDER_OWNER_ONLY, parents=True, exist_ok=True)


def create_private(path: Path) -> int:
    """Create a file only its owner may read, and return its descriptor. Raises FileExistsError if it exists."""
    return os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, OWNER_ONLY)


def sync_folders(folders: Iterable[Path]) -> None:
    """Flush folder entries to disk, where the system can (not on Windows)."""
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
    part.unlink(missing_ok=True)  # left by an interrupted run, or a link someone put here
    with os.fdopen(create_private(part), "wb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())
