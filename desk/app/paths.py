"""Where your own data and this computer's bench are."""

from __future__ import annotations

from pathlib import Path


def bench_name() -> str:
    """Return the name of this computer's bench: made once, so that undo works after a restart."""
    from uuid import uuid4

    from desk.domain.whole_file import make_private_folder, write_whole

    file = own_store().with_name("bench")
    try:
        if name := file.read_text(encoding="utf-8").strip():
            return name
    except OSError:
        pass
    name = f"bench {uuid4()}"
    try:
        make_private_folder(file.parent)
        write_whole(file, name.encode())
    except OSError:  # opening the data reports a folder that can't be written
        return name
    return name


def own_store() -> Path:
    """Return the path of your own data, whether it exists or not."""
    from platformdirs import user_data_path

    return user_data_path("tare-and-tag", appauthor=False) / "store.sqlite"
