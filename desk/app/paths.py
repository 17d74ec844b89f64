"""Where the program's own files are: the one place that knows, for a checkout, an editable install and a wheel."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable


def resources() -> Traversable:
    """The folder with charts, zones, fonts and the rest; FileNotFoundError when the installation is damaged."""
    package = Path(__file__).resolve().parents[1]
    in_wheel, in_checkout = package / "resources", package.parent / "resources"
    for folder in (in_wheel, in_checkout):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the program's own files are missing: neither {in_wheel} nor {in_checkout} is there")


def bench_name() -> str:
    """Return the name under which this computer's window writes: made once, so that undo works after a restart too."""
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
    except OSError:  # a folder that cannot be written is told where the data is opened
        return name
    return name


def own_store() -> Path:
    """Return where the person's own data lies, whether it is there yet or not."""
    from platformdirs import user_data_path

    return user_data_path("tare-and-tag", appauthor=False) / "store.sqlite"
