"""Find the program's own files: the one place that knows where they are, in a checkout, an editable install or a wheel."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable


def resources() -> Traversable:
    """Return the folder with price lists, zones, fonts and the rest; FileNotFoundError when the install is damaged."""
    package = Path(__file__).resolve().parents[1]
    in_wheel, in_checkout = package / "resources", package.parent / "resources"
    for folder in (in_wheel, in_checkout):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"The installation is incomplete: {in_wheel} and {in_checkout} are missing. Install again.")
