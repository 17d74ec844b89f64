"""Nothing in the demo or the tests reaches a real person or belongs to a real company."""

from __future__ import annotations

import csv
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

PHONE = re.compile(r"(?<![\d.])(?:\+?1[ .-]?)?\(?([2-9]\d\d)\)?[ .-](\d{3})[ .-](\d{4})(?![\d.])")
MAIL = re.compile(r"[A-Za-z0-9._%+-]+@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+")
BOX = re.compile(r"\b(?:P\.? ?O\.?|PSC \d+) Box (\d+)", re.IGNORECASE)
LEAST_BOX = 90000  # post offices number their boxes from 1, and none has so many
IOSS = re.compile(r"\bIM\d{10}\b")
# Invented, not issued: zeros, or digits in order.
FILLERS = re.compile(r"IM(?:\d{3}0{6}\d|0{10}|1234567890|9001234567)")
NOT_ADDRESSES = re.compile(r"\.(?:db|py|sql)$|@host\.")  # parts of database addresses in tests of the store


def texts(root: Path) -> Iterator[tuple[str, str]]:
    for folder, patterns in {
        "resources/demo": ("*.csv", "*.toml"),
        "tests": ("*.py", "*.toml", "*.txt", "*.csv"),
    }.items():
        for pattern in patterns:
            for path in sorted((root / folder).rglob(pattern)):
                yield path.relative_to(root).as_posix(), path.read_text(encoding="utf-8", errors="replace")


def test_phone_numbers_are_from_555_0100_to_0199(root):
    """The numbers 555-0100 to 555-0199 are set aside for fiction (North American Numbering Plan)."""
    demo = [(name, m[0]) for name, text in texts(root) if name.startswith("resources/") for m in PHONE.finditer(text)]
    assert len(demo) >= 2
    assert [one for one in demo if "555" not in one[1] or not re.search(r"01\d\d$", one[1])] == []


def test_email_addresses_end_in_example(root):
    found = [(name, m[0]) for name, text in texts(root) for m in MAIL.finditer(text)]
    assert len(found) > 60
    assert [one for one in found if not one[1].endswith(".example") and not NOT_ADDRESSES.search(one[1])] == []


def test_po_boxes_have_numbers_that_no_post_office_uses(root):
    found = [(name, m[0], int(m[1])) for name, text in texts(root) for m in BOX.finditer(text)]
    assert found
    assert [one for one in found if one[2] < LEAST_BOX] == []


def test_tax_numbers_are_fillers(root):
    found = {(name, number) for name, text in texts(root) for number in IOSS.findall(text)}
    assert found
    assert {one for one in found if not FILLERS.fullmatch(one[1])} == set()


def test_every_demo_buyer_lives_on_an_invented_street(root):
    """No street of the demo is one of the commonest street names, which every town has."""
    common = "main|park|oak|pine|maple|cedar|elm|washington|lake|hill|walnut|spring|church|broadway|market|river|pearl"
    with (root / "resources/demo/orders.csv").open(encoding="utf-8", newline="") as file:
        streets = {row["address1"] for row in csv.DictReader(file) if row["address1"]}
    assert len(streets) > 50
    assert [street for street in streets if re.fullmatch(rf"\d+ ({common}) \w+", street, re.IGNORECASE)] == []


def test_the_demo_shop_says_that_it_is_invented(root):
    text = (root / "resources/demo/shop.toml").read_text(encoding="utf-8")
    assert "invented" in text.splitlines()[0]
    assert tomllib.loads(text)["sender"]["email"].endswith(".example")


@pytest.mark.parametrize(
    ("number", "is_filler"), [("IM0400000000", True), ("IM2760000000", True), ("IM" + "3720001234", False)]
)
def test_fillers_are_distinguished_from_real_numbers(number, is_filler):
    assert bool(FILLERS.fullmatch(number)) is is_filler


def test_every_folder_of_resources_names_its_sources(root):
    folders = [path for path in (root / "resources").iterdir() if path.is_dir() and path.name != "__pycache__"]
    assert len(folders) >= 6
    assert [path.name for path in folders if not (path / "SOURCE.md").exists()] == []


def test_country_names_carry_their_license(root):
    """CLDR data may be copied if its notice comes along (Unicode License v3)."""
    notice = (root / "resources/destinations/UNICODE-LICENSE.txt").read_text(encoding="utf-8")
    assert "UNICODE LICENSE V3" in notice
    assert "UNICODE-LICENSE.txt" in (root / "resources/destinations/SOURCE.md").read_text(encoding="utf-8")


def test_every_font_is_named_with_its_version(root):
    folder = root / "resources" / "fonts"
    page = (folder / "SOURCE.md").read_text(encoding="utf-8")
    lines = {name.removesuffix(".ttf"): line for line in page.splitlines() for name in re.findall(r"NotoSans\w*", line)}
    fonts = list(folder.glob("NotoSans*.ttf"))
    assert len(fonts) > 5
    for path in fonts:
        version = re.match(r"Version ([^;]+)", TTFont(path)["name"].getDebugName(5))
        assert version is not None
        assert version[1] in lines[path.stem.removesuffix("-Regular").removesuffix("-Bold")], path.name
