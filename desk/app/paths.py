"""Where the program's own files are: the one place that knows, for a checkout, an editable install and a wheel."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def resources() -> Traversable:
    """The folder with charts, zones, fonts and the rest; FileNotFoundError when the installation is damaged."""
    in_wheel = files("desk") / "resources"
    if in_wheel.is_dir():
        return in_wheel
    in_checkout = Path(__file__).resolve().parents[2] / "resources"
    if in_checkout.is_dir():
        return in_checkout
    raise FileNotFoundError(f"the program's own files are missing: neither {in_wheel} nor {in_checkout} is there")
