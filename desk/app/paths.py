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


def own_store() -> Path:
    """Return where the person's own data lies, whether it is there yet or not."""
    from platformdirs import user_data_path

    return user_data_path("tare-and-tag", appauthor=False) / "store.sqlite"
